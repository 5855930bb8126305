"""What the one-call centre asks before digging, as far as the design says it. Pure."""

from __future__ import annotations

from plangen.packet.contents import Contents
from plangen.packet.duties import duty_facts
from plangen.packet.tables import Cell, Fact, Form, Table, blank, cells
from plangen.packet.tell import Tell, written

# Fields as one-call centres ask for them; notice times differ by state (Code of Ala. 37-15: 2 working days,
# read; N.C. 811: 3 full working days, read), so the call itself says which.
SOURCE = (
    "state one-call law; notice times read: Code of Ala. 37-15, at least 2 and at most 10 working days;"
    " nc811.org, 3 full working days. The state's own time governs"
)


def locate_form(contents: Contents) -> Form:
    """Return the request with the work's extent and depth filled in."""
    project = contents.design.project
    work = (
        Fact("Address of the work", project.address),
        blank("County and nearest crossing street"),
        Fact("Parcel", project.parcel),
        Fact("Kind of work", "trenches for lawn irrigation" if contents.layout.trenches else ""),
        *_extent(contents),
        blank("Dug by hand / machine / both"),
        blank("Work area marked white (yes / no)"),
        blank("Work starts on, lasts until"),
    )
    people = (
        Fact("Work for", project.owner),
        Fact("Digging firm", project.preparer.firm if project.preparer else ""),
        Fact("Telephone", project.preparer.phone if project.preparer else ""),
        blank("Contact on site"),
    )
    ticket = (
        *duty_facts(contents.duties, "notice", "Notice before digging"),
        *duty_facts(contents.duties, "ticket", "A ticket"),
        blank("Ticket number"),
        blank("Called on, answer due on"),
        blank("Ticket expires on, renew by"),
    )
    return Form(
        id="locate",
        title="Utility locate request",
        intro=(
            "Call 811 (in the United States) or the one-call centre of the place before any digging, and wait"
            " until every utility has answered.",
            "Private lines (behind the meter, to sheds, pools, lamps) are located by nobody but the owner.",
        ),
        groups=(("Work", work), ("People", people), ("Ticket", ticket)),
        tables=(_answers(contents),),
        source=SOURCE,
        sign=("All utilities answered, marks seen: name and date",),
    )


def _extent(contents: Contents) -> tuple[Fact, ...]:
    tell, trenches = Tell(contents.units), contents.layout.trenches
    if not trenches:
        return (Fact("Length of trench", ""), Fact("Greatest depth", ""))
    depths = [t.depth_m for t in trenches if t.depth_m is not None]
    unknown = len(trenches) - len(depths)
    note = f"{unknown} trenches without a stated cover left out" if unknown else ""
    return (
        Fact("Length of trench", tell.length(sum(t.length_m for t in trenches))),
        Fact("Of that under paving", tell.length(sum(t.under_paving_m for t in trenches))),
        Fact("Greatest depth", tell.small(max(depths)) if depths else "", note),
    )


def _answers(contents: Contents) -> Table:
    known = tuple(
        (Cell(f"{u.kind} {u.name}"), Cell(written(u.depth)), Cell(""), Cell(""))
        for u in contents.design.site.utilities
    )
    shown = {u.kind for u in contents.design.site.utilities}
    others = ("gas", "power", "telecom", "water", "sewer", "storm drain")
    rest = tuple(
        cells(kind, "not shown on the plan: not known", "", "") for kind in others if kind not in shown
    )
    columns = ("Line", "Depth on the plan", "Answered on, marked or clear", "Depth found")
    return Table("locate-answers", "Buried lines and the answers of their owners", columns, (*known, *rest))
