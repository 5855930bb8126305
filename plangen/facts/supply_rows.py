"""Facts of the supply and its meters, from the statements and the solved cases."""

from __future__ import annotations

from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import extreme, given, inputs, known, row, stated, unknown, worked
from plangen.hydraulics.results import CaseResult, OutletResult
from plangen.model.waterworks import Device, Source
from plangen.quantity.dimension import head_to_pressure_pa
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import Basis


def supply_rows(survey: Survey) -> list[Row]:
    """Return the row of the supply point, or none if the design has no supply."""
    source = survey.design.source
    if source is None:
        return []
    house = survey.design.house
    static_missing = f"the static pressure at {source.name} is not stated"
    static = source.static
    return [
        row(
            "supply",
            source.name,
            source.span,
            {
                "static_pressure": stated("static pressure", static, static_missing),
                "lowest_pressure": stated(
                    "lowest pressure", source.lowest, f"the lowest pressure at {source.name} is not stated"
                ),
                "design_pressure": _design_pressure(survey),
                "highest_static_pressure": _highest_static(survey, static_missing),
                "pressure_measured": unknown(static_missing)
                if static is None
                else known(static.provenance.basis is Basis.MEASURED, static.provenance.told()),
                "house_demand": stated(
                    "house demand", house.demand if house else None, "what the house may draw is not stated"
                ),
                "greatest_flow": _greatest_flow(survey),
                "least_spare_pressure": _least_spare(survey),
                "regulated": _regulated(survey, source),
                "solved": known(
                    bool(survey.hydraulics.cases) and not survey.hydraulics.failures,
                    "; ".join(f.message for f in survey.hydraulics.failures),
                ),
            },
        )
    ]


def meter_rows(survey: Survey) -> list[Row]:
    """Return one row for each meter."""
    return [_meter_row(survey, d) for d in survey.path.devices.values() if d.kind == "meter"]


def greatest_flow_through(survey: Survey, name: str) -> Value:
    """Return the greatest flow through a device in any load case."""
    flows = survey.flows.get(name, ())
    if not flows:
        return unknown(*survey.why_unsolved())
    told = ((flow, f"load case {case.case}", case.basis.flow(name)) for case, flow in flows)
    return extreme(told, largest=True)


def flow_in_range(survey: Survey, device: Device) -> Value:
    """Return whether every case's flow through a device lies in its data sheet's range.

    A case in which next to nothing flows is left out: the device stands closed or aside.
    """
    part = device.part
    if part is None or part.flow_low is None or part.flow_high is None:
        return unknown(f"the flow range of {device.name} is not stated")
    flows = [(c, q) for c, q in survey.flows.get(device.name, ()) if q > 1e-8]
    if not flows:
        return unknown(*survey.why_unsolved())
    low, high = part.flow_low, part.flow_high
    bad = [c.case for c, q in flows if not low.si * (1 - 1e-9) <= q <= high.si * (1 + 1e-9)]
    stated_range = inputs(given("least flow", low), given("greatest flow", high))
    basis = (*stated_range, *(i for c, _ in flows for i in c.basis.flow(device.name)))
    words = f"range {low.written} to {high.written}"
    return Value(
        not bad, tuple(dict.fromkeys(basis)), how=f"{words}; outside it in {', '.join(bad)}" if bad else words
    )


def _meter_row(survey: Survey, meter: Device) -> Row:
    flow = greatest_flow_through(survey, meter.name)
    high = meter.part.flow_high if meter.part else None
    capacity = stated("meter capacity", high, f"the flow range of meter {meter.name} is not stated")
    if isinstance(flow.value, float) and high is not None and high.si > 0:
        basis = (*capacity.inputs, *flow.inputs)
        share = worked(flow.value / high.si, f"{flow.how}, over {high.written}", basis)
    else:
        share = unknown(*flow.missing, *capacity.missing)
    return row(
        "meter",
        meter.name,
        meter.span,
        {
            "size": stated("size", meter.size, f"the size of meter {meter.name} is not stated"),
            "flow": flow,
            "capacity": capacity,
            "share": share,
            "state": known(meter.state),
        },
    )


def _design_pressure(survey: Survey) -> Value:
    head = survey.hydraulics.design_pressure_m
    if head is None:
        return unknown(survey.hydraulics.pressure_basis)
    return worked(
        head_to_pressure_pa(head), survey.hydraulics.pressure_basis, survey.hydraulics.design_inputs
    )


def _highest_static(survey: Survey, missing: str) -> Value:
    pipes = survey.hydraulics.pipes
    source = survey.design.source
    if source is None or source.static is None:
        return unknown(missing)
    if not pipes:
        return unknown(*survey.why_unsolved())
    blind = [c.pipe for c in pipes if not c.static_known]
    if blind:
        return unknown(f"the ground level along {', '.join(blind[:4])} is not stated")
    lowest = (
        (
            head_to_pressure_pa(c.static_pressure_m),
            f"no flow, at the lowest point of {c.pipe}",
            c.static_inputs,
        )
        for c in pipes
    )
    return extreme(lowest, largest=True)


def _greatest_flow(survey: Survey) -> Value:
    cases = survey.hydraulics.cases
    if not cases:
        return unknown(*survey.why_unsolved())
    told = ((c.source_flow_m3s, f"load case {c.case}", c.basis.drawn()) for c in cases)
    return extreme(told, largest=True)


def _least_spare(survey: Survey) -> Value:
    spares: list[tuple[float, str, tuple[Input, ...]]] = []
    for case in survey.hydraulics.cases:
        for outlet in case.outlets:
            spare = outlet.spare_m
            if spare is None:
                return unknown(f"the least pressure of {outlet.name} is not stated")
            how = f"at {outlet.name} in load case {case.case}"
            spares.append((head_to_pressure_pa(spare), how, spare_inputs(survey, case, outlet)))
    if not spares or survey.hydraulics.failures:
        return unknown(*survey.why_unsolved())
    return extreme(spares, largest=False)


def spare_inputs(survey: Survey, case: CaseResult, outlet: OutletResult) -> tuple[Input, ...]:
    """Return what an outlet's spare rests on; where there is some, regulators at work count as open."""
    part = survey.parts[outlet.name]
    low = inputs(given(f"least pressure of {part.name}", part.pressure_low))
    short = outlet.spare_m is not None and outlet.spare_m < 0
    return (*(case.basis.pressure if short else case.basis.spare)(outlet.node), *low)


def _regulated(survey: Survey, source: Source) -> Value:
    ways = [survey.path.guarded(v, ("regulator",)) for v in _valves(survey)]
    if not ways or None in ways:
        return unknown(f"no path leads from {source.name} to every zone valve")
    return known(all(ways), "every way to a zone valve passes a regulator" if all(ways) else "")


def _valves(survey: Survey) -> list[str]:
    return [d.name for d in survey.path.devices.values() if d.kind == "valve"]
