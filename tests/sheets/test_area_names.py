"""The name of an area stands in it or is led to it, whatever its shape. Plain geometry."""

from __future__ import annotations

import pytest

from plangen.geometry.point import Point
from plangen.model.site import Area as SiteArea
from plangen.sheets.canvas import Canvas
from plangen.sheets.labels import Field
from plangen.sheets.marks import Group, Line
from plangen.sheets.pens import lettering
from plangen.sheets.plan_labels import put_in_area
from plangen.sheets.viewport import Viewport
from plangen.text.source import Span

# Metres, at 1:100 on a window of 200 mm by 160 mm.
SHAPES = {
    "a plain house": ((4, 4), (12, 4), (12, 10), (4, 10)),
    "a house with one wing": ((2, 2), (16, 2), (16, 5), (5, 5), (5, 13), (2, 13)),
    "a house round a court": ((2, 2), (16, 2), (16, 13), (13, 13), (13, 5), (5, 5), (5, 13), (2, 13)),
    "a long shed": ((3, 3), (4, 3), (4, 9), (3, 9)),
    "a small shed": ((3, 3), (4, 3), (4, 4), (3, 4)),
}


def within(x: float, y: float, outline: list[tuple[float, float]]) -> bool:
    """Return whether a ray to the right meets the outline an odd number of times."""
    odd = False
    for (ax, ay), (bx, by) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


@pytest.mark.parametrize("shape", SHAPES)
def test_a_name_stands_in_its_area_or_is_led_to_it(shape: str) -> None:
    window = (0.0, 0.0, 200.0, 160.0)
    canvas = Canvas(Viewport(100, Point(9.0, 7.0), window), lettering("a3"), "metric", Field(window))
    ground = tuple(Point(x, y) for x, y in SHAPES[shape])
    area = SiteArea("building", "Garage", "Garage", ground, Span("hand.plan", 0, 0))
    outline = [canvas.view.paper(p) for p in ground]
    canvas.space.wall((*outline, outline[0]))
    put_in_area(canvas, area, ("GARAGE",), 2.5, True)
    assert not canvas.unplaced
    leaders = [m for g in canvas.layers["leaders"] if isinstance(g, Group) for m in g.marks]
    left, top, right, bottom = canvas.ink_boxes["Garage"]
    inside = [
        within(left + (right - left) * i / 20, top + (bottom - top) * j / 20, outline)
        for i in range(21)
        for j in range(21)
    ]
    if leaders:
        start = next(m for m in leaders if isinstance(m, Line)).points[0]
        assert within(*start, outline) and not any(inside)
    else:
        assert all(inside)
    assert bool(leaders) == (shape == "a small shed")
