"""Readings to expect, and readings taken on site with their verdict and causes."""

from __future__ import annotations

import math

import pytest

from plangen.hydraulics.network import Solution
from plangen.hydraulics.sensitivity import at_pressure
from plangen.hydraulics.site_readings import tolerance_m
from plangen.hydraulics.solve import solve
from plangen.hydraulics.studies import Judged, Studies
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.epanet_oracle import resolve
from tests.hydraulics.ready import ready_with
from tests.hydraulics.residential import analysed_with

PSI_M = pressure_to_head_m(to_si(1, "psi"))
PART = "part spray-15q {"


def with_readings(*lines: str) -> Studies:
    block = "review {\n" + "".join(f"  reading {line}\n" for line in lines) + "}\n\n"
    found = analysed_with((PART, block + PART)).studies
    assert found is not None
    return found


def verdicts(found: Studies) -> dict[str, Judged]:
    return {j.object: j for j in found.judged}


def test_the_points_are_assembly_valve_first_and_far_head() -> None:
    found = analysed_with().studies
    assert found is not None
    z3 = [(p.object, p.side) for p in found.predicted if p.case == "Z3"]
    # the way from the valve: H31 stands where the lateral begins; H36 after 30 + 60 ft, H33 after 60 ft
    ends = [("H31", ""), ("H36", "")]
    assert z3 == [("BF1", "inlet"), ("BF1", "outlet"), ("V3", "inlet"), ("V3", "outlet"), *ends]


def test_expected_readings_are_those_of_the_other_solver() -> None:
    """EPANET 2.3 through owa-epanet, at the static pressure of 64 psi."""
    hydraulics = analysed_with()
    ready, _ = ready_with()
    assert hydraulics.studies is not None
    for case in hydraulics.cases[:3]:
        network = at_pressure(ready, case.solution.network, 64 * PSI_M)
        solution = solve(network)
        assert isinstance(solution, Solution)
        other = resolve(network, solution, accuracy=1e-6)
        for p in hydraulics.studies.predicted:
            if p.case == case.case:
                assert p.pressure_m == pytest.approx(other.pressure_m[p.node], abs=0.005)


def test_the_tolerance_joins_gauge_and_loss() -> None:
    """2 psi of the gauge and a tenth of 20 psi lost: root of 8 psi squared (propagation of errors)."""
    assert tolerance_m(20 * PSI_M) == pytest.approx(math.sqrt(8) * PSI_M)
    assert tolerance_m(0.0) == pytest.approx(2 * PSI_M)


def test_good_readings_agree() -> None:
    found = with_readings(
        "BF1 53 psi, zone Z1, static 64 psi, side outlet, on 2026-05-02",
        "H16 51.5 psi, zone Z1, static 64 psi, on 2026-05-02",
    )
    assert [j.verdict for j in found.judged] == ["agrees", "agrees"]
    assert all(j.causes == () and j.on == "2026-05-02" for j in found.judged)


def test_a_low_head_behind_a_good_assembly_names_the_stretch_between() -> None:
    found = verdicts(
        with_readings(
            "H16 40 psi, zone Z1, static 64 psi",
            "BF1 53.5 psi, zone Z1, static 64 psi, side outlet",
        )
    )
    assert found["BF1"].verdict == "agrees"
    assert found["H16"].verdict == "low"
    assert "between BF1 and H16" in found["H16"].causes[0]


def test_low_from_the_start_points_at_the_supply() -> None:
    found = with_readings(
        "BF1 40 psi, zone Z1, static 64 psi, side inlet", "H16 36 psi, zone Z1, static 64 psi"
    )
    first, second = found.judged
    assert (first.object, first.verdict) == ("BF1", "low") and "main" in first.causes[0]
    assert second.verdict == "low" and "follows from the low reading at BF1" in second.causes[0]


def test_a_high_reading_means_less_flow() -> None:
    (found,) = with_readings("H16 60 psi, zone Z1, static 64 psi").judged
    assert found.verdict == "high" and "less flows" in found.causes[0]


def test_the_static_pressure_of_that_day_counts() -> None:
    """The same reading, taken when the main stood 10 psi lower, is what was to be expected."""
    (low,) = with_readings("H16 43.5 psi, zone Z1, static 64 psi").judged
    (good,) = with_readings("H16 43.5 psi, zone Z1, static 54 psi").judged
    assert (low.verdict, good.verdict) == ("low", "agrees")


def test_a_reading_of_what_carries_no_water_is_not_judged() -> None:
    (found,) = with_readings("H31 43 psi, zone Z1, static 64 psi").judged
    assert found.verdict == "not judged" and found.expected_m is None


def test_a_reading_on_another_branch_does_not_place_the_fault() -> None:
    """The house stands on its own branch: that it agrees says nothing of the way from the assembly on."""
    found = verdicts(with_readings("HS 52 psi, zone Z1, static 64 psi", "H16 40 psi, zone Z1, static 64 psi"))
    expected = found["HS"].expected_m
    assert expected is not None
    good = with_readings(
        f"HS {expected / PSI_M:.1f} psi, zone Z1, static 64 psi", "H16 40 psi, zone Z1, static 64 psi"
    )
    assert verdicts(good)["HS"].verdict == "agrees"
    assert "HS" not in " ".join(verdicts(good)["H16"].causes)
