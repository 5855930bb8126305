"""Laws that hold for any path and sector, tried on many: nothing is lost, and place does not matter."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.geometry.arc import Sector
from plangen.geometry.clip import pieces_inside, pieces_outside
from plangen.geometry.point import Point, at, path_length
from plangen.layout.grid import grid_over, low_quarter_uniformity, rain

OUTLINE = (Point(0, 0), Point(10, 0), Point(10, 5), Point(5, 5), Point(5, 10), Point(0, 10))
COORDINATE = st.floats(-3, 13).map(lambda v: round(v, 3))
PATH = st.lists(st.builds(at, COORDINATE, COORDINATE), min_size=2, max_size=5, unique=True)


@settings(max_examples=60, deadline=None)
@given(PATH)
def test_inside_and_outside_make_the_whole_path(path: list[Point]) -> None:
    """What is neither runs within 5 mm of an edge: it is short unless the path follows an edge."""
    inside = sum(p.length_m for p in pieces_inside(path, OUTLINE, 1e-6))
    outside = sum(p.length_m for p in pieces_outside(path, OUTLINE, 1e-6))
    along = sum(
        abs(b.x - a.x) + abs(b.y - a.y)
        for a, b in pairwise(path)
        if (a.x == b.x and a.x in (0, 5, 10)) or (a.y == b.y and a.y in (0, 5, 10))
    )
    assert inside + outside <= path_length(path) + 1e-6
    assert inside + outside >= path_length(path) - along - 0.05


@settings(max_examples=25, deadline=None)
@given(st.floats(2, 9), st.floats(0, 359), st.floats(20, 360), st.floats(-1, 1), st.floats(-1, 1))
def test_a_heads_flow_is_kept_wherever_it_stands(
    radius: float, start: float, sweep: float, x: float, y: float
) -> None:
    grid = grid_over((Point(-11, -11), Point(11, -11), Point(11, 11), Point(-11, 11)))
    laid = rain(Sector(at(x, y), radius, start, (start + sweep) % 360), 1e-4, grid)
    assert math.fsum(laid.values()) * grid.cell_m2 == pytest.approx(1e-4, rel=1e-9)
    assert min(laid.values()) >= 0


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.01, 100), min_size=1, max_size=60), st.floats(0.1, 10))
def test_uniformity_lies_between_nothing_and_one_and_knows_no_unit(depths: list[float], unit: float) -> None:
    found = low_quarter_uniformity(depths)
    assert found is not None and 0 < found <= 1 + 1e-9
    assert low_quarter_uniformity([d * unit for d in depths]) == pytest.approx(found)
