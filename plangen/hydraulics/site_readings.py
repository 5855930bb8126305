"""What gauges should show at named test points, and what readings taken on site say of the system.

A reading is compared with a solution at the pressure that stood at the source on that day. The tolerance is
that of the gauge and of the losses up to the point: losses of fittings alone differ by a factor of two
between published tables, so a tenth of the whole loss is taken (common practice, no source). Gauge: 2 psi,
two per cent of a 100 psi gauge at mid-scale (grade B of ASME B40.100, from memory).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Sequence

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.budget import way_to
from plangen.hydraulics.network import Network, Solution
from plangen.hydraulics.results import CaseResult, Failure
from plangen.hydraulics.sensitivity import Solves, at_pressure
from plangen.hydraulics.solve import solve
from plangen.hydraulics.studies import Judged, Predicted
from plangen.model.design import Reading
from plangen.quantity.dimension import PSI_PA, pressure_to_head_m

GAUGE_M = pressure_to_head_m(2.0 * PSI_PA)
LOSS_SHARE = 0.10
_SOURCE_CAUSES = (
    "the main gives less with flow than figured, or the service or meter is smaller or fouled",
    "the house was drawing more than its stated demand",
    "the gauge reads low: compare it with a second one",
)
_HIGH_CAUSES = (
    "less flows than figured: the zone valve is not wide open, or nozzles are fouled, capped or smaller",
    "the gauge reads high, or the static pressure rose after it was read",
)


def tolerance_m(loss_m: float) -> float:
    """Return how far a reading may be off behind a loss: gauge and loss together."""
    return math.hypot(GAUGE_M, LOSS_SHARE * max(loss_m, 0.0))


def predicted(solves: Solves, cases: Sequence[CaseResult]) -> tuple[Predicted, ...]:
    """Return the readings to expect in each zone's case, at the static pressure (else the design's)."""
    ready = solves.ready
    pressure = ready.supply.static_m if ready.supply.static_m is not None else ready.supply.cases_m
    found: list[Predicted] = []
    for case in cases:
        solved = solves.at(case, pressure) if len(case.zones) == 1 else None
        if isinstance(solved, Solution):
            found.extend(_points(ready, case, solved, ready.supply.ground_m + pressure))
    return tuple(found)


def _points(ready: Assembly, case: CaseResult, solved: Solution, head_m: float) -> Iterable[Predicted]:
    states = {n.node.id: n for n in solved.nodes}
    zone = next(z for z in ready.design.zones if z.name == case.zones[0])
    devices = [d.name for d in ready.design.devices_of("assembly")] + [zone.valve]
    points = [
        (f"{name}.{short}", name, side, "assembly" if name != zone.valve else "zone valve")
        for name in devices
        for short, side in (("in", "inlet"), ("out", "outlet"))
    ]
    away = _lengths_m(solved.network, f"{zone.valve}.out")
    heads = sorted((away[o.node], o.node, o.name) for o in case.outlets if o.node in away)
    if heads:
        points.append((heads[0][1], heads[0][2], "", "first head"))
    if len(heads) > 1:
        points.append((heads[-1][1], heads[-1][2], "", "far head"))
    for node, name, side, why in points:
        at = states.get(node)
        if at is not None:
            loss = head_m - at.head_m
            yield Predicted(case.case, name, side, node, at.pressure_m, tolerance_m(loss), loss, why)


def _lengths_m(network: Network, start: str) -> dict[str, float]:
    """Return the pipe length from a node to each node, the shortest way."""
    near: dict[str, list[tuple[str, float]]] = {}
    for link in network.links:
        near.setdefault(link.start, []).append((link.end, link.length_m))
        near.setdefault(link.end, []).append((link.start, link.length_m))
    lengths: dict[str, float] = {}
    queue = [(0.0, start)]
    while queue:
        length, node = heapq.heappop(queue)
        if node in lengths:
            continue
        lengths[node] = length
        for other, step in near.get(node, ()):
            if other not in lengths:
                heapq.heappush(queue, (length + step, other))
    return lengths


def judged(ready: Assembly, cases: Sequence[CaseResult]) -> tuple[Judged, ...]:
    """Return each recorded reading with its verdict and likely causes, along the flow within a zone."""
    by_zone: dict[str, list[Reading]] = {}
    for reading in ready.design.readings:
        by_zone.setdefault(reading.zone, []).append(reading)
    alone = {c.zones[0]: c for c in cases if len(c.zones) == 1}
    found: list[Judged] = []
    for zone, readings in by_zone.items():
        found.extend(_of_zone(ready, alone.get(zone), zone, readings))
    return tuple(found)


def _of_zone(
    ready: Assembly, case: CaseResult | None, zone: str, readings: Sequence[Reading]
) -> list[Judged]:
    if case is None:
        return [_unjudged(r, zone, f"the case {zone} was not solved") for r in readings]
    away = _lengths_m(case.solution.network, ready.supply.node)
    order = sorted(readings, key=lambda r: (away.get(_node_of(ready, r), math.inf), r.place, r.side))
    found: list[tuple[str, Judged]] = []
    for reading in order:
        node = _node_of(ready, reading)
        passed = _passed(ready, case, node) if node in away else frozenset()
        before = [j for place, j in found if place in passed and j.verdict != "not judged"]
        found.append((node, _judge(ready, case, reading, before)))
    return [j for _, j in found]


def _passed(ready: Assembly, case: CaseResult, node: str) -> frozenset[str]:
    """Return the nodes that water to a node passes: a reading on another branch tells nothing of the way."""
    way = way_to(case.solution, ready.supply.node, node)
    return frozenset(n for result, _ in way for n in (result.link.start, result.link.end)) - {node}


def _judge(ready: Assembly, case: CaseResult, reading: Reading, before: Sequence[Judged]) -> Judged:
    static = pressure_to_head_m(reading.static.si)
    solved = solve(at_pressure(ready, case.solution.network, static))
    if isinstance(solved, Failure):
        return _unjudged(reading, case.case, solved.message)
    node = _node_of(ready, reading)
    at = next((n for n in solved.nodes if n.node.id == node), None)
    if at is None:
        return _unjudged(reading, case.case, f"{reading.place} carries no water in this case")
    read = pressure_to_head_m(reading.pressure.si)
    slack = tolerance_m(ready.supply.ground_m + static - at.head_m)
    off = read - at.pressure_m
    verdict = "agrees" if abs(off) <= slack else "low" if off < 0 else "high"
    causes = _causes(verdict, reading, before)
    on = reading.on.isoformat() if reading.on else ""
    return Judged(case.case, reading.place, reading.side, read, at.pressure_m, slack, verdict, causes, on)


def _causes(verdict: str, reading: Reading, before: Sequence[Judged]) -> tuple[str, ...]:
    """Return the likely causes: what the readings nearer the source say tells on which stretch to look."""
    if verdict == "agrees":
        return ()
    if verdict == "high":
        return _HIGH_CAUSES
    last = before[-1] if before else None
    if last is not None and last.verdict == "agrees":
        between = f"{last.object} and {reading.place}"
        return (
            f"more is lost between {between} than figured: a valve there is not wide open, a strainer is"
            " fouled, or pipe is crushed or smaller than drawn",
            f"more flows past {reading.place} than figured: a leak, a break or larger nozzles behind it",
        )
    if last is not None and last.verdict == "low":
        return (f"it follows from the low reading at {last.object}: mend that first, then read again",)
    return _SOURCE_CAUSES


def _unjudged(reading: Reading, case: str, why: str) -> Judged:
    read = pressure_to_head_m(reading.pressure.si)
    on = reading.on.isoformat() if reading.on else ""
    return Judged(case, reading.place, reading.side, read, None, None, "not judged", (why,), on)


def _node_of(ready: Assembly, reading: Reading) -> str:
    place = reading.place
    if place in ready.wiring.bridges:
        bridge = ready.wiring.bridges[place]
        return bridge.end if reading.side == "outlet" else bridge.start
    return next((t.node for t in ready.wiring.tappings.values() if t.outlet.name == place), place)
