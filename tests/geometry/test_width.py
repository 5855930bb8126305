"""The width of an outline against shapes whose largest circle is known by construction."""

from __future__ import annotations

import math

import pytest

from plangen.geometry.point import Point
from plangen.geometry.width import largest_circle


def outline(*corners: tuple[float, float]) -> tuple[Point, ...]:
    """Return an outline of corners."""
    return tuple(Point(x, y) for x, y in corners)


@pytest.mark.parametrize(
    ("corners", "radius"),
    [
        # A rectangle holds a circle of half its shorter side, a square of half its side.
        (((0, 0), (20, 0), (20, 3), (0, 3)), 1.5),
        (((0, 0), (4, 0), (4, 4), (0, 4)), 2.0),
        # Inscribed circle of a triangle: area over half the perimeter (Euclid IV.4); here 3-4-5: 6 / 6.
        (((0, 0), (3, 0), (0, 4)), 1.0),
        # An L of two strips 2 wide: the circle through the inner corner, r = 2 sqrt(2) / (1 + sqrt(2)).
        (((0, 0), (10, 0), (10, 2), (2, 2), (2, 10), (0, 10)), 2 * math.sqrt(2) / (1 + math.sqrt(2))),
    ],
)
def test_known_shapes(corners: tuple[tuple[float, float], ...], radius: float) -> None:
    centre, found = largest_circle(outline(*corners), 0.001)
    assert found == pytest.approx(radius, abs=0.002)
    turned = outline(*((0.6 * x - 0.8 * y, 0.8 * x + 0.6 * y) for x, y in corners))
    assert largest_circle(turned, 0.001)[1] == pytest.approx(radius, abs=0.002)
    assert math.isfinite(centre.x) and math.isfinite(centre.y)


def test_nothing_fits_in_a_line() -> None:
    assert largest_circle(outline((0, 0), (5, 0)))[1] == 0.0
