"""Where paths run inside closed outlines and where two paths meet. Metres; pure functions on points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from plangen.geometry.point import Point, at, distance, distance_to_polygon, point_along

# A path that runs along an edge is not inside: deeper than this it is.
EDGE_M = 0.005


class Piece(NamedTuple):
    """A stretch of a path: from and to, measured along the path in metres."""

    start_m: float
    end_m: float

    @property
    def length_m(self) -> float:
        """Return how long it is."""
        return self.end_m - self.start_m


def edges(outline: Sequence[Point]) -> tuple[tuple[Point, Point], ...]:
    """Return the sides of a closed outline."""
    return tuple(zip(outline, [*outline[1:], outline[0]], strict=True))


def meeting_share(a: Point, b: Point, c: Point, d: Point) -> float | None:
    """Return the share of the way from a to b at which it meets segment cd; None if apart or parallel."""
    rx, ry, sx, sy = b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y
    cross = rx * sy - ry * sx
    if abs(cross) < 1e-12:
        return None
    t = ((c.x - a.x) * sy - (c.y - a.y) * sx) / cross
    u = ((c.x - a.x) * ry - (c.y - a.y) * rx) / cross
    inside = -1e-9 <= t <= 1 + 1e-9 and -1e-9 <= u <= 1 + 1e-9
    return max(0.0, min(1.0, t)) if inside else None


def cuts(a: Point, b: Point, outline: Sequence[Point]) -> tuple[float, ...]:
    """Return the shares of the way from a to b at which it meets an outline, with both ends, sorted."""
    found = {0.0, 1.0}
    for c, d in edges(outline):
        share = meeting_share(a, b, c, d)
        if share is not None:
            found.add(round(share, 12))
    return tuple(sorted(found))


def pieces_inside(
    path: Sequence[Point], outline: Sequence[Point], edge_m: float = EDGE_M
) -> tuple[Piece, ...]:
    """Return the stretches of a path inside an outline, in order; stretches that touch are one."""
    return _pieces(path, outline, edge_m, -1.0)


def pieces_outside(
    path: Sequence[Point], outline: Sequence[Point], edge_m: float = EDGE_M
) -> tuple[Piece, ...]:
    """Return the stretches of a path outside an outline, in order; along its edge is neither in nor out."""
    return _pieces(path, outline, edge_m, 1.0)


def _pieces(path: Sequence[Point], outline: Sequence[Point], edge_m: float, side: float) -> tuple[Piece, ...]:
    found: list[Piece] = []
    run = 0.0
    for a, b in pairwise(path):
        length = distance(a, b)
        shares = cuts(a, b, outline) if length > 0 else ()
        for s, e in pairwise(shares):
            middle = at(a.x + (b.x - a.x) * (s + e) / 2, a.y + (b.y - a.y) * (s + e) / 2)
            # near a corner the middle is close to both edges: judge it by no more than a tenth of its length
            if side * distance_to_polygon(middle, outline) > min(edge_m, 0.1 * (e - s) * length):
                found.append(Piece(run + s * length, run + e * length))
        run += length
    return _joined(found)


def _joined(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return pieces with those that touch made one."""
    whole: list[Piece] = []
    for piece in pieces:
        if whole and piece.start_m - whole[-1].end_m <= 1e-6:
            whole[-1] = Piece(whole[-1].start_m, piece.end_m)
        else:
            whole.append(piece)
    return tuple(whole)


def middle_of(path: Sequence[Point], piece: Piece) -> Point:
    """Return the point half-way along a stretch of a path."""
    return point_along(path, (piece.start_m + piece.end_m) / 2) or path[-1]


def meeting_points(path: Sequence[Point], other: Sequence[Point]) -> tuple[Point, ...]:
    """Return where a path meets another, in order along it; places within a centimetre are one."""
    found: list[Point] = []
    for a, b in pairwise(path):
        here = sorted(share for c, d in pairwise(other) if (share := meeting_share(a, b, c, d)) is not None)
        for share in here:
            p = at(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
            if all(distance(p, q) > 0.01 for q in found):
                found.append(p)
    return tuple(found)


Box = tuple[float, float, float, float]


def boxes_meet(a: Box, b: Box, apart_m: float = 0.0) -> bool:
    """Return whether two bounding boxes meet, or are at most so far apart along x and y."""
    apart_x, apart_y = max(a[0] - b[2], b[0] - a[2]), max(a[1] - b[3], b[1] - a[3])
    return apart_x <= apart_m and apart_y <= apart_m


def box_distance(p: Point, box: Box) -> float:
    """Return the distance from a point to a bounding box, 0 inside: never more than to what is in it."""
    return math.hypot(max(box[0] - p.x, p.x - box[2], 0.0), max(box[1] - p.y, p.y - box[3], 0.0))


def in_sight(a: Point, b: Point, obstacles: Sequence[Sequence[Point]]) -> bool:
    """Return whether the straight line from a to b passes through no outline (along an edge is allowed)."""
    return not any(pieces_inside((a, b), outline) for outline in obstacles)
