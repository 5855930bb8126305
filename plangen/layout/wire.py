"""Valve wire: how far it is from the controller to each valve, along the mains where they run.

The wire is laid in the trench of the pipes that are always under pressure; from the controller to the
nearest of them it is a straight line, which is marked as such: the real way goes round or through a wall.
"""

from __future__ import annotations

import heapq
import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from plangen.geometry.point import Point, distance, nearest_on_segment
from plangen.layout.flow_path import pipes_in_place
from plangen.model.design import Design
from plangen.model.waterworks import Device

Edge = tuple[Point, Point]
WIRED_KINDS = ("valve", "master-valve", "flow-sensor")


@dataclass(frozen=True, slots=True)
class WireRun:
    """The way to one wired device: metres along pipes and metres of straight line."""

    device: str
    along_m: float
    straight_m: float

    @property
    def length_m(self) -> float:
        """Return the whole length."""
        return self.along_m + self.straight_m


@dataclass(frozen=True, slots=True)
class Wiring:
    """The runs to all wired devices, and the length of the common wire that reaches each of them once."""

    runs: tuple[WireRun, ...]
    common_m: float
    leads: tuple[Edge, ...] = ()  # the straight ways from the controller: to the main, or to a device off it


def measure_wire(design: Design) -> Wiring | None:
    """Return the wire runs, or None where the controller's place is not stated as a point."""
    control = design.control
    if control is None or control.point is None:
        return None
    start = Point(*control.point)
    devices = [d for d in design.devices_of(*WIRED_KINDS) if d.state in ("new", "relocated")]
    mains = _mains(design)
    entry = _nearest_entry(start, mains)
    edges = _split(mains, entry)
    lengths, before = _shortest(entry, edges)
    runs: list[WireRun] = []
    used: set[Edge] = set()
    straight = distance(start, entry) if entry is not None else 0.0
    leads: list[Edge] = []
    for device in devices:
        if entry is None or device.point not in lengths:
            runs.append(WireRun(device.name, 0.0, distance(start, device.point)))
            leads.append((start, device.point))
            continue
        runs.append(WireRun(device.name, lengths[device.point], straight))
        used |= set(_way(device, before))
    common = sum(distance(a, b) for a, b in sorted(used)) + sum(distance(a, b) for a, b in leads)
    if entry is not None and (used or any(r.along_m > 0 for r in runs)):
        common += straight
        leads.insert(0, (start, entry))
    return Wiring(tuple(runs), common, tuple(leads))


def _mains(design: Design) -> tuple[Edge, ...]:
    """Return the stretches of pipe whose trench a wire may share: new ones outside of zones."""
    found: list[Edge] = []
    for pipe in pipes_in_place(design):
        if pipe.zone or pipe.role == "lateral" or pipe.state == "existing" or pipe.above_grade:
            continue
        found.extend((a.point, b.point) for a, b in pairwise(pipe.route))
    return tuple(found)


def _nearest_entry(start: Point, edges: Iterable[Edge]) -> Point | None:
    found = [(distance(start, q), q) for a, b in edges for q in (nearest_on_segment(start, a, b)[1],)]
    return min(found)[1] if found else None


def _split(edges: Iterable[Edge], entry: Point | None) -> tuple[Edge, ...]:
    """Return the stretches with the one that the entry lies on cut in two."""
    found: list[Edge] = []
    for a, b in edges:
        if entry is None or entry in (a, b) or distance(nearest_on_segment(entry, a, b)[1], entry) > 1e-6:
            found.append((a, b))
        else:
            found.extend([(a, entry), (entry, b)])
    return tuple(found)


def _shortest(entry: Point | None, edges: Iterable[Edge]) -> tuple[dict[Point, float], dict[Point, Point]]:
    """Return the shortest way along the pipes to every vertex, and the vertex before it on that way."""
    beside: dict[Point, list[tuple[float, Point]]] = defaultdict(list)
    for a, b in edges:
        beside[a].append((distance(a, b), b))
        beside[b].append((distance(a, b), a))
    lengths: dict[Point, float] = {}
    before: dict[Point, Point] = {}
    waiting = [(0.0, entry, entry)] if entry is not None else []
    while waiting:
        length, here, came = heapq.heappop(waiting)
        if here in lengths:
            continue
        lengths[here], before[here] = length, came
        for step, there in beside[here]:
            if length + step < lengths.get(there, math.inf):
                heapq.heappush(waiting, (length + step, there, here))
    return lengths, before


def _way(device: Device, before: dict[Point, Point]) -> list[Edge]:
    """Return the stretches on the way to a device, each with its ends in order."""
    found: list[Edge] = []
    here = device.point
    while before[here] != here:
        a, b = sorted((here, before[here]))
        found.append((a, b))
        here = before[here]
    return found
