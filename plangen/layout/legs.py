"""What meets at each named node and along each pipe: the legs from which fittings are counted."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

from plangen.geometry.point import Point, bearing_deg, distance, point_along
from plangen.layout.flow_path import pipes_in_place, route_points
from plangen.layout.materials import material_of
from plangen.model.design import Design
from plangen.model.waterworks import DripArea, Head, Pipe

# An outlet this close to a named node or a pipe's end stands on it.
SAME_PLACE_M = 0.05


@dataclass(frozen=True, slots=True)
class Leg:
    """One pipe end, or one outlet, at a fitting. `bearing_deg` points away from it; None for an outlet."""

    object: str
    size: str  # nominal as written
    size_m: float
    material: str
    new: bool
    bearing_deg: float | None


@dataclass(frozen=True, slots=True)
class Outlet:
    """A head or drip feed on a pipe."""

    name: str
    pipe: str
    along_m: float
    size: str
    size_m: float
    new: bool


@dataclass(frozen=True, slots=True)
class Joint:
    """A place where legs meet: a named node, or a place along one pipe (then `node` is '')."""

    node: str
    point: Point
    legs: tuple[Leg, ...]


def is_new(state: str) -> bool:
    """Return whether something of that state is to be bought or set."""
    return state in ("new", "relocated")


def outlets_of(design: Design) -> tuple[Outlet, ...]:
    """Return every head and drip feed; an outlet whose part states no size has a 1/2 in (15 mm) thread."""
    metric = design.project.units == "metric"
    plain = ("15 mm", 0.015) if metric else ("1/2 in", 0.0127)
    found = []
    things: tuple[Head | DripArea, ...] = (*design.heads, *design.drips)
    for thing in things:
        if thing.state != "removed":
            size = thing.part.size
            words, size_m = (size.written, size.si) if size else plain
            found.append(Outlet(thing.name, thing.pipe, thing.along_m, words, size_m, is_new(thing.state)))
    return tuple(found)


def joints(design: Design) -> tuple[Joint, ...]:
    """Return all joints of the piping, named nodes first, then those along each pipe."""
    at_node: dict[str, list[Leg]] = defaultdict(list)
    points: dict[str, Point] = {}
    along: list[Joint] = []
    outlets: dict[str, list[Outlet]] = defaultdict(list)
    for outlet in outlets_of(design):
        outlets[outlet.pipe].append(outlet)
    for pipe in pipes_in_place(design):
        _node_legs(pipe, at_node, points)
        along.extend(_on_pipe(pipe, outlets[pipe.name], at_node))
    named = [Joint(node, points[node], tuple(at_node[node])) for node in sorted(at_node)]
    return (*named, *along)


def _leg(pipe: Pipe, bearing: float) -> Leg:
    material = material_of(pipe.size.family)
    return Leg(pipe.name, pipe.nominal.written, pipe.nominal.si, material, is_new(pipe.state), bearing)


def _outlet_leg(outlet: Outlet, pipe: Pipe) -> Leg:
    material = material_of(pipe.size.family)
    return Leg(outlet.name, outlet.size, outlet.size_m, material, outlet.new, None)


def _node_legs(pipe: Pipe, at_node: dict[str, list[Leg]], points: dict[str, Point]) -> None:
    """Add the legs that a pipe puts at its named stops: one at its ends, two where it passes through."""
    route = pipe.route
    for i, stop in enumerate(route):
        if not stop.node:
            continue
        points[stop.node] = stop.point
        for j in (i - 1, i + 1):
            if 0 <= j < len(route):
                at_node[stop.node].append(_leg(pipe, bearing_deg(stop.point, route[j].point)))


def _on_pipe(pipe: Pipe, outlets: list[Outlet], at_node: dict[str, list[Leg]]) -> list[Joint]:
    """Return the joints along one pipe: outlets, turns, open ends. Outlets on a named stop join its legs."""
    path = route_points(pipe)
    stops: list[tuple[float, str]] = []
    run = 0.0
    for i, stop in enumerate(pipe.route):
        run += distance(path[i - 1], stop.point) if i else 0.0
        stops.append((run, stop.node))
    loose: dict[float, list[Outlet]] = defaultdict(list)
    for outlet in sorted(outlets, key=lambda o: (o.along_m, o.name)):
        offs = [(abs(s - outlet.along_m), s, node) for s, node in stops]
        near = [off for off in offs if off[0] <= SAME_PLACE_M]
        if near and min(near)[2]:
            at_node[min(near)[2]].append(_outlet_leg(outlet, pipe))
        else:
            loose[min(near)[1] if near else round(outlet.along_m, 4)].append(outlet)
    for s, node in stops:
        if not node:
            loose.setdefault(s, [])
    return [_loose_joint(pipe, path, s, run, loose[s]) for s in sorted(loose)]


def _loose_joint(pipe: Pipe, path: tuple[Point, ...], s: float, total: float, outlets: list[Outlet]) -> Joint:
    """Return the joint at a place along a pipe, with a leg each way the pipe goes on from there."""
    here = point_along(path, s) or path[-1]
    legs = []
    for way in (-0.01, 0.01):
        beyond = point_along(path, s + way) if -1e-9 <= s + way <= total + 1e-9 else None
        if beyond is not None and not math.isclose(distance(here, beyond), 0.0):
            legs.append(_leg(pipe, bearing_deg(here, beyond)))
    legs.extend(_outlet_leg(o, pipe) for o in outlets)
    return Joint("", here, tuple(legs))
