"""What each head's throw meets: its nearest neighbour, paving, buildings, the land beyond the lot.

Depths are measured along the throw, in plan, beyond the edge it crosses. Buildings stop a throw; plants,
fences and rising ground do not. Wind is left out.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.geometry.arc import Sector, ray_bearings
from plangen.geometry.clip import Box, box_distance, boxes_meet, pieces_inside, pieces_outside
from plangen.geometry.point import Point, bounds, distance, distance_to_polygon, polygon_area
from plangen.layout.results import HeadReach
from plangen.layout.throw import SECTOR_KINDS, Throw
from plangen.model.design import Design
from plangen.model.site import Area, Site

# An edge that is touched is not wetted: closer than this counts as on the edge.
TOUCH_M = 0.05
BEYOND_LOT = "land beyond the lot"


@dataclass(frozen=True, slots=True)
class Overspray:
    """Water thrown where it should not fall: the deepest reach of any ray of the sector."""

    name: str
    kind: str  # paving, building, neighbour
    depth_m: float


def measure_reaches(design: Design, throws: Sequence[Throw]) -> tuple[HeadReach, ...]:
    """Return the reach of every head, in the order of the design."""
    together: dict[str, list[Throw]] = defaultdict(list)
    for throw in throws:
        together[throw.head.zone].append(throw)
    hard = boxed_hardscape(design.site)
    lot = design.site.lot
    return tuple(_reach(hard, lot, throw, together[throw.head.zone]) for throw in throws)


def boxed_hardscape(site: Site) -> tuple[tuple[Area, Box], ...]:
    """Return paving and buildings, each with its bounding box, which settles most questions."""
    return tuple((a, bounds(a.outline)) for a in (*site.paving, *site.buildings))


def _reach(
    hard: Sequence[tuple[Area, Box]], lot: Area | None, throw: Throw, zone: Sequence[Throw]
) -> HeadReach:
    head = throw.head
    nearest, name = _nearest(throw, zone)
    hardscape, hard_name = _hardscape(hard, head.point)
    ratio = nearest / throw.radius_m if nearest is not None and throw.radius_m else None
    sprays = head.part.kind in SECTOR_KINDS
    sector = throw.sector
    found = overspray(hard, lot, sector) if sector is not None else ()
    return HeadReach(
        head=head.name,
        zone=head.zone,
        radius_m=throw.radius_m,
        radius_basis=throw.basis,
        nearest_m=nearest,
        nearest_head=name,
        spacing_ratio=ratio,
        overspray=tuple((o.name, o.depth_m) for o in found),
        hardscape_m=hardscape,
        hardscape=hard_name,
        inputs=throw.inputs,
        # a bubbler or quick coupler has no sector to wet anything with
        overspray_known=not sprays or (sector is not None and lot is not None),
        overspray_kinds=tuple(o.kind for o in found),
        pressure_m=throw.pressure_m,
    )


def _nearest(throw: Throw, zone: Sequence[Throw]) -> tuple[float | None, str]:
    """Return the distance to the nearest other head of the zone that throws, and its name."""
    here = throw.head
    others = [
        (distance(here.point, t.head.point), t.head.name)
        for t in zone
        if t.head.name != here.name and t.head.part.kind in SECTOR_KINDS
    ]
    if here.part.kind not in SECTOR_KINDS or not others:
        return None, ""
    return min(others)


def _hardscape(hard: Sequence[tuple[Area, Box]], point: Point) -> tuple[float | None, str]:
    """Return the distance to the nearest paving or building (0 on it) and its name."""
    best: tuple[float, str] | None = None
    for area, box in hard:
        if best is None or box_distance(point, box) <= best[0]:
            here = (max(0.0, distance_to_polygon(point, area.outline)), area.name)
            best = here if best is None else min(best, here)
    return best if best is not None else (None, "")


def overspray(hard: Sequence[tuple[Area, Box]], lot: Area | None, sector: Sector) -> tuple[Overspray, ...]:
    """Return what a sector wets beyond planting, deepest first; touching an edge within 5 cm is nothing."""
    here = _ground_box(sector)
    near = [a for a, box in hard if boxes_meet(here, box, -TOUCH_M) and _within(sector, a)]
    lot = lot if lot is not None and _over_the_line(sector, lot) else None
    if not near and lot is None:
        return ()
    outlines = [a.outline for a in near] + ([lot.outline] if lot else [])
    deepest: dict[str, Overspray] = {}
    for bearing in ray_bearings(sector, outlines):
        for met in _along((sector.centre, sector.edge_point(bearing)), near, lot):
            if met.depth_m > TOUCH_M and (met.name not in deepest or met.depth_m > deepest[met.name].depth_m):
                deepest[met.name] = met
    return tuple(sorted(deepest.values(), key=lambda o: (-o.depth_m, o.name)))


def _ground_box(sector: Sector) -> Box:
    west, south, east, north = sector.box
    x, y = sector.centre
    return x + west, y + south, x + east, y + north


def _within(sector: Sector, area: Area) -> bool:
    return distance_to_polygon(sector.centre, area.outline) < sector.radius_m - TOUCH_M


def _over_the_line(sector: Sector, lot: Area) -> bool:
    """Return whether a sector may reach beyond the lot; on a plain rectangle its box settles it."""
    ax0, ay0, ax1, ay1 = _ground_box(sector)
    bx0, by0, bx1, by1 = bounds(lot.outline)
    if math.isclose(abs(polygon_area(lot.outline)), (bx1 - bx0) * (by1 - by0), rel_tol=1e-9):
        return min(ax0 - bx0, ay0 - by0, bx1 - ax1, by1 - ay1) < -TOUCH_M
    return distance_to_polygon(sector.centre, lot.outline) > TOUCH_M - sector.radius_m


def _along(ray: tuple[Point, Point], near: Sequence[Area], lot: Area | None) -> list[Overspray]:
    """Return what one ray meets, each with the depth it reaches into it."""
    found = []
    reach = distance(*ray)
    stop, wall = reach, ""
    for area in near:
        if area.kind == "building":
            pieces = pieces_inside(ray, area.outline, TOUCH_M)
            if pieces and pieces[0].start_m < stop:
                stop, wall = pieces[0].start_m, area.name
    if wall:
        found.append(Overspray(wall, "building", reach - stop))
    for area in near:
        if area.kind != "building":
            depth = sum(
                min(p.end_m, stop) - p.start_m
                for p in pieces_inside(ray, area.outline, TOUCH_M)
                if p.start_m < stop
            )
            found.append(Overspray(area.name, "paving", depth))
    if lot is not None:
        outside = pieces_outside(ray, lot.outline, TOUCH_M)
        if outside:
            found.append(Overspray(BEYOND_LOT, "neighbour", max(0.0, stop - outside[0].start_m)))
    return found
