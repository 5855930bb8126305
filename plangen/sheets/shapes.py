"""Plain geometry on paper: turning, regular polygons, hatch lines in an outline, clipping to a window."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect

Segment = tuple[XY, XY]


def turned(points: Sequence[XY], deg: float, x: float = 0.0, y: float = 0.0) -> tuple[XY, ...]:
    """Return points turned clockwise on paper about the origin, then shifted to (x, y)."""
    angle = math.radians(deg)
    c, s = math.cos(angle), math.sin(angle)
    return tuple((x + px * c - py * s, y + px * s + py * c) for px, py in points)


def polar(x: float, y: float, radius: float, bearing_deg: float) -> XY:
    """Return the point at a paper bearing (clockwise from up) and distance from (x, y)."""
    angle = math.radians(bearing_deg)
    return x + radius * math.sin(angle), y - radius * math.cos(angle)


def regular(sides: int, radius: float) -> tuple[XY, ...]:
    """Return a regular polygon about the origin with one corner up."""
    return tuple(polar(0.0, 0.0, radius, 360.0 * i / sides) for i in range(sides))


def rectangle(left: float, top: float, right: float, bottom: float) -> tuple[XY, ...]:
    """Return the corners of a rectangle, clockwise from the top left."""
    return (left, top), (right, top), (right, bottom), (left, bottom)


def box_of(points: Sequence[XY]) -> Rect:
    """Return the bounding box of points."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def hatch(outline: Sequence[XY], spacing: float, deg: float, offset: float = 0.0) -> tuple[Segment, ...]:
    """Return parallel lines inside an outline; `deg` is their clockwise angle from paper right.

    Lines lie on one lattice fixed to the paper, so that neighbouring areas line up and a small move of
    an outline does not shift the hatch.
    """
    flat = turned(outline, -deg)
    _, low, _, high = box_of(flat)
    out: list[Segment] = []
    for row in range(math.ceil((low - offset) / spacing), math.floor((high - offset) / spacing) + 1):
        y = row * spacing + offset
        xs = sorted(
            a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
            for a, b in zip(flat, [*flat[1:], flat[0]], strict=True)
            if (a[1] > y) != (b[1] > y)
        )
        for left, right in zip(xs[::2], xs[1::2], strict=False):
            a, b = turned(((left, y), (right, y)), deg)
            out.append((a, b))
    return tuple(out)


def clip_segment(a: XY, b: XY, window: Rect) -> Segment | None:
    """Return the part of a segment inside a window, or None (Liang and Barsky's method)."""
    left, top, right, bottom = window
    dx, dy = b[0] - a[0], b[1] - a[1]
    start, end = 0.0, 1.0
    for p, q in ((-dx, a[0] - left), (dx, right - a[0]), (-dy, a[1] - top), (dy, bottom - a[1])):
        if p == 0:
            if q < 0:
                return None
            continue
        t = q / p
        if p < 0:
            start = max(start, t)
        else:
            end = min(end, t)
    if start > end:
        return None
    return (a[0] + start * dx, a[1] + start * dy), (a[0] + end * dx, a[1] + end * dy)


def clip_path(points: Sequence[XY], window: Rect) -> tuple[tuple[XY, ...], ...]:
    """Return the pieces of a polyline inside a window."""
    pieces: list[list[XY]] = []
    for a, b in pairwise(points):
        part = clip_segment(a, b, window)
        if part is None or part[0] == part[1]:
            continue
        if pieces and pieces[-1][-1] == part[0]:
            pieces[-1].append(part[1])
        else:
            pieces.append(list(part))
    return tuple(tuple(p) for p in pieces)


def clip_polygon(points: Sequence[XY], window: Rect) -> tuple[XY, ...]:
    """Return a polygon cut to a window (Sutherland and Hodgman's method); empty when outside."""
    left, top, right, bottom = window
    out = list(points)
    for axis, limit, keep_more in ((0, left, True), (0, right, False), (1, top, True), (1, bottom, False)):
        source, out = out, []
        for a, b in zip(source, [*source[1:], *source[:1]], strict=True):
            a_in = a[axis] >= limit if keep_more else a[axis] <= limit
            b_in = b[axis] >= limit if keep_more else b[axis] <= limit
            if a_in != b_in:
                t = (limit - a[axis]) / (b[axis] - a[axis])
                cut = (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
                if a_in:
                    out.extend((a, cut))
                else:
                    out.append(cut)
            elif a_in:
                out.append(a)
    return tuple(out)


def within(p: XY, rect: Rect, margin: float = 0.0) -> bool:
    """Return whether a point lies in a rectangle, `margin` inside its edges."""
    return rect[0] + margin <= p[0] <= rect[2] - margin and rect[1] + margin <= p[1] <= rect[3] - margin


def parallel(points: Sequence[XY], offset: float) -> tuple[XY, ...]:
    """Return a polyline at a distance to the right of its direction (negative: left), corners mitred."""
    normals: list[XY] = []
    for a, b in pairwise(points):
        length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        normals.append((-(b[1] - a[1]) / length, (b[0] - a[0]) / length))
    out: list[XY] = []
    for i, p in enumerate(points):
        before, after = normals[max(i - 1, 0)], normals[min(i, len(normals) - 1)]
        scale = 1.0 + before[0] * after[0] + before[1] * after[1]
        if scale < 0.2:  # a hairpin: no useful mitre
            before, scale = after, 2.0
        out.append(
            (p[0] + offset * (before[0] + after[0]) / scale, p[1] + offset * (before[1] + after[1]) / scale)
        )
    return tuple(out)
