"""What is staked before digging: each device, head, turn and end of a trench, and each crossing to expose.

Numbers run through the connection and main, then zone by zone, so that a crew walks them in that order.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain

from plangen.geometry.point import Point, bearing_deg
from plangen.layout.results import Layout
from plangen.layout.ties import Fixed
from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.sheets.procedure_fill import natural

_TURN_DEG = 5.0  # a bend flatter than this needs no stake
_SAME_M = 0.02


@dataclass(frozen=True, slots=True)
class Stake:
    """One stake: number, what it stands for, the objects there, and its tapes (corner, metres)."""

    number: int
    what: str
    objects: tuple[str, ...]
    point: Point
    tapes: tuple[tuple[str, float], ...]
    expose: bool = False


def stakes(design: Design, layout: Layout) -> tuple[Stake, ...]:
    """Return the stakes of a design; things at one place share a stake."""
    fixed = Fixed.of(design)
    at_place: dict[tuple[float, float], Stake] = {}
    for what, name, point in _wanted(design):
        key = (round(point.x / _SAME_M), round(point.y / _SAME_M))
        held = at_place.get(key)
        if held is None:
            at_place[key] = Stake(0, what, (name,), point, ())
        elif held.what == "end":
            at_place[key] = replace(held, what=what, objects=(name,))
        elif name not in held.objects and what != "end":
            both = held.what if what in held.what else f"{held.what}, {what}"
            at_place[key] = replace(held, what=both, objects=(*held.objects, name))
    found = [*at_place.values(), *_crossings(design, layout)]
    out = []
    for number, stake in enumerate(found, 1):
        pair = fixed.pair(stake.point)
        tapes = tuple((c.name, math.dist(stake.point, c.point)) for c in pair) if pair else ()
        out.append(replace(stake, number=number, tapes=tapes))
    return tuple(out)


def dug(pipe: Pipe) -> bool:
    """Return whether a trench is dug for a pipe."""
    return pipe.state in ("new", "relocated") and not pipe.above_grade


def _wanted(design: Design) -> Iterator[tuple[str, str, Point]]:
    """What gets a stake: (what, object, place), the main first, then each zone."""
    valve_of = {z.valve: z.name for z in reversed(design.zones)}
    found: dict[str, list[tuple[str, str, Point]]] = {"": []}
    for zone in sorted(design.zones, key=lambda z: natural(z.name)):
        found[zone.name] = []
    for device in sorted(design.devices, key=lambda d: natural(d.name)):
        if device.state in ("new", "relocated"):
            what = _WORDS.get(device.kind, device.kind.replace("-", " "))
            owner = device.zone or valve_of.get(device.name, "")
            found[owner].append((what, device.name, device.point))
    for head in sorted(design.heads, key=lambda h: natural(h.name)):
        if head.state in ("new", "relocated"):
            found[head.zone].append((head.part.kind.replace("-", " "), head.name, head.point))
    for pipe in sorted(design.pipes, key=lambda p: natural(p.name)):
        if dug(pipe):
            found[pipe.zone] += [("turn", pipe.name, p) for p in _turns(pipe)]
            found[pipe.zone].append(("end", pipe.name, pipe.route[-1].point))
    for drip in design.drips:
        found[drip.zone].append(("drip feed", drip.name, drip.point))
    return chain.from_iterable(found.values())


_WORDS = {"valve": "zone valve", "isolation": "isolation valve", "tap": "tap: expose the service"}


def _turns(pipe: Pipe) -> Iterator[Point]:
    points = [stop.point for stop in pipe.route]
    for a, b, c in zip(points, points[1:], points[2:], strict=False):
        if a == b or b == c:
            continue
        turn = abs((bearing_deg(b, c) - bearing_deg(a, b) + 180.0) % 360.0 - 180.0)
        if turn >= _TURN_DEG:
            yield b


def _crossings(design: Design, layout: Layout) -> Iterator[Stake]:
    """Where a trench meets a buried line: not a stake to dig at, but one to expose by hand."""
    for crossing in layout.crossings:
        pipe = design.pipe(crossing.pipe)
        if crossing.kind == "utility" and pipe is not None and dug(pipe):
            yield Stake(
                0, f"crosses {crossing.name}", (crossing.pipe, crossing.name), crossing.point, (), True
            )
