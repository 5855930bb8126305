"""What no water reaches: nodes that nothing joins to a source, and those that closed links shut in.

Each island of shut-in nodes is given a head, since nothing else holds one. At rest water stands in it at the
least head that keeps its links closed, or has run out down to its lowest outlet. Where something draws from
it by a fixed demand, the head is put so low that whatever can let water in opens; what then stays shut in is
not supplied.
"""

from __future__ import annotations

from collections.abc import Iterable

from plangen.hydraulics.network import CLOSED, OPEN, Network
from plangen.hydraulics.results import Failure
from plangen.hydraulics.work import DRY, Work

# Below its lowest node by so much, a shut-in demand opens whatever could feed it.
_DRAWN_DOWN_M = 10.0


def hold_islands(work: Work) -> None:
    """Hold the nodes of each island at its head; those held before are let go."""
    for node in work.shut_in:
        work.held[node] = False
    work.shut_in = []
    group = _groups(work)
    known = {group[node] for node, fixed in enumerate(work.held) if fixed}
    islands: dict[int, list[int]] = {}
    for node, of in enumerate(group):
        if of not in known:
            islands.setdefault(of, []).append(node)
    while islands:
        # An island beside another that has no head yet comes after it.
        ready = [of for of in islands if _doors(work, group, of, known)] or list(islands)
        of = ready[0]
        _hold(work, islands.pop(of), _doors(work, group, of, known))
        known.add(of)


def unsupplied(work: Work) -> Failure | None:
    """Return the failure of stated demands and pumps that closed links shut in."""
    network, shut_in = work.network, set(work.shut_in)
    names = tuple(n.id for i, n in enumerate(network.nodes) if i in shut_in and n.demand_m3s > 0.0)
    if names:
        message = f"no water comes to the stated demand at {', '.join(names)}: what leads there lets none in"
        return Failure(network.case, "demand-not-met", message, names)
    pumps = (k for k, link in enumerate(network.links) if link.kind == "pump" and work.starts[k] in shut_in)
    dry = tuple(network.links[k].object for k in pumps if work.state[k] == OPEN)
    if dry:
        message = f"no water comes to {', '.join(dry)}: what leads there lets none in"
        return Failure(network.case, "cut-off", message, dry)
    return None


def unfit_to_solve(network: Network) -> Failure | None:
    """Return the failure of a network with nodes that no link joins to a source, or twice held ones."""
    cut = _apart(network)
    if cut:
        return Failure(network.case, "cut-off", f"no water reaches {', '.join(cut)}", cut)
    ends = [link.end for link in network.links if link.kind == "regulator" and link.setting_m is not None]
    for node in sorted({end for end in ends if ends.count(end) > 1}):
        names = tuple(k.object for k in network.links if k.kind == "regulator" and k.end == node)
        message = f"{' and '.join(names)} hold the pressure of one place: how they share it is not known"
        return Failure(network.case, "regulators-joined", message, names)
    return None


def _apart(network: Network) -> tuple[str, ...]:
    """Return the nodes that no link joins to a source."""
    near: dict[str, list[str]] = {n.id: [] for n in network.nodes}
    for link in network.links:
        near[link.start].append(link.end)
        near[link.end].append(link.start)
    found = {s.node for s in network.sources}
    queue = list(found)
    while queue:
        for other in near[queue.pop()]:
            if other not in found:
                found.add(other)
                queue.append(other)
    return tuple(n.id for n in network.nodes if n.id not in found)


def _groups(work: Work) -> list[int]:
    """Return for each node a mark that all nodes joined to it by open links share."""
    group = list(range(len(work.head)))

    def root(node: int) -> int:
        while group[node] != node:
            group[node] = group[group[node]]
            node = group[node]
        return node

    for k, now in enumerate(work.state):
        if now == OPEN:
            group[root(work.starts[k])] = root(work.ends[k])
    return [root(node) for node in range(len(group))]


def _doors(work: Work, group: list[int], of: int, known: Iterable[int]) -> list[tuple[bool, float]]:
    """Return the closed links between an island and a known head: inward or not, and the head there."""
    found = []
    levels = {r.link: r.set_head_m for r in work.regulators}
    for k, now in enumerate(work.state):
        a, b = work.starts[k], work.ends[k]
        if now == CLOSED and group[b] == of and group[a] in known:
            least = work.head[a] - work.springs.get(k, 0.0)
            found.append((True, min(least, levels.get(k, least))))
        elif now == CLOSED and group[a] == of and group[b] in known:
            found.append((False, work.head[b] + work.springs.get(k, 0.0)))
    return found


def _hold(work: Work, nodes: list[int], doors: list[tuple[bool, float]]) -> None:
    inside = set(nodes)
    outlets = [o for o in work.outlets if o.node in inside]
    elevation = {n: work.network.nodes[n].elevation_m for n in nodes if n < len(work.network.nodes)}
    inward = [head for into, head in doors if into]
    outward = [head for into, head in doors if not into]
    head = work.head[nodes[0]]
    if any(work.demand[n] > 0.0 for n in nodes):
        head = min(elevation.values()) - _DRAWN_DOWN_M
    elif outlets:
        head = min(o.elevation_m for o in outlets)
    elif inward:
        head = max(inward)
    elif outward:
        head = min(outward)
    for outlet in outlets:
        outlet.part, outlet.flow, outlet.conductance, outlet.offset = DRY, 0.0, 0.0, 0.0
    # Water at rest has one head: held everywhere, nothing flows to meet a demand that nothing supplies.
    for node in nodes:
        work.held[node], work.head[node] = True, head
    work.shut_in += nodes
