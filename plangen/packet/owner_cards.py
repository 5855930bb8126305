"""The owner's papers from this design: shut-off card, controller card, walk-through, maintenance. Pure."""

from __future__ import annotations

from plangen.packet.annual_test import next_tests
from plangen.packet.assembly_form import place_of
from plangen.packet.contents import Contents
from plangen.packet.tables import NOT_KNOWN, Cell, Fact, Form, Table, blank, cells
from plangen.packet.tell import Tell

_HANDOVER_LAW = "30 TAC 344.63 (walk-through, checklist, plan handed over), restated; 21 NCAC 23 .0602"
# What needs care, how often and what is done: common practice of the trade, no source.
_CARE: tuple[tuple[tuple[str, ...], str, str], ...] = (
    (
        ("assembly",),
        "each year, and after every repair",
        "tested by a certified tester; vents and cocks free",
    ),
    (("isolation",), "each year", "closed and opened once, so that it does not seize"),
    (("strainer",), "each month of the season", "flushed or washed"),
    (("regulator",), "each year", "pressure behind it read"),
    (("valve", "master-valve"), "each year", "box clean and dry, no leak, opens and shuts by hand"),
    (("flow-sensor",), "each year", "reading held against a metered zone"),
    (("drain", "blow-out"), "each year", "opens, shuts, not buried"),
    (("pump", "injector"), "as its maker says", "as its maker says"),
    (("quick-coupler",), "each year", "cap shuts, no leak"),
)


def shut_off_card(contents: Contents) -> Form:
    """Return how the water is turned off, on one page to hang up."""
    design = contents.design
    valves = design.standing("isolation")
    where = "; ".join(
        f"{v.name}, {v.label or (v.part.label if v.part else 'valve')}"
        f" ({_place(contents, v.name) or 'see the plan'})"
        for v in valves
    )
    control = design.control
    return Form(
        id="shut-off",
        title="How to turn the sprinklers off",
        steps=(
            f"Close the isolation valve: {where}. A quarter turn, handle across the pipe. The house keeps its"
            " water."
            if valves
            else "No isolation valve is shown in the design: the water can only be shut off at the meter.",
            f"Switch the controller {control.name} off ({control.place or 'place not stated'})."
            if control
            else "No controller is shown in the design.",
            "If water still runs: close the valve at the meter. The house is then without water too.",
            "Tap water that is coloured, smells or tastes, or water that keeps running from the backflow"
            " assembly: shut both, drink none of it, and call the water purveyor at once.",
        ),
        groups=(
            (
                "Who to call",
                (
                    Fact("Water purveyor", design.project.purveyor),
                    blank("Its telephone, day and night"),
                    Fact("Who built it", design.project.preparer.firm if design.project.preparer else ""),
                    Fact("Telephone", design.project.preparer.phone if design.project.preparer else ""),
                ),
            ),
        ),
        source="common practice, no source",
        large=True,
    )


def _place(contents: Contents, name: str) -> str:
    device = contents.design.device(name)
    return place_of(contents.design, contents.layout, device) if device else ""


def controller_card(contents: Contents) -> Form:
    """Return the chart that hangs at the controller."""
    return Form(
        id="controller-card",
        title="Controller card",
        intro=(
            "For the peak month. A flow far from the one on this card means a leak or a blocked line: look.",
        ),
        groups=(("Controller", _controller(contents)),),
        tables=(_stations(contents),),
        source="a chart kept with the controller: 23 CCR 492.12; its layout: common practice",
    )


def _controller(contents: Contents) -> tuple[Fact, ...]:
    control = contents.design.control
    plan = Fact("Plan", f"digest {contents.digest[:12]}")
    if control is None:
        return (Fact("Controller", ""), plan)
    sensors = [f"{s.kind} {s.name} ({s.place or 'place not stated'})" for s in control.sensors]
    sensors += [f"no {kind} sensor" for kind in control.none_sensors]
    return (
        Fact("Controller", f"{control.name}, {control.place}".rstrip(", ")),
        Fact("Stations", str(control.stations) if control.stations else ""),
        Fact("Watering days a week", control.water_days.written if control.water_days else ""),
        Fact("Sensors", ", ".join(sensors)),
        Fact("Wire", control.wire),
        plan,
    )


