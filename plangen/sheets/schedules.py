"""Schedules: zones, pipes, heads, sleeves, ties, watering, takeoff. Every table cell follows from the design.

An empty reason never stands for a value: what is not known is lettered `not known`.
"""

from __future__ import annotations

from plangen.geometry.point import path_length
from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.waterworks import Head, Pipe
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import fixed, told
from plangen.quantity.quantity import Quantity
from plangen.sheets.panel import Panel
from plangen.sheets.pens import lettering
from plangen.sheets.symbols import SYMBOLS
from plangen.sheets.tables import Column, Row, Table, table_pages

UNKNOWN = "not known"
_D = Dimension


def schedule_panels(
    design: Design, hydraulics: Hydraulics, layout: Layout, family: str, room: tuple[float, float]
) -> tuple[Panel, ...]:
    """Return all schedules as panels no higher than the room, long ones cut into pages."""
    tables = (
        zone_table(design, hydraulics, layout),
        watering_table(design, layout),
        head_table(design, layout),
        pipe_table(design, hydraulics),
        sleeve_table(design),
        tie_table(design, layout),
        takeoff_table(layout),
    )
    height = lettering(family).note
    # tables that need pages are cut to half the room, so that columns of them share a sheet
    return tuple(page for table in tables for page in table_pages(table, height, room[1]))


def say(value: Quantity | None, units: str, small: bool = False) -> str:
    """Return a stated quantity in the project's units, or that it is not known."""
    return told(value.si, value.dimension, units, small=small) if value is not None else UNKNOWN


def say_si(value: float | None, dimension: Dimension, units: str, small: bool = False) -> str:
    """Return a computed value in the project's units, or that it is not known."""
    return told(value, dimension, units, small=small) if value is not None else UNKNOWN


def head_pressure(value_m: float | None, units: str) -> str:
    """Return a pressure head in metres of water as a pressure, or that it is not known."""
    return say_si(head_to_pressure_pa(value_m) if value_m is not None else None, _D.PRESSURE, units)


def zone_table(design: Design, hydraulics: Hydraulics, layout: Layout) -> Table:
    """Return the zone and valve schedule."""
    units = design.project.units
    rows: list[Row] = []
    rates = {line.zone: line.rate_ms for line in layout.schedule}
    for zone in design.zones:
        case = hydraulics.case_of_zone(zone.name)
        valve = design.device(zone.valve)
        heads = design.heads_of(zone.name)
        drips = [d for d in design.drips if d.zone == zone.name]
        what = f"{len(heads)} heads" if heads else f"{len(drips)} drip area" + ("s" if len(drips) > 1 else "")
        worst = case.budget if case else None
        rows.append(
            Row(
                (
                    zone.name,
                    zone.label,
                    zone.kind,
                    zone.valve,
                    valve.size.written if valve and valve.size else UNKNOWN,
                    zone.hydrozone or "not given",
                    what,
                    say_si(case.total_flow_m3s if case else None, _D.FLOW, units),
                    f"{worst.outlet}: {head_pressure(worst.available_m, units)}" if worst else UNKNOWN,
                    head_pressure(worst.spare_m if worst else None, units),
                    say_si(rates.get(zone.name), _D.RATE, units),
                ),
                zone.name,
            )
        )
    return Table(
        "Zone and valve schedule",
        "zones",
        (
            Column("Zone"),
            Column("Waters", widest=34.0),
            Column("Kind"),
            Column("Valve"),
            Column("Size"),
            Column("Hydrozone", widest=20.0),
            Column("Outlets"),
            Column("Flow", "end"),
            Column("Worst outlet and its pressure", widest=34.0),
            Column("Spare pressure", "end"),
            Column("Rate", "end"),
        ),
        tuple(rows),
        "Each zone alone at the design pressure with the stated house demand. Spare: over the outlet's"
        " least pressure.",
    )


