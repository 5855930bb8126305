"""Watering in the peak month: minutes a week by zone, cycles with rests between, hours against the window.

    minutes per week = 60 x ET x plant factor x 7 days / (rate x (0.4 + 0.6 DU))

Sources: run time as depth over rate, Center for Irrigation Technology, California State University, Fresno,
Wateright; the multiplier 1 / (0.4 + 0.6 DU of the lowest quarter), irrigation trade practice, from memory.
No rain is credited. Cycles: where the rate is over what the soil takes, a watering is cut into
ceil(rate / intake) equal cycles, each followed by a rest that brings the mean rate down to the intake
(common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.hydraulics.results import Hydraulics, Input
from plangen.layout.inputs import merged, stated
from plangen.layout.results import AreaCoverage, ScheduleLine, WateringWindow
from plangen.layout.soil import intake_ms
from plangen.model.design import Design
from plangen.model.site import Area, Tree
from plangen.model.waterworks import Zone

WEEK_S = 7 * 86400.0
# Drip: evenness is not computed, so this stands for it. Model Water Efficient Landscape Ordinance,
# 23 CCR 492, irrigation efficiency of drip; from memory.
DRIP_EFFICIENCY = 0.81
ZoneFlow = tuple[float, tuple[Input, ...]]  # m3/s, and what it rests on


@dataclass(frozen=True, slots=True)
class ZoneWatering:
    """What a zone waters, as far as it is known."""

    rate_ms: float | None
    low_quarter: float | None
    factor: float | None
    intake_ms: float | None
    missing: tuple[str, ...]
    notes: tuple[str, ...]
    rate_inputs: tuple[Input, ...]
    even_inputs: tuple[Input, ...]
    factor_inputs: tuple[Input, ...]
    spread: bool = True  # False: at the foot of trees, where the rate stands for volume over canopy


def measure_schedule(
    design: Design, hydraulics: Hydraulics, coverage: Sequence[AreaCoverage]
) -> tuple[tuple[ScheduleLine, ...], WateringWindow]:
    """Return each zone's watering and the sum of all against the window."""
    by_area = {c.area: c for c in coverage}
    flows = zone_flows(hydraulics)
    lines = tuple(_line(design, zone, by_area, flows.get(zone.name)) for zone in design.zones)
    return lines, _window(design, lines)


def zone_flows(hydraulics: Hydraulics) -> dict[str, ZoneFlow]:
    """Return the flow of each zone that was solved, running alone, with what it rests on."""
    return {
        c.zones[0]: (sum(o.flow_m3s for o in c.outlets), c.basis.outflow(*(o.node for o in c.outlets)))
        for c in hydraulics.cases
        if len(c.zones) == 1
    }


def _line(
    design: Design, zone: Zone, by_area: dict[str, AreaCoverage], flow: ZoneFlow | None
) -> ScheduleLine:
    control = design.control
    et = control.reference_et if control else None
    water = watering_of(design, zone, by_area, flow)
    missing = list(water.missing)
    if et is None:
        missing.append("reference ET")
    inputs = merged(stated("reference ET", et), water.factor_inputs, water.rate_inputs, water.even_inputs)
    days = control.water_days.si if control and control.water_days and control.water_days.si > 0 else None
    if days is None:
        missing.append("watering days")
    depth = None if et is None or water.factor is None else et.si * water.factor * WEEK_S
    efficiency = efficiency_of(zone, water.low_quarter)
    if efficiency is None and water.rate_ms is not None:
        missing.append(f"evenness of {', '.join(zone.areas)}")
    minutes = None
    if depth is not None and water.rate_ms and efficiency:
        minutes = depth / (water.rate_ms * efficiency) / 60.0
    cycles, cycle_min, soak_min = cycles_of(minutes, days, water.rate_ms, water.intake_ms)
    volume = None if minutes is None or flow is None else flow[0] * minutes * 60.0
    notes = water.notes
    if zone.kind == "drip" and water.low_quarter is None:
        notes = (*notes, f"drip: efficiency {DRIP_EFFICIENCY:g} taken, evenness is not computed")
    return ScheduleLine(
        zone.name, water.rate_ms if water.spread else None, depth, minutes, cycles, cycle_min, volume,
        days, soak_min, water.low_quarter, efficiency, water.intake_ms, tuple(dict.fromkeys(missing)), notes,
        inputs, water.rate_inputs,
    )  # fmt: skip


def watering_of(
    design: Design, zone: Zone, by_area: dict[str, AreaCoverage], flow: ZoneFlow | None
) -> ZoneWatering:
    """Gather rate, evenness, plant factor and soil over the areas of a zone; the hardest area governs.

    Trees count where a zone waters nothing else.
    """
    if zone.trees and not zone.areas:
        return _at_trees(design, zone, flow)
    areas = [a for name in zone.areas if (a := design.area(name)) is not None]
    missing = [] if areas else [f"the planting that {zone.name} waters"]
    for area in areas:
        missing.extend(by_area[area.name].missing if area.name in by_area else ())
        missing.extend(() if area.plant_factor else (f"plant factor of {area.name}",))
        missing.extend(() if area.soil else (f"soil of {area.name}",))
        missing.extend(() if area.slope else (f"slope of {area.name}",))
    covers = [by_area[a.name] for a in areas if a.name in by_area]
    rates = [(c.mean_rate_ms, c.ground_m2) for c in covers if c.mean_rate_ms is not None]
    known = bool(areas) and len(rates) == len(areas)
    ground = sum(m2 for _, m2 in rates)
    uniform = [c.low_quarter for c in covers]
    factors = [a.plant_factor.si for a in areas if a.plant_factor]
    intakes, notes = _intakes(areas, missing)
    if len({round(f, 9) for f in factors}) > 1:
        notes.append("the thirstiest of its plantings governs")
    return ZoneWatering(
        rate_ms=sum(r * m2 for r, m2 in rates) / ground if known else None,
        low_quarter=None if not known or None in uniform else min(u for u in uniform if u is not None),
        factor=max(factors) if areas and len(factors) == len(areas) else None,
        intake_ms=min(intakes) if areas and len(intakes) == len(areas) else None,
        missing=tuple(missing),
        notes=tuple(notes),
        rate_inputs=merged(*(c.rate_inputs for c in covers)),
        even_inputs=merged(*(c.inputs for c in covers if c.low_quarter is not None)),
        factor_inputs=_factor_inputs(areas),
    )


