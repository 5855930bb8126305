"""Facts of the assembly, against hand-worked heights and the paths as the example writes them."""

from __future__ import annotations

import pytest

from plangen.quantity.quantity import Basis
from tests.facts.facts_run import run

INCH = 0.0254
FOOT = 0.3048


def test_height_over_the_highest_outlet_by_hand() -> None:
    # Ground at BF1 (24, 45) is the spot grade there: 101.5 ft; critical level 28 in above it.
    # Highest head H34 (5, 113) lies in the triangle of (24, 45) 101.5, (0, 118) 102.5, (70, 118) 102.4 ft:
    # y gives the first a weight of 5/73, x gives the third (5 - 24 * 5/73) / 70, the second has the rest.
    first = 5 / 73
    third = (5 - 24 * first) / 70
    outlet_ft = 101.5 * first + 102.5 * (1 - first - third) + 102.4 * third
    value = run().value("assembly", "BF1", "height_above_highest_outlet")
    assert value.value == pytest.approx((101.5 - outlet_ft) * FOOT + 28 * INCH, abs=1e-6)
    assert value.how == "highest outlet H34"
    assert {i.provenance.basis for i in value.inputs} == {Basis.DECLARED, Basis.MEASURED}


def test_a_riser_counts_against_the_height() -> None:
    low = run().value("assembly", "BF1", "height_above_highest_outlet").value
    riser = ("on L31, arc east to south", "on L31, arc east to south, riser 6 in")
    high = run(riser).value("assembly", "BF1", "height_above_highest_outlet")
    assert isinstance(low, float) and isinstance(high.value, float)
    assert low - high.value == pytest.approx(6 * INCH, abs=1e-6)


def test_isolation_is_found_by_path_not_by_list() -> None:
    assert run().value("assembly", "BF1", "isolation_upstream").value is True
    without = run(
        ("route T1 -> IV1", "route T1 -> TX"),
        ("isolation IV1 ...", "tee TX at (10, 2)"),
        ("route IV1 -> (24, 2) -> BF1", "route TX -> (24, 2) -> BF1"),
    )
    value = without.value("assembly", "BF1", "isolation_upstream")
    assert value.value is False
    assert "no isolation valve" in value.how


def test_silence_on_chemicals_is_not_known_and_points_at_the_block() -> None:
    silent = run(("chemicals none\n", ""))
    value = silent.value("assembly", "BF1", "chemicals_downstream")
    assert value.value is None
    assert "fertiliser" in value.missing[0]
    assert silent.value("question", "chemicals", "answered").value is False
    assert silent.line("question", "chemicals").startswith("hazards")


def test_a_stated_chemical_is_a_yes() -> None:
    said = run(("chemicals none", 'chemicals "fertiliser injector"'))
    assert said.value("assembly", "BF1", "chemicals_downstream").value is True
    assert said.value("site", "site", "chemicals").value is True


def test_the_pvb_stands_under_pressure_and_has_valves_below() -> None:
    found = run()
    assert found.value("assembly", "BF1", "continuous_pressure").value is True
    assert found.value("assembly", "BF1", "valve_downstream").value is True
    assert found.value("assembly", "BF1", "backflow_from_outlets").value is False


def test_an_assembly_below_its_outlets_can_be_pressed_from_below() -> None:
    low = run(("critical level 28 in above grade", "critical level 6 in above grade"))
    assert low.value("assembly", "BF1", "backflow_from_outlets").value is True
    assert low.value("assembly", "BF1", "height_above_grade").value == pytest.approx(6 * INCH)


def test_zones_are_protected_only_through_the_assembly() -> None:
    assert all(run().value("zone", z, "protected").value is True for z in ("Z1", "Z2", "Z3", "Z4"))
    around = run(("route N1 -> (12, 44)", "route IV1 -> (12, 44)"))
    assert around.value("zone", "Z3", "protected").value is False
    assert around.value("zone", "Z1", "protected").value is True
