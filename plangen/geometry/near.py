"""Which of many polylines come near a point: sorted into squares once, asked often. Metres; pure values."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.geometry.point import Point, nearest_on_path

Route = tuple[Point, ...]
_SQUARE_M = 2.0


@dataclass(frozen=True, slots=True)
class Near:
    """Polylines, and for each square of ground the numbers of those that may come near a point in it."""

    reach_m: float
    routes: tuple[Route, ...]
    squares: Mapping[tuple[int, int], tuple[int, ...]]

    @staticmethod
    def of(routes: Sequence[Route], reach_m: float) -> Near:
        """Return the polylines sorted, to be asked for those nearer than `reach_m`."""
        found: dict[tuple[int, int], dict[int, None]] = {}
        for number, route in enumerate(routes):
            for a, b in pairwise(route):
                for square in _squares_along(a, b, reach_m):
                    found.setdefault(square, {})[number] = None
        return Near(reach_m, tuple(routes), {square: tuple(numbers) for square, numbers in found.items()})

    def about(self, p: Point) -> tuple[Route, ...]:
        """Return the polylines nearer to a point than the reach, in their order."""
        near = self.squares.get((math.floor(p.x / _SQUARE_M), math.floor(p.y / _SQUARE_M)), ())
        return tuple(
            self.routes[i] for i in sorted(near) if nearest_on_path(p, self.routes[i])[0] < self.reach_m
        )


def _squares_along(a: Point, b: Point, reach_m: float) -> set[tuple[int, int]]:
    """Squares that hold every point within reach of a segment, and some more."""
    count = max(1, math.ceil(math.dist(a, b) / _SQUARE_M))
    # between two places looked at the segment strays from both by half their distance at most
    wide = reach_m + _SQUARE_M / 2
    found = set()
    for i in range(count + 1):
        x, y = a.x + (b.x - a.x) * i / count, a.y + (b.y - a.y) * i / count
        for column in range(math.floor((x - wide) / _SQUARE_M), math.floor((x + wide) / _SQUARE_M) + 1):
            for row in range(math.floor((y - wide) / _SQUARE_M), math.floor((y + wide) / _SQUARE_M) + 1):
                found.add((column, row))
    return found
