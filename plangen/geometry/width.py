"""How wide a closed outline is: the largest circle that fits in it. Metres; pure functions on points."""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

from plangen.geometry.point import Point, bounds, distance_to_polygon


def largest_circle(outline: Sequence[Point], precision_m: float = 0.005) -> tuple[Point, float]:
    """Return centre and radius of the largest circle inside an outline, its radius right to `precision_m`.

    Squares that could still hold a better centre are quartered, the most promising first.
    """
    x0, y0, x1, y1 = bounds(outline)
    side = min(x1 - x0, y1 - y0)
    if side <= 0:
        return Point(x0, y0), 0.0
    half = side / 2
    best, centre = 0.0, Point((x0 + x1) / 2, (y0 + y1) / 2)
    todo: list[tuple[float, float, float, float]] = []

    def look(x: float, y: float, half_m: float) -> None:
        nonlocal best, centre
        depth = -distance_to_polygon(Point(x, y), outline)
        if depth > best:
            best, centre = depth, Point(x, y)
        reach = depth + half_m * math.sqrt(2)
        if reach > best + precision_m:
            heapq.heappush(todo, (-reach, x, y, half_m))

    columns, rows = math.ceil((x1 - x0) / side - 1e-9), math.ceil((y1 - y0) / side - 1e-9)
    for i in range(columns):
        for j in range(rows):
            look(x0 + (2 * i + 1) * half, y0 + (2 * j + 1) * half, half)
    while todo and -todo[0][0] > best + precision_m:
        _, x, y, half_m = heapq.heappop(todo)
        quarter = half_m / 2
        for dx in (-quarter, quarter):
            for dy in (-quarter, quarter):
                look(x + dx, y + dy, quarter)
    return centre, best
