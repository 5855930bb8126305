"""Every assumption that reaches a number of the water is among those the hydraulics sheet lists.

Oracle: the computation run on the value as stated and on the value a hundredth off. Where a solved pressure,
flow, speed, static pressure, surge or rating moves, marking that value assumed must put it on the list.
"""

from __future__ import annotations

import pytest

from plangen.hydraulics.analyse import analyse
from plangen.hydraulics.results import Hydraulics
from plangen.model.design import Design
from plangen.sheets.hydraulics_sheet import weak_inputs
from plangen.terrain.surface import Surface
from tests.hydraulics.residential import design_with
from tests.jobs.inputs_marked import keys_of, marked, moved


def worked(design: Design) -> Hydraulics:
    return analyse(design, Surface.of(design))


def numbers(found: Hydraulics) -> list[float]:
    """Return what the sheet tells of the water, in one order."""
    out = [found.design_pressure_m or 0.0, found.static_pressure_m or 0.0]
    for case in found.cases:
        out += [n.pressure_m for n in case.solution.nodes] + [k.flow_m3s for k in case.solution.links]
    for p in found.pipes:
        out += [p.velocity_ms, p.static_pressure_m, p.surge_m or 0.0, p.rating_m or 0.0]
    return out


def listed_and_moved(every: int, first: int = 0) -> dict[str, tuple[bool, bool]]:
    design = design_with()
    base = worked(design)
    before, told = numbers(base), set(weak_inputs(base))
    found = {}
    for each in keys_of(design)[first::every]:
        after = numbers(worked(moved(design, each.key, 0.01)))
        moves = any(abs(a - b) > 1e-7 * max(abs(a), abs(b), 1e-4) for a, b in zip(before, after, strict=True))
        found[each.what] = (set(weak_inputs(worked(marked(design, each.key)))) != told, moves)
    return found


def test_what_reaches_a_number_is_listed_once_it_is_assumed() -> None:
    found = listed_and_moved(41, 3)
    assert any(moves for _, moves in found.values())
    assert [what for what, (listed, moves) in found.items() if moves and not listed] == []


@pytest.mark.long
def test_every_value_that_reaches_a_number_is_listed_once_it_is_assumed() -> None:
    found = listed_and_moved(1)
    assert [what for what, (listed, moves) in found.items() if moves and not listed] == []
