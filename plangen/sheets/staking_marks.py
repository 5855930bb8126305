"""Ground marks of the staking plan: hand-dig zones about buried lines, and the side on which spoil goes.

Widths are ground widths drawn to scale. Where they come from stands beside each.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.geometry.near import Near
from plangen.geometry.point import Point, at, inside, polygon_centre
from plangen.model.design import Design
from plangen.quantity.dimension import FOOT_M
from plangen.sheets.canvas import Canvas
from plangen.sheets.marks import Group, Line, Segments
from plangen.sheets.panel import AnyMark
from plangen.sheets.shapes import clip_path, clip_polygon, hatch, parallel
from plangen.sheets.stakes import dug

# Dig by hand within 24 in of a mark (East Grand Forks one-call page, undated, restated; some states: 18 in)
HAND_DIG_M = 2 * FOOT_M
# Spoil at least 2 ft back from the edge of the trench: 29 CFR 1926.651(j)(2)
SPOIL_BACK_M = 2 * FOOT_M
_SHORTEST_M = 10 * FOOT_M  # a run shorter than this shows no spoil line: the next run's serves
_CROWDED_M = 0.5  # spoil this near another trench falls into it (common practice, no source)
SpoilLine = tuple[str, tuple[Point, Point]]  # the pipe, and the line that its spoil stays behind
_BANK_M = 4 * FOOT_M  # how far out the spoil is thought to reach when the side is chosen


def buried_lines(design: Design) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Return (name, route) of what is buried before the work: utilities and existing pipes."""
    found = [(u.name, u.route) for u in design.site.utilities]
    found += [
        (p.name, tuple(stop.point for stop in p.route))
        for p in design.pipes
        if p.state in ("existing", "removed") and not p.above_grade
    ]
    return tuple(found)


def draw_hand_dig(canvas: Canvas, design: Design) -> None:
    """Hatch the ground on both sides of each buried line in which only hands may dig."""
    reach = HAND_DIG_M * canvas.view.per_m
    for name, route in buried_lines(design):
        marks: list[AnyMark] = []
        path = canvas.view.path(_distinct(route))
        for a, b in pairwise(path):
            left, right = parallel((a, b), -reach), parallel((a, b), reach)
            band = clip_polygon((*left, *reversed(right)), canvas.view.window)
            if len(band) >= 3:
                marks.append(Segments(hatch(band, 2.6, 135.0), "hatch"))
        for side in (-reach, reach):
            pieces = clip_path(parallel(path, side), canvas.view.window) if len(path) > 1 else ()
            marks.extend(Line(piece, "hand-dig") for piece in pieces)
        if marks:
            canvas.add("site", Group("hand-dig", tuple(marks), name, f"Hand-dig zone of {name}"))
            canvas.note("line", "hand-dig", name, path[0])


def spoil_lines(design: Design) -> tuple[SpoilLine, ...]:
    """Return the line that spoil stays behind for each long run of trench, on the better side."""
    ground = Ground.of(design)
    found: list[SpoilLine] = []
    for pipe in filter(dug, design.pipes):
        for a, b in pairwise(stop.point for stop in pipe.route):
            if math.dist(a, b) >= _SHORTEST_M:
                found.append((pipe.name, _beside(a, b, spoil_side(ground, a, b) * SPOIL_BACK_M)))
    return tuple(found)


def draw_spoil(canvas: Canvas, lines: Sequence[SpoilLine]) -> None:
    """Draw the lines that spoil stays behind, as far as a view shows them."""
    for name, line in lines:
        for piece in canvas.path(line):
            canvas.add(
                "site", Group("spoil", (Line(piece, "spoil"),), name, f"Spoil of {name} beyond this line")
            )
            canvas.note("line", "spoil", name, piece[0])


@dataclass(frozen=True, slots=True)
class Ground:
    """What spoil must keep off: a design, its buried lines, and its trenches."""

    design: Design
    buried: Near
    trenches: Near

    @staticmethod
    def of(design: Design) -> Ground:
        """Return the ground of a design, its lines sorted into squares once."""
        dug_routes = [tuple(stop.point for stop in pipe.route) for pipe in design.pipes if dug(pipe)]
        return Ground(
            design,
            Near.of([route for _, route in buried_lines(design)], HAND_DIG_M),
            Near.of([route for route in dug_routes if len(route) > 1], _CROWDED_M),
        )


def spoil_side(ground: Ground, a: Point, b: Point) -> int:
    """Return -1 (left of the run from a to b) or 1 (right): where spoil lies clear of more things."""
    design = ground.design
    return min((-1, 1), key=lambda side: (_harm(ground, a, b, side), _house_near(design, a, b, side), side))


def _harm(ground: Ground, a: Point, b: Point, side: int) -> int:
    """Count what a bank of spoil on that side would lie on, at three places along the run."""
    design, harm = ground.design, 0
    for share in (0.2, 0.5, 0.8):
        for out in (SPOIL_BACK_M, _BANK_M):
            c, d = _beside(a, b, side * out)
            p = at(c.x + (d.x - c.x) * share, c.y + (d.y - c.y) * share)
            harm += sum(10 for area in design.site.buildings if inside(p, area.outline))
            harm += sum(3 for area in design.site.paving if inside(p, area.outline))
            harm += sum(1 for area in design.site.planting if area.kind == "bed" and inside(p, area.outline))
            lot = design.site.lot
            harm += 5 if lot is not None and not inside(p, lot.outline) else 0
            harm += 2 * len(ground.buried.about(p))
            harm += sum(2 for other in ground.trenches.about(p) if (a, b) not in set(pairwise(other)))
    return harm


def _house_near(design: Design, a: Point, b: Point, side: int) -> float:
    """Prefer the side away from the nearest building."""
    c, d = _beside(a, b, side * SPOIL_BACK_M)
    middle = at((c.x + d.x) / 2, (c.y + d.y) / 2)
    away = [math.dist(middle, polygon_centre(area.outline)) for area in design.site.buildings]
    return -round(min(away, default=0.0), 3)


def _beside(a: Point, b: Point, off: float) -> tuple[Point, Point]:
    """The run moved `off` metres to its right (negative: left)."""
    length = math.dist(a, b)
    nx, ny = (b.y - a.y) / length, -(b.x - a.x) / length
    return at(a.x + nx * off, a.y + ny * off), at(b.x + nx * off, b.y + ny * off)


def _distinct(route: Sequence[Point]) -> tuple[Point, ...]:
    """The route without repeated vertices."""
    return tuple(p for i, p in enumerate(route) if i == 0 or p != route[i - 1])
