"""Solve one network by the global gradient method (Todini and Pilati 1988).

In: a `Network`. Out: a `Solution`, or a named `Failure`; never a silent number. Each turn linearises every
link's loss about its flow, solves the heads, and corrects the flows; what opens, closes or regulates is
switched between turns. It ends when the flows stand still and energy and mass balance both.
"""

from __future__ import annotations

from operator import sub

from plangen.hydraulics.cut_off import hold_islands, unfit_to_solve, unsupplied
from plangen.hydraulics.friction import curve_covers, curve_value, velocity_ms
from plangen.hydraulics.network import (
    CLOSED,
    OPEN,
    REGULATING,
    LinkResult,
    Network,
    NodeResult,
    Solution,
)
from plangen.hydraulics.results import Failure
from plangen.hydraulics.switching import switch
from plangen.hydraulics.work import LINE, LOW_FLOW_M3S, ROOT, Work, work_of
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import told_both

MOST_TURNS = 500
# From this turn on, what opens, closes or regulates changes one at a time, once the flows have settled or
# after so many turns: in an impossible state they never settle.
_PATIENT_FROM, _PATIENCE = 30, 10
_FLOW_SHARE = 1e-9
_FLOW_FLOOR_M3S = 2e-12  # for each link: what rounding of the heads leaves in a short wide pipe
_ENERGY_M = 1e-7
# The least slope of a plain link and of a curve: 0.01 m per m3/s, 1e-3 ft per gpm. Only the step is
# damped by it, the loss itself stays exact, so a falling curve still ends on the curve.
_LEAST_SLOPE = 1e-2
_LEAST_CURVE_SLOPE = 4.831
# A spring check resists the first trace of backward flow like a wall until it is switched shut.
_SPRING_SLOPE = 1e5


def solve(network: Network) -> Solution | Failure:
    """Return the solved network, or the named reason why there is no solution."""
    unfit = unfit_to_solve(network)
    if unfit is not None:
        return unfit
    work = work_of(network)
    settling = False
    for turn in range(MOST_TURNS):
        _linearise(work, turn)
        if settling and _energy_error(work) < _ENERGY_M:
            residual = _imbalance(work)
            if residual <= _still(work):
                return unsupplied(work) or _leaves_law(work) or _solution(work, turn, residual)
        _solve_heads(work)
        change = _correct_flows(work)
        still = change <= _still(work)
        patient = turn >= _PATIENT_FROM
        settling = switch(work, patient=patient, due=still or turn % _PATIENCE == 0) == 0 and still
    message = f"the flows did not settle within {MOST_TURNS} turns"
    return Failure(network.case, "no-convergence", message, ())


def _still(work: Work) -> float:
    """Return the sum of changes that counts as standing still."""
    total = sum(map(abs, work.flow)) + sum(abs(o.flow) for o in work.outlets)
    return _FLOW_SHARE * total + _FLOW_FLOOR_M3S * len(work.flow)


def _linearise(work: Work, turn: int) -> None:
    """Set loss, conductance and offset of every link and outlet about its flow."""
    flow, loss, conductance, offset = work.flow, work.loss, work.conductance, work.offset
    for k, r, m, low in work.plain:
        q = flow[k]
        size = q if q >= 0.0 else -q
        if size < LOW_FLOW_M3S:
            slope = low
            h = slope * q
        elif m:
            rough, local = r * size**0.852, m * size
            h = (rough + local) * q
            slope = 1.852 * rough + 2.0 * local
        else:
            rough = r * size**0.852
            h = rough * q
            slope = 1.852 * rough
        p = 1.0 / slope if slope > _LEAST_SLOPE else 1.0 / _LEAST_SLOPE
        loss[k] = h
        conductance[k] = p
        offset[k] = q - p * h
    _linearise_curves(work, turn)
    _linearise_outlets(work, turn)
    if work.switched:
        for k, now in enumerate(work.state):
            if now == CLOSED:
                conductance[k], offset[k] = 0.0, 0.0
            elif now == REGULATING:
                conductance[k], offset[k] = 0.0, flow[k]
        hold_islands(work)


