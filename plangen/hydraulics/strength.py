"""Pipes against static pressure and surge at their temperature, slow valves, meters by capacity."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.budget import way_to
from plangen.hydraulics.friction import surge_m, wave_speed_ms
from plangen.hydraulics.results import CaseResult, PipeCheck
from plangen.hydraulics.studies import Closing, MeterLoad, Strength
from plangen.hydraulics.temperature import temperature_factor
from plangen.quantity.dimension import GRAVITY_M_S2, pressure_to_head_m

# The formula of a rigid water column holds for closing times well over the time a wave takes there and back.
SLOW_TIMES = 10.0


def strengths(ready: Assembly, checks: Sequence[PipeCheck]) -> tuple[Strength, ...]:
    """Return each pipe's static pressure plus sudden surge against its rating at the stated temperature."""
    source = ready.design.source
    stated = source.temperature if source is not None else None
    sizes = {p.name: p.size for p in ready.design.pipes}
    found = []
    for check in checks:
        size = sizes[check.pipe]
        factor = temperature_factor(size, stated.si) if stated is not None else None
        missing = []
        if not check.static_known:
            missing.append("the static pressure or a ground level")
        if not check.flow_known:
            missing.append("the flow, since a case was not solved")
        if check.surge_m is None:
            missing.append(f"the stiffness of {size.family}")
        rating = None if size.rating_pa is None else pressure_to_head_m(size.rating_pa)
        if rating is None:
            missing.append(f"the rating of {size.family} {size.nominal}")
        if stated is None:
            missing.append("the highest temperature (`temperature` of the source)")
        elif factor is None:
            missing.append(f"the factor of {size.family} at {stated.written}")
        static = check.static_pressure_m if check.static_known else None
        surge = check.surge_m if check.flow_known else None
        holds = None
        if static is not None and surge is not None and rating is not None and factor is not None:
            holds = static + surge <= rating * factor
        found.append(Strength(check.pipe, static, surge, rating, factor, holds, tuple(missing)))
    return tuple(found)


def closings(ready: Assembly, cases: Sequence[CaseResult]) -> tuple[Closing, ...]:
    """Return for each zone valve, in its own case, the surge of a sudden stop and of its stated closing."""
    found = []
    for case in cases:
        zone = next((z for z in ready.design.zones if (z.name,) == case.zones), None)
        bridge = ready.wiring.bridges.get(zone.valve) if zone is not None else None
        if bridge is not None:
            found.append(_closing(ready, case, bridge.device.name, bridge.start))
    return tuple(found)


def _closing(ready: Assembly, case: CaseResult, valve: str, node: str) -> Closing:
    length = there = momentum = sudden = 0.0
    stiff = True
    for result, _ in way_to(case.solution, ready.supply.node, node):
        leg = ready.wiring.legs.get(result.link.id)
        if leg is None:
            continue
        size = leg.pipe.size
        length += result.link.length_m
        momentum += result.link.length_m * result.velocity_ms
        if size.modulus_pa is None:
            stiff = False
            continue
        wave = wave_speed_ms(size.modulus_pa, size.bore_m, size.wall_m)
        there += result.link.length_m / wave
        sudden = max(sudden, surge_m(wave, result.velocity_ms))
    device = next(d for d in ready.design.devices if d.name == valve)
    stated = device.part.closing_time if device.part is not None else None
    critical = 2.0 * there if stiff else None
    slow = None
    if stated is None:
        note = "closing time not stated: the sudden stop stands"
    elif critical is None:
        note = "the stiffness of a pipe on the way is not known"
    elif stated.si < SLOW_TIMES * critical:
        note = f"closes in less than {SLOW_TIMES:g} times the critical time: the sudden stop stands"
    else:
        slow = momentum / (GRAVITY_M_S2 * stated.si)
        note = "slow closing: rigid water column, valve shutting evenly"
    closing = None if stated is None else stated.si
    return Closing(valve, length, critical, closing, sudden if stiff else None, slow, note)


def meter_loads(ready: Assembly, cases: Sequence[CaseResult]) -> tuple[MeterLoad, ...]:
    """Return the greatest flow through each meter against the most its data sheet allows."""
    found = []
    for bridge in sorted(ready.wiring.bridges.values(), key=lambda b: b.device.name):
        if bridge.device.kind != "meter":
            continue
        name = bridge.device.name
        flows = [
            (abs(r.flow_m3s), case.case) for case in cases for r in case.solution.links if r.link.id == name
        ]
        if not flows:
            continue
        flow, case_name = max(flows)
        part = bridge.device.part
        most = part.flow_high.si if part is not None and part.flow_high is not None else None
        found.append(MeterLoad(name, case_name, flow, most, None if most is None else flow <= most))
    return tuple(found)
