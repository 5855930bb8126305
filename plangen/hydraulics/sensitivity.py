"""What the answers become when one thing changes, and the lowest pressure at which all still works.

Every answer is a solution of the same networks by the same solver; nothing is scaled from another answer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.network import Network, Solution
from plangen.hydraulics.outlet_results import head_of, outlet_results, worst_outlet
from plangen.hydraulics.results import CaseResult, Failure, OutletResult
from plangen.hydraulics.solve import solve
from plangen.hydraulics.still_water import static_heads
from plangen.hydraulics.studies import LeastPressure, WhatIf
from plangen.hydraulics.study_inputs import curve_inputs
from plangen.model.design import Design
from plangen.quantity.evidence import Input

# How closely the lowest pressure is found.
CLOSE_M = 1e-4
_MOST_HALVINGS = 60
_MOST_STEPS = 30

SolvedAt = Callable[[CaseResult, float], Solution | Failure]


def at_pressure(ready: Assembly, network: Network, pressure_m: float) -> Network:
    """Return the network with another pressure at its source, by a gauge at ground level."""
    head = ready.supply.ground_m + pressure_m
    return replace(network, sources=tuple(replace(s, head_m=head) for s in network.sources))


class Solves:
    """Cases solved at other pressures; each case and pressure once."""

    def __init__(self, ready: Assembly) -> None:
        self.ready = ready
        self.known: dict[tuple[str, float], Solution | Failure] = {}

    def at(self, case: CaseResult, pressure_m: float) -> Solution | Failure:
        """Return a case solved at a pressure of its source."""
        key = (case.case, pressure_m)
        if key not in self.known:
            self.known[key] = solve(at_pressure(self.ready, case.solution.network, pressure_m))
        return self.known[key]


def with_worn_pipes(ready: Assembly, network: Network) -> Network:
    """Return the network with the worn C of each pipe's family."""
    legs = ready.wiring.legs
    links = []
    for link in network.links:
        worn = legs[link.id].pipe.size.worn_c if link.id in legs else None
        links.append(link if worn is None else replace(link, hazen_williams_c=worn))
    return replace(network, links=tuple(links))


def with_one_more(ready: Assembly, network: Network, outlet: str) -> tuple[Network, str] | None:
    """Return the network with one more outlet beside a node's, and the part that it is.

    It is of the commonest part among the zone's heads, at the same height, on a joint of the same kind.
    """
    tapped = ready.wiring.tappings
    here = [n for n in network.nodes if n.emitter is not None and n.id in tapped]
    zone = tapped[outlet].outlet.zone
    parts = Counter(tapped[n.id].outlet.part.name for n in here if tapped[n.id].outlet.zone == zone)
    commonest = min(parts, key=lambda name: (-parts[name], name))
    pattern = next(n for n in here if tapped[n.id].outlet.part.name == commonest)
    place = next(n for n in here if n.id == outlet)
    joint = next((k for k in network.links if k.id == outlet), None)
    if joint is None:
        return None
    name = f"{outlet}.more"
    node = replace(place, id=name, emitter=pattern.emitter)
    link = replace(joint, id=name, end=name)
    label = tapped[pattern.id].outlet.part.label or commonest
    return replace(network, nodes=(*network.nodes, node), links=(*network.links, link)), label


def what_ifs(solves: Solves, cases: Sequence[CaseResult]) -> tuple[WhatIf, ...]:
    """Return the answers: as designed, other pressures, worn pipes, one more head."""
    ready = solves.ready
    supply, source = ready.supply, ready.design.source
    static = supply.static_m
    lowest = head_of(source.lowest) if source is not None else None
    less = None if static is None else 0.9 * static
    asked = (
        ("as designed", supply.basis if supply.design_m is not None else "design pressure", supply.design_m),
        ("static pressure as stated", "static pressure", static),
        ("static pressure 10 % lower", "nine tenths of the static pressure", less),
        ("seasonal low", "lowest pressure of the year", lowest),
    )
    found: list[WhatIf] = []
    for question, basis, pressure in asked:
        same = next((w for w in found if pressure is not None and w.source_pressure_m == pressure), None)
        if same is not None:
            found.append(replace(same, question=question, basis=basis))
        else:
            found.append(_asked(ready, cases, question, basis, pressure, solves.at))

    def worn(case: CaseResult, _: float) -> Solution | Failure:
        return solve(with_worn_pipes(ready, case.solution.network))

    aged = _asked(ready, cases, "worn pipe", _worn_words(ready.design), supply.design_m, worn)
    return (*found, aged, *_one_more(ready, cases))


def _worn_words(design: Design) -> str:
    sizes = {p.size.family: p.size for p in design.pipes if p.state != "removed" and p.size.worn_c}
    told = (f"{family} C {s.worn_c:g} ({s.worn_provenance.told()})" for family, s in sorted(sizes.items()))
    return "; ".join(told)