def _energy_error(work: Work) -> float:
    """Return the worst difference between a loss and the heads at its ends, in metres."""
    head, worst = work.head, 0.0
    for a, b, h, now in zip(work.starts, work.ends, work.loss, work.state, strict=True):
        error = abs(h - head[a] + head[b])
        if error > worst and now == OPEN:
            worst = error
    for outlet in work.outlets:
        if outlet.part == ROOT:
            pressure = head[outlet.node] - outlet.elevation_m
            worst = max(worst, abs((outlet.flow / outlet.law.k) ** 2 - pressure))
    return worst


def _linearise_curves(work: Work, turn: int) -> None:
    for item in work.curved:
        k = item.link
        q = work.flow[k]
        if item.gain:
            value, slope = curve_value(item.curve, q)
            h, slope = -value, -slope
        elif item.spring_m > 0 and q < 0:
            h, slope = item.spring_m + _SPRING_SLOPE * q, _SPRING_SLOPE
        else:
            h, slope = curve_value(item.curve, abs(q))
            h = h if q >= 0 else -h
        p = 1.0 / max(item.step.steepened(turn, q, h, slope), _LEAST_CURVE_SLOPE)
        work.loss[k] = h
        work.conductance[k], work.offset[k] = p, q - p * h


def _linearise_outlets(work: Work, turn: int) -> None:
    for outlet in work.outlets:
        if outlet.part == ROOT:
            q = outlet.flow
            local = outlet.root_m * (q if q >= 0.0 else -q)
            slope = 2.0 * local
            outlet.conductance = p = 1.0 / slope if slope > _LEAST_SLOPE else 1.0 / _LEAST_SLOPE
            outlet.offset = q - p * local * q
        elif outlet.part == LINE:
            pressure = max(work.head[outlet.node] - outlet.elevation_m, outlet.law.root_to_m)
            q, slope = outlet.law.line(pressure)
            steep = max(outlet.step.steepened(turn, pressure, q, slope), 0.0)
            outlet.conductance, outlet.offset = steep, q - steep * pressure
        else:
            outlet.conductance = outlet.offset = 0.0


def _solve_heads(work: Work) -> None:
    """Assemble the continuity equations of the nodes and solve them for the heads."""
    head, held, conductance, offset = work.head, work.held, work.conductance, work.offset
    diagonal = [0.0] * len(head)
    right = [-d for d in work.demand]
    off = [0.0] * work.elimination.size
    for a, b, slot, p, y in zip(
        work.starts, work.ends, work.elimination.slots, conductance, offset, strict=True
    ):
        right[a] -= y
        right[b] += y
        diagonal[a] += p
        diagonal[b] += p
        if held[a]:
            right[b] += p * head[a]
        elif held[b]:
            right[a] += p * head[b]
        else:
            off[slot] -= p
    for outlet in work.outlets:
        diagonal[outlet.node] += outlet.conductance
        right[outlet.node] += outlet.conductance * outlet.elevation_m - outlet.offset
    for node, fixed in enumerate(held):
        if fixed:
            diagonal[node], right[node] = 1.0, head[node]
    work.head = work.elimination.solve(diagonal, off, right)


def _correct_flows(work: Work) -> float:
    """Bring every flow to the new heads; return the sum of the changes."""
    head, flow = work.head, work.flow
    joined = zip(work.starts, work.ends, work.conductance, work.offset, strict=True)
    new = [y + p * (head[a] - head[b]) for a, b, p, y in joined]
    if work.switched:
        new = [0.0 if now == CLOSED else q for q, now in zip(new, work.state, strict=True)]
    change = sum(map(abs, map(sub, new, flow)))
    work.flow = new
    for outlet in work.outlets:
        q = outlet.offset + outlet.conductance * (head[outlet.node] - outlet.elevation_m)
        change += abs(q - outlet.flow)
        outlet.flow = q
    return change + _balance_regulators(work) if work.switched else change


