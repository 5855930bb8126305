"""The commercial example on A3: a plan that one sheet does not hold, cut by match lines.

Expectations are geometry and this project's own contract for plans: a standard scale no smaller than 1:250,
each object of the work on one sheet, what goes on beyond a match line going on at the same place there.
"""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import pairwise

import pytest

from plangen.hydraulics.analyse import analyse
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.compose import plan_ids
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Area, Line, Text
from plangen.sheets.page import room_of
from plangen.sheets.paper import paper
from plangen.sheets.plan import PlanSheet, plan_sheets
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile
from tests.sheets.sheet_set import EXAMPLES, groups, texts

XY = tuple[float, float]
# ISO 5455 names 1:50, 1:100, 1:200; 1:125 and 1:250 are common on site plans (common practice, no source)
SCALES = {50, 100, 125, 200, 250}


@cache
def cut() -> tuple[Design, tuple[PlanSheet, ...]]:
    text = (EXAMPLES / "commercial" / "design.plan").read_text(encoding="utf-8")
    text, count = re.subn(r"(?m)^(  sheet +)\S+$", r"\g<1>a3", text)
    assert count == 1
    design = read_design(SourceFile.of("design.plan", text)).value
    assert design is not None
    hydraulics = analyse(design, Surface.of(design))
    return design, plan_sheets(design, hydraulics, "a3", room_of(paper("a3")), plan_ids)


def lines_of(sheet: PlanSheet, role: str, name: str) -> list[tuple[XY, ...]]:
    return [
        m.points
        for g in groups(sheet.panel.group)
        if g.role == role and g.object == name
        for m in g.marks
        if isinstance(m, Line)
    ]


def test_it_needs_several_sheets_at_one_standard_scale() -> None:
    _, sheets = cut()
    assert len(sheets) > 1 and [s.id for s in sheets] == [f"LI{101 + i}" for i in range(len(sheets))]
    (scale,) = {round(1000 / s.per_m, 6) for s in sheets}
    assert scale in SCALES
    assert {s.panel.scale for s in sheets} == {f"1:{scale:g}"}


def test_each_symbol_stands_on_one_sheet_and_clear_of_the_match_lines() -> None:
    design, sheets = cut()
    for thing in (*design.devices, *design.heads):
        places = [(s.id, x, y) for s in sheets for name, x, y in s.panel.anchors if name == thing.name]
        assert len(places) == 1, (thing.name, places)
        _, x, y = places[0]
        sheet = next(s for s in sheets if s.id == places[0][0])
        for g in groups(sheet.panel.group):
            for line in (m for m in g.marks if g.role == "match-line" and isinstance(m, Line)):
                (ax, ay), (bx, _by) = line.points
                assert (abs(x - ax) if ax == bx else abs(y - ay)) > 2.0, thing.name


def test_each_pipe_is_drawn_in_full_over_the_sheets() -> None:
    design, sheets = cut()
    for pipe in design.pipes:
        ground = sum(math.dist(a.point, b.point) for a, b in pairwise(pipe.route))
        drawn = sum(
            math.dist(a, b) / s.per_m
            for s in sheets
            for points in lines_of(s, f"pipe-{pipe.role}", pipe.name)
            for a, b in pairwise(points)
        )
        # a service line has gaps for its letters
        assert drawn == pytest.approx(ground, abs=1e-3) or (pipe.role == "service" and drawn > 0.6 * ground)


def _edges(sheet: PlanSheet) -> dict[str, tuple[XY, XY]]:
    """Return each match line of a sheet by the sheet that its lettering names."""
    matches = [g for g in groups(sheet.panel.group) if g.role == "match-line"]
    lines = [m.points for g in matches for m in g.marks if isinstance(m, Line)]
    found = {}
    for text in (m for g in matches for m in g.marks if isinstance(m, Text)):
        named = re.fullmatch(r"MATCH LINE - SEE (LI\d+)", text.text)
        assert named

        def off(line: tuple[XY, ...], text: Text = text) -> float:
            (ax, ay), (bx, _) = line
            level = (ax != bx) == (text.angle == 0.0)
            return (abs(text.x - ax) if ax == bx else abs(text.y - ay)) if level else math.inf

        a, b = min(lines, key=off)
        assert off((a, b)) < 6.0  # it stands along the line it names
        found[named[1]] = (a, b)
    assert len(found) == len(lines)
    return found


def test_match_lines_name_the_sheet_beyond_and_what_crosses_goes_on_there() -> None:
    design, sheets = cut()
    edges = {s.id: _edges(s) for s in sheets}
    crossed = 0
    for sheet in sheets:
        assert edges[sheet.id]
        for beyond, (a, b) in edges[sheet.id].items():
            back = edges[beyond][sheet.id]
            axis = 0 if a[0] == b[0] else 1  # 0: the line is upright
            other = next(s for s in sheets if s.id == beyond)
            for pipe in design.pipes:
                here = _meetings(sheet, pipe.name, pipe.role, axis, a[axis])
                there = _meetings(other, pipe.name, pipe.role, axis, back[0][axis])
                assert here == pytest.approx(there, abs=0.01), (pipe.name, sheet.id, beyond)
                crossed += len(here)
    assert crossed >= 4


def _meetings(sheet: PlanSheet, name: str, role: str, axis: int, at: float) -> list[float]:
    """Return where along a match line a pipe's ends lie on it, in mm."""
    ends = [p for points in lines_of(sheet, f"pipe-{role}", name) for p in (points[0], points[-1])]
    return sorted(p[1 - axis] for p in ends if abs(p[axis] - at) < 1e-6)


def test_no_lettering_is_cut_by_a_match_line_and_each_object_is_named() -> None:
    design, sheets = cut()
    named = {g.object for s in sheets for g in groups(s.panel.group) if g.role == "label"}
    for thing in (*design.devices, *design.heads, *design.pipes, *design.sleeves, *design.drips):
        assert thing.name in named, thing.name
    for sheet in sheets:
        width, height = sheet.panel.width_mm, sheet.panel.height_mm
        for text in texts(sheet.panel.group):
            long = text_width_mm(text.text, text.height, text.bold)
            start = text.x - {"start": 0.0, "middle": long / 2, "end": long}[text.anchor]
            if text.angle == 0.0:
                assert start >= -0.01 and start + long <= width + 0.01, text
                assert text.height <= text.y <= height + 0.01, text


def test_the_key_plan_shows_every_sheet_and_fills_this_one() -> None:
    _, sheets = cut()
    for index, sheet in enumerate(sheets):
        key = next(g for g in groups(sheet.panel.group) if g.role == "key-plan")
        windows = [m for m in key.marks if isinstance(m, Area) and m.pen == "thin"]
        assert [w.fill for w in windows] == ["grey" if i == index else "none" for i in range(len(sheets))]
        named = [m.text for m in key.marks if isinstance(m, Text)]
        assert [n for n in named if n != "KEY PLAN"] == [s.id for s in sheets]
        for window, name in zip(windows, (m for m in key.marks if isinstance(m, Text)), strict=False):
            xs, ys = [p[0] for p in window.points], [p[1] for p in window.points]
            assert min(xs) < name.x < max(xs) and min(ys) < name.y < max(ys)
