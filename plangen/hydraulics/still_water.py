"""The pressure everywhere when nothing runs: the highest that is stated, as if every valve stood open.

It is what a pipe behind a zone valve may see when its outlets are plugged. A regulator holds its setting, an
air gap lets no pressure through, and a pump adds what it gains at no flow.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.element_inputs import elevation_inputs, loss_inputs, setting_inputs
from plangen.hydraulics.friction import curve_covers, curve_value
from plangen.hydraulics.laws import Missing
from plangen.hydraulics.network import Link
from plangen.hydraulics.results import StaticPoint
from plangen.quantity.evidence import Input


@dataclass(frozen=True, slots=True, order=True)
class Reach:
    """A head that reaches a place when nothing runs, and what it rests on."""

    head_m: float
    inputs: tuple[Input, ...] = field(compare=False)


def static_heads(ready: Assembly) -> dict[str, float]:
    """Return the greatest head that reaches each node when nothing runs."""
    return {node: found.head_m for node, found in static_reach(ready).items()}


def static_reach(ready: Assembly) -> dict[str, Reach]:
    """Return the greatest head that reaches each node when nothing runs, with what it rests on.

    A node behind a device whose law is not stated is left out: `unstated_laws` says which those are.
    """
    supply = ready.supply
    top = supply.ground_m + (supply.static_m if supply.static_m is not None else supply.cases_m)
    near: dict[str, list[tuple[str, Link]]] = {}
    for edge, link in ready.links.items():
        if not isinstance(link, Link) or edge in ready.wiring.tappings:
            continue
        near.setdefault(link.start, []).append((link.end, link))
        if not link.one_way and link.kind not in ("regulator", "pump"):
            near.setdefault(link.end, []).append((link.start, link))
    found: dict[str, Reach] = {}
    passed: frozenset[str] = frozenset()
    queue = [(-top, supply.node, Reach(top, supply.static_inputs), passed)]
    while queue:
        _, node, reach, passed = heapq.heappop(queue)
        if node in found and found[node].head_m >= reach.head_m:
            continue
        found[node] = reach
        for other, link in near.get(node, ()):
            # A pump raises the head along its way, but not again and again around a loop.
            pumped = passed | {link.id} if link.kind == "pump" else passed
            after = None if link.id in passed else _behind(ready, link, reach)
            if after is not None and (other not in found or found[other].head_m < after.head_m):
                heapq.heappush(queue, (-after.head_m, other, after, pumped))
    return found


def _behind(ready: Assembly, link: Link, reach: Reach) -> Reach | None:
    """Return what comes through a link in the sense of its flow, or None where that is not known."""
    if link.kind == "pump":
        if not curve_covers(link.curve_m3s_m, 0.0):
            return None
        gain = curve_value(link.curve_m3s_m, 0.0)[0]
        stated = loss_inputs(ready.wiring.bridges[link.id], link, 0.0, ready.wiring)
        return Reach(reach.head_m + gain, (*reach.inputs, *stated))
    held = _held(ready, link)
    return reach if held is None or held.head_m > reach.head_m else held


def _held(ready: Assembly, link: Link) -> Reach | None:
    """Return the head that a regulator or an air gap leaves behind it, or None where it holds none."""
    level = ready.elevations[link.end].m
    if link.setting_m is None or level is None:
        return None
    place = ready.wiring.places[link.end]
    inputs = (
        *setting_inputs(ready.wiring.bridges[link.id].device),
        *ready.surface.inputs(place.point),
        *elevation_inputs(place, ready.wiring, ready.design),
    )
    return Reach(level + link.setting_m, inputs)


def unstated_laws(ready: Assembly) -> tuple[str, ...]:
    """Return what keeps the still pressure behind a device from being known, by the names of the devices."""
    found = []
    for edge in sorted(ready.wiring.bridges):
        link = ready.links[edge]
        if isinstance(link, Missing):
            found.append(link.message)
        elif link.kind == "pump" and not curve_covers(link.curve_m3s_m, 0.0):
            found.append(f"the gain of {link.object} at no flow is not stated")
    return tuple(found)


def static_points(ready: Assembly) -> tuple[StaticPoint, ...]:
    """Return the static pressure at the inlet of every device and at every named junction, by name.

    None is told where the static pressure is not stated.
    """
    if ready.supply.static_m is None:
        return ()
    heads = static_heads(ready)
    found = []
    for node in sorted(heads):
        place, level = ready.wiring.places[node], ready.elevations[node].m
        named = place.device is not None or node in (ready.supply.node, _house(ready))
        if named and not node.endswith(".out") and level is not None:
            found.append(StaticPoint(place.object, node, level, heads[node] - level))
    return tuple(found)


def _house(ready: Assembly) -> str:
    return ready.design.house.name if ready.design.house else ""
