"""Project, hazards, control and review blocks to their values."""

from __future__ import annotations

import datetime

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.geometry.point import Point
from plangen.model.bound import Bound, BoundBlock, Ref
from plangen.model.design import (
    WORK_STEPS,
    Answer,
    Confirmation,
    Contractor,
    Control,
    Preparer,
    Project,
    Reading,
    Revision,
    Sensor,
    Waiver,
)
from plangen.model.locate import Locator
from plangen.model.names import NameTable, natural, needed
from plangen.model.schema.zone import MONTHS
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span
from plangen.text.suggest import closest, listed

SENSORS = ("rain", "freeze", "soil", "flow")


def read_project(block: BoundBlock, problems: Problems) -> Project:
    """Return what the title block says."""
    preparer = block.one("preparer")
    revisions = [
        Revision(r.get("label"), r.get("date"), r.get("text"), r.get("answers") or "", r.span)
        for r in block.all("revision")
        if not r.broken
    ]
    packs: tuple[Ref, ...] = block.value("jurisdiction", "packs") or ()

    def text(lead: str) -> str:
        return block.value(lead, lead) or ""

    return Project(
        title=block.label,
        span=block.head,
        address=text("address"),
        parcel=text("parcel"),
        owner=text("owner"),
        purveyor=text("purveyor"),
        preparer=Preparer(
            preparer.get("name") or "",
            preparer.get("firm") or "",
            preparer.get("licence") or "",
            preparer.get("expires"),
            preparer.get("phone") or "",
        )
        if preparer
        else None,
        jurisdictions=tuple(p.name for p in packs),
        permit=text("permit"),
        issued=block.value("issued", "date"),
        revisions=tuple(sorted(revisions, key=lambda r: (r.date, natural(r.label)))),
        sheet=block.value("sheet", "size") or "ansi-b",
        units=block.value("units", "system") or "us",
        scope=text("scope"),
        contractors=_contractors(block, problems),
    )


def _contractors(block: BoundBlock, problems: Problems) -> tuple[Contractor, ...]:
    """Return who does which steps of the work, in the order of names; an unknown step is told."""
    found = []
    for bound in block.all("contractor"):
        steps: tuple[Ref, ...] = bound.get("steps") or ()
        for step in steps:
            if step.name not in WORK_STEPS:
                near = closest(step.name, WORK_STEPS)
                problems.error(
                    "PG2012",
                    f"`{step.name}` is not a step of the work",
                    step.span,
                    expected=listed(f"`{s}`" for s in WORK_STEPS),
                    help=f"a similar word exists: `{near}`" if near else "",
                )
        if bound.broken:
            continue
        names = {step.name for step in steps}
        found.append(
            Contractor(
                bound.get("name"),
                bound.get("trade"),
                tuple(s for s in WORK_STEPS if s in names),
                bound.span,
                bound.get("firm") or "",
                bound.get("licence") or "",
                bound.get("expires"),
            )
        )
    return tuple(sorted(found, key=lambda c: (natural(c.name), c.trade, c.steps)))


def read_answers(block: BoundBlock | None) -> tuple[Answer, ...]:
    """Return the answers to the hazard questions, in the order of the questions' names."""
    found = []
    for bound in block.statements if block else ():
        answer = bound.get("answer")
        if answer is not None:
            found.append(Answer(bound.kind, answer[1], answer[0], bound.span))
    return tuple(sorted(found, key=lambda a: a.question))


def _told_none(sensors: tuple[Bound, ...], problems: Problems) -> None:
    """Report a kind of sensor of which there is none and one."""
    none = next((s for s in sensors if s.get("none")), None)
    there = next((s for s in sensors if not s.get("none")), None)
    if none is not None and there is not None:
        problems.error(
            "PG2022",
            f"there is no {none.spec.words}, and there is one",
            max(none.head, there.head, key=lambda span: span.start),
            help="take one of the two lines away",
            labels=(Label(min(none.head, there.head, key=lambda span: span.start), "first said here"),),
        )