def pipe_table(design: Design, hydraulics: Hydraulics) -> Table:
    """Return the pipe schedule."""
    units = design.project.units
    checks = {check.pipe: check for check in hydraulics.pipes}
    rows = []
    for pipe in sorted(design.pipes, key=lambda p: (_ROLES.get(p.role, 9), _natural(p.name))):
        check = checks.get(pipe.name)
        rows.append(
            Row(
                (
                    pipe.name,
                    f"{pipe.route[0].node or '-'} to {pipe.route[-1].node or 'end'}",
                    pipe.role + ("" if pipe.state == "new" else f", {pipe.state}"),
                    pipe.size.family,
                    pipe.nominal.written,
                    say_si(pipe.size.bore_m, _D.LENGTH, units, small=True),
                    told(_length(pipe), _D.LENGTH, units),
                    "above grade" if pipe.above_grade else say(pipe.cover, units, small=True),
                    say_si(check.flow_m3s if check else None, _D.FLOW, units),
                    say_si(check.velocity_ms if check else None, _D.VELOCITY, units),
                    check.case if check else "-",
                ),
                pipe.name,
            )
        )
    return Table(
        "Pipe schedule",
        "pipes",
        (
            Column("Pipe"),
            Column("From, to", widest=30.0),
            Column("Role"),
            Column("Material, class"),
            Column("Size"),
            Column("Bore", "end"),
            Column("Length", "end"),
            Column("Cover", "end"),
            Column("Flow", "end"),
            Column("Velocity", "end"),
            Column("Case"),
        ),
        tuple(rows),
        "Bore: inside diameter of the class, not the nominal size. Flow and velocity: the hardest load case.",
    )


def head_table(design: Design, layout: Layout) -> Table:
    """Return the head schedule: one row for each head."""
    units = design.project.units
    reaches = {reach.head: reach for reach in layout.reaches}
    rows = []
    for head in sorted(design.heads, key=lambda h: _natural(h.name)):
        reach = reaches.get(head.name)
        code = SYMBOLS[head.part.kind].code if head.part.kind in SYMBOLS else head.part.kind
        nearest = (
            f"{say_si(reach.nearest_m, _D.LENGTH, units)} to {reach.nearest_head}"
            if reach and reach.nearest_m
            else "-"
        )
        rows.append(
            Row(
                (
                    head.name,
                    head.zone,
                    code,
                    head.part.label or head.part.name,
                    _arc(head),
                    say(head.part.radius, units),
                    say(head.part.flow, units) if head.part.flow else "by table",
                    say(head.part.regulated, units) if head.part.regulated else "no",
                    head.pipe,
                    nearest,
                ),
                head.name,
            )
        )
    return Table(
        "Head schedule",
        "heads",
        (
            Column("Head"),
            Column("Zone"),
            Column("Code"),
            Column("Part", widest=40.0),
            Column("Arc, from to"),
            Column("Throw", "end"),
            Column("Rated flow", "end"),
            Column("Regulated", "end"),
            Column("On"),
            Column("Nearest head"),
        ),
        tuple(rows),
        "Arcs run clockwise by bearing from plan north. Rated flow and throw are those of the part's"
        " data sheet.",
    )


def sleeve_table(design: Design) -> Table:
    """Return the sleeve schedule."""
    units = design.project.units
    rows = []
    for sleeve in design.sleeves:
        pipe = design.pipe(sleeve.pipe)
        share = (pipe.size.od_m / sleeve.size.bore_m) ** 2 if pipe else None
        rows.append(
            Row(
                (
                    sleeve.name,
                    f"{sleeve.size.family} {sleeve.size.nominal}",
                    sleeve.pipe,
                    f"{pipe.nominal.written}" if pipe else UNKNOWN,
                    sleeve.under,
                    say(sleeve.extends, units, small=True),
                    say(sleeve.cover or (pipe.cover if pipe else None), units, small=True),
                    say_si(share, _D.RATIO, units),
                ),
                sleeve.name,
            )
        )
    heads = (
        "Sleeve",
        "Material, size",
        "Carries",
        "Pipe size",
        "Under",
        "Goes past each edge",
        "Cover",
        "Filled",
    )
    return Table("Sleeve schedule", "sleeves", tuple(Column(h, widest=24.0) for h in heads), tuple(rows))


