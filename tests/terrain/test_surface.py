"""The ground between spot grades, against scipy's interpolation over Qhull's Delaunay triangulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import LinearNDInterpolator

from plangen.geometry.point import Point, at
from plangen.model.site import SpotGrade
from plangen.quantity.dimension import Dimension
from plangen.quantity.quantity import Basis, Provenance, Quantity
from plangen.terrain.delaunay import in_circle, triangulate, turn
from plangen.terrain.surface import Surface
from plangen.text.source import Span

HERE = Span("design.plan", 0, 1)


def grade(x: float, y: float, z: float, written: str = "") -> SpotGrade:
    measured = Provenance(Basis.MEASURED)
    return SpotGrade(at(x, y), Quantity(z, Dimension.LENGTH, written, measured, HERE), HERE)


@pytest.mark.parametrize("count", [3, 4, 7, 20, 120])
def test_elevation_agrees_with_scipy(count: int) -> None:
    """Scattered grades have one Delaunay triangulation, so both must give the same plane everywhere."""
    rng = np.random.default_rng(count)
    grades = [grade(x, y, z) for x, y, z in rng.uniform(0, 50, (count, 3))]
    surface = Surface.over(grades)
    theirs = LinearNDInterpolator(
        np.array([g.point for g in grades]), np.array([g.elevation.si for g in grades])
    )
    for x, y in rng.uniform(-2, 52, (400, 2)):
        expected = float(theirs(x, y))
        found = surface.elevation_m(Point(x, y))
        if math.isnan(expected):
            assert found is None
        else:
            assert found == pytest.approx(expected, abs=1e-9)


def test_ground_is_not_known_without_three_grades_or_outside_them() -> None:
    assert Surface.over([]).elevation_m(at(0, 0)) is None
    assert Surface.over([grade(0, 0, 1), grade(9, 0, 2)]).elevation_m(at(4, 0)) is None
    assert Surface.over([grade(0, 0, 1), grade(1, 1, 2), grade(2, 2, 3)]).elevation_m(at(1, 1)) is None
    square = Surface.over([grade(0, 0, 1), grade(9, 0, 1), grade(9, 9, 2), grade(0, 9, 2)])
    assert square.elevation_m(at(9.02, 4)) is None
    assert square.inputs(at(20, 20)) == ()


def test_a_few_millimetres_outside_are_forgiven() -> None:
    square = Surface.over([grade(0, 0, 1), grade(9, 0, 1), grade(9, 9, 2), grade(0, 9, 2)])
    assert square.elevation_m(Point(9.003, 4.5)) == pytest.approx(1.5)
    assert square.elevation_m(Point(-0.004, -0.003)) == pytest.approx(1.0)


def test_inputs_are_the_grades_that_decide() -> None:
    corners = [grade(0, 0, 1, "1 m"), grade(9, 0, 2, "2 m"), grade(0, 9, 3, "3 m"), grade(9, 9, 4)]
    surface = Surface.over(corners)
    assert [i.written for i in surface.inputs(at(0, 0))] == ["1 m"]
    assert {i.written for i in surface.inputs(at(3, 0))} == {"1 m", "2 m"}
    names = {f"grade at ({x}, {y})" for x in (0, 9) for y in (0, 9)}
    assert {i.name for i in surface.inputs(at(1, 1))} <= names
    assert all(i.provenance.basis is Basis.MEASURED for i in surface.inputs(at(1, 1)))


def test_order_of_statements_is_moot_even_on_a_square_grid() -> None:
    """On a grid every diagonal is a tie; the ground must not depend on who was written first."""
    grades = [grade(3 * i, 3 * j, (i * 7 + j * 5) % 4) for i in range(5) for j in range(5)]
    one, other = Surface.over(grades), Surface.over(grades[::-1])
    for i in range(60):
        p = at(0.2 * i, 12 - 0.19 * i)
        assert one.elevation_m(p) == other.elevation_m(p)


@settings(max_examples=60, deadline=None)
@given(st.sets(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=25))
def test_triangles_cover_the_hull_and_no_circle_holds_a_point(places: set[tuple[int, int]]) -> None:
    """The definition of a Delaunay triangulation, on grids full of ties and points on one line."""
    points = sorted(places)
    triangles = triangulate(points)
    if all(turn(points[0], points[1], p) == 0 for p in points):
        assert triangles == []
        return
    for a, b, c in triangles:
        assert turn(points[a], points[b], points[c]) > 0
        assert not any(in_circle(points[a], points[b], points[c], p) for p in points)
    from scipy.spatial import ConvexHull

    covered = sum(turn(points[a], points[b], points[c]) for a, b, c in triangles) / 2
    assert covered == pytest.approx(ConvexHull(np.array(points)).volume)
