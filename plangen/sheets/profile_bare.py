"""The long section where no pressure is known: ground and pipe from the source to the farthest outlet.

Only the design and the ground are asked; nothing is solved.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass

from plangen.hydraulics.assemble import elevation_of
from plangen.hydraulics.wiring import Wiring, wire
from plangen.model.design import Design
from plangen.sheets.profile_course import Course, along_pipe
from plangen.terrain.surface import Surface


@dataclass(frozen=True, slots=True)
class BarePoint:
    """A named place on the way: distance in plan, elevations of pipe and ground; None if not known."""

    name: str
    distance_m: float
    elevation_m: float | None
    ground_m: float | None


@dataclass(frozen=True, slots=True)
class BareWay:
    """The way to the outlet that lies farthest along the pipe, with the ground over it."""

    outlet: str
    points: tuple[BarePoint, ...]
    ground: Course
    way: Course


def bare_way(design: Design, surface: Surface) -> BareWay | None:
    """Return the way from the source to the farthest outlet, or None where no outlet is joined to it."""
    wiring = wire(design)
    source = design.source.name if design.source is not None else ""
    steps = _farthest(wiring, source)
    if not steps:
        return None
    ground: list[tuple[float, float]] = []
    way: list[tuple[float, float]] = []
    points: list[BarePoint] = []
    at_m = 0.0

    def note(node: str) -> None:
        place = wiring.places[node]
        over = surface.elevation_m(place.point)
        level = elevation_of(place, wiring, design, surface).m
        if over is not None:
            ground.append((at_m, over))
        if level is not None:
            way.append((at_m, level))
        if place.object and (not points or points[-1].name != place.object) and not _is_joint(place.id):
            points.append(BarePoint(place.object, at_m, level, over))

    note(source)
    for edge, before, after in steps:
        leg = wiring.legs.get(edge)
        if leg is not None:
            for along, over, level in along_pipe(leg, leg.end == before, surface, at_m):
                if over is not None:
                    ground.append((along, over))
                if level is not None:
                    way.append((along, level))
            at_m += leg.length_m
        note(after)
    return BareWay(wiring.places[steps[-1][2]].object, tuple(points), tuple(ground), tuple(way))


def _is_joint(node: str) -> bool:
    """Return whether a node is a place on a lateral that has no name of its own, as `Z1.L11.2`."""
    return node.count(".") > 1


def _farthest(wiring: Wiring, source: str) -> list[tuple[str, str, str]]:
    """Return (edge, from node, to node) of the shortest way to the outlet that lies farthest."""
    joined: dict[str, list[tuple[float, str, str]]] = {}
    edges = [(leg.length_m, leg.id, leg.start, leg.end) for leg in wiring.legs.values()]
    edges += [(0.0, name, b.start, b.end) for name, b in wiring.bridges.items()]
    edges += [(0.0, t.node, t.joint, t.node) for t in wiring.tappings.values()]
    for length, name, a, b in edges:
        joined.setdefault(a, []).append((length, name, b))
        joined.setdefault(b, []).append((length, name, a))
    best: dict[str, tuple[float, str, str]] = {}
    queue = [(0.0, source, "", "")]
    while queue:
        length, node, edge, before = heapq.heappop(queue)
        if node in best or node not in wiring.places:
            continue
        best[node] = (length, edge, before)
        for more, name, other in joined.get(node, ()):
            if other not in best:
                heapq.heappush(queue, (length + more, other, name, node))
    reached = [(best[node][0], node) for node in wiring.tappings if node in best]
    if not reached:
        return []
    node = max(reached)[1]
    out: list[tuple[str, str, str]] = []
    while node != source:
        _, edge, before = best[node]
        out.append((edge, before, node))
        node = before
    return out[::-1]
