"""The pressure budget: from the source to one outlet, item by item, in flow order. Solves nothing."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.friction import curve_value, minor_factor
from plangen.hydraulics.network import REGULATING, LinkResult, NodeResult, Solution
from plangen.hydraulics.results import Budget, BudgetLine

_WORDS = {"service": "Service pipe", "mainline": "Main pipe", "lateral": "Lateral", "nipple": "Nipple"}
_HOLDS = "holds its setting behind it"
# Less than this is no flow to follow.
_IDLE_M3S = 1e-9

# A link on the way, and whether the way runs from its start to its end.
Step = tuple[LinkResult, bool]


def budget_of(ready: Assembly, solution: Solution, outlet: str, required_m: float | None) -> Budget:
    """Return the budget to an outlet node: its lines lead from the source pressure to what is left."""
    nodes = {n.node.id: n for n in solution.nodes}
    source = ready.supply.node
    drawn = sum(r.flow_m3s * ((r.link.start == source) - (r.link.end == source)) for r in solution.links)
    lines = [_source_line(ready, nodes[source], drawn)]
    way = way_to(solution, source, outlet)
    lines.extend(_line(ready, step, nodes) for step in way)
    return Budget(source, ready.supply.cases_m, outlet, required_m, nodes[outlet].pressure_m, tuple(lines),
                  sum(held_back_m(result) for result, _ in way))  # fmt: skip


def held_back_m(result: LinkResult) -> float:
    """Return what a regulator at work takes off over its loss when open: it gives this up as supply falls.

    What ends at an air gap is gone: nothing behind it is the better for it.
    """
    link = result.link
    if link.kind != "regulator" or link.free_surface or result.state != REGULATING:
        return 0.0
    if link.curve_m3s_m:
        open_m = curve_value(link.curve_m3s_m, result.flow_m3s)[0]
    else:
        open_m = minor_factor(link.minor_k, link.diameter_m) * result.flow_m3s**2 if link.minor_k else 0.0
    return max(result.headloss_m - open_m, 0.0)


def held_back_to(solution: Solution, source: str, outlets: Iterable[str]) -> dict[str, float]:
    """Return for each outlet node what regulators at work on its way take off; nothing without regulators."""
    if not any(held_back_m(r) for r in solution.links):
        return {}
    return {o: sum(held_back_m(r) for r, _ in way_to(solution, source, o)) for o in outlets}


def way_to(solution: Solution, source: str, outlet: str) -> list[Step]:
    """Return the steps from source to outlet: against the strongest flow, or as piped where nothing flows."""
    near: dict[str, list[tuple[str, float, Step]]] = {}
    for result in solution.links:
        link, flow = result.link, result.flow_m3s
        near.setdefault(link.end, []).append((link.start, flow, (result, True)))
        near.setdefault(link.start, []).append((link.end, -flow, (result, False)))
    way: list[Step] = []
    at, seen = outlet, {outlet}
    while at != source:
        bringing = [b for b in near[at] if b[1] > _IDLE_M3S and b[0] not in seen]
        if not bringing:
            return _fewest(near, source, at) + way[::-1]
        at, _, step = max(bringing, key=lambda b: (b[1], b[0]))
        way.append(step)
        seen.add(at)
    return way[::-1]


def _fewest(near: dict[str, list[tuple[str, float, Step]]], source: str, goal: str) -> list[Step]:
    """Return the steps from source to goal over the fewest links."""
    came: dict[str, tuple[str, Step]] = {}
    queue = deque([goal])
    while queue and source not in came:
        at = queue.popleft()
        for other, _, step in near[at]:
            if other not in came and other != goal:
                came[other] = (at, step)
                queue.append(other)
    way: list[Step] = []
    at = source
    while at != goal:
        at, step = came[at]
        way.append(step)
    return way


def _source_line(ready: Assembly, source: NodeResult, drawn_m3s: float) -> BudgetLine:
    """The first line: from a gauge at ground level down to the main, with the fall of a residual test."""
    supply = ready.supply
    words = f"Source {supply.node}: gauge at ground level to the main below"
    fall = supply.head_m - source.head_m
    rise = source.node.elevation_m - supply.ground_m
    told = supply.basis if not supply.curve else f"{supply.basis}; its fall at this flow"
    return BudgetLine(supply.node, supply.node, words, drawn_m3s, "", None, None, "", None, fall, rise,
                      source.pressure_m, told)  # fmt: skip


def _line(ready: Assembly, step: Step, nodes: dict[str, NodeResult]) -> BudgetLine:
    result, forward = step
    link = result.link
    before, after = (link.start, link.end) if forward else (link.end, link.start)
    sign = 1.0 if forward else -1.0
    words, nominal = _told(ready, link.id, link.object)
    piped = link.kind == "pipe"
    return BudgetLine(
        id=link.id,
        object=link.object,
        description=words,
        flow_m3s=sign * result.flow_m3s,
        nominal=nominal,
        bore_m=link.diameter_m if piped else None,
        length_m=link.length_m if piped else None,
        fittings=", ".join(link.fittings),
        velocity_ms=result.velocity_ms if link.diameter_m > 0 else None,
        loss_m=sign * result.headloss_m,
        rise_m=nodes[after].node.elevation_m - nodes[before].node.elevation_m,
        pressure_after_m=nodes[after].pressure_m,
        source=_HOLDS if result.state == REGULATING and not link.free_surface else link.loss_source,
    )


def _told(ready: Assembly, edge: str, name: str) -> tuple[str, str]:
    """Return description and nominal size of an item."""
    leg = ready.wiring.legs.get(edge)
    if leg is not None:
        pipe = leg.pipe
        return f"{_WORDS.get(pipe.role, 'Pipe')} {edge}, {pipe.size.family}", pipe.nominal.written
    bridge = ready.wiring.bridges.get(edge)
    if bridge is not None:
        device = bridge.device
        size = device.size or (device.part.size if device.part else None)
        kind = (device.assembly_kind or device.kind).replace("-", " ")
        label = (device.part.label if device.part else "") or device.label or kind
        return f"{name}: {label}", size.written if size else ""
    tapping = ready.wiring.tappings[edge]
    label = tapping.outlet.part.label or tapping.outlet.part.name
    return f"Joint of {name}: {label}", ""
