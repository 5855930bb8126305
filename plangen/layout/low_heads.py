"""What a zone's piping lets out of its lowest outlets each time the zone stops: heights and bores, no flow.

Water that stands higher than an open outlet runs out of it; a check valve in the outlet holds it back. Pipe
below the lowest open outlet stays full. The figure is the most that can run out: that a summit between may
keep some back is not counted, and the upright pipe under an outlet and the rows of dripline are left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from plangen.geometry.point import Point, distance, point_along
from plangen.hydraulics.element_inputs import bore_inputs, upright_inputs
from plangen.hydraulics.friction import bore_area_m2
from plangen.hydraulics.junctions import verticals_m
from plangen.hydraulics.wiring import Leg, Wiring, wire
from plangen.layout.heights import LOOK_EVERY_M
from plangen.layout.inputs import Ground, merged, stated
from plangen.layout.results import LowHead
from plangen.model.design import Design
from plangen.model.waterworks import Device, DripArea, Head, Pipe, Zone
from plangen.quantity.evidence import Input

# Two outlets whose heights differ by less do not drain each other to speak of.
LEVEL_M = 0.03
# Pipe that ends this near the lowest outlet's height runs out or stays full by the least change of either.
_AT_M = 1e-3
# Pipe that would run out at this share of its stated depth stays full by its depth, other pipe by the ground.
_SHALLOW = 0.1


@dataclass(frozen=True, slots=True)
class _Level:
    """A height at the ground or off it, and what it rests on: an outlet's, or one end of a piece of pipe."""

    grade_m: float
    off_m: float  # above grade
    grade: tuple[Input, ...]
    off: tuple[Input, ...] = ()

    @property
    def m(self) -> float:
        """Return the height."""
        return self.grade_m + self.off_m

    @property
    def inputs(self) -> tuple[Input, ...]:
        """Return what the height rests on."""
        return merged(self.grade, self.off)


@dataclass(frozen=True, slots=True)
class _Piece:
    """A short piece of pipe between two heights."""

    pipe: Pipe
    length_m: float
    ends: tuple[_Level, _Level]
    length: tuple[Input, ...] = ()  # what its length rests on

    def above_m(self, level: float) -> float:
        """Return the length of it that stands higher than a level."""
        low, high = sorted(end.m for end in self.ends)
        if low >= level:
            return self.length_m
        return self.length_m * (high - level) / (high - low) if high > level else 0.0


def measure_low_heads(design: Design, ground: Ground) -> tuple[LowHead, ...]:
    """Return for each zone how much its outlets differ in height and what runs out of the lowest."""
    wiring = wire(design)
    legs: dict[str, list[Leg]] = defaultdict(list)
    for leg in wiring.legs.values():
        legs[leg.pipe.zone].append(leg)
    outlets: dict[str, list[Head | DripArea]] = defaultdict(list)
    for tapping in wiring.tappings.values():
        outlets[tapping.outlet.zone].append(tapping.outlet)
    found = []
    for zone in design.zones:
        here = legs[zone.name]
        held = merged(i for leg in here for i in (*bore_inputs(leg.pipe), *upright_inputs(leg, wiring)))
        low = _low_head(design, zone, outlets[zone.name], here, wiring, ground)
        found.append(replace(low, held_inputs=held))
    return tuple(found)


def _low_head(
    design: Design, zone: Zone, outlets: Sequence[Head | DripArea], legs: Sequence[Leg], wiring: Wiring,
    ground: Ground,
) -> LowHead:  # fmt: skip
    found = {o.name: _outlet_level(design, o, ground) for o in outlets}
    levels = {name: level for name, level in found.items() if level is not None}
    held = sum(bore_area_m2(k.pipe.size.bore_m) * (k.length_m + sum(verticals_m(wiring, k))) for k in legs)
    if not outlets or len(levels) < len(found):
        blind = ", ".join(sorted(n for n in found if n not in levels)[:4]) or f"the outlets of {zone.name}"
        return LowHead(zone.name, None, (), None, held, None, missing=f"the level of {blind} is not known")
    heights = [level.m for level in levels.values()]
    top, spread = max(heights), max(heights) - min(heights)
    bare = [o.name for o in outlets if not o.part.check_valve]
    runs = tuple(sorted(n for n in bare if top - levels[n].m > LEVEL_M))
    if not bare:
        return LowHead(zone.name, spread, runs, not runs, held, 0.0)
    lowest = min(bare, key=lambda n: (levels[n].m, n))
    pieces = _pieces(legs, wiring, ground)
    if isinstance(pieces, str):
        return LowHead(zone.name, spread, runs, not runs, held, None, lowest, missing=pieces)
    level = levels[lowest]
    volume = sum(bore_area_m2(p.pipe.size.bore_m) * p.above_m(level.m) for p in pieces)
    return LowHead(zone.name, spread, runs, not runs, held, volume, lowest, _basis(pieces, level, volume))


