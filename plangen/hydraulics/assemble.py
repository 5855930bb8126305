"""Put together the network of one load case, with the inputs it rests on, or the failures that forbid it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.hydraulics.cases import Flowing, case_name
from plangen.hydraulics.element_inputs import house_inputs
from plangen.hydraulics.fittings import counted, total_k
from plangen.hydraulics.junctions import Fitted, verticals_m
from plangen.hydraulics.laws import Missing, device_link, outlet_law
from plangen.hydraulics.network import Emitter, Link, Network, Node, SourceNode
from plangen.hydraulics.results import Failure, Input
from plangen.hydraulics.supply import Supply
from plangen.hydraulics.wiring import Bridge, Leg, Place, Tapping, Wiring
from plangen.model.design import Design
from plangen.model.waterworks import Head, Zone
from plangen.terrain.surface import Surface


@dataclass(frozen=True, slots=True)
class Elevation:
    """A node's elevation, or None and the words that say what is missing."""

    m: float | None
    code: str = ""
    message: str = ""


@dataclass(frozen=True, slots=True)
class Assembly:
    """A design made ready: what does not change from case to case. Links, nodes and laws by id."""

    design: Design
    surface: Surface
    supply: Supply
    wiring: Wiring
    fitted: Fitted
    elevations: dict[str, Elevation]
    links: dict[str, Link | Missing]
    emitters: dict[str, Emitter | Missing]
    house_inputs: tuple[Input, ...]


def assembly_of(design: Design, surface: Surface, supply: Supply, wiring: Wiring, fitted: Fitted) -> Assembly:
    """Return a design made ready for its cases."""
    elevations = {p.id: elevation_of(p, wiring, design, surface) for p in wiring.places.values()}
    links: dict[str, Link | Missing] = {}
    for leg in wiring.legs.values():
        links[leg.id] = _pipe_link(leg, wiring, fitted)
    for bridge in wiring.bridges.values():
        links[bridge.device.name] = device_link(bridge, _bore_at(bridge, wiring))
    for tapping in wiring.tappings.values():
        links[tapping.node] = _joint_link(tapping, fitted)
    emitters = {t.node: outlet_law(t.outlet, design) for t in wiring.tappings.values()}
    return Assembly(
        design, surface, supply, wiring, fitted, elevations, links, emitters, house_inputs(design)
    )


def network_of(ready: Assembly, flow: Flowing, zones: tuple[Zone, ...]) -> Network | tuple[Failure, ...]:
    """Return the network of a case, or a failure for each thing that is not known."""
    case = case_name(zones)
    failures = dict.fromkeys(_unsaid(ready, flow, case))
    links: list[Link] = []
    for edge in flow.edges:
        link = ready.links[edge]
        if isinstance(link, Missing):
            failures[Failure(case, link.code, link.message, (_object_of(ready.wiring, edge),))] = None
        else:
            links.append(link)
    nodes: list[Node] = []
    house = ready.design.house
    for node in flow.nodes:
        level = ready.elevations[node]
        emitter = ready.emitters.get(node)
        if level.m is None:
            failures[Failure(case, level.code, level.message, (ready.wiring.places[node].object,))] = None
        elif isinstance(emitter, Missing):
            failures[Failure(case, emitter.code, emitter.message, (ready.wiring.places[node].object,))] = None
        else:
            demand = house.demand.si if house and house.demand and house.name == node else 0.0
            nodes.append(Node(node, level.m, demand, emitter))
    if house is not None and house.name not in flow.nodes:
        failures[Failure(case, "cut-off", f"no water reaches {house.name}", (house.name,))] = None
    if failures:
        return tuple(failures)
    source = SourceNode(ready.supply.node, ready.supply.head_m, ready.supply.curve)
    return Network(case, tuple(z.name for z in zones), (source,), tuple(nodes), tuple(links))


def _unsaid(ready: Assembly, flow: Flowing, case: str) -> Iterator[Failure]:
    """Yield what is not said on the way of the water: how far pipe rises to a device, what the house draws.

    Silence would be taken for the better case: pipe that stays down, a house that is shut.
    """
    for edge in flow.edges:
        bridge = ready.wiring.bridges.get(edge)
        device = bridge.device if bridge is not None else None
        if device is not None and device.height is None and device.kind != "assembly":
            message = f"the height of {device.name} above grade is not given"
            yield Failure(case, "height-missing", message, (device.name,))
    house = ready.design.house
    if house is not None and house.demand is None and house.name in flow.nodes:
        message = f"the flow to keep for the house {house.name} is not stated"
        yield Failure(case, "demand-missing", message, (house.name,))


def _object_of(wiring: Wiring, edge: str) -> str:
    leg = wiring.legs.get(edge)
    return leg.pipe.name if leg else edge.split(".")[-1]


def _pipe_link(leg: Leg, wiring: Wiring, fitted: Fitted) -> Link | Missing:
    pipe, names = leg.pipe, fitted.legs[leg.id]
    if pipe.cover is None and not pipe.above_grade and pipe.role != "nipple":
        return Missing("cover-missing", f"the cover of {pipe.name} is not given, so its depth is not known")
    c_told = pipe.size.c_provenance.told()
    source = f"Hazen-Williams C {pipe.size.hazen_williams_c:g}, {c_told}; bore by {pipe.size.source}"
    return Link(
        leg.id, leg.start, leg.end, "pipe", pipe.name,
        length_m=leg.length_m + sum(verticals_m(wiring, leg)),
        diameter_m=pipe.size.bore_m, hazen_williams_c=pipe.size.hazen_williams_c,
        minor_k=total_k(names), fittings=counted(names), loss_source=source,
    )  # fmt: skip


def _joint_link(tapping: Tapping, fitted: Fitted) -> Link:
    name = fitted.outlets[tapping.node]
    return Link(
        tapping.node, tapping.joint, tapping.node, "device", tapping.outlet.name,
        diameter_m=tapping.pipe.size.bore_m, minor_k=total_k((name,)), fittings=counted((name,)),
        loss_source=f"K {total_k((name,)):g} on the bore of {tapping.pipe.name}",
    )  # fmt: skip


def _bore_at(bridge: Bridge, wiring: Wiring) -> float:
    for node in (bridge.start, bridge.end):
        for pipe in wiring.places[node].pipes:
            return pipe.size.bore_m
    return 0.0


def elevation_of(place: Place, wiring: Wiring, design: Design, surface: Surface) -> Elevation:
    """Return the elevation of a node: a nozzle's, a device's by its height, else that of its deepest pipe."""
    ground = surface.elevation_m(place.point)
    if ground is None:
        return Elevation(None, "no-elevation", f"the ground at {place.object} lies outside the spot grades")
    tapping = wiring.tappings.get(place.id)
    if tapping is not None:
        riser = tapping.outlet.riser if isinstance(tapping.outlet, Head) else None
        return Elevation(ground + (riser.si if riser else 0.0))
    device, source = place.device, design.source
    if device is not None and device.height is not None:
        return Elevation(ground + device.height.si)
    if device is not None and device.kind == "assembly":
        return Elevation(None, "height-missing", f"the height of {device.name} above grade is not given")
    if source is not None and place.id == source.name and source.depth is not None:
        return Elevation(ground - source.depth.si)
    covers = [p.cover.si for p in wiring.pipes_at(place) if p.cover is not None and not p.above_grade]
    return Elevation(ground - max(covers, default=0.0))
