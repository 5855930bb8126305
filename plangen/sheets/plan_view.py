"""How the plan is cut to sheets: scale, which way north points, and the windows when one is not enough."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

from plangen.geometry.clip import Box, box_distance, boxes_meet
from plangen.geometry.point import Point, at, bounds
from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.sheets.paper import Rect
from plangen.sheets.viewport import PLAN_SCALES, Viewport

_MOST = 60  # windows worth having for the sake of lettering
_SHIFTS = 40  # to each side
# What a symbol nearer than so many mm to a match line costs, the nearest first: cut by it, or short of room
# for its label.
_PRICES = ((4.0, 50.0), (12.0, 6.0), (25.0, 1.0))
_EDGE_M = 0.01  # what lies at the edge of a view is seen
_CLEAR_MM = 7.0  # least room between the outermost object and the edge of the view


@dataclass(frozen=True, slots=True)
class PlanView:
    """All windows of one plan in reading order, row by row, `columns` to a row."""

    views: tuple[Viewport, ...]
    columns: int
    rows: int

    @property
    def split(self) -> bool:
        """Return whether the plan needs match lines."""
        return len(self.views) > 1

    def neighbour(self, index: int, dx: int, dy: int) -> int | None:
        """Return the index of the window beside another, or None at the edge of the plan."""
        column, row = index % self.columns + dx, index // self.columns + dy
        return row * self.columns + column if 0 <= column < self.columns and 0 <= row < self.rows else None


@dataclass(frozen=True, slots=True)
class Work:
    """The work of a design, to be cut to views; with each pipe the ground that it runs over."""

    design: Design
    pipes: tuple[tuple[Pipe, Box], ...]

    @staticmethod
    def of(design: Design) -> Work:
        """Return the work of a design."""
        routes = ((p, [stop.point for stop in p.route]) for p in design.pipes)
        return Work(design, tuple((p, bounds(route)) for p, route in routes if route))

    def seen(self, view: Viewport, beyond_m: float = _EDGE_M) -> Design:
        """Return the design without the pipes, devices and heads further than that beyond a view."""
        ground = view.ground()

        def holds(p: Point) -> bool:
            return box_distance(p, ground) <= beyond_m

        return replace(
            self.design,
            pipes=tuple(pipe for pipe, box in self.pipes if boxes_meet(box, ground, beyond_m)),
            devices=tuple(d for d in self.design.devices if holds(d.point)),
            heads=tuple(h for h in self.design.heads if holds(h.point)),
        )


def work_points(design: Design) -> tuple[Point, ...]:
    """Return the places of symbols: what is better not cut by a match line."""
    points = [d.point for d in design.devices]
    points.extend(h.point for h in design.heads)
    points.extend(s.point for s in (design.source, design.house) if s is not None)
    if design.control and design.control.point:
        points.append(at(*design.control.point))
    return tuple(points)


def ground_points(design: Design) -> tuple[Point, ...]:
    """Return the ground points that the plan must show: the lot and every object of the work."""
    site = design.site
    points: list[Point] = [p for area in (site.lot,) if area for p in area.outline]
    points.extend(p for area in (*site.buildings, *site.paving, *site.planting) for p in area.outline)
    points.extend(stop.point for pipe in design.pipes for stop in pipe.route)
    return (*points, *work_points(design))


def plan_views(design: Design, window: Rect) -> tuple[PlanView, ...]:
    """Return ways of cutting the plan, best first; north points up or to the left.

    First the largest standard scale at which all fits one window, or the fewest; then larger scales in
    windows more, for a plan too crowded at the first.
    """
    points = ground_points(design) or (at(0, 0), at(10, 10))
    west, south, east, north = bounds(points)
    centre = at((west + east) / 2, (south + north) / 2)
    size = (max(east - west, 1.0), max(north - south, 1.0))
    scales = PLAN_SCALES[design.project.units]
    symbols = work_points(design)
    cuts = [_cut(denominator, centre, size, window, symbols) for denominator in scales]
    whole = min(cuts, key=lambda cut: len(cut.views))  # the first, so the largest scale of such
    larger = [cut for cut in cuts[: cuts.index(whole)] if len(cut.views) <= _MOST]
    return (whole, *reversed(larger))


def _cut(
    denominator: int, centre: Point, size: tuple[float, float], window: Rect, symbols: Sequence[Point]
) -> PlanView:
    """The plan at one scale in as few windows as cover it, upright unless turning it saves windows.

    The windows are shifted together, as far as they still cover the plan, to where match lines meet least.
    """
    per_m = 1000.0 / denominator
    tile_w, tile_h = (window[2] - window[0]) / per_m, (window[3] - window[1]) / per_m
    clear = 2 * _CLEAR_MM / per_m

    def grid(width: float, height: float) -> tuple[int, int]:
        return math.ceil((width + clear) / tile_w - 1e-9), math.ceil((height + clear) / tile_h - 1e-9)

    upright, lying = grid(size[0], size[1]), grid(size[1], size[0])
    turn = 270.0 if lying[0] * lying[1] < upright[0] * upright[1] else 0.0
    columns, rows = lying if turn else upright
    wide, tall = (size[1], size[0]) if turn else size
    across = [centre.y - p.y if turn else p.x - centre.x for p in symbols]
    down = [centre.x - p.x if turn else centre.y - p.y for p in symbols]
    dx = _shift(across, columns, tile_w, columns * tile_w - wide - clear, per_m)
    dy = _shift(down, rows, tile_h, rows * tile_h - tall - clear, per_m)
    views: list[Viewport] = []
    for index in range(columns * rows):
        px = (index % columns - (columns - 1) / 2) * tile_w + dx
        py = (index // columns - (rows - 1) / 2) * tile_h + dy
        # paper right and down as ground east and north
        middle = at(centre.x - py, centre.y - px) if turn else at(centre.x + px, centre.y - py)
        views.append(Viewport(denominator, middle, window, turn))
    return PlanView(tuple(views), columns, rows)


def _shift(places: Sequence[float], count: int, tile: float, slack: float, per_m: float) -> float:
    """How far to move all windows along one axis, in metres, so that match lines keep off the symbols."""
    if count < 2 or slack <= 0.0:
        return 0.0

    ordered = sorted(places)

    def within(line: float, reach: float) -> int:
        """How many symbols are nearer to a line than so many mm."""
        return bisect_left(ordered, line + reach / per_m) - bisect_right(ordered, line - reach / per_m)

    def cost(shift: float) -> float:
        total = 0.05 * abs(shift) * per_m
        for i in range(1, count):
            line, nearer = (i - count / 2) * tile + shift, 0
            for reach, price in _PRICES:
                so_far = within(line, reach)
                total += price * (so_far - nearer)
                nearer = so_far
        return total

    shifts = [slack / 2 * i / _SHIFTS for i in range(-_SHIFTS, _SHIFTS + 1)]
    return min(shifts, key=lambda shift: (round(cost(shift), 6), abs(shift), shift))
