"""Each pipe at its hardest: greatest velocity of all cases, static pressure, surge, volume.

The static pressure is the highest stated one and reaches every pipe as if all valves stood open and
nothing ran: what a pipe behind a zone valve may see when its outlets are plugged.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from plangen.geometry.point import Point, distance, point_along
from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.element_inputs import (
    WARMEST,
    bore_inputs,
    stiffness_input,
    warmth_inputs,
)
from plangen.hydraulics.friction import bore_area_m2, surge_m, velocity_ms, wave_speed_ms
from plangen.hydraulics.junctions import verticals_m
from plangen.hydraulics.network import LinkResult
from plangen.hydraulics.results import CaseResult, PipeCheck
from plangen.hydraulics.still_water import Reach, static_reach, unstated_laws
from plangen.hydraulics.temperature import temperature_factor
from plangen.hydraulics.wiring import Leg
from plangen.model.parts import PipeSize
from plangen.model.waterworks import Pipe
from plangen.quantity.dimension import FOOT_M, pressure_to_head_m
from plangen.quantity.evidence import Input, named

# Slow filling drives air out without surge; flushing must carry grit. Common practice.
FILL_MS = 1.0 * FOOT_M
FLUSH_MS = 2.5 * FOOT_M
# Speeds that differ by less come from flows that differ in the last bit only.
_EQUAL = 1e-9
_LEVEL_M = 1e-9
# How far apart the ground is looked at along a pipe when its lowest point is sought.
_STEP_M = 5.0


@dataclass(frozen=True, slots=True)
class _Running:
    """A leg at its fastest: speed, flow, case, and what the flow rests on."""

    speed_ms: float
    flow_m3s: float
    case: str
    inputs: tuple[Input, ...]


def pipe_checks(
    ready: Assembly, cases: tuple[CaseResult, ...], failed: frozenset[str]
) -> tuple[PipeCheck, ...]:
    """Return the check of each pipe, in the order of names; `failed` names the zones of unsolved cases."""
    hardest: dict[str, list[_Running]] = {}
    for case in cases:
        for result in case.solution.links:
            if result.link.kind == "pipe":
                _note(hardest.setdefault(result.link.object, []), case, result)
    reach = static_reach(ready)
    legs: dict[str, list[Leg]] = {}
    for leg in ready.wiring.legs.values():
        legs.setdefault(leg.pipe.name, []).append(leg)
    return tuple(
        replace(
            _check(ready, found[0].pipe, found, reach, hardest.get(name, [])),
            # A pipe of no zone carries water for all of them.
            flow_known=not failed & ({found[0].pipe.zone} if found[0].pipe.zone else failed),
        )
        for name, found in sorted(legs.items())
    )


def _note(fastest: list[_Running], case: CaseResult, result: LinkResult) -> None:
    """Keep the fastest leg of a pipe, and any that is as fast: equal flows differ in the last bit."""
    top = fastest[0].speed_ms if fastest else 0.0
    if result.velocity_ms > top * (1 + _EQUAL):
        fastest.clear()
    elif result.velocity_ms < top * (1 - _EQUAL) or result.velocity_ms == 0.0:
        return
    flow = abs(result.flow_m3s)
    fastest.append(_Running(result.velocity_ms, flow, case.case, case.basis.flow(result.link.id)))


def _check(
    ready: Assembly, pipe: Pipe, legs: list[Leg], reach: dict[str, Reach], fastest: list[_Running]
) -> PipeCheck:
    first = fastest[0] if fastest else _Running(0.0, 0.0, "", ())
    size = pipe.size
    length = sum(leg.length_m + sum(verticals_m(ready.wiring, leg)) for leg in legs)
    static, missing, static_inputs = _static_at_lowest(ready, pipe, legs, reach)
    wave = wave_speed_ms(size.modulus_pa, size.bore_m, size.wall_m) if size.modulus_pa else None
    area = bore_area_m2(size.bore_m)
    return PipeCheck(
        pipe=pipe.name,
        case=first.case,
        flow_m3s=first.flow_m3s,
        velocity_ms=first.speed_ms,
        static_pressure_m=static,
        surge_m=None if wave is None else surge_m(wave, velocity_ms(first.flow_m3s, size.bore_m)),
        wave_speed_ms=wave,
        rating_m=_rating_m(ready, size),
        volume_m3=area * length,
        length_m=length,
        static_missing=missing,
        fill_flow_m3s=FILL_MS * area,
        flush_flow_m3s=FLUSH_MS * area,
        flow_inputs=tuple(dict.fromkeys(i for r in fastest for i in r.inputs)),
        static_inputs=static_inputs,
        pipe_inputs=_pipe_inputs(ready, pipe),
    )


def _pipe_inputs(ready: Assembly, pipe: Pipe) -> tuple[Input, ...]:
    """Return what speed, surge and rating rest on besides flow and static pressure."""
    stiff = (stiffness_input(pipe.size),) if pipe.size.modulus_pa else ()
    source = ready.design.source
    warmest = source.temperature if source is not None else None
    # One that lowers nothing still decides that nothing is lowered.
    warm = (named(warmest, WARMEST),) if warmest is not None else warmth_inputs(ready.design, pipe.size)
    return (*bore_inputs(pipe), *stiff, *warm)


def _rating_m(ready: Assembly, size: PipeSize) -> float | None:
    """Return the rating at the highest temperature stated, as tabled at 73 F where none is stated."""
    if size.rating_pa is None:
        return None
    source = ready.design.source
    warmest = source.temperature if source is not None else None
    factor = 1.0 if warmest is None else temperature_factor(size, warmest.si)
    return None if factor is None else factor * pressure_to_head_m(size.rating_pa)


def _static_at_lowest(
    ready: Assembly, pipe: Pipe, legs: list[Leg], reach: dict[str, Reach]
) -> tuple[float, tuple[str, ...], tuple[Input, ...]]:
    """Return the greatest static pressure along a pipe, what keeps it from being known, what it rests on."""
    surface = ready.surface
    buried = not pipe.above_grade
    missing: dict[str, None] = {}
    if ready.supply.static_m is None:
        missing["the static pressure is not stated"] = None
    if buried and pipe.cover is None:
        missing[f"the cover of {pipe.name} is not stated"] = None
    depth = pipe.cover.si if pipe.cover is not None and buried else 0.0
    places: list[tuple[float, Point, Reach]] = []
    for leg in legs:
        at = max((reach[n] for n in (leg.start, leg.end) if n in reach), key=_by_head, default=None)
        for point in _looked_at(leg.points):
            ground = surface.elevation_m(point)
            if ground is None:
                missing[f"a part of {pipe.name} lies outside the spot grades"] = None
            if at is None:
                reasons = unstated_laws(ready) or (f"no water reaches {pipe.name}",)
                missing |= dict.fromkeys(reasons)
            if ground is not None and at is not None:
                places.append((at.head_m - ground + depth, point, at))
    if not places:
        return 0.0, tuple(missing), ()
    highest = max(p for p, _, _ in places)
    # On level ground several places are as low as any.
    found = (
        i for p, point, at in places if p >= highest - _LEVEL_M for i in (*at.inputs, *surface.inputs(point))
    )
    cover = (named(pipe.cover, f"cover of {pipe.name}"),) if pipe.cover is not None and buried else ()
    return highest, tuple(missing), tuple(dict.fromkeys((*found, *cover)))


def _by_head(reach: Reach) -> float:
    return reach.head_m


def _looked_at(points: tuple[Point, ...]) -> list[Point]:
    found = [points[0]]
    for a, b in pairwise(points):
        span = distance(a, b)
        steps = max(1, int(span / _STEP_M))
        between = (point_along((a, b), span * i / steps) for i in range(1, steps))
        found.extend(p for p in between if p is not None)
        found.append(b)
    return found
