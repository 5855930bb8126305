"""Tie distances: where valves, assemblies and tees are, from two corners a crew can hold a tape at.

Of the corners that can be seen from the object (no building between) the nearest pair counts that crosses
at a good angle; building corners come before lot corners. Named corners exist only where one vertex is
uniquely extreme.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from plangen.geometry.clip import Box, boxes_meet, in_sight
from plangen.geometry.point import Point, bearing_deg, bounds, distance
from plangen.layout.results import TieDistance
from plangen.model.design import Design
from plangen.model.site import Area

# Two tapes that meet flatter than this fix a place badly (common practice, no source).
LEAST_ANGLE_DEG = 30.0
TIED_KINDS = (
    "assembly", "blow-out", "drain", "flow-sensor", "injector", "isolation", "master-valve", "meter",
    "quick-coupler", "regulator", "strainer", "tap", "tee", "valve",
)  # fmt: skip
DIAGONALS = (("southwest", -1, -1), ("southeast", 1, -1), ("northeast", 1, 1), ("northwest", -1, 1))
# Beyond this many candidates a tape is of no use anyway.
NEAREST = 6


Wall = tuple[Sequence[Point], Box]


@dataclass(frozen=True, slots=True)
class Corner:
    """A fixed point with a name, such as `House.southwest`."""

    name: str
    point: Point


def corners(area: Area) -> tuple[Corner, ...]:
    """Return the named corners of an outline: the vertices uniquely extreme towards a diagonal."""
    found = []
    for name, sx, sy in DIAGONALS:
        reach = sorted(((sx * p.x + sy * p.y, p) for p in area.outline), reverse=True)
        if len(reach) == 1 or reach[0][0] - reach[1][0] > 1e-6:
            found.append(Corner(f"{area.name}.{name}", reach[0][1]))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Fixed:
    """The corners of a site that a tape can be held at, and the walls that stand in its way."""

    houses: tuple[Corner, ...]
    lot: tuple[Corner, ...]
    walls: tuple[Wall, ...]

    @classmethod
    def of(cls, design: Design) -> Fixed:
        """Return the fixed corners of a design's site."""
        site = design.site
        return cls(
            tuple(c for b in site.buildings for c in corners(b)),
            corners(site.lot) if site.lot else (),
            tuple((b.outline, bounds(b.outline)) for b in site.buildings),
        )

    def pair(self, place: Point) -> tuple[Corner, Corner] | None:
        """Return the two corners to measure a place from, or None if no two can be seen at a good angle."""
        houses = _pair(place, self.houses, self.walls)
        return houses or _pair(place, (*self.houses, *self.lot), self.walls)


def measure_ties(design: Design) -> tuple[TieDistance, ...]:
    """Return the tie distances of every device worth finding again, in the order of the design."""
    fixed = Fixed.of(design)
    found = []
    for device in design.devices:
        if device.kind not in TIED_KINDS or device.state == "removed":
            continue
        pair = fixed.pair(device.point)
        if pair is None:
            found.append(TieDistance(device.name, device.kind, "", None, "", None))
            continue
        (one, two), here = pair, device.point
        d1, d2 = distance(here, one.point), distance(here, two.point)
        found.append(TieDistance(device.name, device.kind, one.name, d1, two.name, d2))
    return tuple(found)


def _pair(place: Point, fixed: Sequence[Corner], walls: Sequence[Wall]) -> tuple[Corner, Corner] | None:
    """Return the two corners to measure from, nearest first; None if no two can be seen at a good angle."""
    near = sorted(fixed, key=lambda c: (distance(place, c.point), c.name))
    seen: list[Corner] = []
    for corner in near:
        if distance(place, corner.point) > 0.01 and _sees(place, corner.point, walls):
            seen.append(corner)
        if len(seen) == NEAREST:
            break
    good = [
        (distance(place, a.point) + distance(place, b.point), a.name, b.name, a, b)
        for a, b in combinations(seen, 2)
        if _angle(place, a.point, b.point) >= LEAST_ANGLE_DEG
    ]
    return min(good, key=lambda g: g[:3])[3:] if good else None


def _sees(place: Point, corner: Point, walls: Sequence[Wall]) -> bool:
    here = bounds((place, corner))
    return in_sight(place, corner, [outline for outline, box in walls if boxes_meet(here, box)])


def _angle(place: Point, a: Point, b: Point) -> float:
    """Return how far from parallel two tapes run at a place, 0 to 90 degrees."""
    between = (bearing_deg(place, a) - bearing_deg(place, b)) % 180.0
    return min(between, 180.0 - between)
