"""Plane geometry of the site: metres, x to plan east, y to plan north. Pure functions on tuples."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple


class Point(NamedTuple):
    """A place on the ground in metres, rounded to a micrometre where the model makes it."""

    x: float
    y: float


def at(x: float, y: float) -> Point:
    """Return a point rounded to a micrometre, so that no later comparison hangs on the last bit."""
    return Point(round(x, 6) + 0.0, round(y, 6) + 0.0)


def distance(a: Point, b: Point) -> float:
    """Return the distance between two points."""
    return math.hypot(b.x - a.x, b.y - a.y)


def bearing_deg(a: Point, b: Point) -> float:
    """Return the bearing from a to b in degrees clockwise from plan north."""
    return math.degrees(math.atan2(b.x - a.x, b.y - a.y)) % 360.0


def step(origin: Point, bearing: float, length: float) -> Point:
    """Return the point `length` metres from `origin` on a bearing in degrees clockwise from north."""
    angle = math.radians(bearing)
    return at(origin.x + length * math.sin(angle), origin.y + length * math.cos(angle))


def path_length(points: Sequence[Point]) -> float:
    """Return the length of a polyline."""
    return sum(distance(a, b) for a, b in pairwise(points))


def point_along(points: Sequence[Point], length: float) -> Point | None:
    """Return the point that far along a polyline, or None beyond its ends (a millimetre is forgiven)."""
    if length < -1e-3:
        return None
    left = max(length, 0.0)
    for a, b in pairwise(points):
        part = distance(a, b)
        if left <= part + 1e-9 and part > 0:
            return at(a.x + (b.x - a.x) * left / part, a.y + (b.y - a.y) * left / part)
        left -= part
    return points[-1] if points and left <= 1e-3 else None


def nearest_on_segment(p: Point, a: Point, b: Point) -> tuple[float, Point]:
    """Return the share of the way (0 to 1) and the point of segment ab nearest to p."""
    dx, dy = b.x - a.x, b.y - a.y
    square = dx * dx + dy * dy
    t = 0.0 if square == 0 else max(0.0, min(1.0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square))
    return t, at(a.x + t * dx, a.y + t * dy)


def nearest_on_path(p: Point, points: Sequence[Point]) -> tuple[float, float, Point]:
    """Return (distance to the path, length along it, nearest point)."""
    best, run = (math.inf, 0.0, points[0]), 0.0
    for a, b in pairwise(points):
        t, q = nearest_on_segment(p, a, b)
        d = distance(p, q)
        if d < best[0] - 1e-12:
            best = (d, run + t * distance(a, b), q)
        run += distance(a, b)
    return best


def foot(p: Point, points: Sequence[Point]) -> Point | None:
    """Return the nearest place on a polyline that lies at right angles to it from `p`, or None."""
    best: tuple[float, Point] | None = None
    for a, b in pairwise(points):
        square = (b.x - a.x) ** 2 + (b.y - a.y) ** 2
        share = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / square if square else -1.0
        # A micrometre beyond an end is still at that end: coordinates are rounded when they are written.
        if -1e-6 <= share * math.sqrt(square) <= math.sqrt(square) + 1e-6:
            found = at(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y))
            if best is None or distance(p, found) < best[0]:
                best = (distance(p, found), found)
    return best[1] if best else None


def polygon_area(points: Sequence[Point]) -> float:
    """Return the signed area of a closed polygon, positive if counter-clockwise."""
    return 0.5 * sum(a.x * b.y - b.x * a.y for a, b in zip(points, [*points[1:], points[0]], strict=True))


def polygon_centre(points: Sequence[Point]) -> Point:
    """Return the centroid of a closed polygon."""
    area = polygon_area(points)
    if abs(area) < 1e-12:
        return at(sum(p.x for p in points) / len(points), sum(p.y for p in points) / len(points))
    cx = cy = 0.0
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        cross = a.x * b.y - b.x * a.y
        cx += (a.x + b.x) * cross
        cy += (a.y + b.y) * cross
    return at(cx / (6 * area), cy / (6 * area))


def inside(p: Point, points: Sequence[Point]) -> bool:
    """Return whether p lies inside a closed polygon (even-odd; a point on the edge may go either way)."""
    found = False
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        if (a.y > p.y) != (b.y > p.y) and p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x:
            found = not found
    return found


def distance_to_polygon(p: Point, points: Sequence[Point]) -> float:
    """Return the distance from p to the edge of a closed polygon, negative inside."""
    # one loop for distance and side: this is asked ten thousand times a design
    x, y = p
    least, found = math.inf, False
    ax, ay = points[-1]
    for bx, by in points:
        dx, dy = bx - ax, by - ay
        square = dx * dx + dy * dy
        t = ((x - ax) * dx + (y - ay) * dy) / square if square else 0.0
        t = 0.0 if t < 0.0 else 1.0 if t > 1.0 else t
        ex, ey = ax + t * dx - x, ay + t * dy - y
        least = min(least, ex * ex + ey * ey)
        if (ay > y) != (by > y) and x < dx * (y - ay) / dy + ax:
            found = not found
        ax, ay = bx, by
    return -math.sqrt(least) if found else math.sqrt(least)


def in_arc(bearing: float, start: float, end: float) -> bool:
    """Return whether a bearing lies in the arc that runs clockwise from start to end (equal: full circle)."""
    sweep = (end - start) % 360.0 or 360.0
    return (bearing - start) % 360.0 <= sweep + 1e-9


def bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    """Return (x min, y min, x max, y max)."""
    xs, ys = [p.x for p in points], [p.y for p in points]
    return min(xs), min(ys), max(xs), max(ys)
