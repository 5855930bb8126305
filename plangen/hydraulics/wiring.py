"""The water path of a design as nodes and legs, once for all load cases. Nothing is solved here.

A pipe is cut into legs wherever something joins it: a named stop, a head, a drip area. A device stands
between its nodes `X.in` and `X.out`; taps, tees, drains and blow-out fittings are single nodes. What is
`removed` carries no water.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from plangen.geometry.point import Point, distance, path_length, point_along
from plangen.model.design import Design
from plangen.model.waterworks import Device, DripArea, Head, Pipe

# Kinds of device that are only a place where pipes meet or end.
JUNCTION_KINDS = ("tap", "tee", "drain", "blow-out", "quick-coupler")
# A joint this near a named stop is at the stop.
_SAME_PLACE_M = 1e-3


@dataclass(slots=True)
class Place:
    """A node: its object, where it stands, the device whose height it takes, the pipes that meet there."""

    id: str
    object: str
    point: Point
    device: Device | None = None
    pipes: list[Pipe] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of pipe between two nodes. `points` is its course on the plan."""

    id: str
    pipe: Pipe
    start: str
    end: str
    points: tuple[Point, ...]

    @property
    def length_m(self) -> float:
        """Return the length on the plan."""
        return path_length(self.points)


@dataclass(frozen=True, slots=True)
class Bridge:
    """A device with its two nodes."""

    device: Device
    start: str
    end: str


@dataclass(frozen=True, slots=True)
class Tapping:
    """An outlet and the joint on the pipe that feeds it."""

    node: str
    joint: str
    outlet: Head | DripArea
    pipe: Pipe


@dataclass(slots=True)
class Wiring:
    """All nodes and what joins them, by id."""

    places: dict[str, Place]
    legs: dict[str, Leg]
    bridges: dict[str, Bridge]
    tappings: dict[str, Tapping]

    def pipes_at(self, place: Place) -> list[Pipe]:
        """Return the pipes that meet at a place; a device has one height, so its two ends count as one."""
        bridge = self.bridges.get(place.device.name) if place.device is not None else None
        ends = (place.id,) if bridge is None else (bridge.start, bridge.end)
        return [pipe for node in ends for pipe in self.places[node].pipes]

    def gaps(self) -> tuple[Device, ...]:
        """Return the air gaps among the devices."""
        devices = (b.device for b in self.bridges.values())
        return tuple(d for d in devices if d.kind == "assembly" and d.assembly_kind == "air-gap")


def wire(design: Design) -> Wiring:
    """Return the wiring of a design."""
    wiring = Wiring({}, {}, {}, {})
    devices = {d.name: d for d in design.devices if d.state != "removed"}
    for device in devices.values():
        if device.kind not in JUNCTION_KINDS:
            wiring.bridges[device.name] = Bridge(device, f"{device.name}.in", f"{device.name}.out")
            for node in (f"{device.name}.in", f"{device.name}.out"):
                wiring.places[node] = Place(node, device.name, device.point, device)
    on_pipe: dict[str, list[Head | DripArea]] = {}
    outlets: tuple[Head | DripArea, ...] = (*design.heads, *design.drips)
    for outlet in outlets:
        if outlet.state != "removed":
            on_pipe.setdefault(outlet.pipe, []).append(outlet)
    for pipe in design.pipes:
        if pipe.state != "removed":
            _cut(wiring, pipe, devices, on_pipe.get(pipe.name, []))
    return wiring


def _cut(wiring: Wiring, pipe: Pipe, devices: dict[str, Device], outlets: list[Head | DripArea]) -> None:
    """Cut one pipe into legs at its named stops and outlets, and join the outlets to it."""
    course = tuple(s.point for s in pipe.route)
    joints = _named_joints(pipe, devices)
    ordered = sorted(outlets, key=lambda o: (o.along_m, o.name))
    number = 0
    for outlet in ordered:
        near = next((j for j in joints if abs(j[0] - outlet.along_m) <= _SAME_PLACE_M), None)
        if near is None:
            number += 1
            name = f"{pipe.zone}.{pipe.name}.{number}" if pipe.zone else f"{pipe.name}.{number}"
            near = (outlet.along_m, name, name)
            joints.append(near)
        joint = near[1]
        node = f"{outlet.zone}.{outlet.name}" if outlet.zone else outlet.name
        wiring.tappings[node] = Tapping(node, joint, outlet, pipe)
        wiring.places[node] = Place(node, outlet.name, outlet.point, None, [pipe])
    named = {s.node for s in pipe.route}
    joints.sort(key=lambda j: j[0])
    pairs = [(a, b) for a, b in pairwise(joints) if a[2] != b[1]]
    for count, (first, last) in enumerate(pairs, 1):
        leg = pipe.name if len(pairs) == 1 else f"{pipe.name}.{count}"
        points = _between(course, first[0], last[0])
        wiring.legs[leg] = Leg(leg, pipe, first[2], last[1], points)
    for along, arrive, leave in joints:
        for node in dict.fromkeys((arrive, leave)):
            owner = node if node in named else pipe.name
            _note_place(wiring, node, owner, pipe, devices, point_along(course, along) or course[-1])


def _named_joints(pipe: Pipe, devices: dict[str, Device]) -> list[tuple[float, str, str]]:
    """Return (length along, node where water arrives, node where it leaves) of each named stop."""
    joints: list[tuple[float, str, str]] = []
    along = 0.0
    last = len(pipe.route) - 1
    for i, stop in enumerate(pipe.route):
        if i:
            along += distance(pipe.route[i - 1].point, stop.point)
        if not stop.node and 0 < i < last:
            continue
        device = devices.get(stop.node)
        if device is not None and device.kind not in JUNCTION_KINDS:
            arrive, leave = f"{device.name}.in", f"{device.name}.out"
            joints.append((along, leave if i == 0 else arrive, arrive if i == last else leave))
        else:
            name = stop.node or _end_name(pipe, i)
            joints.append((along, name, name))
    return joints


def _end_name(pipe: Pipe, index: int) -> str:
    end = "start" if index == 0 else "end"
    return f"{pipe.zone}.{pipe.name}.{end}" if pipe.zone else f"{pipe.name}.{end}"


def _note_place(
    wiring: Wiring, node: str, owner: str, pipe: Pipe, devices: dict[str, Device], point: Point
) -> None:
    place = wiring.places.get(node)
    if place is None:
        device = devices.get(node)
        place = Place(node, owner, device.point if device else point, device)
        wiring.places[node] = place
    if pipe not in place.pipes:
        place.pipes.append(pipe)


def _between(course: tuple[Point, ...], start_m: float, end_m: float) -> tuple[Point, ...]:
    """Return the part of a course between two lengths along it, with the vertices between."""
    points = [point_along(course, start_m) or course[0]]
    along = 0.0
    for a, b in pairwise(course):
        along += distance(a, b)
        if start_m + _SAME_PLACE_M < along < end_m - _SAME_PLACE_M:
            points.append(b)
    points.append(point_along(course, end_m) or course[-1])
    return tuple(points)
