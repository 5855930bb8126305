"""The ground between the spot grades: elevation by straight-line interpolation over triangles.

In: a `Design`. Out: elevations in metres in the site's own datum, and the grades they rest on. Outside
the grades the ground is not known: None, never a guess.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from plangen.geometry.point import Point, distance, nearest_on_segment
from plangen.model.design import Design
from plangen.model.site import SpotGrade
from plangen.quantity.dimension import Dimension
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import si_to
from plangen.terrain.delaunay import Grid, Triangle, triangulate

# A place staked on the line between two grades may fall a few millimetres outside by rounding.
FORGIVEN_M = 0.005
_MICROMETRES = 1e6

Weights = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Surface:
    """Finished grade as triangles over the spot grades."""

    grades: tuple[SpotGrade, ...]
    triangles: tuple[Triangle, ...]
    coordinate_unit: str = "m"
    _cells: _Cells | None = field(default=None, repr=False, compare=False)

    @staticmethod
    def of(design: Design) -> Surface:
        """Return the surface over a design's spot grades; of two grades at one place the lower counts."""
        return Surface.over(design.site.grades, design.site.coordinate_unit)

    @staticmethod
    def over(grades: Sequence[SpotGrade], coordinate_unit: str = "m") -> Surface:
        """Return the surface over spot grades."""
        kept: dict[Grid, SpotGrade] = {}
        for grade in sorted(grades, key=lambda g: (g.point, g.elevation.si)):
            kept.setdefault(_grid(grade.point), grade)
        triangles = tuple(triangulate(list(kept)))
        points = [g.point for g in kept.values()]
        return Surface(tuple(kept.values()), triangles, coordinate_unit, _Cells.of(points, triangles))

    def elevation_m(self, point: Point) -> float | None:
        """Return the ground elevation at a point, or None outside the spot grades."""
        weights = self._weights(point)
        return None if weights is None else sum(w * self.grades[i].elevation.si for i, w in weights)

    def inputs(self, point: Point) -> tuple[Input, ...]:
        """Return the spot grades that decide the elevation at a point; none where it is not known."""
        return tuple(self._input(self.grades[i]) for i, w in self._weights(point) or () if w > 1e-9)

    def _input(self, grade: SpotGrade) -> Input:
        x, y = (round(si_to(v, Dimension.LENGTH, self.coordinate_unit), 3) for v in grade.point)
        name = f"grade at ({x:g}, {y:g})"
        return Input(name, grade.elevation.written, grade.elevation.provenance, grade.span)

    def _weights(self, point: Point) -> Weights | None:
        if self._cells is None:
            return None
        for t in self._cells.near(point):
            weights = _barycentric(point, self.triangles[t], self.grades)
            if weights is not None:
                return weights
        return self._edge_weights(point)

    def _edge_weights(self, point: Point) -> Weights | None:
        """Return weights on the nearest hull edge for a point a few millimetres outside."""
        best: tuple[float, Weights] | None = None
        for a, b in self._hull():
            share, nearest = nearest_on_segment(point, self.grades[a].point, self.grades[b].point)
            off = distance(point, nearest)
            if off <= FORGIVEN_M and (best is None or off < best[0]):
                best = (off, ((a, 1.0 - share), (b, share)))
        return None if best is None else best[1]

    def _hull(self) -> list[tuple[int, int]]:
        edges = {edge for a, b, c in self.triangles for edge in ((a, b), (b, c), (c, a))}
        return sorted((a, b) for a, b in edges if (b, a) not in edges)


def _grid(point: Point) -> Grid:
    return round(point.x * _MICROMETRES), round(point.y * _MICROMETRES)


def _barycentric(p: Point, triangle: Triangle, grades: tuple[SpotGrade, ...]) -> Weights | None:
    a, b, c = (grades[i].point for i in triangle)
    whole = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
    wa = ((b.x - p.x) * (c.y - p.y) - (b.y - p.y) * (c.x - p.x)) / whole
    wb = ((c.x - p.x) * (a.y - p.y) - (c.y - p.y) * (a.x - p.x)) / whole
    wc = 1.0 - wa - wb
    if min(wa, wb, wc) < -1e-9:
        return None
    return ((triangle[0], wa), (triangle[1], wb), (triangle[2], wc))


@dataclass(frozen=True, slots=True)
class _Cells:
    """Square bins over the site that say which triangles may hold a point."""

    x0: float
    y0: float
    size: float
    bins: dict[tuple[int, int], tuple[int, ...]]

    @staticmethod
    def of(points: list[Point], triangles: tuple[Triangle, ...]) -> _Cells | None:
        if not triangles:
            return None
        xs, ys = [p.x for p in points], [p.y for p in points]
        x0, y0 = min(xs), min(ys)
        size = max(max(xs) - x0, max(ys) - y0) / max(1, math.isqrt(len(triangles)))
        bins: dict[tuple[int, int], list[int]] = {}
        for t, corners in enumerate(triangles):
            tx, ty = [points[i].x for i in corners], [points[i].y for i in corners]
            for column in range(int((min(tx) - x0) // size), int((max(tx) - x0) // size) + 1):
                for row in range(int((min(ty) - y0) // size), int((max(ty) - y0) // size) + 1):
                    bins.setdefault((column, row), []).append(t)
        return _Cells(x0, y0, size, {cell: tuple(found) for cell, found in bins.items()})

    def near(self, p: Point) -> tuple[int, ...]:
        """Return the triangles whose bins hold the point."""
        return self.bins.get((int((p.x - self.x0) // self.size), int((p.y - self.y0) // self.size)), ())
