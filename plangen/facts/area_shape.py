"""How wide a planting area is, and which of its sides lie along paving. Works on outlines alone."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.geometry.clip import edges
from plangen.geometry.point import Point, at, bearing_deg, bounds, distance, distance_to_polygon
from plangen.geometry.width import largest_circle
from plangen.model.site import Area

# Paving counts as lying along a side within this distance, over this share of the side's length; the text of
# the rules says only `along` (our own reading, no source).
ALONG_M = 0.3048
ALONG_SHARE = 0.5
# Edges that turn less than this are one side, drawn in pieces.
SAME_SIDE_DEG = 30.0
_STEP_M = 0.15


def least_width_m(area: Area) -> float:
    """Return twice the radius of the largest circle that fits in an area."""
    return 2 * largest_circle(area.outline)[1]


def paved_sides(area: Area, paving: Sequence[Area]) -> tuple[int, tuple[str, ...]]:
    """Return how many sides of an area lie along paving, and the names of that paving."""
    near = [p for p in paving if p.state != "removed" and _close(area.outline, p.outline)]
    sides = edges(area.outline)
    paved = [[p.name for p in near if _along(a, b, p.outline)] for a, b in sides]
    count = 0
    for index, (a, b) in enumerate(sides):
        before = sides[index - 1]
        turn = abs((bearing_deg(a, b) - bearing_deg(*before) + 180.0) % 360.0 - 180.0)
        goes_on = bool(paved[index - 1]) and turn < SAME_SIDE_DEG
        count += bool(paved[index]) and not goes_on
    return count, tuple(sorted({name for names in paved for name in names}))


def _close(one: Sequence[Point], other: Sequence[Point]) -> bool:
    a, b = bounds(one), bounds(other)
    apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
    return apart <= ALONG_M


def _along(a: Point, b: Point, outline: Sequence[Point]) -> bool:
    """Return whether paving lies close to a side over enough of its length, looked at point by point."""
    steps = max(2, int(distance(a, b) / _STEP_M))
    places = [(i + 0.5) / steps for i in range(steps)]
    points = [at(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t) for t in places]
    hits = sum(distance_to_polygon(p, outline) <= ALONG_M for p in points)
    return hits >= ALONG_SHARE * steps
