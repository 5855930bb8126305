"""Every assumption that reaches a number of the water is among those the hydraulics sheet lists.

Oracle: the computation run on the value as stated and on the value a hundredth off. Where a figure of it
moves (pressures, needs, flows, surge, ratings, what is studied, what runs out of the lowest heads), marking
that value assumed must put it on the list.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from plangen.hydraulics.analyse import analyse
from plangen.hydraulics.results import Hydraulics
from plangen.hydraulics.studies import Studies
from plangen.layout.low_heads import measure_low_heads
from plangen.layout.measure import measure
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.hydraulics_sheet import proof_notes, weak_inputs
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile
from tests.jobs.inputs_marked import keys_of, marked, moved

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
Worked = tuple[Hydraulics, Layout]


@cache
def design_of(example: str) -> Design:
    text = (EXAMPLES / example / "design.plan").read_text(encoding="utf-8")
    outcome = read_design(SourceFile.of("design.plan", text))
    assert outcome.value is not None
    return outcome.value


@cache
def layout_of(example: str) -> Layout:
    design = design_of(example)
    surface = Surface.of(design)
    return replace(measure(design, surface, analyse(design, surface)), year=None)


def worked(example: str, design: Design) -> Worked:
    surface = Surface.of(design)
    low = measure_low_heads(design, surface)
    return analyse(design, surface), replace(layout_of(example), low_heads=low)


def numbers(found: Worked) -> list[float]:
    """Return what the sheet tells of the water, in one order."""
    water, layout = found
    out: list[float | None] = [water.design_pressure_m, water.static_pressure_m]
    for case in water.cases:
        out += [n.pressure_m for n in case.solution.nodes] + [k.flow_m3s for k in case.solution.links]
        out += [o.low_m for o in case.outlets]
    for p in water.pipes:
        out += [p.velocity_ms, p.static_pressure_m, p.surge_m, p.rating_m]
    out += studied(water.studies) if water.studies is not None else ()
    for low in layout.low_heads:
        out += [low.difference_m, low.volume_m3, low.drained_m3]
    return [n or 0.0 for n in out]


def studied(studies: Studies) -> Iterator[float | None]:
    """Yield the figures of the studies."""
    for what in studies.what_ifs:
        yield from (what.source_pressure_m, what.spare_m)
    for relief in studies.reliefs:
        yield from (relief.flow_m3s, relief.drain_m3s)
    for broken in studies.breaks:
        yield from (broken.flow_m3s, broken.trip_m3s, broken.most_running_m3s)
    for left in studies.house:
        yield from (left.pressure_m, left.static_m)
    for siphon in studies.siphons:
        yield from (siphon.above_source_m, siphon.above_house_m, siphon.above_assembly_m)
    for closing in studies.closings:
        yield from (closing.critical_s, closing.closing_s, closing.sudden_m, closing.slow_m)
    for load in studies.meters:
        yield from (load.flow_m3s, load.most_m3s)


def silent(example: str, every: int, first: int = 0) -> tuple[list[str], int]:
    """Return what moves a number and is not listed once assumed, and how many values move one."""
    design = design_of(example)
    base = worked(example, design)
    before, told = numbers(base), set(weak_inputs(*base))
    found, moving = [], 0
    for each in keys_of(design)[first::every]:
        after = numbers(worked(example, moved(design, each.key, 0.01)))
        pairs = zip(before, after, strict=False)
        if len(before) != len(after) or any(abs(a - b) > 1e-7 * max(abs(a), abs(b), 1e-4) for a, b in pairs):
            moving += 1
            if set(weak_inputs(*worked(example, marked(design, each.key)))) == told:
                found.append(each.what)
    return found, moving


def test_what_reaches_a_number_is_listed_once_it_is_assumed() -> None:
    found, moving = silent("residential", 41, 3)
    assert moving > 1 and found == []


@pytest.mark.parametrize(
    "what", ["heads.H11.part.pressure_low", "devices.M1.part.flow_high", "devices.V1.part.closing_time"]
)
def test_needs_capacities_and_times_are_listed(what: str) -> None:
    design = design_of("residential")
    (key,) = (k.key for k in keys_of(design) if k.what == what)
    told = set(weak_inputs(*worked("residential", design)))
    after = worked("residential", marked(design, key))
    (name,) = set(weak_inputs(*after)) - told
    assert any(name in note for note in proof_notes(after[0], "us", after[1]))


@pytest.mark.long
@pytest.mark.parametrize("example", ["residential", "commercial", "replacement", "broken", "unmeasured"])
def test_every_value_that_reaches_a_number_is_listed_once_it_is_assumed(example: str) -> None:
    found, _ = silent(example, 1)
    assert found == []
