"""Distances from septic systems, wells and banks, and hydrozones: worked out by hand from the places said."""

from __future__ import annotations

import pytest

from plangen.quantity.dimension import FOOT_M
from tests.facts.facts_run import FactRun, run

# The front lawn's heads of Z1 stand at x 2.5 and 17, y 4, 19 and 34 ft; those of Z2 at x 31.5 and 46.
GROUND = """  septic tank Tank "Septic tank", at (2.5, 64)
  septic field Field "Drain field", outline (2, -60) -> (20, -60) -> (20, -2) -> (2, -2)
  well Well      "Old well", at (-97.5, 19)
  bank Bank      "Bank", slope 33 %, outline (40, 0) -> (50, 0) -> (50, 10) -> (40, 10)
  hydrozone Cool "Cool-season turf", plant factor 0.8
  reclaimed RC1  route (-40, -5) -> (-40, 50), depth 3 ft
  sewer SS1"""


@pytest.fixture(scope="module")
def found() -> FactRun:
    return run(
        ("  sewer SS1", GROUND),
        ("zone Z1 ...", 'zone Z1 "Front lawn, west" {\n  hydrozone      Cool'),
        ("zone Z4 ...", 'zone Z4 "Shrub border" {\n  hydrozone      "Low water"'),
    )


def feet(found: FactRun, name: str) -> float:
    """Return the distance of a setback in feet."""
    value = found.value("setback", name, "distance").value
    assert isinstance(value, float)
    return value / FOOT_M


def test_distances_are_those_of_the_plan(found: FactRun) -> None:
    # H14 stands at (2.5, 34): 30 ft south of the tank, and 36 ft (34 + 2) north of the field's edge is H14;
    # H13 and H16 stand 6 ft north of it (y 4 and y -2).
    assert feet(found, "outlets of Z1 at Tank") == pytest.approx(30)
    assert feet(found, "outlets of Z1 at Field") == pytest.approx(6)
    # H15 at (2.5, 19) is 100 ft east of the well; Z2 is farther and has no row.
    assert feet(found, "outlets of Z1 at Well") == pytest.approx(100)
    assert "outlets of Z2 at Well" not in {r.name for r in found.facts.of("setback")}


def test_what_lies_in_an_area_is_inside_it(found: FactRun) -> None:
    # H26 stands at (46, 4), in the bank; H13 at (17, 4) is 23 ft west of it.
    assert found.value("setback", "outlets of Z2 at Bank", "inside").value is True
    assert found.value("setback", "outlets of Z1 at Bank", "inside").value is False
    assert feet(found, "outlets of Z1 at Bank") == pytest.approx(23)
    # The street main at (8, -7) lies in the field's outline, and the service that leaves it.
    assert found.value("setback", "S1 at Field", "inside").value is True
    assert found.value("setback", "S1 at Field", "downstream_of_assembly").value is False


def test_what_is_on_the_plan_answers_the_hazard_questions(found: FactRun) -> None:
    # The example answers `none` to all three; what is drawn weighs more than what is said.
    for field in ("septic", "second_source", "reclaimed_water"):
        value = found.value("site", "site", field)
        assert value.value is True and value.inputs, field
    plain = run()
    assert [plain.value("site", "site", f).value for f in ("septic", "second_source")] == [False, False]
    assert not plain.facts.of("setback") and "setback" not in plain.facts.complete


def test_hydrozones_are_rows(found: FactRun) -> None:
    rows = {r.name: r for r in found.facts.of("hydrozone")}
    assert set(rows) == {"Cool", "Low water"}
    assert (rows["Cool"].get("defined").value, rows["Low water"].get("defined").value) == (True, False)
    assert rows["Cool"].get("zones").value == 1.0
    # The front lawn is 43.5 ft by 30 ft; its plant factor is 0.8, so the one area spreads by nothing.
    area = rows["Cool"].get("planted_area").value
    assert isinstance(area, float) and area / FOOT_M**2 == pytest.approx(43.5 * 30)
    assert (rows["Cool"].get("plant_factor").value, rows["Cool"].get("plant_factor_spread").value) == (0.8, 0)
    assert rows["Low water"].get("outlet_kinds").value == ("drip",)