def _balance_regulators(work: Work) -> float:
    """Give each regulating link the flow that its far node passes on."""
    change = 0.0
    passing = [r.link for r in work.regulators if work.state[r.link] == REGULATING]
    if not passing:
        return change
    for k in reversed(passing):
        before = work.flow[k]
        work.flow[k] = 0.0
        work.flow[k] = -_net_inflow(work)[work.ends[k]]
        change += abs(work.flow[k] - before)
    return change


def _net_inflow(work: Work) -> list[float]:
    """Return for each node what flows in less what flows, is drawn or is let out."""
    net = [-d for d in work.demand]
    for a, b, q in zip(work.starts, work.ends, work.flow, strict=True):
        net[a] -= q
        net[b] += q
    for outlet in work.outlets:
        net[outlet.node] -= outlet.flow
    return net


def _imbalance(work: Work) -> float:
    fixed = [h and not r for h, r in zip(work.held, _regulated_nodes(work), strict=True)]
    return max((abs(n) for n, f in zip(_net_inflow(work), fixed, strict=True) if not f), default=0.0)


def _regulated_nodes(work: Work) -> list[bool]:
    regulated = [False] * len(work.head)
    for regulator in work.regulators:
        if work.state[regulator.link] == REGULATING:
            regulated[work.ends[regulator.link]] = True
    return regulated


def _leaves_law(work: Work) -> Failure | None:
    """Return the failure of a solution that stands beyond a stated curve, or takes more than there is."""
    network = work.network
    for item in work.curved:
        if not curve_covers(item.curve, abs(work.flow[item.link])) and work.state[item.link] == OPEN:
            virtual = item.link >= len(network.links)
            name = "the residual test of the source" if virtual else network.links[item.link].object
            message = f"the flow leaves the loss curve of {name}"
            return Failure(network.case, "curve-left", message, () if virtual else (name,))
    for outlet in work.outlets:
        node = network.nodes[outlet.node]
        stands_m = work.head[outlet.node] - outlet.elevation_m
        if stands_m > outlet.law.known_to_m + 1e-6:
            stands, known = (
                told_both(head_to_pressure_pa(m), Dimension.PRESSURE)
                for m in (stands_m, outlet.law.known_to_m)
            )
            message = (
                f"the pressure at {node.id} is {stands}, and its flow is stated up to {known}:"
                " hold the pressure down with a regulator, or state its flow at that pressure"
            )
            return Failure(network.case, "curve-left", message, (node.id,))
    for k, link in enumerate(network.links):
        if link.free_surface and work.state[k] == OPEN and work.flow[k] > LOW_FLOW_M3S:
            message = f"the pressure at {link.object} does not bring what is drawn behind it"
            return Failure(network.case, "demand-not-met", message, (link.object,))
    for i, node in enumerate(network.nodes):
        if node.demand_m3s > 0 and work.head[i] < node.elevation_m:
            message = f"the pressure at {node.id} would fall below zero at its stated demand"
            return Failure(network.case, "demand-not-met", message, (node.id,))
    return None


def _solution(work: Work, turns: int, residual: float) -> Solution:
    network = work.network
    outflow = {o.node: o.flow for o in work.outlets}
    nodes = tuple(NodeResult(n, work.head[i], outflow.get(i, 0.0)) for i, n in enumerate(network.nodes))
    links = tuple(
        LinkResult(
            link,
            work.flow[k],
            work.head[work.starts[k]] - work.head[work.ends[k]],
            velocity_ms(work.flow[k], link.diameter_m),
            work.state[k],
        )
        for k, link in enumerate(network.links)
    )
    return Solution(network, nodes, links, turns, residual)
