"""How alike the outlets of one zone are: pressure, flow against the data sheet, application rate.

A regulating body's nozzle is taken at its setting once the pressure before it is above that.
"""

from __future__ import annotations

from plangen.facts.survey import Survey
from plangen.facts.values import Value
from plangen.facts.worth import given, inputs, unknown, worked
from plangen.hydraulics.results import CaseResult, OutletResult
from plangen.model.waterworks import Head, Zone
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.evidence import Input

_Share = tuple[float, str, tuple[Input, ...]]


def pressure_spread(survey: Survey, zone: Zone, case: CaseResult | None, why: tuple[str, ...]) -> Value:
    """Return greatest less least nozzle pressure over their mean."""
    if case is None or not case.outlets:
        return unknown(*why)
    return _spread([_nozzle(survey, case, o) for o in case.outlets], case, "nozzle pressure")


def flow_spread(survey: Survey, zone: Zone, case: CaseResult | None, why: tuple[str, ...]) -> Value:
    """Return greatest less least of each head's flow as a share of its stated flow, over their mean."""
    if case is None or not case.outlets:
        return unknown(*why)
    shares: list[_Share] = []
    silent = []
    for outlet in case.outlets:
        head = survey.heads.get(outlet.name)
        if head is None:
            continue
        stated = stated_flow(head)
        if stated is None:
            silent.append(outlet.name)
        else:
            shares.append((outlet.flow_m3s / stated, outlet.name, _share_inputs(case, outlet, head)))
    if silent or not shares:
        return unknown(f"the stated flow of {', '.join(silent[:4]) or 'its outlets'} is not known")
    return _spread(shares, case, "share of the stated flow")


def rate_spread(survey: Survey, zone: Zone, case: CaseResult | None, why: tuple[str, ...]) -> Value:
    """Return greatest less least application rate of the heads over their mean, each over its own pattern."""
    if case is None or not case.outlets:
        return unknown(*why)
    rates: list[_Share] = []
    silent = []
    for outlet in case.outlets:
        head, reach = survey.heads.get(outlet.name), survey.reaches.get(outlet.name)
        if head is None or head.part.kind not in ("spray", "rotor"):
            continue
        if reach is None or not reach.radius_m or not head.arc_known:
            silent.append(outlet.name)
            continue
        turn = ((head.arc_end_deg - head.arc_start_deg) % 360 or 360) / 360
        basis = (*case.basis.outflow(outlet.node), *reach.inputs)
        rates.append((outlet.flow_m3s / (turn * reach.radius_m**2), outlet.name, basis))
    if silent:
        return unknown(f"the throw of {', '.join(silent[:4])} is not known")
    if not rates:
        return unknown(f"{zone.name} has no heads with a throw")
    return _spread(rates, case, "rate")


def stated_flow(head: Head) -> float | None:
    """Return the flow of a head's data sheet at its best pressure, or where the sheet gives one point."""
    part = head.part
    if part.flow is not None:
        return part.flow.si
    best = part.pressure_best
    for point in part.flow_table:
        if best is not None and abs(point.at.si - best.si) <= 1e-6 * best.si:
            return point.value.si
    return None


def _share_inputs(case: CaseResult, outlet: OutletResult, head: Head) -> tuple[Input, ...]:
    """Return what a head's share of its stated flow rests on.

    Where its flow is held, by a regulating body or by compensating, the stated flow stands on both sides of
    the share and moves it not at all.
    """
    part = head.part
    if part.flow_table:
        best = inputs(
            given(f"best pressure of {part.name}", part.pressure_best)
        )  # which point is the stated one
        return (*case.basis.outflow(outlet.node), *best)
    if part.compensating:
        held = part.pressure_low is not None and pressure_to_head_m(part.pressure_low.si) <= outlet.pressure_m
        return () if held else case.basis.outflow(outlet.node)
    if part.regulated is not None and pressure_to_head_m(part.regulated.si) <= outlet.pressure_m:
        stated_at = given(f"pressure for the stated flow of {part.name}", part.flow_at)
        return inputs(given(f"regulated pressure of {part.name}", part.regulated), stated_at)
    return case.basis.outflow(outlet.node)


def _nozzle(survey: Survey, case: CaseResult, outlet: OutletResult) -> _Share:
    """Return the pressure at a nozzle: the setting of its regulating body once more arrives than that."""
    head = survey.heads.get(outlet.name)
    regulated = None if head is None else head.part.regulated
    if head is not None and regulated is not None and pressure_to_head_m(regulated.si) < outlet.pressure_m:
        held = inputs(given(f"regulated pressure of {head.part.name}", regulated))
        return pressure_to_head_m(regulated.si), outlet.name, held
    return outlet.pressure_m, outlet.name, case.basis.pressure(outlet.node)


def _spread(values: list[_Share], case: CaseResult, what: str) -> Value:
    low, high = min(values), max(values)
    mean = sum(v for v, _, _ in values) / len(values)
    if mean <= 0:
        return unknown(f"no {what} in load case {case.case}")
    # Where all rest on the same values and are equal, those move all alike and the spread not at all.
    alike = high[0] == low[0] and len({basis for _, _, basis in values}) == 1
    basis = () if alike else tuple(dict.fromkeys(i for _, _, found in values for i in found))
    return worked((high[0] - low[0]) / mean, f"{what}: least at {low[1]}, greatest at {high[1]}", basis)
