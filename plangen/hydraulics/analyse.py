"""The hydraulics stage: `Design` and `Surface` in, `Hydraulics` out. No case fails without a name."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.hydraulics.assemble import Assembly, assembly_of, network_of
from plangen.hydraulics.budget import budget_of
from plangen.hydraulics.cases import Branches, branches, flowing, zone_sets
from plangen.hydraulics.follow import basis_of
from plangen.hydraulics.friction import Curve
from plangen.hydraulics.junctions import fit
from plangen.hydraulics.network import Solution
from plangen.hydraulics.outlet_results import head_of, outlet_results, worst_outlet
from plangen.hydraulics.pipe_checks import pipe_checks
from plangen.hydraulics.results import CaseResult, Failure, Hydraulics, OutletResult
from plangen.hydraulics.solve import solve
from plangen.hydraulics.still_water import static_points
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
_FREE = (
    "Behind {0} the water stands open to the air at the height of {0}. What its tank holds is not counted:"
    " it is filled as fast as it is drawn."
)


@dataclass(frozen=True, slots=True)
class Prepared:
    """A design made ready to be solved at any pressure; `fault` says why there is nothing to solve."""

    ready: Assembly
    found: Branches | None
    sets: tuple[tuple[Zone, ...], ...]
    fault: Failure | None = None


def prepare(design: Design, surface: Surface) -> Prepared | Failure:
    """Return what does not change with the pressure, or why the source's pressure is not known."""
    supply = supply_of(design.source, surface)
    if isinstance(supply, Failure):
        return supply
    wiring = wire(design)
    ready = assembly_of(design, surface, supply, wiring, fit(wiring))
    if supply.node not in wiring.places:
        failure = Failure("", "cut-off", f"no pipe begins at {supply.node}", (supply.node,))
        return Prepared(ready, None, (), failure)
    zones = {z.name: z for z in design.zones}
    sets = tuple(tuple(zones[n] for n in names) for names in zone_sets(design))
    return Prepared(ready, branches(design, wiring, supply.node), sets)


def solve_cases(
    prepared: Prepared, pressure_m: float | None = None, curve: Curve | None = None
) -> Hydraulics:
    """Return the solved cases and the checks of pipes, without the studies.

    `pressure_m` stands in for the design pressure at the source, `curve` for how it falls with the flow; what
    is said of still water stays that of the stated static pressure.
    """
    ready = prepared.ready
    if pressure_m is not None:
        ready = replace(ready, supply=replace(ready.supply, design_m=pressure_m))
    if curve is not None:
        ready = replace(ready, supply=replace(ready.supply, curve=curve))
    supply = ready.supply
    fault = prepared.fault or _without_pressure(supply)
    if prepared.found is None or fault is not None:
        failures = (fault,) if fault is not None else ()
        return _result(ready, supply, (), failures, frozenset(z.name for z in ready.design.zones))
    cases: list[CaseResult] = []
    failed_cases: list[Failure] = []
    failed: set[str] = set()
    for zones in prepared.sets:
        outcome = _case(ready, prepared.found, zones)
        if isinstance(outcome, CaseResult):
            cases.append(outcome)
        else:
            failed_cases.extend(outcome)
            failed.update(z.name for z in zones)
    return _result(ready, supply, tuple(cases), tuple(failed_cases), frozenset(failed))


def _without_pressure(supply: Supply) -> Failure | None:
    """Return why nothing is solved at the pressure of a supply: still water may be known, running is not."""
    if supply.design_m is not None:
        return None
    return Failure("", "no-pressure-given", supply.basis, (supply.node,))


def analyse(design: Design, surface: Surface) -> Hydraulics:
    """Return the solved load cases of a design, what failed, the checks of its pipes, and the studies."""
    prepared = prepare(design, surface)
    if isinstance(prepared, Failure):
        source = design.source
        static = pressure_to_head_m(source.static.si) if source and source.static else None
        return Hydraulics(None, static, prepared.message, (), (prepared,), (), None)
    result = solve_cases(prepared)
    if prepared.found is None:
        return result
    studies = study(prepared.ready, prepared.found, result.cases, result.failures, result.pipes)
    return replace(result, studies=studies)


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
        design_inputs=supply.design_inputs,
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
    return _read(ready, solution)


def _read(ready: Assembly, solution: Solution) -> CaseResult:
    outlets = outlet_results(ready, solution)
    total = sum(o.flow_m3s for o in outlets)
    house = sum(n.node.demand_m3s for n in solution.nodes)
    worst = worst_outlet(outlets)
    budget = budget_of(ready, solution, worst.node, worst.low_m) if worst else None
    network = solution.network
    basis = basis_of(ready, solution)
    return CaseResult(network.case, network.zones, solution, outlets, budget, total, basis.all(),
                      total + house, _case_notes(ready, outlets), basis)  # fmt: skip


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
    found += [_FREE.format(d.name) for d in ready.wiring.gaps()]
    if house is None:
        found.append("No house is drawn on this supply: nothing draws beside the zones, as an assumption.")
    for bridge in ready.wiring.bridges.values():
        if bridge.device.kind == "isolation" and bridge.device.part is None:
            name = bridge.device.name
            found.append(f"{name} names no part: the loss of a fully open valve is assumed for it.")
    found.extend(dict.fromkeys(note for case in cases for note in case.notes))
    return tuple(found)
