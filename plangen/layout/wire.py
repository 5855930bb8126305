"""Valve wire: the way from the controller to each valve, in the trenches of pipes where they run.

From the controller to the first trench the wire has a trench of its own: round the buildings, and not under
paving where another way is not much longer. Where no way is found a straight line stands in, told as such.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from plangen.geometry.clip import pieces_inside
from plangen.geometry.point import Point, distance
from plangen.layout.flow_path import pipes_in_place
from plangen.layout.wire_ways import Edge, Trench, best_ways
from plangen.model.design import Design

WIRED_KINDS = ("valve", "master-valve", "flow-sensor")


@dataclass(frozen=True, slots=True)
class WireRun:
    """The way to one wired device: metres in trenches of pipes, and metres off them.

    `found` is false where a straight line stands in for a way that was not found.
    """

    device: str
    along_m: float
    off_m: float
    found: bool = True

    @property
    def length_m(self) -> float:
        """Return the whole length."""
        return self.along_m + self.off_m


@dataclass(frozen=True, slots=True)
class Wiring:
    """The runs to all wired devices, and the length of the common wire that reaches each of them once."""

    runs: tuple[WireRun, ...]
    common_m: float
    leads: tuple[tuple[Point, ...], ...] = ()  # the ways off the pipes' trenches
    entries: tuple[str, ...] = ()  # pipes whose trench a way comes to, in the order of the design
    paved: tuple[tuple[str, float], ...] = ()  # areas of paving that the ways off them pass under, metres


def measure_wire(design: Design) -> Wiring | None:
    """Return the wire runs, or None where the controller's place is not stated as a point."""
    control = design.control
    if control is None or control.point is None:
        return None
    start = Point(*control.point)
    devices = [d for d in design.devices_of(*WIRED_KINDS) if d.state in ("new", "relocated")]
    buildings = tuple(area.outline for area in design.site.buildings)
    paving = tuple(area.outline for area in design.site.paving)
    trenches = tuple(_trenches(design))
    ways = best_ways(start, [d.point for d in devices], trenches, buildings, paving)
    runs: list[WireRun] = []
    used: dict[Edge, str] = {}
    for device in devices:
        way = ways.get(device.point)
        if way is None:
            runs.append(WireRun(device.name, 0.0, distance(start, device.point), False))
            used[start, device.point] = ""
            continue
        along = sum(distance(a, b) for a, b, pipe in way if pipe)
        runs.append(WireRun(device.name, along, sum(distance(a, b) for a, b, pipe in way if not pipe)))
        used.update({(a, b): pipe for a, b, pipe in way})
    common = sum(distance(a, b) for a, b in used)
    leads = _chains([edge for edge, pipe in used.items() if not pipe])
    met = {pipe for way in ways.values() for (_, _, off), (_, _, pipe) in pairwise(way) if pipe and not off}
    names = tuple(p.name for p in design.pipes if p.name in met)
    return Wiring(tuple(runs), common, leads, names, tuple(_paved(design, leads)))


def _trenches(design: Design) -> Iterator[Trench]:
    """The stretches of pipe whose trench is opened for the work and so may take a wire."""
    for pipe in pipes_in_place(design):
        if pipe.state != "existing" and not pipe.above_grade:
            for a, b in pairwise(pipe.route):
                if a.point != b.point:
                    yield Trench(pipe.name, a.point, b.point)


def _chains(edges: list[Edge]) -> tuple[tuple[Point, ...], ...]:
    """Stretches that follow on each other made one way each; where ways part, a new one begins."""
    out: list[list[Point]] = []
    for a, b in edges:
        last = next((chain for chain in out if chain[-1] == a), None)
        if last is None:
            out.append([a, b])
        else:
            last.append(b)
    return tuple(tuple(chain) for chain in out)


def _paved(design: Design, leads: tuple[tuple[Point, ...], ...]) -> Iterator[tuple[str, float]]:
    for area in design.site.paving:
        length = sum(piece.length_m for lead in leads for piece in pieces_inside(lead, area.outline))
        if length > 0.01:
            yield area.name, length