def _asked(
    ready: Assembly, cases: Sequence[CaseResult], question: str, basis: str, pressure_m: float | None,
    solved_at: SolvedAt,
) -> WhatIf:  # fmt: skip
    if pressure_m is None:
        return WhatIf(question, basis, None, missing=f"the {basis} is not stated")
    worst: tuple[float, str, str] | None = None
    short: list[str] = []
    inputs: list[Input] = []
    for case in cases:
        solved = solved_at(case, pressure_m)
        if isinstance(solved, Failure):
            return WhatIf(question, basis, pressure_m, case.case, missing=solved.message)
        inputs += curve_inputs(ready, solved)
        outlets = outlet_results(ready, solved)
        short += [o.name for o in outlets if o.spare_m is not None and o.spare_m < 0]
        least = worst_outlet(outlets)
        if least is not None and least.spare_m is not None:
            here = (least.spare_m, case.case, least.name)
            worst = here if worst is None else min(worst, here)
    if worst is None:
        return WhatIf(question, basis, pressure_m, missing="no outlet states its least pressure")
    lacking = tuple(dict.fromkeys(short))
    met = tuple(dict.fromkeys(inputs))
    return WhatIf(question, basis, pressure_m, worst[1], worst[2], worst[0], lacking, inputs=met)


def _one_more(ready: Assembly, cases: Sequence[CaseResult]) -> tuple[WhatIf, ...]:
    """Return the answer with one more head at the worst outlet of all."""
    known = [(c.budget.spare_m, c) for c in cases if c.budget and c.budget.spare_m is not None]
    if not known:
        return ()
    case = min(known, key=lambda k: (k[0], k[1].case))[1]
    assert case.budget is not None
    more = with_one_more(ready, case.solution.network, case.budget.outlet)
    if more is None:
        return ()
    network, label = more
    question = f"one more head at {case.budget.outlet}"
    return (_asked(ready, (case,), question, f"commonest part of its zone: {label}", ready.supply.cases_m,
                   lambda _, __: solve(network)),)  # fmt: skip


def least_pressure(solves: Solves, cases: Sequence[CaseResult], failures: Sequence[Failure]) -> LeastPressure:
    """Return the lowest pressure with no flow at which every outlet of every case has its least pressure."""
    if failures or not cases:
        why = failures[0].message if failures else "no case was solved"
        return LeastPressure(None, missing=why)
    silent = sorted({o.name for c in cases for o in c.outlets if o.low_m is None})
    if silent:
        return LeastPressure(None, missing=f"the least pressure of {', '.join(silent[:4])} is not stated")
    best: tuple[float, CaseResult, OutletResult] | None = None
    for case in sorted(cases, key=lambda c: (c.budget.spare_m or 0.0 if c.budget else 0.0, c.case)):
        if best is not None and _least_spare(solves, case, best[0]) >= -CLOSE_M:
            continue
        found = _lowest(solves, case)
        if isinstance(found, str):
            return LeastPressure(None, case=case.case, missing=found)
        best = (found[0], case, found[1])
    assert best is not None
    return _told(solves, cases, *best)


def _least_spare(solves: Solves, case: CaseResult, pressure_m: float) -> float:
    """Return the least spare of a case at a pressure; minus infinity where it does not solve."""
    solved = solves.at(case, pressure_m)
    if isinstance(solved, Failure):
        return float("-inf")
    least = worst_outlet(outlet_results(solves.ready, solved))
    return float("-inf") if least is None or least.spare_m is None else least.spare_m


def _lowest(solves: Solves, case: CaseResult) -> tuple[float, OutletResult] | str:
    """Return the pressure at which the least spare of a case is nothing, by halving, and its outlet."""
    low, high = 0.0, solves.ready.supply.cases_m
    for _ in range(_MOST_STEPS):
        spare = _least_spare(solves, case, high)
        if spare >= 0 or spare == float("-inf"):
            break
        # A metre more at the source is at most a metre more at an outlet: what lacks is the least step.
        low, high = high, high - 1.25 * spare + CLOSE_M
    if spare < 0:
        return f"no pressure was found at which case {case.case} has enough without leaving a stated curve"
    for _ in range(_MOST_HALVINGS):
        if high - low <= CLOSE_M:
            break
        middle = (low + high) / 2.0
        if _least_spare(solves, case, middle) >= 0:
            high = middle
        else:
            low = middle
    solved = solves.at(case, high)
    assert isinstance(solved, Solution)
    least = worst_outlet(outlet_results(solves.ready, solved))
    assert least is not None
    return high, least


def _told(
    solves: Solves, cases: Sequence[CaseResult], pressure_m: float, case: CaseResult, outlet: OutletResult
) -> LeastPressure:
    ready, flow = solves.ready, 0.0
    for each in cases:
        solved = solves.at(each, pressure_m)
        if isinstance(solved, Solution):
            flow = max(flow, sum(n.node.demand_m3s + n.outflow_m3s for n in solved.nodes))
    place, gauge = gauge_at_meter(ready, pressure_m)
    supply = ready.supply
    season = None if supply.fall_m is None or gauge is None else gauge + supply.fall_m
    return LeastPressure(pressure_m, place, gauge, season, flow, case.case, outlet.name)


def gauge_at_meter(ready: Assembly, pressure_m: float) -> tuple[str, float | None]:
    """Return the first meter by name and what a gauge at ground level there shows with no flow.

    Without a meter, or where its ground is not known, it is the source itself.
    """
    supply = replace(ready.supply, static_m=pressure_m, design_m=pressure_m)
    heads = static_heads(replace(ready, supply=supply))
    for bridge in sorted(ready.wiring.bridges.values(), key=lambda b: b.device.name):
        if bridge.device.kind != "meter" or bridge.start not in heads:
            continue
        ground = ready.surface.elevation_m(bridge.device.point)
        if ground is not None:
            return bridge.device.name, heads[bridge.start] - ground
    return supply.node, pressure_m