def tie_table(design: Design, layout: Layout) -> Table:
    """Return two tape distances for each device that must be found again."""
    units = design.project.units
    rows = []
    for tie in layout.ties:
        if not tie.corner1:
            rows.append(Row((tie.object, tie.kind, "no two corners in sight", "-", "-", "-"), tie.object))
            continue
        rows.append(
            Row(
                (
                    tie.object,
                    tie.kind,
                    tie.corner1,
                    say_si(tie.distance1_m, _D.LENGTH, units),
                    tie.corner2,
                    say_si(tie.distance2_m, _D.LENGTH, units),
                ),
                tie.object,
            )
        )
    heads = ("Object", "Kind", "First corner", "Distance", "Second corner", "Distance")
    aligns = ("start", "start", "start", "end", "start", "end")
    columns = tuple(Column(h, a) for h, a in zip(heads, aligns, strict=True))
    note = "Level distances on the ground by this design; measure again when built and mark the record copy."
    return Table("Tie distances", "ties", columns, tuple(rows), note)


def watering_table(design: Design, layout: Layout) -> Table:
    """Return the watering schedule of the peak month."""
    units = design.project.units
    rows = []
    for line in layout.schedule:
        minutes = [
            f"{fixed(v, 0)} min" if v is not None else UNKNOWN
            for v in (line.minutes_per_week, line.minutes_per_cycle)
        ]
        rows.append(
            Row(
                (
                    line.zone,
                    say_si(line.rate_ms, _D.RATE, units),
                    say_si(line.depth_per_week_m, _D.LENGTH, units, small=True),
                    minutes[0],
                    fixed(line.days, 0) if line.days is not None else UNKNOWN,
                    str(line.cycles) if line.cycles is not None else UNKNOWN,
                    minutes[1],
                    say_si(line.volume_per_week_m3, _D.VOLUME, units),
                    "; ".join(line.missing) or "-",
                ),
                line.zone,
            )
        )
    heads = (
        "Zone",
        "Rate",
        "Depth a week",
        "A week",
        "Days",
        "Cycles a day",
        "A cycle",
        "Water a week",
        "Not known",
    )
    columns = tuple(Column(h, "start" if h in ("Zone", "Not known") else "end") for h in heads)
    note = "Peak month at the stated reference evapotranspiration. Adjust on site: watch for runoff."
    return Table("Watering schedule, peak month", "watering", columns, tuple(rows), note)


def takeoff_table(layout: Layout) -> Table:
    """Return the material takeoff."""
    rows = tuple(
        Row(
            (
                line.group,
                line.item,
                line.size,
                fixed(line.quantity, 0 if line.unit == "each" else 1),
                line.unit,
                line.note,
            )
        )
        for line in layout.takeoff
    )
    columns = (
        Column("Group"),
        Column("Item", widest=48.0),
        Column("Size"),
        Column("Quantity", "end"),
        Column("Unit"),
        Column("Note", widest=44.0),
    )
    return Table(
        "Material takeoff", "takeoff", columns, rows, "Product submitted: to be filled in by the installer."
    )


_ROLES = {"service": 0, "mainline": 1, "nipple": 2, "lateral": 3}


def _natural(name: str) -> tuple[str, int, str]:
    """Sort P2 before P10."""
    head = name.rstrip("0123456789")
    return head, int(name[len(head) :] or 0), name


def _length(pipe: Pipe) -> float:
    return path_length(tuple(stop.point for stop in pipe.route))


def _arc(head: Head) -> str:
    if not head.arc_known:
        return UNKNOWN
    if abs((head.arc_end_deg - head.arc_start_deg) % 360.0) < 1e-9:
        return "full circle"
    sweep = (head.arc_end_deg - head.arc_start_deg) % 360.0
    return f"{sweep:g}°, {head.arc_start_deg % 360.0:g}° to {head.arc_end_deg % 360.0:g}°"