def _stations(contents: Contents) -> Table:
    tell, times = Tell(contents.units), {s.zone: s for s in contents.layout.schedule}
    rows = []
    for n, zone in enumerate(contents.design.zones, start=1):
        s = times.get(zone.name)
        case = contents.hydraulics.case_of_zone(zone.name)
        told = (
            tell.flow(case.total_flow_m3s if case else None),
            tell.minutes(s.minutes_per_cycle if s else None),
            NOT_KNOWN if s is None or s.cycles is None else str(s.cycles),
            tell.minutes(s.soak_minutes if s else None),
        )
        rows.append(
            (
                Cell(str(n), number=True),
                *cells(zone.name, zone.label, zone.kind, zone.valve),
                *(Cell(words, number=True) for words in told),
                Cell(""),
            )
        )
    columns = (
        *("Station", "Zone", "Name", "Kind", "Valve"),
        *("Flow", "Run", "Runs a day", "Rest between", "Set to"),
    )
    return Table("controller-stations", "Stations", columns, tuple(rows), "The design has no zone.")


def walk_through(contents: Contents) -> Form:
    """Return what is shown to the owner, each to be ticked."""
    design = contents.design
    names = {
        k: ", ".join(d.name for d in design.standing(k))
        for k in ("isolation", "assembly", "drain", "blow-out")
    }
    control = design.control
    sensors = ", ".join(s.name for s in control.sensors) if control else ""
    ticks = [
        f"Where the isolation valve {names['isolation']} is, and how it shuts" if names["isolation"] else "",
        f"The backflow assembly {names['assembly']}: what it is for, that its vents stay free, that it is"
        " tested each year"
        if names["assembly"]
        else "",
        f"Drain {names['drain']}: what it is for" if names["drain"] else "",
        f"Blow-out fitting {names['blow-out']}: that air never goes through the assembly"
        if names["blow-out"]
        else "",
        f"The controller {control.name}: how a zone is run by hand, how times and days are set"
        if control
        else "",
        f"Sensors {sensors}: how each is tried" if sensors else "",
        *(
            f"Zone {z.name} ({z.label or z.kind}) run for 5 minutes: no spray on paving or walls"
            for z in design.zones
        ),
        "The watering schedule, and that it is set anew as the season changes",
        "How the water is shut off, drained for winter and let in again in spring",
        "That nothing is ever connected to this line without a new plan and permit",
        "Handed over: plan as built, controller card, test report, permit with its sign-offs, this folder",
    ]
    return Form(
        id="walk-through",
        title="Walk-through with the owner",
        ticks=tuple(t for t in ticks if t),
        source=_HANDOVER_LAW,
        sign=("Owner, signature and date", "Installer, licence, signature and date"),
    )


def maintenance(contents: Contents) -> Form:
    """Return the parts that need care with how often, from what the design has."""
    design = contents.design
    rows = []
    for kinds, often, what in _CARE:
        names = ", ".join(d.name for d in design.standing(*kinds))
        if names:
            rows.append(cells(names, kinds[0].replace("-", " "), often, what, ""))
    if design.heads:
        rows.append(
            cells(
                f"{len(design.heads)} heads",
                "head",
                "each month of the season",
                "upright, at grade, nozzle clean, arc set, no spray on paving",
                "",
            )
        )
    for drip in design.drips:
        rows.append(
            cells(drip.name, "drip area", "each month of the season", "flushed; wet spots looked for", "")
        )
    if design.control:
        rows += [
            cells(s.name, f"{s.kind} sensor", "each year", "tried: it stops a running zone", "")
            for s in design.control.sensors
        ]
        rows.append(
            cells(design.control.name, "controller", "each season", "date, times and back-up battery", "")
        )
    columns = ("What", "Kind", "How often", "What is done", "Done on, by")
    return Form(
        id="maintenance",
        title="Maintenance checklist",
        tables=(
            Table("maintenance-list", "Parts that need care", columns, tuple(rows), "The design has none."),
        ),
        source=f"that there is a checklist: {_HANDOVER_LAW}; its intervals: common practice, no source",
        sign=("Owner, signature and date", "Irrigator, licence or seal, signature and date"),
    )


def next_test_form(contents: Contents) -> Form:
    """Return when each assembly is to be tested next."""
    tests = next_tests(contents.design, contents.cycle)
    facts = tuple(
        Fact(f"Assembly {t.assembly}, next test by", t.due.isoformat() if t.due else "no day can be told")
        for t in tests
    )
    return Form(
        id="next-test",
        title="Next test of the backflow assembly",
        intro=tuple(dict.fromkeys(f"{t.assembly}: {t.words}" for t in tests))
        or ("The design has no backflow assembly.",),
        groups=(("Due", facts),) if facts else (),
    )
