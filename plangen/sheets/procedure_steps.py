"""The work in order, from permit to winter, for one design. Data for the procedure sheet and the packet.

Takes design and results, returns numbered steps. Draws nothing.
"""

from __future__ import annotations

from dataclasses import replace

from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.sheets.procedure_close import (
    hand_over,
    inspected_and_covered,
    laterals_and_heads,
    prove_and_start,
)
from plangen.sheets.procedure_figures import figures
from plangen.sheets.procedure_ground import before_digging, open_ground
from plangen.sheets.procedure_pipe import lay_pipe
from plangen.sheets.procedure_types import Step, ValveState
from plangen.sheets.procedure_water import fill_and_test, first_states

CAUTION = (
    "This is a list of work for this plan, not a licence to do it. The local code, the water purveyor and the"
    " licensed trades decide; where they or the instructions of a part differ from this sheet, they govern."
)


def procedure_steps(design: Design, hydraulics: Hydraulics, layout: Layout, system: str) -> tuple[Step, ...]:
    """Return the steps of the work in order, numbered from 1, told in a unit system (`us` or `metric`)."""
    f = figures(design, hydraulics, system)
    drafts = (
        *before_digging(f),
        *open_ground(f),
        *lay_pipe(f),
        *fill_and_test(f),
        *inspected_and_covered(f),
        *laterals_and_heads(f),
        *prove_and_start(f),
        *hand_over(f),
    )
    return tuple(replace(step, number=n) for n, step in enumerate(drafts, start=1))


def valve_states(design: Design, hydraulics: Hydraulics, system: str) -> tuple[ValveState, ...]:
    """Return how each valve, cock and drain stands before the first water."""
    return first_states(figures(design, hydraulics, system))
