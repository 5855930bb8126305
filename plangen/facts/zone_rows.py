"""Facts of zone valves, zones and planting areas, from the solved cases and the measured layout."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.facts.area_shape import least_width_m, paved_sides
from plangen.facts.assembly_rows import protected, reachable
from plangen.facts.supply_rows import flow_in_range, greatest_flow_through, spare_inputs
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import extreme, known, row, said, stated, unknown, worked
from plangen.facts.zone_spread import flow_spread, pressure_spread, rate_spread
from plangen.hydraulics.results import CaseResult, OutletResult
from plangen.model.site import Area, Tree
from plangen.model.waterworks import Zone
from plangen.quantity.dimension import head_to_pressure_pa
from plangen.quantity.evidence import Input


def valve_rows(survey: Survey) -> list[Row]:
    """Return one row for each zone valve."""
    used = {z.valve for z in survey.design.zones}
    rows = []
    for device in survey.path.devices.values():
        if device.kind != "valve":
            continue
        values = {
            "size": stated("size", device.size, f"the size of {device.name} is not stated"),
            "reachable": reachable(device),
            "has_zone": known(device.name in used),
            "flow": greatest_flow_through(survey, device.name),
            "flow_in_range": flow_in_range(survey, device),
            "state": known(device.state),
        }
        rows.append(row("valve", device.name, device.span, values))
    return rows


def zone_rows(survey: Survey) -> list[Row]:
    """Return one row for each zone."""
    kinds: dict[str, set[str]] = {}
    for head in (h for h in survey.design.heads if h.state != "removed"):
        kinds.setdefault(head.zone, set()).add(head.part.kind)
    for drip in (d for d in survey.design.drips if d.state != "removed"):
        kinds.setdefault(drip.zone, set()).add("drip")
    return [
        row("zone", z.name, z.span, _zone_values(survey, z, tuple(sorted(kinds.get(z.name, ())))))
        for z in survey.design.zones
    ]


def coverage_rows(survey: Survey) -> list[Row]:
    """Return one row for each planting area."""
    found = {c.area: c for c in survey.layout.coverage}
    rows = []
    for area in survey.design.site.planting:
        cover = found.get(area.name)
        kinds = sorted({z.kind for z in survey.design.zones if area.name in z.areas})
        why = survey.rooted(cover.missing if cover else ()) or (
            f"how evenly {area.name} is watered was not worked out",
        )
        basis = cover.inputs if cover else ()
        values = {
            "watered": known(bool(kinds), ", ".join(kinds) or "no zone says it waters it"),
            "sprinkled": known(any(k != "drip" for k in kinds), ", ".join(kinds)),
            "distribution_uniformity": _optional(cover.low_quarter if cover else None, basis, why),
            "dry_share": _optional(cover.dry_share if cover else None, basis, why),
            "application_rate": _optional(
                cover.mean_rate_ms if cover else None, cover.rate_inputs if cover else (), why
            ),
            "soil_given": said(area.soil),
            "plant_given": said(area.plant),
            "least_width": worked(least_width_m(area), "largest circle that fits in it", ()),
            "paved_sides": _paved_sides(survey, area),
            "slope": stated("slope", area.slope, f"the slope of {area.name} is not stated"),
        }
        rows.append(row("coverage", area.name, area.span, values))
    return rows


def _paved_sides(survey: Survey, area: Area) -> Value:
    count, names = paved_sides(area, survey.design.site.paving)
    return known(float(count), f"along {', '.join(names)}" if names else "no paving along it")


def _optional(value: float | None, basis: tuple[Input, ...], why: tuple[str, ...]) -> Value:
    return unknown(*why) if value is None else worked(value, "", basis)


def _zone_values(survey: Survey, zone: Zone, kinds: tuple[str, ...]) -> dict[str, Value]:
    case = survey.zone_cases.get(zone.name)
    why = survey.why_unsolved(zone.name)
    areas = [a for n in zone.areas if (a := survey.design.area(n)) is not None]
    trees = [t for t in survey.design.site.trees if t.name in zone.trees]
    line = survey.schedule.get(zone.name)
    rate = unknown(*(survey.rooted(line.missing) if line and line.missing else why))
    if line is not None and line.rate_ms is not None:
        rate = worked(line.rate_ms, "mean over the ground it waters", line.rate_inputs)
    outlets = case.outlets if case else ()
    return {
        "kind": known(zone.kind),
        "outlet_kinds": known(kinds),
        "kinds_of_outlet": known(float(len(kinds))),
        "protected": protected(survey, zone.valve),
        "solved": known(case is not None, "" if case else "; ".join(why)),
        "flow": _flow(case) if case else unknown(*why),
        "least_pressure": _least_pressure(survey, zone, outlets),
        "least_spare_pressure": _least_spare(survey, zone, outlets),
        "pressure_spread": pressure_spread(survey, zone, case, why),
        "flow_spread": flow_spread(survey, zone, case, why),
        "rate_spread": rate_spread(survey, zone, case, why),
        "application_rate": rate,
        "kinds_of_plant": _kinds_said(
            [*areas, *trees], "plant", [*(a.plant for a in areas), *(t.label for t in trees)]
        ),
        "kinds_of_exposure": _kinds_said(areas, "exposure", [a.exposure for a in areas]),
        "areas_given": known(bool(zone.areas or zone.trees)),
        "low_head_volume": _low_head(survey, zone),
    }


def _low_head(survey: Survey, zone: Zone) -> Value:
    low = survey.low_heads.get(zone.name)
    if low is None or low.drained_m3 is None:
        return unknown(low.missing if low is not None else f"the heights of {zone.name} were not measured")
    how = f"at {low.outlet}" if low.outlet else "every outlet has a check valve"
    return worked(low.drained_m3, how, low.inputs)


def _flow(case: CaseResult) -> Value:
    inputs = case.basis.outflow(*(o.node for o in case.outlets))
    return worked(case.total_flow_m3s, f"load case {case.case}", inputs)


def _least_pressure(survey: Survey, zone: Zone, outlets: tuple[OutletResult, ...]) -> Value:
    if not outlets:
        return unknown(*survey.why_unsolved(zone.name))
    basis = survey.zone_cases[zone.name].basis
    told = ((head_to_pressure_pa(o.pressure_m), f"at {o.name}", basis.pressure(o.node)) for o in outlets)
    return extreme(told, largest=False)


def _least_spare(survey: Survey, zone: Zone, outlets: tuple[OutletResult, ...]) -> Value:
    if not outlets:
        return unknown(*survey.why_unsolved(zone.name))
    silent = sorted(o.name for o in outlets if o.low_m is None)
    if silent:
        return unknown(f"the least pressure of {', '.join(silent[:4])} is not stated")
    case = survey.zone_cases[zone.name]
    told = (
        (head_to_pressure_pa(o.spare_m), f"at {o.name}", spare_inputs(survey, case, o))
        for o in outlets
        if o.spare_m is not None
    )
    return extreme(told, largest=False)


def _kinds_said(areas: Sequence[Area | Tree], what: str, words: list[str]) -> Value:
    if not areas:
        return unknown("no planting is named that the zone waters")
    silent = [a.name for a, said_ in zip(areas, words, strict=True) if not said_]
    if silent:
        return unknown(f"the {what} of {', '.join(silent)} is not stated")
    kinds = sorted(set(words))
    return known(float(len(kinds)), ", ".join(kinds))
