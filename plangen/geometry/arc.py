"""Sectors: the ground inside an arc. Bearings in degrees clockwise from plan north, lengths in metres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.geometry.clip import edges
from plangen.geometry.point import Point, at, bearing_deg, distance, in_arc, nearest_on_segment


@dataclass(frozen=True, slots=True)
class Sector:
    """A sector that runs clockwise from `start_deg` to `end_deg` (equal: the full circle)."""

    centre: Point
    radius_m: float
    start_deg: float
    end_deg: float

    @property
    def sweep_deg(self) -> float:
        """Return the angle it spans, over 0 and up to 360 degrees."""
        return (self.end_deg - self.start_deg) % 360.0 or 360.0

    @property
    def area_m2(self) -> float:
        """Return its area."""
        return math.radians(self.sweep_deg) / 2 * self.radius_m**2

    @property
    def sides(self) -> tuple[float, float, float, float]:
        """Return the unit vectors of both straight sides: (start x, start y, end x, end y)."""
        start, end = math.radians(self.start_deg), math.radians(self.end_deg)
        return math.sin(start), math.cos(start), math.sin(end), math.cos(end)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Return (x min, y min, x max, y max) of the sector, told from its centre."""
        turns = [b for b in (0.0, 90.0, 180.0, 270.0) if in_arc(b, self.start_deg, self.end_deg)]
        angles = [math.radians(b) for b in (self.start_deg, self.end_deg, *turns)]
        xs = [0.0, *(self.radius_m * math.sin(a) for a in angles)]
        ys = [0.0, *(self.radius_m * math.cos(a) for a in angles)]
        return min(xs), min(ys), max(xs), max(ys)

    def reach_m(self, dx: float, dy: float) -> float | None:
        """Return the distance from the centre of a place told from it, or None if it is outside."""
        far = math.hypot(dx, dy)
        if far > self.radius_m or not in_arc(math.degrees(math.atan2(dx, dy)), self.start_deg, self.end_deg):
            return None
        return far

    def edge_point(self, bearing: float) -> Point:
        """Return the point of its rim on a bearing."""
        angle = math.radians(bearing)
        return at(
            self.centre.x + self.radius_m * math.sin(angle), self.centre.y + self.radius_m * math.cos(angle)
        )


def ray_bearings(
    sector: Sector, outlines: Sequence[Sequence[Point]], step_deg: float = 15.0
) -> tuple[float, ...]:
    """Return bearings of a sector that hold every extreme of how deep its rays reach into outlines.

    Between the bearings of corners, feet of perpendiculars and places where the rim meets an edge, the
    depth along a ray rises or falls without a turn; the even steps between are only for good measure.
    """
    count = max(1, math.ceil(sector.sweep_deg / step_deg))
    found = {sector.start_deg + sector.sweep_deg * i / count for i in range(count + 1)}
    for outline in outlines:
        for a, b in edges(outline):
            foot = nearest_on_segment(sector.centre, a, b)[1]
            places = [a, foot, *rim_meetings(sector.centre, sector.radius_m, a, b)]
            for p in places:
                if distance(sector.centre, p) > 1e-6:
                    # and just beside: on a corner or along an edge a ray may graze
                    bearing = bearing_deg(sector.centre, p)
                    found |= {bearing + off for off in (-2.0, -0.01, 0.0, 0.01, 2.0)}
    inside = {round(b % 360.0, 6) for b in found if in_arc(b, sector.start_deg, sector.end_deg)}
    return tuple(sorted(inside))


def rim_meetings(centre: Point, radius_m: float, a: Point, b: Point) -> tuple[Point, ...]:
    """Return where a circle meets segment ab."""
    dx, dy, fx, fy = b.x - a.x, b.y - a.y, a.x - centre.x, a.y - centre.y
    square = dx * dx + dy * dy
    if square == 0:
        return ()
    half = (fx * dx + fy * dy) / square
    under = half * half - (fx * fx + fy * fy - radius_m**2) / square
    if under < 0:
        return ()
    shares = {-half - math.sqrt(under), -half + math.sqrt(under)}
    return tuple(at(a.x + t * dx, a.y + t * dy) for t in sorted(shares) if 0 <= t <= 1)
