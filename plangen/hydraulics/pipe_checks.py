"""Each pipe at its hardest: greatest velocity of all cases, static pressure, surge, volume.

The static pressure is the highest stated one and reaches every pipe as if all valves stood open and
nothing ran: what a pipe behind a zone valve may see when its outlets are plugged.
"""

from __future__ import annotations

import heapq
from dataclasses import replace
from itertools import pairwise

from plangen.geometry.point import Point, distance, point_along
from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.friction import bore_area_m2, surge_m, velocity_ms, wave_speed_ms
from plangen.hydraulics.junctions import verticals_m
from plangen.hydraulics.network import Link
from plangen.hydraulics.results import CaseResult, PipeCheck, StaticPoint
from plangen.hydraulics.temperature import temperature_factor
from plangen.hydraulics.wiring import Leg
from plangen.model.parts import PipeSize
from plangen.model.waterworks import Pipe
from plangen.quantity.dimension import FOOT_M, pressure_to_head_m
from plangen.terrain.surface import Surface

# Slow filling drives air out without surge; flushing must carry grit. Common practice.
FILL_MS = 1.0 * FOOT_M
FLUSH_MS = 2.5 * FOOT_M
# How far apart the ground is looked at along a pipe when its lowest point is sought.
_STEP_M = 5.0


def pipe_checks(
    ready: Assembly, cases: tuple[CaseResult, ...], failed: frozenset[str]
) -> tuple[PipeCheck, ...]:
    """Return the check of each pipe, in the order of names; `failed` names the zones of unsolved cases."""
    hardest: dict[str, tuple[float, float, str]] = {}
    for case in cases:
        for result in case.solution.links:
            if result.link.kind == "pipe":
                speed = result.velocity_ms
                # Only a case that is truly faster takes over: equal flows differ in the last bit.
                if speed > hardest.get(result.link.object, (0.0, 0.0, ""))[0] * (1 + 1e-9):
                    hardest[result.link.object] = (speed, abs(result.flow_m3s), case.case)
    heads = static_heads(ready)
    legs: dict[str, list[Leg]] = {}
    for leg in ready.wiring.legs.values():
        legs.setdefault(leg.pipe.name, []).append(leg)
    return tuple(
        replace(
            _check(ready, found[0].pipe, found, heads, hardest.get(name, (0.0, 0.0, ""))),
            # A pipe of no zone carries water for all of them.
            flow_known=not failed & ({found[0].pipe.zone} if found[0].pipe.zone else failed),
        )
        for name, found in sorted(legs.items())
    )


def _check(
    ready: Assembly, pipe: Pipe, legs: list[Leg], heads: dict[str, float], hardest: tuple[float, float, str]
) -> PipeCheck:
    speed, flow, case = hardest
    size = pipe.size
    length = sum(leg.length_m + sum(verticals_m(ready.wiring, leg)) for leg in legs)
    static, known = _static_at_lowest(ready.surface, pipe, legs, heads)
    wave = wave_speed_ms(size.modulus_pa, size.bore_m, size.wall_m) if size.modulus_pa else None
    area = bore_area_m2(size.bore_m)
    return PipeCheck(
        pipe=pipe.name,
        case=case,
        flow_m3s=flow,
        velocity_ms=speed,
        static_pressure_m=static,
        surge_m=None if wave is None else surge_m(wave, velocity_ms(flow, size.bore_m)),
        wave_speed_ms=wave,
        rating_m=_rating_m(ready, size),
        volume_m3=area * length,
        length_m=length,
        static_known=known and ready.supply.static_m is not None,
        fill_flow_m3s=FILL_MS * area,
        flush_flow_m3s=FLUSH_MS * area,
    )


def _rating_m(ready: Assembly, size: PipeSize) -> float | None:
    """Return the rating at the highest temperature stated, as tabled at 73 F where none is stated."""
    if size.rating_pa is None:
        return None
    source = ready.design.source
    warmest = source.temperature if source is not None else None
    factor = 1.0 if warmest is None else temperature_factor(size, warmest.si)
    return None if factor is None else factor * pressure_to_head_m(size.rating_pa)


def _static_at_lowest(
    surface: Surface, pipe: Pipe, legs: list[Leg], heads: dict[str, float]
) -> tuple[float, bool]:
    """Return the greatest static pressure along a pipe, and whether every elevation for it is known."""
    buried = not pipe.above_grade
    known = pipe.cover is not None or not buried
    depth = pipe.cover.si if pipe.cover is not None and buried else 0.0
    highest: float | None = None
    for leg in legs:
        head = max((heads[n] for n in (leg.start, leg.end) if n in heads), default=None)
        for point in _looked_at(leg.points):
            ground = surface.elevation_m(point)
            if ground is None or head is None:
                known = False
            elif highest is None or head - ground + depth > highest:
                highest = head - ground + depth
    return (0.0, False) if highest is None else (highest, known)


def _looked_at(points: tuple[Point, ...]) -> list[Point]:
    found = [points[0]]
    for a, b in pairwise(points):
        span = distance(a, b)
        steps = max(1, int(span / _STEP_M))
        between = (point_along((a, b), span * i / steps) for i in range(1, steps))
        found.extend(p for p in between if p is not None)
        found.append(b)
    return found


def static_heads(ready: Assembly) -> dict[str, float]:
    """Return the greatest head that reaches each node when nothing runs; a regulator holds its setting."""
    supply = ready.supply
    top = supply.ground_m + (supply.static_m if supply.static_m is not None else supply.design_m)
    near: dict[str, list[tuple[str, float | None]]] = {}
    for edge, link in ready.links.items():
        if not isinstance(link, Link) or edge in ready.wiring.tappings:
            continue
        level = _held_level(ready, link)
        near.setdefault(link.start, []).append((link.end, level))
        if not link.one_way and link.kind not in ("regulator", "pump"):
            near.setdefault(link.end, []).append((link.start, None))
    heads: dict[str, float] = {}
    queue = [(-top, supply.node)]
    while queue:
        head, node = heapq.heappop(queue)
        if node in heads:
            continue
        heads[node] = -head
        for other, level in near.get(node, ()):
            if other not in heads:
                heapq.heappush(queue, (head if level is None else max(head, -level), other))
    return heads


def _held_level(ready: Assembly, link: Link) -> float | None:
    if link.setting_m is None:
        return None
    after = ready.elevations[link.end].m
    return None if after is None else after + link.setting_m


def static_points(ready: Assembly) -> tuple[StaticPoint, ...]:
    """Return the static pressure at the inlet of every device and at every named junction, by name."""
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
