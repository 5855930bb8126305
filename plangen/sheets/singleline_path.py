"""The way of the water through one solved case: from the source to an outlet, and the branches passed by.

Walks a solution against its flows. Returns names and solved figures; draws nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.network import LinkResult, Node, NodeResult, Solution
from plangen.hydraulics.results import CaseResult


@dataclass(frozen=True, slots=True)
class PathNode:
    """One node of the way with its pressure, and the links that leave it for elsewhere.

    `via` is the link by which the water came, None at the source.
    """

    node: Node
    pressure_m: float
    via: LinkResult | None
    branches: tuple[LinkResult, ...]


@dataclass(frozen=True, slots=True)
class Flows:
    """A solution told by node: its result, and the links that bring and take water."""

    nodes: dict[str, NodeResult]
    arriving: dict[str, list[LinkResult]]
    leaving: dict[str, list[LinkResult]]

    @staticmethod
    def of(solution: Solution) -> Flows:
        """Return a solution's flows, each list in the order of link ids."""
        arriving: dict[str, list[LinkResult]] = {}
        leaving: dict[str, list[LinkResult]] = {}
        for link in sorted(solution.links, key=lambda k: k.link.id):
            start, end = ends(link)
            arriving.setdefault(end, []).append(link)
            leaving.setdefault(start, []).append(link)
        return Flows({n.node.id: n for n in solution.nodes}, arriving, leaving)


def path_to(flows: Flows, outlet: str) -> tuple[PathNode, ...]:
    """Return the way from the source to an outlet's node, against the greatest inflow at each node."""
    if outlet not in flows.nodes:
        return ()
    way: list[tuple[str, LinkResult | None]] = []
    node, seen = outlet, set[str]()
    while node not in seen:
        seen.add(node)
        came = [link for link in flows.arriving.get(node, []) if ends(link)[0] not in seen]
        via = max(came, key=lambda k: abs(k.flow_m3s), default=None)
        way.append((node, via))
        if via is None:
            break
        node = ends(via)[0]
    way.reverse()
    on_way = {via.link.id for _, via in way if via is not None}
    return tuple(
        PathNode(
            flows.nodes[name].node,
            flows.nodes[name].pressure_m,
            via,
            tuple(k for k in flows.leaving.get(name, []) if k.link.id not in on_way),
        )
        for name, via in way
    )


def ends(result: LinkResult) -> tuple[str, str]:
    """Return the nodes of a link in the direction of its flow."""
    link = result.link
    return (link.start, link.end) if result.flow_m3s >= 0 else (link.end, link.start)


def farthest_outlet(case: CaseResult) -> tuple[str, str] | None:
    """Return (name, node) of the outlet with the longest way in pipe from the source, or None without."""
    best: tuple[float, str, str] | None = None
    flows = Flows.of(case.solution)
    for outlet in case.outlets:
        length = sum(p.via.link.length_m for p in path_to(flows, outlet.node) if p.via is not None)
        if best is None or (round(length, 6), outlet.name) > (best[0], best[1]):
            best = (round(length, 6), outlet.name, outlet.node)
    return None if best is None else (best[1], best[2])
