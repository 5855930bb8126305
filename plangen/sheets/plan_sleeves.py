"""Sleeves on a plan: the stretches of a pipe that lie under paving, and the lines on both sides of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from plangen.geometry.point import Point, inside, path_length, point_along
from plangen.model.design import Design
from plangen.model.waterworks import Pipe, Sleeve
from plangen.sheets.canvas import Canvas
from plangen.sheets.shapes import clip_path, parallel


def stretch_under(route: Sequence[Point], outline: Sequence[Point]) -> tuple[tuple[float, float], ...]:
    """Return the stretches (start, end, in metres along a route) that lie inside an outline."""
    cuts = {0.0, path_length(route)}
    run = 0.0
    for a, b in pairwise(route):
        for c, d in zip(outline, [*outline[1:], outline[0]], strict=True):
            t = _meet(a, b, c, d)
            if t is not None:
                cuts.add(run + t * math.hypot(b.x - a.x, b.y - a.y))
        run += math.hypot(b.x - a.x, b.y - a.y)
    out: list[tuple[float, float]] = []
    for start, end in pairwise(sorted(cuts)):
        middle = point_along(route, (start + end) / 2)
        if end - start > 1e-6 and middle is not None and inside(middle, outline):
            if out and abs(out[-1][1] - start) < 1e-6:
                out[-1] = (out[-1][0], end)
            else:
                out.append((start, end))
    return tuple(out)


def _meet(a: Point, b: Point, c: Point, d: Point) -> float | None:
    """The share along ab where it meets cd, or None."""
    den = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x)
    if abs(den) < 1e-12:
        return None
    t = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / den
    u = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / den
    return t if 0 <= t <= 1 and 0 <= u <= 1 else None


def draw_sleeve(canvas: Canvas, design: Design, sleeve: Sleeve, pipe: Pipe) -> None:
    """Draw both sides of a sleeve where its pipe runs under paving."""
    area = design.area(sleeve.under)
    route = tuple(stop.point for stop in pipe.route)
    if area is None:
        return
    extends = sleeve.extends.si if sleeve.extends else 0.0
    for start, end in stretch_under(route, area.outline):
        points = _between(route, max(0.0, start - extends), min(path_length(route), end + extends))
        paper = canvas.view.path(points)
        for side in (0.95, -0.95):
            pieces = clip_path(parallel(paper, side), canvas.view.window)
            canvas.pieces("sleeve", "sleeve", pieces, "sleeve", sleeve.name, f"{sleeve.name} sleeve")
        if canvas.sees(paper[0]):
            canvas.note("line", "sleeve", sleeve.name, paper[0])


def _between(route: Sequence[Point], start: float, end: float) -> tuple[Point, ...]:
    run, middle = 0.0, []
    for a, b in pairwise(route):
        run += math.hypot(b.x - a.x, b.y - a.y)
        if start < run < end:
            middle.append(b)
    first, last = point_along(route, start), point_along(route, end)
    return tuple(p for p in (first, *middle, last) if p is not None)


def sleeve_places(design: Design, sleeve: Sleeve) -> tuple[Point, ...]:
    """Return places along the stretch of pipe that a sleeve covers, its middle first, or none."""
    pipe, area = design.pipe(sleeve.pipe), design.area(sleeve.under)
    if pipe is None or area is None:
        return ()
    route = tuple(stop.point for stop in pipe.route)
    stretches = stretch_under(route, area.outline)
    if not stretches:
        return ()
    start, end = stretches[0]
    places = (point_along(route, start + (end - start) * t) for t in (0.5, 0.25, 0.75, 0.1, 0.9))
    return tuple(p for p in places if p is not None)
