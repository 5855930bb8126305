"""Schedules: zones, pipes, heads, sleeves, ties, watering, takeoff. Every table cell follows from the design.

An empty reason never stands for a value: what is not known is lettered `not known`.
"""

from __future__ import annotations

import math

from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.waterworks import Head
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import fixed
from plangen.sheets.details_section import few
from plangen.sheets.hydraulic_rows import regulated_note
from plangen.sheets.panel import Panel
from plangen.sheets.pens import lettering
from plangen.sheets.schedule_words import UNKNOWN, head_pressure, natural, say, say_si
from plangen.sheets.schedules_parts import equipment_table, hydrozone_table
from plangen.sheets.schedules_pipe import pipe_table, sleeve_table, takeoff_table, tie_table
from plangen.sheets.symbols import SYMBOLS
from plangen.sheets.table_flow import flow
from plangen.sheets.tables import Column, Row, Table, widened, without_unknown

_D = Dimension


def schedule_panels(
    design: Design,
    hydraulics: Hydraulics,
    layout: Layout,
    family: str,
    room: tuple[float, float],
    note: float = 0.0,
    most_pages: float = math.inf,
) -> tuple[Panel, ...]:
    """Return all schedules as panels that flow over pages of `room` (width, height in mm).

    They are lettered at `note` (0: the family's own height); none where
    they need more pages than `most_pages`.
    """
    tables: tuple[Table, ...] = (
        zone_table(design, hydraulics, layout),
        watering_table(design, layout),
        hydrozone_table(design, layout),
        equipment_table(design),
        head_table(design, layout),
        pipe_table(design, hydraulics),
        sleeve_table(design),
        takeoff_table(layout),
        tie_table(design, layout),
    )
    if not design.sleeves:
        tables = tuple(t for t in tables if t.kind != "sleeves")
    why = unsolved(hydraulics)
    height = note or lettering(family).note
    # the columns' limits above are those of the smaller lettering
    larger = height / lettering("ansi-b").note
    return flow([widened(without_unknown(t, UNKNOWN, why), larger) for t in tables], height, room, most_pages)


def unsolved(hydraulics: Hydraulics) -> str:
    """Return what the first failure says is missing where no case was worked out; else nothing."""
    return hydraulics.failures[0].message if hydraulics.failures and not hydraulics.cases else ""


def zone_table(design: Design, hydraulics: Hydraulics, layout: Layout) -> Table:
    """Return the zone and valve schedule."""
    units = design.project.units
    rows: list[Row] = []
    rates = {line.zone: line.rate_ms for line in layout.schedule}
    named = any(zone.hydrozone for zone in design.zones)
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
                    *((zone.hydrozone or "not given",) if named else ()),
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
            *((Column("Hydrozone", widest=20.0),) if named else ()),
            Column("Outlets"),
            Column("Flow", "end"),
            Column("Worst outlet and its pressure", widest=34.0),
            Column("Spare pressure", "end"),
            Column("Rate", "end"),
        ),
        tuple(rows),
        "Each zone alone at the design pressure with the stated house demand. Spare: over the outlet's"
        f" least pressure{regulated_note(hydraulics, '; ')}.",
    )


def head_table(design: Design, layout: Layout) -> Table:
    """Return the head schedule: one row for each head."""
    units = design.project.units
    reaches = {reach.head: reach for reach in layout.reaches}
    rows = []
    for head in sorted(design.heads, key=lambda h: natural(h.name)):
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
                    say_si(reach.spacing_ratio if reach else None, _D.RATIO, units),
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
            Column("Of throw", "end"),
        ),
        tuple(rows),
        "Arcs run clockwise by bearing from plan north. Rated flow and throw are those of the part's"
        " data sheet.",
    )


def watering_table(design: Design, layout: Layout) -> Table:
    """Return the watering schedule of the peak month."""
    units = design.project.units
    rows = []
    for line in layout.schedule:
        # a cycle to the tenth: days x cycles x its rounded minutes would not come to the week's
        minutes = [
            f"{fixed(v, 1)} min" if v is not None else UNKNOWN
            for v in (line.minutes_per_week, line.minutes_per_cycle)
        ]
        rows.append(
            Row(
                (
                    line.zone,
                    say_si(line.rate_ms, _D.RATE, units),
                    say_si(line.depth_per_week_m, _D.LENGTH, units, small=True),
                    say_si(line.efficiency, _D.RATIO, units),
                    minutes[0],
                    fixed(line.days, 0) if line.days is not None else UNKNOWN,
                    str(line.cycles) if line.cycles is not None else UNKNOWN,
                    minutes[1],
                    say_si(line.volume_per_week_m3, _D.VOLUME, units),
                    _missing(line.missing) or "-",
                ),
                line.zone,
            )
        )
    heads = (
        "Rate",
        "Depth a week",
        "Efficiency",
        "A week",
        "Days",
        "Cycles a day",
        "A cycle",
        "Water a week",
    )
    columns = (
        Column("Zone"),
        *(Column(h, "end") for h in heads),
        Column("Not known", widest=70.0),
    )
    note = (
        "Peak month at the stated reference evapotranspiration, no rain counted (the table of the year counts"
        " it). A week: depth over rate and efficiency, in as many cycles. Adjust on site: watch for runoff."
    )
    return Table("Watering schedule, peak month", "watering", columns, tuple(rows), note)


def _missing(missing: tuple[str, ...]) -> str:
    """Return what is missing, those of one reason together: `flow of H11, H12: zone Z1 is not solved`."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for words in missing:
        subject, _, reason = words.partition(": ")
        what, _, name = subject.rpartition(" ")
        grouped.setdefault((what, reason) if reason else (words, ""), []).append(name if reason else "")
    told = []
    for (what, reason), names in grouped.items():
        listed = few([n for n in names if n], 3).replace(" AND ", " and ").replace(" MORE", " more")
        told.append(f"{what} {listed}: {reason}" if reason else what)
    return "; ".join(told)


def _arc(head: Head) -> str:
    if not head.arc_known:
        return UNKNOWN
    if abs((head.arc_end_deg - head.arc_start_deg) % 360.0) < 1e-9:
        return "full circle"
    sweep = (head.arc_end_deg - head.arc_start_deg) % 360.0
    return f"{sweep:g}°, {head.arc_start_deg % 360.0:g}° to {head.arc_end_deg % 360.0:g}°"
