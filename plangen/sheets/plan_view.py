"""How the plan is cut to sheets: scale, which way north points, and the windows when one is not enough."""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.geometry.point import Point, at, bounds
from plangen.model.design import Design
from plangen.sheets.paper import Rect
from plangen.sheets.viewport import PLAN_SCALES, Viewport

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


def ground_points(design: Design) -> tuple[Point, ...]:
    """Return the ground points that the plan must show: the lot and every object of the work."""
    site = design.site
    points: list[Point] = [p for area in (site.lot,) if area for p in area.outline]
    points.extend(p for area in (*site.buildings, *site.paving, *site.planting) for p in area.outline)
    points.extend(stop.point for pipe in design.pipes for stop in pipe.route)
    points.extend(d.point for d in design.devices)
    points.extend(h.point for h in design.heads)
    points.extend(s.point for s in (design.source, design.house) if s is not None)
    if design.control and design.control.point:
        points.append(at(*design.control.point))
    return tuple(points)


def plan_view(design: Design, window: Rect) -> PlanView:
    """Return the plan's windows: the largest standard scale at which all fits, north up or to the left.

    A plan too large for the smallest allowed scale is split into a grid of windows at that scale.
    """
    points = ground_points(design) or (at(0, 0), at(10, 10))
    west, south, east, north = bounds(points)
    centre = at((west + east) / 2, (south + north) / 2)
    width, height = max(east - west, 1.0), max(north - south, 1.0)
    room_w = window[2] - window[0] - 2 * _CLEAR_MM
    room_h = window[3] - window[1] - 2 * _CLEAR_MM
    scales = PLAN_SCALES[design.project.units]
    for denominator in scales:
        per_m = 1000.0 / denominator
        if width * per_m <= room_w and height * per_m <= room_h:
            return PlanView((Viewport(denominator, centre, window),), 1, 1)
        if height * per_m <= room_w and width * per_m <= room_h:
            return PlanView((Viewport(denominator, centre, window, 270.0),), 1, 1)
    return _split(scales[-1], centre, width, height, window)


def _split(denominator: int, centre: Point, width: float, height: float, window: Rect) -> PlanView:
    """A grid of windows at the smallest scale. Windows meet exactly; north is up."""
    per_m = 1000.0 / denominator
    tile_w, tile_h = (window[2] - window[0]) / per_m, (window[3] - window[1]) / per_m
    clear = _CLEAR_MM / per_m
    columns, rows = math.ceil((width + 2 * clear) / tile_w), math.ceil((height + 2 * clear) / tile_h)
    views = tuple(
        Viewport(
            denominator,
            at(centre.x + (column - (columns - 1) / 2) * tile_w, centre.y - (row - (rows - 1) / 2) * tile_h),
            window,
        )
        for row in range(rows)
        for column in range(columns)
    )
    return PlanView(views, columns, rows)