def _at_trees(design: Design, zone: Zone, flow: ZoneFlow | None) -> ZoneWatering:
    """Gather the need of trees: the depth of the thirstiest over all their canopies, from the zone's flow.

    Estimated total water use, ETo x plant factor x hydrozone area / efficiency, with the canopy for the area:
    Model Water Efficient Landscape Ordinance, 23 CCR 490 ff., from memory. Soil and slope play no part.
    """
    trees = [t for t in design.site.trees if t.name in zone.trees]
    missing = [f"canopy of {t.name}" for t in trees if t.canopy is None]
    missing += [f"plant factor of {t.name}" for t in trees if t.plant_factor is None]
    missing += [] if flow else [f"flow of {zone.name}"]
    canopies = [t.canopy.si for t in trees if t.canopy is not None]
    factors = [t.plant_factor.si for t in trees if t.plant_factor is not None]
    known = flow is not None and len(canopies) == len(trees)
    ground = sum(math.pi * d * d / 4.0 for d in canopies)
    basis = merged(flow[1] if flow else (), *(stated(f"canopy of {t.name}", t.canopy) for t in trees))
    return ZoneWatering(
        rate_ms=flow[0] / ground if flow and known and ground > 0.0 else None,
        low_quarter=None,
        factor=max(factors) if len(factors) == len(trees) else None,
        intake_ms=None,
        missing=tuple(missing),
        notes=(f"trees: water for their canopies, efficiency {DRIP_EFFICIENCY:g} taken",),
        rate_inputs=basis,
        even_inputs=(),
        factor_inputs=_factor_inputs(trees),
        spread=False,
    )


def _factor_inputs(areas: Sequence[Area | Tree]) -> tuple[Input, ...]:
    """Return the plant factor that governs; those as great count with it."""
    stated_ = [(a.name, a.plant_factor) for a in areas if a.plant_factor is not None]
    most = max((f.si for _, f in stated_), default=0.0)
    return merged(*(stated(f"plant factor of {name}", f) for name, f in stated_ if f.si >= most))


def _intakes(areas: Sequence[Area], missing: list[str]) -> tuple[list[float], list[str]]:
    """Return what the soil of each area takes, and the table rows used as notes."""
    rates: list[float] = []
    notes: list[str] = []
    for area in areas:
        if not area.soil or area.slope is None:
            continue
        found = intake_ms(area.soil, area.slope.si, covered=area.kind == "turf")
        if found is None:
            missing.append(f"intake of the soil of {area.name}: `{area.soil}` is not in the table")
            continue
        rates.append(found[0])
        notes.append(f"soil intake of {area.name}: row `{found[1]}`")
    return rates, notes


def efficiency_of(zone: Zone, low_quarter: float | None) -> float | None:
    """Return what minutes are divided by: 0.4 + 0.6 DU, or the value of drip and trees; None: not known."""
    if low_quarter is not None:
        return 0.4 + 0.6 * low_quarter
    at_roots = zone.kind == "drip" or (zone.trees and not zone.areas)
    return DRIP_EFFICIENCY if at_roots else None


def cycles_of(
    minutes: float | None, days: float | None, rate_ms: float | None, intake: float | None
) -> tuple[int | None, float | None, float | None]:
    """Return cycles on a watering day, minutes of each, and least minutes of rest between two."""
    if minutes is None or days is None or rate_ms is None or intake is None:
        return None, None, None
    excess = rate_ms / intake
    cycles = max(1, math.ceil(excess - 1e-9))
    each = minutes / days / cycles
    return cycles, each, each * (excess - 1.0) if cycles > 1 else 0.0


def _window(design: Design, lines: Sequence[ScheduleLine]) -> WateringWindow:
    """Return the minutes of all zones on a watering day, one zone after the other, and the window."""
    control = design.control
    window = control.window if control else None
    days = stated("watering days", control.water_days if control else None)
    inputs = merged(stated("watering window", window), days, *(line.inputs for line in lines))
    missing = tuple(f"minutes of {line.zone}" for line in lines if line.minutes_per_week is None)
    if window is None:
        missing = (*missing, "watering window")
    per_day = [
        line.minutes_per_week / line.days
        for line in lines
        if line.minutes_per_week is not None and line.days is not None
    ]
    total = sum(per_day) if lines and len(per_day) == len(lines) else None
    allowed = None if window is None else window.si / 60.0
    fits = None if total is None or allowed is None else total <= allowed + 1e-9
    return WateringWindow(total, allowed, fits, missing, inputs)
