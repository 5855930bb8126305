"""Facts of heads and drip areas: the pressure they get, how far they throw, what they should not wet."""

from __future__ import annotations

from dataclasses import replace

from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import extreme, given, inputs, known, row, stated, unknown, worked
from plangen.hydraulics.results import CaseResult, OutletResult
from plangen.model.waterworks import DripArea, Head
from plangen.quantity.dimension import head_to_pressure_pa

_CARRIES = {"spray", "rotor", "bubbler", "quick-coupler"}


def head_rows(survey: Survey) -> list[Row]:
    """Return one row for each head that is not removed."""
    zone_kind = {z.name: z.kind for z in survey.design.zones}
    rows = []
    for head in survey.design.heads:
        if head.state == "removed":
            continue
        kind = head.part.kind if head.part.kind in _CARRIES else "spray"
        stated_kind = zone_kind.get(head.zone, "")
        values = {
            "kind": known(kind),
            "zone": known(head.zone),
            "state": known(head.state),
            **_pressures(survey, head),
            **_throw(survey, head),
            "arc_known": known(head.arc_known),
            "nozzle_pressure": _at_nozzle(survey, head),
            "check_valve": known(head.part.check_valve, f"part {head.part.name}"),
            "below_highest_of_zone": _below_highest(survey, head),
            "matches_zone": known(stated_kind in ("mixed", kind), f"{kind} in a {stated_kind} zone"),
        }
        rows.append(row("head", head.name, head.span, values))
    return rows


def drip_rows(survey: Survey) -> list[Row]:
    """Return one row for each drip area that is not removed."""
    rows = []
    for drip in survey.design.drips:
        if drip.state == "removed":
            continue
        values = _pressures(survey, drip)
        values.pop("pressure_range_known")
        values.pop("best_pressure_stated")
        rows.append(
            row(
                "drip",
                drip.name,
                drip.span,
                {
                    "zone": known(drip.zone),
                    **values,
                    "strained": _passed(survey, drip, "strainer"),
                    "regulated": _passed(survey, drip, "regulator"),
                },
            )
        )
    return rows


def _pressures(survey: Survey, outlet: Head | DripArea) -> dict[str, Value]:
    part, results = outlet.part, survey.outlets.get(outlet.name, ())
    low, high = part.pressure_low, part.pressure_high
    least = most = unknown(*survey.why_unsolved(outlet.zone))
    if results:
        least, most = _extreme(results, largest=False), _extreme(results, largest=True)
    silent = f"the pressure range of {part.name} is not stated"
    return {
        "pressure": least,
        "highest_pressure": most,
        "least_pressure_stated": stated("least pressure", low, silent),
        "most_pressure_stated": stated("greatest pressure", high, silent),
        "pressure_range_known": known(low is not None and high is not None),
        "best_pressure_stated": stated(
            "best pressure", part.pressure_best, f"the best pressure of {part.name} is not stated"
        ),
    }


def _extreme(results: tuple[tuple[CaseResult, OutletResult], ...], *, largest: bool) -> Value:
    told = (
        (head_to_pressure_pa(o.pressure_m), f"load case {case.case}", case.basis.pressure(o.node))
        for case, o in results
    )
    return extreme(told, largest=largest)


def _throw(survey: Survey, head: Head) -> dict[str, Value]:
    reach = survey.reaches.get(head.name)
    if reach is None:
        lost = unknown(f"the throw of {head.name} was not measured")
        return dict.fromkeys(
            ("radius", "spacing", "spacing_over_radius", "overspray", "overspray_onto", "hardscape_distance"),
            lost,
        )
    no_radius = unknown(f"throw of {head.name}: {reach.radius_basis or 'its radius is not stated'}")
    if not survey.outlets.get(head.name):
        # the data sheet's radius holds within its pressures, and here the pressure is not known
        no_radius = unknown(*survey.why_unsolved(head.zone))
        reach = replace(reach, radius_m=None, spacing_ratio=None)
    alone = unknown(f"{head.name} has no other head of its zone near it")
    over = max((depth for _, depth in reach.overspray), default=0.0)
    onto = ", ".join(name for name, _ in reach.overspray)
    wet = worked(over, f"onto {onto}" if onto else "stays on its planting", reach.inputs)
    if not reach.overspray_known:
        wet = unknown(f"the arc of {head.name} or the lot is not known")
    if reach.radius_m is None:
        wet = no_radius
    return {
        "radius": no_radius
        if reach.radius_m is None
        else worked(reach.radius_m, reach.radius_basis, reach.inputs),
        "spacing": alone
        if reach.nearest_m is None
        else worked(reach.nearest_m, f"to {reach.nearest_head}", ()),
        "spacing_over_radius": (no_radius if reach.radius_m is None else alone)
        if reach.spacing_ratio is None
        else worked(reach.spacing_ratio, f"to {reach.nearest_head}", reach.inputs),
        "overspray": wet,
        "overspray_onto": known(onto or "nothing") if reach.overspray_known else wet,
        "hardscape_distance": unknown("no paving or building is drawn")
        if reach.hardscape_m is None
        else worked(reach.hardscape_m, f"to {reach.hardscape}", ()),
    }


def _at_nozzle(survey: Survey, head: Head) -> Value:
    """Return the least pressure past a regulating body: its setting where more arrives."""
    results = survey.outlets.get(head.name, ())
    if not results:
        return unknown(*survey.why_unsolved(head.zone))
    least, setting = _extreme(results, largest=False), head.part.regulated
    if setting is None or not isinstance(least.value, float) or least.value <= setting.si:
        return least
    held = inputs(given(f"regulated pressure of {head.part.name}", setting))
    return worked(setting.si, "its regulating body's setting", held)


def _below_highest(survey: Survey, head: Head) -> Value:
    """Return how far a head lies under the highest head of its zone; not known off the spot grades."""
    zone = [h.name for h in survey.zone_heads[head.zone] if h.state != "removed"]
    levels = {n: survey.levels[n] for n in zone if n in survey.levels}
    blind = sorted(n for n in zone if n not in levels or levels[n].elevation_m is None)
    if blind:
        return unknown(f"the level of {', '.join(blind[:4])} is not known")
    known_levels = {n: h.elevation_m for n, h in levels.items() if h.elevation_m is not None}
    highest = max(known_levels, key=lambda n: (known_levels[n], n))
    basis = (*levels[head.name].inputs, *levels[highest].inputs)
    below = known_levels[highest] - known_levels[head.name]
    return worked(below, f"highest of {head.zone}: {highest}", dict.fromkeys(basis))


def _passed(survey: Survey, drip: DripArea, kind: str) -> Value:
    pipe = survey.path.pipes.get(drip.pipe)
    start = survey.path.pipe_start(pipe) if pipe else ""
    device = survey.path.devices.get(start)
    if device is not None and device.kind == kind:
        return known(True, start)
    guarded = survey.path.guarded(start, (kind,))
    if guarded is None:
        return unknown(f"no path leads from the supply to {drip.name}")
    return known(guarded, f"a {kind} stands before it" if guarded else f"no {kind} stands before it")