def _outlet_level(design: Design, outlet: Head | DripArea, ground: Ground) -> _Level | None:
    """Return the height of an outlet at rest; dripline lets out at the lowest corner of its bed."""
    if isinstance(outlet, Head):
        grade = ground.elevation_m(outlet.point)
        riser = outlet.riser.si if outlet.riser else 0.0
        off = stated(f"riser of {outlet.name}", outlet.riser)
        return None if grade is None else _Level(grade, riser, ground.inputs(outlet.point), off)
    area = design.area(outlet.area)
    corners = (*area.outline, outlet.point) if area is not None else (outlet.point,)
    grades = [(ground.elevation_m(p), p) for p in corners]
    known = [(z, p) for z, p in grades if z is not None]
    if len(known) < len(grades):
        return None
    low, point = min(known)
    return _Level(low, 0.0, ground.inputs(point))


def _pieces(legs: Sequence[Leg], wiring: Wiring, ground: Ground) -> list[_Piece] | str:
    """Return the piping of a zone in pieces so short that each is straight, or what is not known of it."""
    found: list[_Piece] = []
    for leg in legs:
        pipe = leg.pipe
        if pipe.cover is None and not pipe.above_grade:
            return f"the cover of {pipe.name} is not stated"
        levels = [(p, _pipe_level(pipe, p, ground)) for p in _looked_at(leg.points)]
        for (a, low), (b, high) in pairwise(levels):
            if low is None or high is None:
                return f"the ground along {pipe.name} is not known"
            found.append(_Piece(pipe, distance(a, b), (low, high)))
        for node, (_, level) in ((leg.start, levels[0]), (leg.end, levels[-1])):
            if level is not None:
                found += _upright(pipe, wiring.places[node].device, level)
    return found


def _pipe_level(pipe: Pipe, point: Point, ground: Ground) -> _Level | None:
    """Return the height of the top of a pipe under its cover."""
    grade = ground.elevation_m(point)
    if grade is None:
        return None
    if pipe.cover is None or pipe.above_grade:
        return _Level(grade, 0.0, ground.inputs(point))
    return _Level(grade, -pipe.cover.si, ground.inputs(point), stated(f"cover of {pipe.name}", pipe.cover))


def _upright(pipe: Pipe, device: Device | None, foot: _Level) -> Iterator[_Piece]:
    """Yield the upright piece from a buried pipe to a device that stands at a height of its own."""
    if device is not None and device.height is not None and pipe.cover is not None and not pipe.above_grade:
        height = stated(f"height of {device.name}", device.height)
        top = _Level(foot.grade_m, device.height.si, foot.grade, height)
        yield _Piece(pipe, abs(top.off_m - foot.off_m), (foot, top), merged(foot.off, height))


def _looked_at(points: Sequence[Point]) -> Iterable[Point]:
    """Yield the vertices of a course and points between them."""
    yield points[0]
    for a, b in pairwise(points):
        steps = int(distance(a, b) / LOOK_EVERY_M) + 1
        for i in range(1, steps):
            between = point_along((a, b), distance(a, b) * i / steps)
            if between is not None:
                yield between
        yield b


def _basis(pieces: Sequence[_Piece], level: _Level, volume: float) -> tuple[Input, ...]:
    """Return what the volume rests on; where nothing runs out, what keeps it from doing so.

    Where the ground over a pipe is so much higher than the outlet, its depth does; else the ground alone.
    """
    ends = [end for p in pieces for end in p.ends]
    if volume > 0.0:
        out = [p for p in pieces if p.above_m(level.m) > 0.0]
        lengths = (i for p in out for i in (*bore_inputs(p.pipe), *p.length))
        cut = (i for p in pieces if _at(p, level.m) for end in p.ends for i in end.inputs)
        return merged(level.inputs, lengths, cut)
    over = [end for end in ends if end.grade_m + _SHALLOW * end.off_m > level.m]
    if over:
        return merged(level.inputs, (i for end in over for i in end.inputs))
    return merged(level.inputs, max(ends, key=lambda e: e.grade_m).grade if ends else ())


def _at(piece: _Piece, level: float) -> bool:
    """Return whether a piece stands partly above a level, or so near that the least change makes it so."""
    low, high = sorted(end.m for end in piece.ends)
    return low <= level + _AT_M and high >= level - _AT_M
