"""Which zones run together, and which part of the wiring carries water then. Closed branches are left out.

The part that every case shares is found once; a case adds the way to its valves and what lies behind them,
so the work for a case grows with the case and not with the whole design.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.results import Failure
from plangen.hydraulics.wiring import Wiring
from plangen.model.design import Design
from plangen.model.waterworks import Zone

_Way = tuple[str, str]  # (edge id, node at its other end)


@dataclass(frozen=True, slots=True)
class Flowing:
    """What carries water in one case: ids of legs, bridges and tappings, in the order of names."""

    edges: tuple[str, ...]
    nodes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Branches:
    """The wiring as branches: `core` is always there, `back` leads from a pruned node towards the core."""

    near: dict[str, tuple[_Way, ...]]
    valves: frozenset[str]
    core_nodes: frozenset[str]
    core_edges: frozenset[str]
    back: dict[str, _Way]
    outlets: dict[str, frozenset[str]]  # by zone


def zone_sets(design: Design) -> tuple[tuple[str, ...], ...]:
    """Return each zone alone, then each largest set of zones that may all run together, by name."""
    names = tuple(z.name for z in design.zones)
    with_: dict[str, set[str]] = {name: set() for name in names}
    for zone in design.zones:
        for other in zone.runs_with:
            if other in with_ and other != zone.name:
                with_[zone.name].add(other)
                with_[other].add(zone.name)
    pairs = {name for name in names if with_[name]}
    sets = sorted(tuple(n for n in names if n in found) for found in _largest(set(), pairs, set(), with_))
    return (*((n,) for n in names), *sets)


def _largest(chosen: set[str], open_: set[str], done: set[str], with_: dict[str, set[str]]) -> list[set[str]]:
    """Return the largest sets in which each may run with each (Bron and Kerbosch 1973, with pivot)."""
    if not open_:
        return [chosen] if chosen and not done else []
    pivot = max(sorted(open_ | done), key=lambda n: len(with_[n] & open_))
    found: list[set[str]] = []
    for name in sorted(open_ - with_[pivot]):
        found += _largest({*chosen, name}, open_ & with_[name], done & with_[name], with_)
        open_ = open_ - {name}
        done = done | {name}
    return found


def branches(design: Design, wiring: Wiring, source: str) -> Branches:
    """Return the branches of a wiring, seen from the source."""
    valves = frozenset(z.valve for z in design.zones)
    near: dict[str, list[_Way]] = {node: [] for node in wiring.places}
    joins = [(leg.id, leg.start, leg.end) for leg in wiring.legs.values()]
    joins += [(b.device.name, b.start, b.end) for b in wiring.bridges.values() if not b.device.closed]
    joins += [(t.node, t.joint, t.node) for t in wiring.tappings.values()]
    for edge, a, b in joins:
        near[a].append((edge, b))
        near[b].append((edge, a))
    ways = {node: tuple(found) for node, found in near.items()}
    shut = valves | frozenset(wiring.tappings)
    nodes = _reached(ways, source, shut, frozenset()) if source in ways else frozenset()
    keep = {source, design.house.name if design.house else source}
    back = _prune(ways, nodes, shut, keep)
    core = nodes - back.keys()
    edges = frozenset(e for n in core for e, other in ways[n] if other in core and e not in shut)
    by_zone: dict[str, set[str]] = {z.name: set() for z in design.zones}
    for node, tapping in wiring.tappings.items():
        by_zone.setdefault(tapping.outlet.zone, set()).add(node)
    outlets = {zone: frozenset(found) for zone, found in by_zone.items()}
    return Branches(ways, valves, frozenset(core), edges, back, outlets)


def flowing(found: Branches, wiring: Wiring, zones: tuple[Zone, ...]) -> Flowing | Failure:
    """Return what carries water when these zones run, or the failure that names what is cut off."""
    case = case_name(zones)
    nodes, edges = set(found.core_nodes), set(found.core_edges)
    for zone in zones:
        bridge = wiring.bridges.get(zone.valve)
        if bridge is None or bridge.device.closed or not _reaches_core(found, bridge.start):
            message = f"no water reaches the valve of zone {zone.name}"
            return Failure(case, "cut-off", message, (zone.valve or zone.name,))
        at = bridge.start
        while at not in nodes:
            edge, other = found.back[at]
            nodes.add(at)
            edges.add(edge)
            at = other
        outlets = found.outlets[zone.name]
        shut = found.valves
        behind = _reached(found.near, bridge.end, shut, frozenset(nodes))
        lost = sorted(outlets - behind)
        if lost or not outlets:
            what = ", ".join(lost) if lost else f"zone {zone.name}, which has no outlets"
            return Failure(case, "cut-off", f"no water reaches {what}", tuple(n.split(".")[-1] for n in lost))
        heads = {n for n in behind if n in wiring.tappings}
        pruned = _prune(found.near, behind, shut, heads | {bridge.end})
        kept = behind - pruned.keys()
        edges |= {e for n in kept for e, other in found.near[n] if other in kept and e not in shut}
        edges.add(zone.valve)
        nodes |= kept
    return Flowing(tuple(sorted(edges)), tuple(sorted(nodes)))


def case_name(zones: tuple[Zone, ...]) -> str:
    """Return the name of a case: its zones."""
    return "+".join(z.name for z in zones)


def _reaches_core(found: Branches, node: str) -> bool:
    return node in found.core_nodes or node in found.back


def _reached(
    near: dict[str, tuple[_Way, ...]], start: str, shut: frozenset[str], stop: frozenset[str]
) -> frozenset[str]:
    seen = {start}
    queue = [start]
    while queue:
        for edge, other in near[queue.pop()]:
            if edge not in shut and other not in seen and other not in stop:
                seen.add(other)
                queue.append(other)
    return frozenset(seen)


def _prune(
    near: dict[str, tuple[_Way, ...]], nodes: frozenset[str], shut: frozenset[str], keep: set[str]
) -> dict[str, _Way]:
    """Return the nodes on dead ends, each with the way back towards what is left."""
    ways = {n: {(e, o) for e, o in near[n] if o in nodes and e not in shut} for n in nodes}
    queue = sorted(n for n in nodes if len(ways[n]) <= 1 and n not in keep)
    back: dict[str, _Way] = {}
    while queue:
        node = queue.pop()
        if node in back or not ways[node]:
            continue
        edge, other = next(iter(ways[node]))
        back[node] = (edge, other)
        ways[other].discard((edge, node))
        if len(ways[other]) == 1 and other not in keep:
            queue.append(other)
    return back
