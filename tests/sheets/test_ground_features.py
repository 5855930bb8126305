"""Septic systems, wells, ponds, walls and banks are drawn, lettered and in the legend."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from plangen.model.design import Design
from plangen.sheets.marks import Area, Circle, Group, SheetSet
from plangen.sheets.plan_ground import ticks, turn
from tests.sheets.sheet_set import composed, groups, ink_box, sheet, texts

GROUND = """  wall Garden    "Garden wall", material block, outline (2, 60) -> (3, 60) -> (3, 76) -> (2, 76)
  pond Pool      "Pond", outline (44, 100) -> (54, 100) -> (54, 108) -> (44, 108)
  septic tank Tank "Septic tank", at (56, 84)
  septic field Field "Drain field", outline (14, 94) -> (38, 94) -> (38, 108) -> (14, 108)
  bank Bank      "Bank", slope 33 %, outline (66, 60) -> (70, 60) -> (70, 110) -> (66, 110)
  well Well      "Old well", at (8, 60)
  cistern Rain   "Rain tank", at (10, 70), new
  reclaimed RC1  route (-3, -5) -> (-3, 50), depth 3 ft
  tree TR1       "Oak", at 10 ft along Lot, canopy 12 ft
  sewer SS1"""
NAMES = {"Garden", "Pool", "Tank", "Field", "Bank", "Well", "Rain", "RC1", "TR1"}


@pytest.fixture(scope="module")
def drawn() -> tuple[Design, SheetSet]:
    return composed(("  sewer SS1", GROUND), ("sheet          ansi-b", "sheet          arch-d"))


def test_each_is_drawn_and_lettered(drawn: tuple[Design, SheetSet]) -> None:
    plan = sheet(drawn[1], "LI101")
    assert {d.object for d in plan.inventory if d.what in ("symbol", "line")} >= NAMES
    words = " ".join(t.text for group in plan.marks for t in texts(group))
    for told in ("GARDEN WALL", "POND", "Tank TNK", "DRAIN FIELD", "slope 33 %", "Well WL", "TR1 TR, Oak"):
        assert told in words, told
    assert "Rain CIS (NEW)" in words  # what is not there yet is said to be new


def test_legend_has_each_kind(drawn: tuple[Design, SheetSet]) -> None:
    listed = {d.kind for d in sheet(drawn[1], "LI001").inventory if d.what == "legend-entry"}
    kinds = {"septic-tank", "well", "cistern", "wall", "water", "septic-field", "bank", "utility-reclaimed"}
    assert listed >= kinds
    plain = composed()[1]
    assert not kinds & {d.kind for d in sheet(plain, "LI001").inventory if d.what == "legend-entry"}


def test_no_text_lies_on_text(drawn: tuple[Design, SheetSet]) -> None:
    plan = sheet(drawn[1], "LI101")
    boxes = [(t.text, ink_box(t)) for group in plan.marks for t in texts(group) if t.text.strip()]
    for (a, p), (b, q) in combinations(boxes, 2):
        apart = p[2] <= q[0] + 0.05 or q[2] <= p[0] + 0.05 or p[3] <= q[1] + 0.05 or q[3] <= p[1] + 0.05
        assert apart, (a, b)


def test_the_tank_stands_where_it_was_said(drawn: tuple[Design, SheetSet]) -> None:
    plan = sheet(drawn[1], "LI101")
    found = {g.object: g for top in plan.marks for g in groups(top) if g.role.startswith("symbol-")}
    well, tank = (_middle(found[name]) for name in ("Well", "Tank"))
    # Well (8, 60) to tank (56, 84): 48 ft by 24 ft of 304.8 mm.
    assert plan.paper_per_ground is not None
    ground_m = math.hypot(48, 24) * 0.3048
    assert math.dist(well, tank) == pytest.approx(ground_m * plan.paper_per_ground, rel=1e-3)


def _middle(group: Group) -> tuple[float, float]:
    """Return the middle of a symbol: that of its ring, or of its box."""
    first = group.marks[0]
    if isinstance(first, Circle):
        return first.centre
    assert isinstance(first, Area)
    xs, ys = zip(*first.points, strict=True)
    return sum(xs) / len(xs), sum(ys) / len(ys)


@pytest.mark.parametrize(
    "corners", [((0, 0), (10, 0), (10, 10), (0, 10)), ((0, 0), (0, 10), (10, 10), (10, 0))]
)
def test_the_strokes_of_a_bank_lie_inside_it(corners: tuple[tuple[float, float], ...]) -> None:
    for a, b in ticks((*corners, corners[0]), 2.0, turn(corners)):
        assert all(-1e-9 <= c <= 10 + 1e-9 for c in (*a, *b))
        assert 0 < b[0] < 10 and 0 < b[1] < 10
