"""What happens when something fails: relief valve open, main broken off, supply lost, heads that run on.

The broken main is solved like any case, with an open end in place of the zones. Nothing here is a guess: what
the design does not state is named as missing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from plangen.hydraulics.assemble import Assembly, network_of
from plangen.hydraulics.cases import Branches, flowing
from plangen.hydraulics.friction import Curve, bore_area_m2, curve_covers
from plangen.hydraulics.network import Emitter, Network, Solution
from plangen.hydraulics.results import CaseResult, Failure
from plangen.hydraulics.solve import solve
from plangen.hydraulics.still_water import static_heads
from plangen.hydraulics.studies import Break, HouseLeft, Relief
from plangen.hydraulics.study_inputs import curve_inputs
from plangen.model.waterworks import Device, Zone
from plangen.quantity.dimension import FOOT_M, GRAVITY_M_S2, INCH_M, pressure_to_head_m
from plangen.quantity.evidence import Input, named

# Roughness of a drain running full, by Manning (design value of handbooks, from memory).
MANNING_N = 0.013
BEHIND_A_GAP = "behind an air gap no more runs out than its tank holds and its filling brings"
# Curves of devices are carried on by the square of the flow to this many times their last point.
_CARRIED = (1.25, 1.5, 2.0, 3.0, 4.0, 6.0, 10.0)


def drain_flow_m3s(bore_m: float, slope: float) -> float:
    """Return what a round drain carries when it runs full without pressure (Manning)."""
    return bore_area_m2(bore_m) * (bore_m / 4.0) ** (2.0 / 3.0) * math.sqrt(slope) / MANNING_N


def least_slope(bore_m: float) -> float:
    """Return the least fall of a drain by size: 1/4, 1/8 or 1/16 in a foot.

    Chicago Plumbing Code 18-29-704.1, table: up to 2-1/2 in, 3 to 6 in, 8 in and larger.
    """
    inches = bore_m / INCH_M
    return (1 / 4 if inches < 2.75 else 1 / 8 if inches < 7.0 else 1 / 16) * INCH_M / FOOT_M


def reliefs(ready: Assembly) -> tuple[Relief, ...]:
    """Return the full relief flow of each reduced-pressure assembly against its drain."""
    heads = static_heads(ready)
    found = []
    for device in ready.design.devices_of("assembly"):
        if device.assembly_kind == "rp" and device.state != "removed":
            found.append(_relief(ready, device, heads))
    return tuple(found)


def _relief(ready: Assembly, device: Device, heads: dict[str, float]) -> Relief:
    part, missing = device.part, []
    inputs: list[Input] = []
    level = ready.elevations[f"{device.name}.in"].m
    head = heads.get(f"{device.name}.in")
    flow = drain = None
    if part is None or part.relief_flow is None or part.relief_at is None:
        missing.append(f"the relief flow of {device.name} (`relief flow` of its part)")
    elif level is None or head is None or ready.supply.static_m is None:
        missing.append(f"the static pressure at {device.name}")
    else:
        # Flow out of a fixed opening goes with the square root of the pressure.
        flow = part.relief_flow.si * math.sqrt(max(head - level, 0.0) / pressure_to_head_m(part.relief_at.si))
        inputs.append(named(part.relief_flow, f"relief flow of {part.name}"))
    if device.drain_size is None:
        missing.append(f"the size of the drain of {device.name} (`drain size`)")
    else:
        slope = device.drain_slope.si if device.drain_slope else least_slope(device.drain_size.si)
        drain = drain_flow_m3s(device.drain_size.si, slope)
        inputs.append(named(device.drain_size, f"drain size of {device.name}"))
    carried = None if flow is None or drain is None else drain >= flow
    return Relief(device.name, flow, drain, carried, tuple(missing), tuple(inputs))


def breaks(ready: Assembly, found: Branches, cases: Sequence[CaseResult]) -> tuple[Break, ...]:
    """Return the flow out of the main broken off behind each assembly, with nothing else running."""
    out = []
    for device in ready.design.devices_of("assembly"):
        node = f"{device.name}.out"
        legs = sorted(leg.pipe.name for leg in ready.wiring.legs.values() if node in (leg.start, leg.end))
        if legs and device.state != "removed":
            out.append(_break(ready, found, cases, node, legs[0]))
    return tuple(out)


def _break(ready: Assembly, found: Branches, cases: Sequence[CaseResult], node: str, pipe: str) -> Break:
    sensor = next(iter(ready.design.standing("flow-sensor")), None)
    running = _most_running(cases, sensor)
    trip = sensor.trip.si if sensor is not None and sensor.trip is not None else None
    name = sensor.name if sensor is not None else ""
    if ready.supply.design_m is None:
        return Break(pipe, None, (), name, trip, running, None, ready.supply.basis)
    if any(node == f"{d.name}.out" for d in ready.wiring.gaps()):
        return Break(pipe, None, (), name, trip, running, None, BEHIND_A_GAP)
    network = broken_network(ready, found, node, pipe)
    if isinstance(network, str):
        return Break(pipe, None, (), name, trip, running, None, network)
    solved = solve(network)
    if isinstance(solved, Failure):
        return Break(pipe, None, (), name, trip, running, None, solved.message)
    flow = next(n.outflow_m3s for n in solved.nodes if n.node.id == node)
    noticed = None if trip is None or running is None else running < trip < flow
    beyond, inputs = _left_curves(ready, solved), curve_inputs(ready, solved)
    return Break(pipe, flow, beyond, name, trip, running, noticed, inputs=inputs)


def _most_running(cases: Sequence[CaseResult], sensor: Device | None) -> float | None:
    if sensor is None:
        return None
    flows = [abs(r.flow_m3s) for c in cases for r in c.solution.links if r.link.id == sensor.name]
    return max(flows, default=None)


def broken_network(ready: Assembly, found: Branches, node: str, pipe: str) -> Network | str:
    """Return the network up to the break: an open end, the house shut, loss curves carried on."""
    zones = [z for z in ready.design.zones if z.valve in ready.wiring.bridges]
    why = "no case leads past the assembly"
    for zone in zones:
        flow = flowing(found, ready.wiring, (zone,))
        network = network_of(ready, flow, (zone,)) if not isinstance(flow, Failure) else (flow,)
        if not isinstance(network, Network):
            why = network[0].message
        elif any(n.id == node for n in network.nodes):
            return _open_end(ready, network, zone, node, pipe)
    return why


def _open_end(ready: Assembly, network: Network, zone: Zone, node: str, pipe: str) -> Network:
    bore = next(p.size.bore_m for p in ready.design.pipes if p.name == pipe)
    near: dict[str, list[tuple[str, str]]] = {}
    for link in network.links:
        near.setdefault(link.start, []).append((link.id, link.end))
        near.setdefault(link.end, []).append((link.id, link.start))
    kept, edges, queue = {ready.supply.node}, set(), [ready.supply.node]
    while queue:
        here = queue.pop()
        if here == node:
            continue  # nothing flows past the open end
        for edge, other in near.get(here, ()):
            edges.add(edge)
            if other not in kept:
                kept.add(other)
                queue.append(other)
    # All velocity head is lost at the open end: q = area x sqrt(2 g h).
    end = Emitter(k_m3s_per_m05=bore_area_m2(bore) * math.sqrt(2.0 * GRAVITY_M_S2))
    nodes = tuple(
        replace(n, demand_m3s=0.0, emitter=end if n.id == node else n.emitter)
        for n in network.nodes
        if n.id in kept
    )
    links = tuple(
        replace(k, curve_m3s_m=carried_on(k.curve_m3s_m)) if k.kind != "pump" else k
        for k in network.links
        if k.id in edges and k.start in kept and k.end in kept
    )
    sources = tuple(replace(s, curve_m3s_m=carried_on(s.curve_m3s_m)) for s in network.sources)
    return Network(f"break at {pipe}", (zone.name,), sources, nodes, links)


def carried_on(curve: Curve) -> Curve:
    """Return a loss curve carried on past its last point by the square of the flow."""
    if not curve or curve[-1][0] <= 0:
        return curve
    q, h = curve[-1]
    return (*curve, *((q * s, h * s * s) for s in _CARRIED))


def _left_curves(ready: Assembly, solved: Solution) -> tuple[str, ...]:
    """Return the devices whose stated curve ends below the flow of a break."""
    found = []
    for result in solved.links:
        own = ready.links[result.link.id]
        curve = getattr(own, "curve_m3s_m", ())
        if curve and not curve_covers(curve, abs(result.flow_m3s)):
            found.append(result.link.object)
    return tuple(sorted(found))


def house_left(ready: Assembly, cases: Sequence[CaseResult]) -> tuple[HouseLeft, ...]:
    """Return the pressure left at the house in each case."""
    house = ready.design.house
    if house is None:
        return ()
    heads = static_heads(ready)
    level = ready.elevations[house.name].m if house.name in ready.elevations else None
    still = None
    if level is not None and house.name in heads and ready.supply.static_m is not None:
        still = heads[house.name] - level
    found = []
    for case in cases:
        at = next((n for n in case.solution.nodes if n.node.id == house.name), None)
        if at is not None:
            found.append(HouseLeft(case.case, at.pressure_m, still))
    return tuple(found)
