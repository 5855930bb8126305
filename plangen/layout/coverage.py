"""How evenly each planting area is watered: rate on a grid, mean, uniformity, dry share.

An area watered by several zones gets the sum of their rates. Zones run one after the other; the sum is
what equal run times lay down, told as a rate. Throws are taken as flat and are not cut off by buildings.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from plangen.geometry.point import distance_to_polygon, polygon_area
from plangen.hydraulics.results import CaseResult, Hydraulics, Input, OutletResult
from plangen.layout.grid import Grid, cell_size_m, grid_over, low_quarter_uniformity, rain
from plangen.layout.inputs import merged
from plangen.layout.results import AreaCoverage
from plangen.layout.throw import SECTOR_KINDS, Throw
from plangen.model.design import Design
from plangen.model.site import Area
from plangen.model.waterworks import DripArea, Zone

DRY_SHARE_OF_MEAN = 0.1
# An outline that encloses less than a hand's breadth is a slip of the pen, not an area.
LEAST_GROUND_M2 = 0.01
# Less than this share of a head's water off an area comes from sums in another order.
_WHOLE = 1e-9


@dataclass(frozen=True, slots=True)
class _Water:
    """What one area gets: a rate for each cell in it, and the words for what is not known."""

    grid: Grid
    rates: dict[int, float]
    flow_m3s: float
    missing: tuple[str, ...]
    only_drip: bool
    from_outlets: tuple[OutletResult, ...]  # those whose water lands here
    thrown: tuple[Throw, ...]  # the heads among them that throw
    spilled: tuple[Throw, ...]  # the throws of which some falls elsewhere


def measure_coverage(
    design: Design, hydraulics: Hydraulics, throws: Sequence[Throw], outlets: Mapping[str, OutletResult]
) -> tuple[AreaCoverage, ...]:
    """Return the coverage of every planting area, in the order of the design."""
    by_zone: dict[str, list[Throw]] = defaultdict(list)
    for throw in throws:
        by_zone[throw.head.zone].append(throw)
    cases = {c.zones[0]: c for c in hydraulics.cases if len(c.zones) == 1}
    cell = cell_size_m(sum(abs(polygon_area(a.outline)) for a in design.site.planting))
    zones_of: dict[str, list[Zone]] = defaultdict(list)
    for zone in design.zones:
        for name in zone.areas:
            zones_of[name].append(zone)
    drips: dict[str, list[DripArea]] = defaultdict(list)
    for drip in design.drips:
        if drip.state != "removed":
            drips[drip.area].append(drip)
    found = []
    for area in design.site.planting:
        zones = zones_of[area.name]
        if abs(polygon_area(area.outline)) < LEAST_GROUND_M2:
            found.append(_no_ground(area, zones))
            continue
        heads = [t for z in zones for t in by_zone[z.name]]
        water = _water(area, cell, heads, drips[area.name], outlets, [z.name for z in zones])
        found.append(_read(area, zones, water, _flow_inputs(cases, zones, water.from_outlets)))
    return tuple(found)


def _water(
    area: Area,
    cell_m: float,
    heads: Iterable[Throw],
    drips: Sequence[DripArea],
    outlets: Mapping[str, OutletResult],
    zones: Sequence[str],
) -> _Water:
    grid = grid_over(area.outline, cell_m)
    rates = {i: 0.0 for i, here in enumerate(grid.inside) if here}
    missing: list[str] = []
    landed: list[str] = []
    sprayed: list[Throw] = []
    spilled: list[Throw] = []
    flow, thrown = 0.0, False
    for throw in heads:
        thrown = thrown or throw.head.part.kind != "quick-coupler"
        if throw.flow_m3s is None:
            missing.append(f"flow of {throw.head.name}: zone {throw.head.zone} is not solved")
        elif throw.head.part.kind == "bubbler":
            if _stands_in(throw, area):
                flow += _spread(rates, throw.flow_m3s, grid)
                landed.append(throw.head.name)
        elif throw.head.part.kind in SECTOR_KINDS:
            if throw.sector is None:
                why = throw.basis if throw.head.arc_known else "its arc is not stated"
                missing.append(f"throw of {throw.head.name}: {why}")
                continue
            if distance_to_polygon(throw.head.point, area.outline) > throw.sector.radius_m:
                continue
            laid = rain(throw.sector, throw.flow_m3s, grid)
            if laid:
                flow += throw.flow_m3s
                landed.append(throw.head.name)
                sprayed.append(throw)
            if laid and sum(laid.values()) * grid.cell_m2 < throw.flow_m3s * (1 - _WHOLE):
                spilled.append(throw)
            for index, rate in laid.items():
                rates[index] += rate
    for drip in drips:
        outlet = outlets.get(drip.name)
        if outlet is None:
            missing.append(f"flow of {drip.name}: zone {drip.zone} is not solved")
        elif drip.zone in zones:
            flow += _spread(rates, outlet.flow_m3s, grid)
            landed.append(drip.name)
    return _Water(grid, rates, flow, tuple(missing), bool(drips) and not thrown,
                  tuple(outlets[n] for n in landed), tuple(sprayed), tuple(spilled))  # fmt: skip


def _no_ground(area: Area, zones: Sequence[Zone]) -> AreaCoverage:
    names = tuple(z.name for z in zones)
    why = (f"the ground of {area.name}: its outline encloses none",)
    return AreaCoverage(area.name, names, 0.0, 0.0, None, None, None, 0.0, (), missing=why)


def _stands_in(throw: Throw, area: Area) -> bool:
    return distance_to_polygon(throw.head.point, area.outline) <= 0.05


def _spread(rates: dict[int, float], flow_m3s: float, grid: Grid) -> float:
    """Lay a flow evenly over an area's cells (drip and bubblers: flow over area) and return it."""
    if rates:
        rate = flow_m3s / (len(rates) * grid.cell_m2)
        for index in rates:
            rates[index] += rate
    return flow_m3s


