"""The hydraulics stage: `Design` and `Surface` in, `Hydraulics` out. No case fails without a name."""

from __future__ import annotations

from dataclasses import replace

from plangen.hydraulics.assemble import Assembly, assembly_of, case_inputs, network_of
from plangen.hydraulics.budget import budget_of
from plangen.hydraulics.cases import Branches, branches, flowing, zone_sets
from plangen.hydraulics.junctions import fit
from plangen.hydraulics.network import Solution
from plangen.hydraulics.outlet_results import head_of, outlet_results, worst_outlet
from plangen.hydraulics.pipe_checks import pipe_checks, static_points
from plangen.hydraulics.results import CaseResult, Failure, Hydraulics, Input, OutletResult
from plangen.hydraulics.solve import solve
from plangen.hydraulics.study import study
from plangen.hydraulics.supply import Supply, supply_of
from plangen.hydraulics.wiring import wire
from plangen.model.design import Design
from plangen.model.waterworks import Zone
from plangen.quantity.dimension import Dimension, head_to_pressure_pa, pressure_to_head_m
from plangen.quantity.display import told
from plangen.terrain.surface import Surface

_ALWAYS = (
    "Pipe lengths are plan lengths plus the upright pieces at devices.",
    "An outlet is charged the fitting it stands on; the pipe of a swing joint or riser is not counted.",
    "A drip area draws all its water where it begins; the loss inside its rows is not counted.",
)


def analyse(design: Design, surface: Surface) -> Hydraulics:
    """Return the solved load cases of a design, what failed, and the checks of its pipes."""
    source = design.source
    supply = supply_of(source, surface)
    if isinstance(supply, Failure):
        static = pressure_to_head_m(source.static.si) if source and source.static else None
        return Hydraulics(None, static, supply.message, (), (supply,), (), None)
    wiring = wire(design)
    ready = assembly_of(design, surface, supply, wiring, fit(wiring))
    if supply.node not in wiring.places:
        failure = Failure("", "cut-off", f"no pipe begins at {supply.node}", (supply.node,))
        return _result(ready, supply, (), (failure,), frozenset(z.name for z in design.zones))
    cases: list[CaseResult] = []
    failures: list[Failure] = []
    failed: set[str] = set()
    found = branches(design, wiring, supply.node)
    zones = {z.name: z for z in design.zones}
    for names in zone_sets(design):
        outcome = _case(ready, found, tuple(zones[n] for n in names))
        if isinstance(outcome, CaseResult):
            cases.append(outcome)
        else:
            failures.extend(outcome)
            failed.update(names)
    result = _result(ready, supply, tuple(cases), tuple(failures), frozenset(failed))
    return replace(result, studies=study(ready, found, cases, failures, result.pipes))


def _result(
    ready: Assembly,
    supply: Supply,
    cases: tuple[CaseResult, ...],
    failures: tuple[Failure, ...],
    failed: frozenset[str],
) -> Hydraulics:
    return Hydraulics(
        design_pressure_m=supply.design_m,
        static_pressure_m=supply.static_m,
        pressure_basis=supply.basis,
        cases=cases,
        failures=failures,
        pipes=pipe_checks(ready, cases, failed),
        worst=_worst_case(cases),
        static_inputs=supply.static_inputs,
        notes=_notes(ready, cases),
        static_points=static_points(ready),
    )


def _case(ready: Assembly, found: Branches, zones: tuple[Zone, ...]) -> CaseResult | tuple[Failure, ...]:
    flow = flowing(found, ready.wiring, zones)
    if isinstance(flow, Failure):
        return (flow,)
    network = network_of(ready, flow, zones)
    if isinstance(network, tuple):
        return network
    solution = solve(network)
    if isinstance(solution, Failure):
        return (solution,)
    return _read(ready, solution, case_inputs(ready, flow))


def _read(ready: Assembly, solution: Solution, inputs: tuple[Input, ...]) -> CaseResult:
    outlets = outlet_results(ready, solution)
    total = sum(o.flow_m3s for o in outlets)
    house = sum(n.node.demand_m3s for n in solution.nodes)
    worst = worst_outlet(outlets)
    budget = budget_of(ready, solution, worst.node, worst.low_m) if worst else None
    network = solution.network
    return CaseResult(network.case, network.zones, solution, outlets, budget, total, inputs, total + house,
                      _case_notes(ready, outlets))  # fmt: skip


def _worst_case(cases: tuple[CaseResult, ...]) -> str | None:
    spares = [(c.budget.spare_m, c.case) for c in cases if c.budget and c.budget.spare_m is not None]
    return min(spares)[1] if spares else None


def _case_notes(ready: Assembly, outlets: tuple[OutletResult, ...]) -> tuple[str, ...]:
    """Return what the figures do not say: needs not stated, bodies that cannot hold their setting."""
    units = ready.design.project.units
    notes = [f"The least pressure of {o.name} is not stated." for o in outlets if o.low_m is None]
    for o in outlets:
        regulated = head_of(ready.wiring.tappings[o.node].outlet.part.regulated)
        if regulated is not None and o.pressure_m < regulated:
            held, has = _pressure_words(regulated, units), _pressure_words(o.pressure_m, units)
            notes.append(f"{o.name} needs {held} at its inlet to hold its setting, it has {has}.")
    return tuple(notes)


def _pressure_words(head_m: float, units: str) -> str:
    return told(head_to_pressure_pa(head_m), Dimension.PRESSURE, units)


def _notes(ready: Assembly, cases: tuple[CaseResult, ...]) -> tuple[str, ...]:
    house = ready.design.house
    found = list(_ALWAYS)
    if house is None or house.demand is None:
        found.append("No house demand is stated: it is taken as no flow, as an assumption.")
    for bridge in ready.wiring.bridges.values():
        if bridge.device.kind == "isolation" and bridge.device.part is None:
            name = bridge.device.name
            found.append(f"{name} names no part: the loss of a fully open valve is assumed for it.")
    found.extend(dict.fromkeys(note for case in cases for note in case.notes))
    return tuple(found)
