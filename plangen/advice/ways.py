"""The way of the water to an outlet in one solved case, and what larger pipes could win on it. Pure.

In a case without rings, larger pipe on the way of an outlet raises the flow everywhere on that way, and
larger pipe beside it only draws pressure off. What a larger size saves at today's flow is the most it wins.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from plangen.hydraulics.friction import FLOW_EXPONENT, friction_factor, minor_factor
from plangen.hydraulics.network import LinkResult, Solution
from plangen.model.parts import PipeSize


@dataclass(frozen=True, slots=True)
class Way:
    """The links from the source to a node in flow order; `sure` is False where the case has rings."""

    links: tuple[LinkResult, ...]
    sure: bool

    @property
    def pipes(self) -> tuple[str, ...]:
        """Return the names of its pipes in flow order, each once."""
        return tuple(dict.fromkeys(r.link.object for r in self.links if r.link.kind == "pipe"))


def way_to(solution: Solution, node: str) -> Way:
    """Return the way to a node; in a case with rings, every link that carries water."""
    network = solution.network
    if has_rings(solution):
        return Way(solution.links, False)
    near: dict[str, list[tuple[str, LinkResult]]] = {}
    for result in solution.links:
        near.setdefault(result.link.start, []).append((result.link.end, result))
        near.setdefault(result.link.end, []).append((result.link.start, result))
    start = network.sources[0].node
    back: dict[str, tuple[str, LinkResult] | None] = {start: None}
    queue = [start]
    while queue:
        here = queue.pop()
        for there, result in near.get(here, ()):
            if there not in back:
                back[there] = (here, result)
                queue.append(there)
    links: list[LinkResult] = []
    step = back.get(node)
    while step is not None:
        links.append(step[1])
        step = back[step[0]]
    return Way(tuple(reversed(links)), True)


def has_rings(solution: Solution) -> bool:
    """Return whether a case has more links than a tree of its nodes."""
    return len(solution.network.links) > len(solution.network.nodes) - 1


def beyond(solution: Solution, pipe: str) -> frozenset[str]:
    """Return the pipes through which the water of a pipe comes or goes, itself included."""
    found: set[str] = set()
    for node in (n.node.id for n in solution.nodes if n.node.emitter is not None or n.node.demand_m3s):
        pipes = way_to(solution, node).pipes
        if pipe in pipes:
            found |= set(pipes)
    return frozenset(found)


def pipes_of(solution: Solution) -> tuple[str, ...]:
    """Return the pipes of a case by name."""
    return tuple(sorted({r.link.object for r in solution.links if r.link.kind == "pipe"}))


def saved_m(links: Iterable[LinkResult], pipe: str, size: PipeSize) -> float:
    """Return the loss that another size would save on the links of a pipe, at the flow of today.

    Losses told by K of what stands at its ends count in its bore too, and may change with it.
    """
    saved, found = 0.0, tuple(links)
    ends = {n for r in found if r.link.object == pipe for n in (r.link.start, r.link.end)}
    for result in found:
        link, flow = result.link, abs(result.flow_m3s)
        if link.kind != "pipe" and link.minor_k and ends & {link.start, link.end}:
            old, new = minor_factor(link.minor_k, link.diameter_m), minor_factor(link.minor_k, size.bore_m)
            saved += max(old - new, 0.0) * flow**2
        elif link.object == pipe and link.kind == "pipe":
            friction = friction_factor(link.length_m, size.bore_m, size.hazen_williams_c)
            minor = minor_factor(link.minor_k, size.bore_m)
            saved += abs(result.headloss_m) - (friction * flow**FLOW_EXPONENT + minor * flow**2)
    return max(saved, 0.0)


def slack_m(links: Iterable[LinkResult]) -> float:
    """Return what devices on a way could lose less at a greater flow: their curves may fall."""
    slack = 0.0
    for result in links:
        later = [loss for at, loss in result.link.curve_m3s_m if at > abs(result.flow_m3s)]
        slack += max(result.headloss_m - min(later, default=result.headloss_m), 0.0)
    return slack


def least_cost(lacking_m: float, offers: Mapping[str, tuple[tuple[float, float], ...]]) -> float:
    """Return at least what it costs to win a pressure, each pipe offering sizes as (gain, cost).

    Sizes may be taken in part, at the best gain for its cost that a pipe offers: no whole choice is cheaper.
    """
    if lacking_m <= 0.0:
        return 0.0
    best: list[tuple[float, float]] = []  # cost for a metre, most gain
    for sizes in offers.values():
        rates = [cost / gain for gain, cost in sizes if gain > 0.0]
        if rates:
            best.append((min(rates), max(gain for gain, _ in sizes)))
    total = 0.0
    for rate, most in sorted(best):
        taken = min(most, lacking_m)
        total += taken * rate
        lacking_m -= taken
        if lacking_m <= 0.0:
            return total
    return float("inf")
