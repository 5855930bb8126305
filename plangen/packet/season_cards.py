"""Winter, spring and the watering of the year, with this design's own valves and figures. Pure."""

from __future__ import annotations

from plangen.layout.results import WateringYear
from plangen.packet.assembly_form import kind_of
from plangen.packet.contents import Contents
from plangen.packet.tables import NOT_KNOWN, Cell, Form, Table
from plangen.packet.tell import Tell
from plangen.sheets.procedure_steps import procedure_steps, valve_states
from plangen.sheets.procedure_types import Step

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_TESTED = ("pvb", "svb", "rp", "dc")


def winter_form(contents: Contents) -> Form:
    """Return how the water is taken out before frost: the sequence's own step, worked off with a pencil."""
    step = _steps(contents, "winter")[0]
    names = _names(contents, "drain", "blow-out")
    intro = [step.figure + "."]
    if not names["drain"] and not names["blow-out"]:
        intro.append(
            "The design shows neither a drain nor a blow-out fitting: how it is emptied is not known."
        )
    return Form(
        id="winterise",
        title="Winterising",
        intro=(*intro, f"Caution: {step.caution}"),
        steps=step.lines,
        source=step.source,
        sign=("Done on, by",),
    )


def spring_form(contents: Contents) -> Form:
    """Return how the water is let in again, the assembly's own order by its kind."""
    names = _names(contents, "drain", "blow-out", "assembly")
    kinds = {kind_of(a) for a in contents.design.standing("assembly")}
    assembly = names["assembly"] or "the assembly"
    volume = sum(p.volume_m3 for p in contents.hydraulics.pipes)
    held = f"The pipes hold {Tell(contents.units).volume(volume)}." if contents.hydraulics.pipes else ""
    steps = [
        "Wait until the ground is free of frost and no frost is forecast.",
        f"Look at {assembly}, its valves and all pipe above grade: a crack means repair first.",
        f"Shut the drains ({names['drain']}) and the blow-out fitting ({names['blow-out']})."
        if names["drain"] and names["blow-out"]
        else "Shut every drain and fitting that was opened in autumn.",
        *_first_states(contents),
        *(
            line
            for key in ("fill-connection", "open-assembly")
            for step in _steps(contents, key)
            for line in step.lines
        ),
        f"Open one zone by hand and let the air out through its heads; then zone by zone. {held}".strip(),
        *(("Then open No. 2 (outlet) fully, taking at least 5 minutes.",) if kinds & set(_TESTED) else ()),
        "Look at every box and every joint that can be seen while each zone runs.",
    ]
    if kinds & set(_TESTED):
        steps.append(
            f"Have {assembly} tested by a certified tester: it was opened, so it counts as disturbed."
        )
    steps.append("Set the controller to the season; try each sensor.")
    return Form(
        id="spring",
        title="Opening in spring",
        steps=tuple(steps),
        source=(
            "opening order as in the sequence of work; test after an interruption: utility rules (e.g. KS);"
            " the rest common practice, no source"
        ),
        sign=("Done on, by",),
    )


def _first_states(contents: Contents) -> tuple[str, ...]:
    """Return how the assembly stands before the first water of the year: as at the very first filling."""
    names = {a.name for a in contents.design.standing("assembly")}
    states = valve_states(contents.design, contents.hydraulics, contents.units)
    told = [f"{s.part} {s.state}" for s in states if s.object in names]
    return (f"Set {', '.join(sorted(names))}: {', '.join(told)}.",) if told else ()


def _steps(contents: Contents, key: str) -> tuple[Step, ...]:
    """Return the steps of the sequence of work with a key: one order, told the same everywhere."""
    steps = procedure_steps(contents.design, contents.hydraulics, contents.layout, contents.units)
    return tuple(s for s in steps if s.key == key)


def _names(contents: Contents, *kinds: str) -> dict[str, str]:
    return {k: ", ".join(d.name for d in contents.design.standing(k)) for k in kinds}


def season_form(contents: Contents) -> Form:
    """Return the run times of each zone by month; a month nothing is stated of is not known."""
    year = contents.layout.year
    rows: tuple[tuple[Cell, ...], ...]
    columns: tuple[str, ...]
    note = "Minutes a week, all runs together. Rain, heat and wilting plants overrule any table."
    if year is None:
        rows = tuple(
            (
                Cell(s.zone),
                Cell(Tell(contents.units).minutes(s.minutes_per_week), number=True),
                Cell(NOT_KNOWN),
            )
            for s in contents.layout.schedule
        )
        columns = ("Zone", "Peak month, a week", "Other months")
        note += " The design states one month's evapotranspiration only, so no other month can be given."
    else:
        rows = _months(contents, year)
        columns = ("Zone", *MONTHS)
    return Form(
        id="seasonal",
        title="Seasonal schedule",
        tables=(
            Table("season-zones", "Watering by month", columns, rows, "No zone could be scheduled.", note),
        ),
        source="that there is one: 30 TAC 344.63 (four seasonal schedules), restated; figures: this plan's",
    )


def _months(contents: Contents, year: WateringYear) -> tuple[tuple[Cell, ...], ...]:
    tell = Tell(contents.units)
    held = {(m.zone, m.month): m for m in year.zones}
    rows = []
    for zone in contents.design.zones:
        line = [Cell(zone.name)]
        for month in range(1, 13):
            m = held.get((zone.name, month))
            line.append(Cell(tell.minutes(m.minutes_per_week if m else None), number=True))
        rows.append(tuple(line))
    return tuple(rows)
