"""Answers to one change at a time and the least pressure, held to a second solver and to a root-finder."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy.optimize import brentq

from plangen.hydraulics.network import Network, Solution
from plangen.hydraulics.outlet_results import outlet_results
from plangen.hydraulics.results import Hydraulics, spare_of
from plangen.hydraulics.sensitivity import at_pressure, with_one_more, with_worn_pipes
from plangen.hydraulics.solve import solve
from plangen.hydraulics.studies import Studies, WhatIf
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.epanet_oracle import differences, resolve
from tests.hydraulics.ready import ready_with
from tests.hydraulics.residential import analysed_with

PSI_M = pressure_to_head_m(to_si(1, "psi"))
WEAK = (("lowest 58 psi", "lowest 38 psi"),)


def studies(*changes: tuple[str, str]) -> tuple[Hydraulics, Studies]:
    hydraulics = analysed_with(*changes)
    assert hydraulics.studies is not None
    return hydraulics, hydraulics.studies


def answer(found: Studies, question: str) -> WhatIf:
    return next(w for w in found.what_ifs if w.question.startswith(question))


def agreed(network: Network) -> Solution:
    """Solve, and hold the solution to the network solver behind `owa-epanet` (bounds of the project)."""
    solution = solve(network)
    assert isinstance(solution, Solution)
    assert differences(solution, resolve(network, solution, accuracy=1e-6)) == []
    return solution


def test_each_answer_is_one_that_the_other_solver_gives_too() -> None:
    """Source of the comparison: EPANET 2.3 through owa-epanet, an independent solver."""
    hydraulics, found = studies()
    ready, _ = ready_with()
    z3 = hydraulics.case_of_zone("Z3")
    assert z3 is not None and z3.budget is not None
    for question, network in (
        ("static pressure 10", at_pressure(ready, z3.solution.network, 0.9 * 64 * PSI_M)),
        ("seasonal low", at_pressure(ready, z3.solution.network, 58 * PSI_M)),
        ("worn pipe", with_worn_pipes(ready, z3.solution.network)),
        ("one more head", (with_one_more(ready, z3.solution.network, z3.budget.outlet) or ())[0]),
    ):
        outlets = outlet_results(ready, agreed(network))
        worst = min(o.spare_m for o in outlets if o.spare_m is not None)
        told = answer(found, question)
        assert told.case == "Z3" and told.spare_m == pytest.approx(worst, abs=1e-6)


def test_worn_pipe_and_one_more_head_leave_less() -> None:
    _, found = studies()
    designed = answer(found, "as designed").spare_m
    assert designed is not None
    for question in ("worn pipe", "one more head", "static pressure 10"):
        spare = answer(found, question).spare_m
        assert spare is not None and spare < designed


def test_what_is_not_stated_is_not_known() -> None:
    _, found = studies(('lowest 58 psi from standard "Quillmoor Water pressure record 2025",', ""))
    low = answer(found, "seasonal low")
    assert low.spare_m is None and "not stated" in low.missing


def test_outlets_that_fall_short_are_named() -> None:
    _, found = studies(*WEAK)
    assert set(answer(found, "as designed").short) >= {"H33", "H35", "H36"}


def test_the_least_pressure_is_the_root_that_brentq_finds() -> None:
    """scipy.optimize.brentq on the least spare of the hardest zone; halving must end at the same place."""
    for changes in ((), WEAK):
        hydraulics, found = studies(*changes)
        ready, _ = ready_with(*changes)
        case = hydraulics.case_of_zone(found.least.case)
        assert case is not None and found.least.source_m is not None

        def spare(pressure_m: float, ready=ready, case=case) -> float:  # type: ignore[no-untyped-def]
            solution = solve(at_pressure(ready, case.solution.network, pressure_m))
            assert isinstance(solution, Solution)
            return min(o.pressure_m - (o.low_m or 0.0) for o in outlet_results(ready, solution))

        root = brentq(spare, 25 * PSI_M, 60 * PSI_M, xtol=1e-9)
        assert found.least.source_m == pytest.approx(root, abs=2e-4)
        # every other case has enough there
        for other in hydraulics.cases:
            solution = solve(at_pressure(ready, other.solution.network, found.least.source_m))
            assert isinstance(solution, Solution)
            assert all((o.spare_m or 0.0) >= -2e-4 for o in outlet_results(ready, solution))


def test_the_gauge_at_the_meter_is_told_by_the_height_between() -> None:
    """Water at rest: the gauge at the meter differs from the source's by the ground between (hydrostatics).

    By the spot grades: 99.8 ft at y = -10 and 100.0 ft at y = 0, the source at y = -7, the meter at y = -1.
    """
    _, found = studies()
    least = found.least
    assert least.gauge_at == "M1" and least.gauge_m is not None and least.source_m is not None
    assert least.source_m - least.gauge_m == pytest.approx(0.2 * 6 / 10 * 0.3048, abs=1e-9)
    # the stated pressure still falls from 64 to 58 psi
    assert least.season_m == pytest.approx(least.gauge_m + 6 * PSI_M)


def test_a_regulator_gives_up_what_it_takes_before_the_outlet_lacks() -> None:
    """Lower the supply by the spare told: the drip area stands at its least pressure, no more, no less."""
    hydraulics = analysed_with()
    ready, _ = ready_with()
    z4 = hydraulics.case_of_zone("Z4")
    assert z4 is not None and z4.budget is not None and z4.budget.spare_m is not None
    assert z4.budget.regulator_m > 10 * PSI_M
    lower = at_pressure(ready, z4.solution.network, 58 * PSI_M - z4.budget.spare_m)
    solution = agreed(lower)
    # the emitters draw the same at any pressure of their range, so every loss but the regulator's stands
    assert solution.node("Z4.D41").pressure_m == pytest.approx(10 * PSI_M, abs=1e-4)


def test_a_regulator_set_too_low_is_no_spare() -> None:
    assert spare_of(20.0, 25.0, 40.0) == -5.0
    assert spare_of(30.0, 25.0, 40.0) == 45.0
    low = analysed_with(("set 30 psi", "set 8 psi"))
    case = low.case_of_zone("Z4")
    assert case is not None and case.budget is not None
    assert case.budget.spare_m is not None and case.budget.spare_m < 0


def test_one_more_is_the_commonest_part_beside_the_worst() -> None:
    ready, _ = ready_with()
    z1 = analysed_with().case_of_zone("Z1")
    assert z1 is not None
    more = with_one_more(ready, z1.solution.network, "Z1.H15")
    assert more is not None
    network, label = more
    assert "half circle" in label  # three of the six heads of Z1
    added = network.nodes[-1]
    beside = next(n for n in network.nodes if n.id == "Z1.H15")
    assert replace(added, id=beside.id) == beside