def read_control(block: BoundBlock | None, locator: Locator, problems: Problems) -> Control | None:
    """Return controller, wire and sensors, or None if the design has no control block."""
    if block is None:
        return None
    controller = block.one("controller")
    sensors: list[Sensor] = []
    none: list[str] = []
    for kind in SENSORS:
        for bound in block.all(f"{kind} sensor"):
            if bound.get("none"):
                none.append(kind)
            else:
                sensors.append(
                    Sensor(
                        kind, bound.name, bound.span, bound.get("place") or "", bound.get("state") or "new"
                    )
                )
        _told_none(block.all(f"{kind} sensor"), problems)
    place = controller.get("at") if controller else None
    point: Point | None = locator.point(place) if place else None
    return Control(
        name=controller.name if controller else "",
        span=controller.span if controller else block.head,
        place=(controller.get("place") or "") if controller else "",
        point=point,
        stations=controller.get("stations") if controller else None,
        wire=block.value("wire", "text") or "",
        wire_cover=block.value("wire", "cover"),
        sensors=tuple(sorted(sensors, key=lambda s: (s.kind, natural(s.name)))),
        none_sensors=tuple(sorted(none)),
        water_days=block.value("days", "count"),
        window=block.value("window", "time"),
        reference_et=block.value("reference et", "rate"),
        monthly_et=_by_month(block.one("monthly et")),
        monthly_rain=_by_month(block.one("monthly rain")),
        rain_credit=block.value("rain credit", "share"),
        state=(controller.get("state") or "new") if controller else "new",
    )


def _by_month(bound: Bound | None) -> tuple[tuple[int, Quantity], ...]:
    if bound is None:
        return ()
    return tuple((i, q) for i, m in enumerate(MONTHS, 1) if (q := bound.get(m)) is not None)


def read_readings(block: BoundBlock | None, names: NameTable) -> tuple[Reading, ...]:
    """Return the pressures read on site, in the order of zone and place."""
    found = []
    for bound in block.all("reading") if block else ():
        place, zone = bound.get("place"), bound.get("zone")
        known = [
            ref is not None and names.find(ref, slot.refs, needed(slot.refs)) is not None
            for slot in bound.spec.slots()
            if slot.refs
            for ref in (bound.get(slot.field),)
        ]
        if bound.broken or not all(known):
            continue
        side = bound.get("side") or "inlet"
        found.append(
            Reading(place.name, side, zone.name, bound.get("pressure"), bound.get("static"), bound.get("on"),
                    bound.span)
        )  # fmt: skip
    return tuple(sorted(found, key=lambda r: (natural(r.zone), natural(r.place), r.side, str(r.on))))


def read_together(block: BoundBlock | None, names: NameTable) -> dict[str, set[str]]:
    """Return for each zone the zones that may run with it."""
    together: dict[str, set[str]] = {}
    for bound in block.all("together") if block else ():
        zones = bound.get("zones") or ()
        known = [z.name for z in zones if names.find(z, ("zone",), needed(("zone",))) is not None]
        for zone in known:
            together.setdefault(zone, set()).update(z for z in known if z != zone)
    return together


def read_review(
    block: BoundBlock | None, names: NameTable
) -> tuple[tuple[Waiver, ...], tuple[Confirmation, ...]]:
    """Return waivers and confirmations, in the order of rule and object."""
    waivers: list[Waiver] = []
    confirmations: list[Confirmation] = []
    for bound in (*block.all("waive"), *block.all("confirm")) if block else ():
        subject = bound.get("subject") or ""
        if subject[:1].isupper() and " " not in subject:
            names.find(Ref(subject, bound.span), (), "an object of the design")
        if bound.broken:
            continue
        rule, by, reference = bound.get("rule"), bound.get("by"), bound.get("reference") or ""
        if bound.kind == "waive":
            waivers.append(
                Waiver(rule, subject, bound.get("because"), by, reference, bound.get("until"), bound.span)
            )
        else:
            confirmations.append(Confirmation(rule, subject, by, bound.get("on"), reference, bound.span))
    return (
        tuple(sorted(waivers, key=lambda w: (w.rule, natural(w.subject), w.by))),
        tuple(sorted(confirmations, key=lambda c: (c.rule, natural(c.subject), c.by))),
    )


def check_measured(
    days: list[tuple[datetime.date, Span]], block: BoundBlock | None, problems: Problems
) -> None:
    """Report a measurement that is dated after the plan was last issued."""
    issues = (*block.all("issued"), *block.all("revision")) if block else ()
    known = {bound.get("date"): bound.at("date") for bound in issues if bound.get("date") is not None}
    late = [(day, span) for day, span in days if known and day > max(known)]
    if late:
        day, span = late[0]
        problems.error(
            "PG2030",
            f"measured on {day}, but the plan was last issued on {max(known)}",
            span,
            help="correct the day, or issue the plan anew with a `revision`",
            labels=(
                Label(known[max(known)], "last issued"),
                *(Label(other, "so is this") for _, other in late[1:3]),
            ),
        )
