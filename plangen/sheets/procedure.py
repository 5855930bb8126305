"""The procedure sheets: the work in order with hold points and sign-off, the first state of each valve.

Sets what `procedure_steps` says; adds no fact of its own.
"""

from __future__ import annotations

import math

from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.work import STEP_NAMES, doers_of, steps_in_order
from plangen.sheets.font import text_width_mm
from plangen.sheets.hydraulics_sheet import commissioning_tables
from plangen.sheets.panel import Panel
from plangen.sheets.pens import lettering
from plangen.sheets.procedure_steps import CAUTION, procedure_steps, valve_states
from plangen.sheets.procedure_types import NOT_STATED, Step
from plangen.sheets.table_flow import flow
from plangen.sheets.tables import Column, Row, Table, table_pages

SIGN = "By ____________\nDate __________"
_TICK = "[   ]"


def procedure_panels(
    design: Design,
    hydraulics: Hydraulics,
    layout: Layout,
    system: str,
    family: str,
    room: tuple[float, float],
    note: float = 0.0,
    most_pages: float = math.inf,
) -> tuple[Panel, ...]:
    """Return steps, valve table, who does what, and what is held in hand for filling and the first run.

    They flow over pages of `room` (width, height in mm), lettered at `note` (0: the family's own height);
    none where they need more pages than `most_pages`.
    """
    height = note or lettering(family).note
    width, tall = room
    steps = procedure_steps(design, hydraulics, layout, system)
    pages = table_pages(_steps_table(steps, width, height), height, tall, width)
    states, doers = _states_table(design, hydraulics, system, height), _doers_table(design, height)
    return flow(
        (*pages, states, doers, *commissioning_tables(design, hydraulics, system)), height, room, most_pages
    )


def _steps_table(steps: tuple[Step, ...], width: float, height: float) -> Table:
    sign = max(text_width_mm(line, height, bold=True) for line in SIGN.split("\n"))
    fixed = text_width_mm("No.", height, bold=True) + sign
    share = width - fixed - 8.5 * height
    columns = (
        Column("No.", "end"),
        Column("Work", "start", share * 0.36),
        Column("This design", "start", share * 0.20),
        Column("Caution", "start", share * 0.20),
        Column("Source", "start", share * 0.15),
        Column("Hold point", "start", share * 0.09),
        Column("Sign-off", "start", sign),
    )
    rows = tuple(
        Row(
            (
                str(s.number),
                "\n".join((s.title.upper(), *s.lines)),
                s.figure,
                s.caution,
                s.source,
                f"HOLD: {s.hold}" if s.hold else "-",
                f"{_TICK}\n{SIGN}",
            )
        )
        for s in steps
    )
    return Table(
        "The work in order",
        "procedure",
        columns,
        rows,
        "A step with HOLD is released in writing before the next one begins. " + CAUTION,
    )


def _states_table(design: Design, hydraulics: Hydraulics, system: str, height: float) -> Table:
    rows = tuple(
        Row((s.object, s.part, s.state.upper(), s.why, _TICK), s.object)
        for s in valve_states(design, hydraulics, system)
    )
    return Table(
        "First state of every valve, before any water",
        "valve-states",
        (
            Column("Object"),
            Column("Part", "start", height * 16),
            Column("State", "start", height * 14),
            Column("Why", "start", height * 24),
            Column("Set"),
        ),
        rows,
    )


def _doers_table(design: Design, height: float) -> Table:
    """Return who does each step of the work, with trade and licence; what is not said stands as that."""
    rows: list[Row] = []
    for step in steps_in_order(design):
        title = STEP_NAMES[step]
        for doer in doers_of(design, step):
            ends = doer.expires.isoformat() if doer.expires else NOT_STATED
            trade = ", ".join(t.replace("-", " ") for t in doer.trades) or NOT_STATED
            rows.append(Row((title, doer.name, trade, doer.licence or NOT_STATED, ends)))
            title = ""
        if title:
            rows.append(Row((title, *[NOT_STATED] * 4)))
    return Table(
        "Who does which step of the work",
        "work-steps",
        (
            Column("Step"),
            Column("Done by", "start", height * 16),
            Column("Trade", "start", height * 12),
            Column("Licence", "start", height * 12),
            Column("Ends"),
        ),
        tuple(rows),
        "Which trade may do a step, and whether these licences answer for it, is in the code check.",
    )
