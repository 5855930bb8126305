"""What happens when things are not as designed, as tables and notes of the hydraulics sheet.

Copies solved figures; solves nothing and judges nothing. What is not known reads `not known`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from plangen.hydraulics.results import Hydraulics
from plangen.hydraulics.studies import Break, LeastPressure, Relief, Siphon, Studies
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY, fixed, told
from plangen.quantity.quantity import si_to
from plangen.sheets.hydraulic_rows import NOT_KNOWN, figure, pressure, unit_of
from plangen.sheets.tables import Column, Row, Table

_P, _L, _Q = Dimension.PRESSURE, Dimension.LENGTH, Dimension.FLOW


def study_tables(
    design: Design, hydraulics: Hydraulics, layout: Layout | None, system: str, height: float
) -> tuple[Table, ...]:
    """Return the tables of a solved design in the order in which they stand; without studies none."""
    studies = hydraulics.studies
    if studies is None:
        return ()
    tables = [_what_if_table(studies, system, height)]
    if studies.judged:
        tables.append(_judged_table(studies, system, height))
    tables += [_house_table(studies, system), _siphon_table(design, studies, system)]
    if layout is not None:
        tables.append(_low_head_table(layout, system, height))
    tables.append(_closing_table(studies, system, height))
    tables.append(_meter_table(studies, system))
    return tuple(tables)


def study_notes(studies: Studies, system: str) -> tuple[str, ...]:
    """Return the notes: go or no-go, what a relief valve and a break let out, expansion, what was taken."""
    out = [go_no_go(studies.least, system)]
    out += [_relief_words(r, system) for r in studies.reliefs]
    out += [_break_words(b, system) for b in studies.breaks]
    out.append(studies.expansion)
    return (*out, *studies.notes)


def go_no_go(least: LeastPressure, system: str) -> str:
    """Return the line for the day: what a gauge must show before work is commissioned."""
    if least.gauge_m is None:
        return f"GO OR NO-GO: the least pressure is {NOT_KNOWN}: {least.missing}."
    words = (
        "GO OR NO-GO: with nothing running and the house shut, a gauge at ground level at"
        f" {least.gauge_at} must show at least {_up(least.gauge_m, system)}; below it {least.outlet} (case"
        f" {least.case}) has less than its least pressure."
    )
    if least.season_m is not None and least.season_m > least.gauge_m:
        words += (
            f" On a day of ordinary pressure it must show {_up(least.season_m, system)}, since the pressure"
            " still falls from the stated static to the design pressure."
        )
    if least.flow_m3s is not None:
        words += f" The source must then give {told(least.flow_m3s, _Q, system)}."
    return words


def _up(head_m: float, system: str) -> str:
    """Return a pressure that must be reached, rounded up and never down."""
    unit, places = DISPLAY[system][_P]
    steps = si_to(head_to_pressure_pa(head_m), _P, unit) * 10**places
    return f"{fixed(math.ceil(steps - 1e-6) / 10**places, places)} {unit}"


def _yes(value: bool | None) -> str:
    return NOT_KNOWN if value is None else "yes" if value else "NO"


def _relief_words(relief: Relief, system: str) -> str:
    flow = NOT_KNOWN if relief.flow_m3s is None else told(relief.flow_m3s, _Q, system)
    drain = NOT_KNOWN if relief.drain_m3s is None else told(relief.drain_m3s, _Q, system)
    words = f"Relief valve of {relief.assembly} wide open: {flow}; its drain carries {drain}"
    if relief.carried is not None:
        words += ", enough" if relief.carried else ", TOO LITTLE: water will stand at the assembly"
    return words + (f". Not stated: {', '.join(relief.missing)}." if relief.missing else ".")


def _break_words(broken: Break, system: str) -> str:
    if broken.flow_m3s is None:
        return f"Main {broken.pipe} broken off: flow {NOT_KNOWN}: {broken.missing}."
    words = f"Main {broken.pipe} broken off at the assembly: {told(broken.flow_m3s, _Q, system)}"
    if broken.beyond:
        words += f" (beyond the stated curve of {', '.join(broken.beyond)}, carried on)"
    if not broken.sensor:
        return words + ". No flow sensor is drawn: nothing shuts the water off."
    most = NOT_KNOWN if broken.most_running_m3s is None else told(broken.most_running_m3s, _Q, system)
    words += f". The most that runs past {broken.sensor} in any case: {most}. "
    if broken.trip_m3s is None:
        return words + f"The flow at which {broken.sensor} shuts the water off is not stated (`trips at`)."
    trip = told(broken.trip_m3s, _Q, system)
    seen = "between the two: a break is noticed" if broken.noticed else "NOT between the two"
    return words + f"It trips at {trip}, {seen}."


def _table(
    title: str, kind: str, columns: Sequence[Column], rows: Sequence[Row], empty: str, note: str = ""
) -> Table:
    return Table(title, kind, tuple(columns), tuple(rows), note, empty)


def _n(head: str) -> Column:
    return Column(head, "end")


def _what_if_table(studies: Studies, system: str, height: float) -> Table:
    p = unit_of(_P, system)
    rows = []
    for w in studies.what_ifs:
        short = ", ".join(w.short[:8]) + (f" and {len(w.short) - 8} more" if len(w.short) > 8 else "")
        answer = (pressure(w.spare_m, system), short or "none")
        if w.missing:
            answer = (NOT_KNOWN, w.missing)
        rows.append(
            Row((w.question, pressure(w.source_pressure_m, system), w.outlet or "-", w.case or "-", *answer))
        )
    columns = (
        Column("If", "start", height * 22), _n(f"Source {p}"), Column("Worst outlet"), Column("Case"),
        _n(f"Spare {p}"), Column("Outlets that fall short", "start", height * 26),
    )  # fmt: skip
    return _table("If one thing changes", "what-if", columns, rows, "NOT SOLVED: no case was worked out.")


def reading_table(studies: Studies, system: str) -> Table:
    """Return what gauges should show with each zone running, with room for what they do show."""
    p = unit_of(_P, system)
    rows = [
        Row(
            (x.case, x.object, x.side or "-", x.why, pressure(x.pressure_m, system),
             pressure(x.tolerance_m, system), ""),
            x.object,
        )
        for x in studies.predicted
    ]  # fmt: skip
    columns = (
        Column("Zone running"), Column("Gauge at"), Column("Side"), Column("Test point"),
        _n(f"Expected {p}"), _n(f"Give or take {p}"), Column(f"Read {p}"),
    )  # fmt: skip
    note = "At the static pressure as stated (without one at the design pressure), the house at its demand."
    empty = "NOT SOLVED: no reading can be foretold."
    return _table("Readings to expect", "expected-readings", columns, rows, empty, note)


def _judged_table(studies: Studies, system: str, height: float) -> Table:
    p = unit_of(_P, system)
    rows = [
        Row(
            (x.case, x.object, x.side, x.on or "-", pressure(x.read_m, system),
             pressure(x.expected_m, system), pressure(x.tolerance_m, system), x.verdict.upper()
             if x.verdict != "agrees" else x.verdict, "; ".join(x.causes) or "-"),
            x.object,
        )
        for x in studies.judged
    ]  # fmt: skip
    columns = (
        Column("Zone"), Column("Gauge at"), Column("Side"), Column("Day"), _n(f"Read {p}"),
        _n(f"Expected {p}"), _n(f"Give or take {p}"), Column("Verdict"),
        Column("Likely causes", "start", height * 34),
    )  # fmt: skip
    return _table("Readings taken on site", "judged-readings", columns, rows, "None.")


def _house_table(studies: Studies, system: str) -> Table:
    p = unit_of(_P, system)
    rows = [
        Row((h.case, pressure(h.pressure_m, system), pressure(h.static_m, system))) for h in studies.house
    ]
    columns = (Column("Case"), _n(f"At the house {p}"), _n(f"Nothing running {p}"))
    note = (
        "At the house: the zone and the house's demand running at the design pressure. Nothing running: the"
        " static pressure."
    )
    empty = "No house, or no case was worked out."
    return _table("Left for the house", "house-pressure", columns, rows, empty, note)


def _siphon_table(design: Design, studies: Studies, system: str) -> Table:
    """One row a zone: how many outlets lie above the source, the house and the assembly, and the highest."""
    zones = {h.name: h.zone for h in design.heads} | {d.name: d.zone for d in design.drips}
    grouped: dict[str, list[Siphon]] = {}
    for s in studies.siphons:
        grouped.setdefault(zones[s.outlet], []).append(s)
    unit = unit_of(_L, system)
    rows = []
    for zone, found in sorted(grouped.items()):
        top = found[0]
        counts = [
            str(sum(1 for s in found if getattr(s, f) is None or getattr(s, f) > 0))
            for f in ("above_source_m", "above_house_m", "above_assembly_m")
        ]
        heights = (top.above_source_m, top.above_house_m, top.above_assembly_m)
        told_ = [NOT_KNOWN if h is None else figure(h, _L, system, 2) for h in heights]
        rows.append(Row((zone, *counts, top.outlet, *told_, top.assembly or "NONE"), zone))
    columns = (
        Column("Zone"), _n("Outlets above source"), _n("above house"), _n("above assembly"),
        Column("Highest"), _n(f"over source {unit}"), _n(f"over house {unit}"), _n(f"over assembly {unit}"),
        Column("Held back by"),
    )  # fmt: skip
    note = "Water above a place that stands open runs back to it unless the assembly holds it."
    empty = "No outlet lies above source, house or assembly."
    return _table("If the supply is lost", "siphon", columns, rows, empty, note)


def _low_head_table(layout: Layout, system: str, height: float) -> Table:
    rows = []
    for x in layout.low_heads:
        names = ", ".join(x.lowest[:6]) + (f" and {len(x.lowest) - 6} more" if len(x.lowest) > 6 else "")
        differ = NOT_KNOWN if x.difference_m is None else figure(x.difference_m, _L, system, 2)
        held, out = (figure(v, Dimension.VOLUME, system, 1) for v in (x.volume_m3, x.drained_m3))
        lower = names or x.missing or "none"
        at = x.missing if x.drained_m3 is None else x.outlet or "-"
        rows.append(Row((x.zone, differ, lower, _yes(x.checked), held, out, at), x.zone))
    unit = unit_of(Dimension.VOLUME, system)
    columns = (
        Column("Zone"), _n(f"Outlets differ by {unit_of(_L, system)}"),
        Column("Lower than others, no check valve", "start", height * 26), Column("Held by check valves"),
        _n(f"Piping holds {unit}"), _n(f"Runs out at most {unit}"), Column("At", "start", height * 16),
    )  # fmt: skip
    note = (
        "Each time a zone stops, pipe that stands higher than its lowest outlet without a check valve runs"
        " empty through it; pipe below that stays full. The pipe under an outlet and the rows of dripline are"
        " left out; how high a check valve holds is not known here."
    )
    return _table("Low-head drainage", "low-head", columns, rows, "No zone.", note)


def _closing_table(studies: Studies, system: str, height: float) -> Table:
    p = unit_of(_P, system)
    rows = [
        Row(
            (c.valve, figure(c.length_m, _L, system), _seconds(c.critical_s), _seconds(c.closing_s),
             pressure(c.sudden_m, system), "-" if c.slow_m is None else pressure(c.slow_m, system), c.note),
            c.valve,
        )
        for c in studies.closings
    ]  # fmt: skip
    columns = (
        Column("Valve"), _n(f"Pipe to the source {unit_of(_L, system)}"), _n("Wave there and back s"),
        _n("Closes in s"), _n(f"Sudden stop {p}"), _n(f"Slow {p}"),
        Column("Which holds", "start", height * 26),
    )  # fmt: skip
    note = "The sudden stop is the greatest among the pipes on the way to the source."
    empty = "NOT SOLVED: no case was worked out."
    return _table("Surge when a zone valve shuts", "closing", columns, rows, empty, note)


def _seconds(value: float | None) -> str:
    return NOT_KNOWN if value is None else fixed(value, 2)


def _meter_table(studies: Studies, system: str) -> Table:
    q = unit_of(_Q, system)
    rows = []
    for m in studies.meters:
        share = NOT_KNOWN if m.most_m3s is None else f"{m.flow_m3s / m.most_m3s:.0%}"
        most = figure(m.most_m3s, _Q, system)
        cells = (m.meter, m.case, figure(m.flow_m3s, _Q, system), most, share, _yes(m.within))
        rows.append(Row(cells, m.meter))
    columns = (
        Column("Meter"), Column("Case"), _n(f"Greatest flow {q}"), _n(f"Made for {q}"), _n("Share"),
        Column("Within"),
    )  # fmt: skip
    return _table("Meter capacity", "meter", columns, rows, "No meter, or no case was worked out.")