def _flow_inputs(
    cases: Mapping[str, CaseResult], zones: Sequence[Zone], outlets: Sequence[OutletResult]
) -> tuple[Input, ...]:
    """Return what the flows of some outlets rest on, each in the case that runs its zone alone."""
    nodes = {o.node for o in outlets}
    alone = [cases[z.name] for z in zones if z.name in cases]
    return merged(*(c.basis.outflow(*(o.node for o in c.outlets if o.node in nodes)) for c in alone))


def _read(area: Area, zones: Sequence[Zone], water: _Water, flows: tuple[Input, ...]) -> AreaCoverage:
    """Return the coverage that a grid of rates amounts to; `flows` is what the flows of its water rest on."""
    names = tuple(z.name for z in zones)
    ground = abs(polygon_area(area.outline))
    missing = water.missing
    if zones and not missing and water.flow_m3s == 0:
        missing = (f"an outlet of {', '.join(names)} that wets {area.name}",)
    if not zones or missing:
        return AreaCoverage(
            area.name, names, ground, 0.0, None, None, None, water.grid.dx_m, (), water.grid.dy_m, 0.0,
            missing,
        )  # fmt: skip
    rates = tuple(water.rates.values())
    centres = water.grid.centres()
    mean = sum(rates) / len(rates)
    return AreaCoverage(
        area=area.name,
        zones=names,
        ground_m2=ground,
        flow_m3s=water.flow_m3s,
        mean_rate_ms=mean,
        # one figure for each square foot of dripline would be even by construction: it says nothing
        low_quarter=None if water.only_drip else low_quarter_uniformity(rates),
        dry_share=sum(r < DRY_SHARE_OF_MEAN * mean for r in rates) / len(rates),
        cell_m=water.grid.dx_m,
        grid=tuple((centres[i], rate) for i, rate in water.rates.items()),
        cell_y_m=water.grid.dy_m,
        landed_m3s=mean * len(rates) * water.grid.cell_m2,
        inputs=merged(flows, *(t.inputs for t in water.thrown)),
        rate_inputs=merged(flows, *(t.inputs for t in water.spilled)),
    )
