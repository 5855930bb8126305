"""Delaunay triangulation of points in whole micrometres. Integers only, so no tie hangs on rounding.

In: distinct integer points. Out: triangles as index triples, counter-clockwise, that cover the convex
hull exactly. Points are added in the order of x, then y, each outside the hull so far, and edges are
then flipped until none is illegal (Lawson 1977); of two equally good diagonals the earlier one stays.
"""

from __future__ import annotations

from itertools import pairwise

Grid = tuple[int, int]
Triangle = tuple[int, int, int]
Edge = tuple[int, int]


def triangulate(points: list[Grid]) -> list[Triangle]:
    """Return the triangles over distinct points; none if fewer than three or all on one line."""
    order = sorted(range(len(points)), key=lambda i: points[i])
    start = _first_off_line(points, order)
    if start is None:
        return []
    across: dict[Edge, int] = {}  # directed edge -> the third corner of the triangle on its left
    hull = _fan(points, order[:start], order[start], across)
    for index in order[start + 1 :]:
        hull = _extend(points, hull, index, across)
    _legalise(points, across)
    return sorted({_canonical((a, b, c)) for (a, b), c in across.items()})


def turn(a: Grid, b: Grid, c: Grid) -> int:
    """Return twice the signed area of abc: positive if it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def in_circle(a: Grid, b: Grid, c: Grid, p: Grid) -> bool:
    """Return whether p lies strictly inside the circle through the counter-clockwise triangle abc."""
    ax, ay, bx, by, cx, cy = a[0] - p[0], a[1] - p[1], b[0] - p[0], b[1] - p[1], c[0] - p[0], c[1] - p[1]
    a2, b2, c2 = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    return ax * (by * c2 - b2 * cy) - ay * (bx * c2 - b2 * cx) + a2 * (bx * cy - by * cx) > 0


def _first_off_line(points: list[Grid], order: list[int]) -> int | None:
    for k in range(2, len(order)):
        if turn(points[order[0]], points[order[1]], points[order[k]]) != 0:
            return k
    return None


def _fan(points: list[Grid], line: list[int], apex: int, across: dict[Edge, int]) -> list[int]:
    """Join a run of points on one line to the first point off it; return the hull, counter-clockwise."""
    left = turn(points[line[0]], points[line[1]], points[apex]) > 0
    base = line if left else line[::-1]
    for a, b in pairwise(base):
        _add(across, a, b, apex)
    return [*base, apex]


def _extend(points: list[Grid], hull: list[int], index: int, across: dict[Edge, int]) -> list[int]:
    """Join a point outside the hull to every hull edge it sees; return the new hull."""
    size = len(hull)
    p = points[index]
    seen = [turn(points[hull[k]], points[hull[(k + 1) % size]], p) < 0 for k in range(size)]
    # The seen edges form one run; rotate the hull so that the run starts at the front.
    first = next(k for k in range(size) if seen[k] and not seen[k - 1])
    ring = [hull[(first + k) % size] for k in range(size)]
    run = 0
    while run < size and seen[(first + run) % size]:
        _add(across, ring[run + 1 if run + 1 < size else 0], ring[run], index)
        run += 1
    return [ring[0], index, *ring[run:]]


def _add(across: dict[Edge, int], a: int, b: int, c: int) -> None:
    across[a, b], across[b, c], across[c, a] = c, a, b


def _legalise(points: list[Grid], across: dict[Edge, int]) -> None:
    """Flip each edge whose opposite corner lies inside the circle of its triangle."""
    stack = sorted(edge for edge in across if edge[0] < edge[1])
    while stack:
        a, b = stack.pop()
        c, d = across.get((a, b)), across.get((b, a))
        if c is None or d is None or not in_circle(points[a], points[b], points[c], points[d]):
            continue
        for edge in ((a, b), (b, a)):
            del across[edge]
        _add(across, a, d, c)
        _add(across, d, b, c)
        stack.extend(((a, d), (d, b), (b, c), (c, a)))


def _canonical(t: Triangle) -> Triangle:
    k = t.index(min(t))
    return (t[k], t[(k + 1) % 3], t[(k + 2) % 3])
