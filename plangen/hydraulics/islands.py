"""A solved network cut into islands at what holds a pressure, each a tree of loops and single links.

An island hangs on one anchor: the source, or the far side of a regulator at work. Within it a link that no
loop bypasses carries whatever is drawn behind it; the links of a loop share it out among themselves.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from plangen.hydraulics.network import OPEN, REGULATING, LinkResult, Solution


@dataclass(slots=True)
class Knot:
    """Nodes joined by loops, or one node: `parent` is the link by which water comes, from node `above`."""

    nodes: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)  # those of its loops
    entry: str = ""
    parent: str = ""
    above: str = ""


@dataclass(frozen=True, slots=True)
class Island:
    """The knots behind one anchor, from it outwards. `regulator` is the link that holds it, or empty."""

    anchor: str
    regulator: str
    knots: tuple[Knot, ...]


def islands(solution: Solution, source: str) -> tuple[Island, ...]:
    """Return the islands of a solution; one behind a regulator comes after the one it is fed from."""
    near: dict[str, list[tuple[str, str]]] = {n.node.id: [] for n in solution.nodes}
    held: list[LinkResult] = []
    for result in solution.links:
        link = result.link
        if result.state == OPEN:
            near[link.start].append((link.id, link.end))
            near[link.end].append((link.id, link.start))
        elif result.state == REGULATING:
            held.append(result)
    found: list[Island] = []
    taken: set[str] = set()
    waiting = [(source, "")]
    while waiting:
        anchor, regulator = waiting.pop(0)
        if anchor in taken:
            continue
        knots = _knots(near, anchor)
        here = {n for k in knots for n in k.nodes}
        taken |= here
        found.append(Island(anchor, regulator, knots))
        waiting += [(r.link.end, r.link.id) for r in held if r.link.start in here]
    return tuple(found)


def _knots(near: dict[str, list[tuple[str, str]]], anchor: str) -> tuple[Knot, ...]:
    """Return the knots reached from an anchor, by depth-first search for links without a way around."""
    order, low, came = _searched(near, anchor)
    knot_of: dict[str, Knot] = {}
    knots: list[Knot] = []
    for node in order:
        edge, above = came[node]
        if not edge or low[node] > order[above]:
            knot = Knot(entry=node, parent=edge, above=above)
            knots.append(knot)
        else:
            knot = knot_of[above]
        knot.nodes.append(node)
        knot_of[node] = knot
    bridges = {k.parent for k in knots}
    for edge, node in _once(near, order):
        if edge not in bridges:
            knot_of[node].links.append(edge)
    return tuple(knots)


def _once(near: dict[str, list[tuple[str, str]]], nodes: Iterable[str]) -> list[tuple[str, str]]:
    """Return each link of some nodes once, with one of its nodes."""
    return list({edge: (edge, node) for node in nodes for edge, _ in near[node]}.values())


def _searched(
    near: dict[str, list[tuple[str, str]]], anchor: str
) -> tuple[dict[str, int], dict[str, int], dict[str, tuple[str, str]]]:
    """Return each node's place in the search, the earliest it reaches around its own link, how it came."""
    order = {anchor: 0}
    low = {anchor: 0}
    came = {anchor: ("", "")}
    stack = [(anchor, iter(near[anchor]))]
    while stack:
        node, ways = stack[-1]
        step = next(ways, None)
        if step is None:
            stack.pop()
            if stack:
                above = stack[-1][0]
                low[above] = min(low[above], low[node])
            continue
        edge, other = step
        if other not in order:
            order[other] = low[other] = len(order)
            came[other] = (edge, node)
            stack.append((other, iter(near[other])))
        elif edge != came[node][0]:
            low[node] = min(low[node], order[other])
    return order, low, came
