"""The hydraulics sheet: budget worksheet, zones, pipe checks, filling and flushing, proof of the worst.

Where hydraulics did not solve, the sheet says NOT SOLVED and why; no figure is put in its place.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from plangen.hydraulics.results import CaseResult, Failure, Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import told
from plangen.sheets.hydraulic_rows import (
    NOT_KNOWN,
    budget_heads,
    budget_rows,
    case_heads,
    case_rows,
    fill_heads,
    fill_rows,
    pipe_heads,
    pipe_rows,
    regulated_note,
    spares,
)
from plangen.sheets.hydraulic_studies import reading_table, study_notes, study_tables
from plangen.sheets.hydraulic_year import year_notes, year_tables
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import notes_pages
from plangen.sheets.pens import lettering
from plangen.sheets.procedure_fill import FILL_MS, FLUSH_MS, fill_plan, speed
from plangen.sheets.table_flow import flow
from plangen.sheets.tables import Column, Row, Table, numbered_notes, without_unknown

CAUTION = (
    "Calculated from the figures of this design; a wrong input makes every result wrong. Measure pressure on"
    " site before work. The local code, the water purveyor and licensed practice decide."
)

TO_STATE = (
    "To have it worked out, state at the source `static PRESSURE measured DATE`, read by a gauge while no"
    " water runs, and `lowest PRESSURE` of the year from the purveyor's record (or an `allowance PRESSURE` to"
    " take off the static); this sheet, profile and single-line diagram then fill in."
)


def hydraulics_panels(
    design: Design,
    hydraulics: Hydraulics,
    system: str,
    family: str,
    room: tuple[float, float],
    layout: Layout | None = None,
    note: float = 0.0,
    most_pages: float = math.inf,
) -> tuple[Panel, ...]:
    """Return the tables and notes of the hydraulics sheet, none larger than `room` (width, height in mm).

    They are lettered at `note` (0: the family's own height); none where
    they need more pages than `most_pages`.
    """
    letters = lettering(family)
    tall, height = room[1], note or letters.note
    worst = worst_case(hydraulics)
    items: list[Table | Panel] = []
    if worst is not None and worst.budget is not None:
        items.append(_budget_table(worst, system, height))
    items.append(_case_table(hydraulics, system, height))
    items += notes_pages(
        "Hydraulics: what was worked out", proof_notes(hydraulics, system, layout), 105.0, height, tall
    )
    items.append(_pipe_table(hydraulics, system))
    if hydraulics.studies is not None:
        said = study_notes(hydraulics.studies, system)
        if layout is not None:
            said = (*said, *year_notes(layout))
        items += notes_pages("If things are not as designed", said, 105.0, height, tall)
    tables = study_tables(design, hydraulics, layout, system, height)
    if layout is not None:
        tables = (*tables, *year_tables(design, layout, system))
    return flow((*items, *(without_unknown(t, NOT_KNOWN, "") for t in tables)), height, room, most_pages)


def commissioning_tables(design: Design, hydraulics: Hydraulics, system: str) -> tuple[Table, ...]:
    """Return what is held in hand while filling and running: flows to fill and flush, readings to expect."""
    readings = () if hydraulics.studies is None else (reading_table(hydraulics.studies, system),)
    return (_fill_table(design, system), *readings)


def worst_case(hydraulics: Hydraulics) -> CaseResult | None:
    """Return the case whose worst outlet has the least spare of all, or None if none was solved."""
    return next((c for c in hydraulics.cases if c.case == hydraulics.worst), None)


def proof_notes(hydraulics: Hydraulics, system: str, layout: Layout | None = None) -> tuple[str, ...]:
    """Return the notes: pressure basis, proof of the worst outlet, failures, assumptions, caution."""

    def p(head_m: float | None) -> str:
        return NOT_KNOWN if head_m is None else told(head_to_pressure_pa(head_m), Dimension.PRESSURE, system)

    out: list[str] = [failure_text(f) for f in hydraulics.failures]
    if any(f.code == "no-pressure-given" for f in hydraulics.failures):
        out.append(TO_STATE)
    if not hydraulics.cases and not hydraulics.failures:
        out.append("NOT SOLVED: the design has no case that can be worked out.")
    if hydraulics.pressure_basis and hydraulics.design_pressure_m is not None:
        out.append(f"Design pressure {p(hydraulics.design_pressure_m)}: {hydraulics.pressure_basis}.")
    ranked = spares(hydraulics)
    if ranked:
        first = ranked[0]
        out.append(
            f"Worst outlet of all: {first.outlet} (case {first.case}): available {p(first.available_m)},"
            " required"
            f" {p(first.required_m)}, spare {p(first.spare_m)}. Proved by working out all {len(ranked)}"
            " outlets of"
            f" {len({s.case for s in ranked})} cases and ranking them by spare, not by distance."
        )
    if len(ranked) > 1:
        nxt = ranked[1]
        out.append(f"Runner-up: {nxt.outlet} (case {nxt.case}), spare {p(nxt.spare_m)}.")
        other = next((s for s in ranked if s.case != ranked[0].case), None)
        if other is not None and other is not nxt:
            out.append(
                f"Runner-up among the other cases: {other.outlet} (case {other.case}), spare"
                f" {p(other.spare_m)}."
            )
    silent = sum(1 for c in hydraulics.cases for o in c.outlets if o.low_m is None)
    if silent:
        out.append(f"{silent} outlet results have no stated least pressure: their spare is {NOT_KNOWN}.")
    out.append(
        "Loss in pipes by Hazen-Williams with real bores (outside diameter less twice the least wall), never"
        " nominal sizes; devices by their loss curves; surge by Joukowsky with each pipe's own wave speed."
    )
    out += list(hydraulics.notes)
    out += [
        f"Rests on a figure that cannot decide a rule: {text}." for text in weak_inputs(hydraulics, layout)
    ]
    out.append(CAUTION)
    return tuple(out)


def failure_text(failure: Failure) -> str:
    """Return why a case, or the whole design, was not solved."""
    case = f"case {failure.case}: " if failure.case else ""
    return f"NOT SOLVED: {case}{failure.message} ({failure.code})"


def weak_inputs(hydraulics: Hydraulics, layout: Layout | None = None) -> tuple[str, ...]:
    """Return the typical, assumed and from-memory values that reached a result, each once, in order."""
    inputs = [*hydraulics.static_inputs, *(i for c in hydraulics.cases for i in c.inputs)]
    for pipe in hydraulics.pipes:
        inputs += [*pipe.flow_inputs, *pipe.static_inputs, *pipe.pipe_inputs]
    if hydraulics.studies is not None:
        inputs += hydraulics.studies.inputs
    if layout is not None:
        inputs += [i for low in layout.low_heads for i in (*low.inputs, *low.held_inputs)]
        inputs += layout.year.inputs if layout.year is not None else ()
    weak = [f"{i.name} {i.written} ({i.provenance.told()})" for i in inputs if not i.provenance.basis.decides]
    return tuple(dict.fromkeys(weak))


def _table(
    title: str,
    kind: str,
    heads: Sequence[str],
    rows: Sequence[Row],
    limits: dict[int, float],
    words: set[int],
) -> Table:
    columns = tuple(
        Column(head, "start" if i in words else "end", limits.get(i, 0.0)) for i, head in enumerate(heads)
    )
    return Table(title, kind, columns, tuple(rows))


def _budget_table(case: CaseResult, system: str, height: float) -> Table:
    assert case.budget is not None
    budget = case.budget
    objects = ["", *(line.object for line in budget.lines)]
    listed = [Row(cells, name) for cells, name in zip(budget_rows(budget, system), objects, strict=True)]
    rows, sources = numbered_notes(listed, 13, 1)
    need = (
        told(head_to_pressure_pa(budget.required_m), Dimension.PRESSURE, system)
        if budget.required_m
        else NOT_KNOWN
    )
    have = told(head_to_pressure_pa(budget.available_m), Dimension.PRESSURE, system)
    spare = (
        NOT_KNOWN
        if budget.spare_m is None
        else told(head_to_pressure_pa(budget.spare_m), Dimension.PRESSURE, system)
    )
    limits = {2: height * 26, 7: height * 24, 13: height * 16}
    table = _table(
        f"Pressure budget, case {case.case}, to outlet {budget.outlet}",
        "budget",
        budget_heads(system),
        rows,
        limits,
        {1, 2, 4, 7, 13},
    )
    if budget.spare_m is not None and budget.regulator_m > 0:
        spare += " (counting what the regulator takes off)"
    note = (
        f"At outlet {budget.outlet}: available {have}, required {need}, spare {spare}. {CAUTION}\n{sources}"
    )
    return replace(table, note=note.strip())


def _case_table(hydraulics: Hydraulics, system: str, height: float) -> Table:
    rows = [
        Row(cells, cells[1] if "," not in cells[1] and cells[1] != "-" else "")
        for cells in case_rows(hydraulics, system)
    ]
    table = _table("All cases", "cases", case_heads(system), rows, {8: height * 20}, {0, 1, 3, 8})
    said = regulated_note(hydraulics)
    note = f"{said[:1].upper()}{said[1:]}." if said else ""
    return Table(
        table.title, table.kind, table.columns, table.rows, note, "NOT SOLVED: no case was worked out."
    )


def _pipe_table(hydraulics: Hydraulics, system: str) -> Table:
    rows = [Row(cells, pipe) for pipe, cells in pipe_rows(hydraulics, system)]
    table = _table("Pipe checks, hardest case of each", "pipe-checks", pipe_heads(system), rows, {}, {0, 1})
    studies = hydraulics.studies
    missing = {m for s in (studies.strengths if studies else ()) if s.holds is None for m in s.missing}
    why = f"state {' and '.join(sorted(missing))}" if missing else ""
    return without_unknown(replace(table, empty="NOT SOLVED: no pipe was checked."), NOT_KNOWN, why)


def _fill_table(design: Design, system: str) -> Table:
    rows = [Row(cells, pipe) for pipe, cells in fill_rows(design, system)]
    plan = fill_plan(design)
    fill, flush = speed(FILL_MS, system), speed(FLUSH_MS, system)
    own = fill.partition(" (")[0]
    note = f"Fill at {fill} in each pipe, flush at {flush} or more. "
    if plan.main is not None:
        note += (
            f"Whole main {told(plan.main.volume_m3, Dimension.VOLUME, system)}; held at"
            f" {told(plan.main.held_m3s, Dimension.FLOW, system)} ({own} in {plan.main.held_by}):"
            f" {plan.main.time_s / 60:.1f} min or longer. Water only, never air."
        )
    table = _table("Filling and flushing", "fill", fill_heads(system), rows, {}, {0, 1, 2})
    return Table(table.title, table.kind, table.columns, table.rows, note)
