"""What lies downstream of an assembly: a walk along pipes by name. Knows connections, not hydraulics.

Pipes are walked both ways, because a loop may be written against its flow; an assembly is passed only the
way its water goes, so that the walk never climbs back to the supply through a second one.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from plangen.geometry.point import Point, path_length
from plangen.model.design import Design
from plangen.model.waterworks import Pipe


@dataclass(frozen=True, slots=True)
class Downstream:
    """What an assembly feeds: pipes, heads and drip areas, by name."""

    pipes: frozenset[str]
    outlets: frozenset[str]


def route_points(pipe: Pipe) -> tuple[Point, ...]:
    """Return the vertices of a pipe's route."""
    return tuple(s.point for s in pipe.route)


def route_length_m(pipe: Pipe) -> float:
    """Return the length of a pipe's route in plan."""
    return path_length(route_points(pipe))


def pipes_in_place(design: Design) -> tuple[Pipe, ...]:
    """Return the pipes that are there when the work is done."""
    return tuple(p for p in design.pipes if p.state != "removed")


def downstream_of(design: Design, assembly: str) -> Downstream:
    """Return what lies downstream of an assembly: the pipes that begin at it and all they reach."""
    pipes = pipes_in_place(design)
    one_way = {d.name for d in design.devices_of("assembly")}
    at_node: dict[str, list[Pipe]] = defaultdict(list)
    for pipe in pipes:
        for stop in pipe.route:
            if stop.node:
                at_node[stop.node].append(pipe)
    reached: set[str] = set()
    waiting = [p for p in at_node[assembly] if leaves(p, assembly)]
    while waiting:
        pipe = waiting.pop()
        if pipe.name in reached:
            continue
        reached.add(pipe.name)
        for stop in pipe.route:
            if not stop.node or stop.node == assembly:
                continue
            if stop.node not in one_way:
                waiting.extend(at_node[stop.node])
            elif not leaves(pipe, stop.node):
                waiting.extend(p for p in at_node[stop.node] if leaves(p, stop.node))
    outlets = [h.name for h in design.heads if h.state != "removed" and h.pipe in reached]
    outlets += [d.name for d in design.drips if d.state != "removed" and d.pipe in reached]
    return Downstream(frozenset(reached), frozenset(outlets))


def leaves(pipe: Pipe, node: str) -> bool:
    """Return whether a pipe begins at a named node."""
    return bool(pipe.route) and pipe.route[0].node == node
