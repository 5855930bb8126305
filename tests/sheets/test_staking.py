"""The trench and staking plan: every stake is where the design says, and the zones have their ground width.

Distances are checked against the coordinates of the design text by hand or by plain geometry.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from plangen.geometry.point import inside
from plangen.quantity.dimension import FOOT_M
from plangen.sheets.marks import Line
from plangen.sheets.stakes import Stake, stakes
from plangen.sheets.staking import staking_panels
from plangen.sheets.staking_marks import HAND_DIG_M, SPOIL_BACK_M, Ground, spoil_side
from tests.sheets.details_measures import stages
from tests.sheets.sheet_set import composed, groups, sheet, texts


@pytest.fixture(scope="module")
def found() -> tuple[Stake, ...]:
    design, _, _, layout = stages()
    return stakes(design, layout)


def _stake(found: tuple[Stake, ...], name: str) -> Stake:
    return next(s for s in found if name in s.objects and not s.expose)


def test_every_new_device_and_head_and_every_turn_has_a_stake(found: tuple[Stake, ...]) -> None:
    design = stages()[0]
    staked = {name for stake in found for name in stake.objects}
    new = [d for d in design.devices if d.state == "new"]
    assert {thing.name for thing in (*new, *design.heads)} <= staked
    # P2 turns once, at (24, 2); P8 twice, at (12, 44) and (12, 80)
    places = {(round(s.point.x / FOOT_M, 3), round(s.point.y / FOOT_M, 3)) for s in found if "turn" in s.what}
    assert {(24.0, 2.0), (12.0, 44.0), (12.0, 80.0)} <= places
    assert [s.number for s in found] == list(range(1, len(found) + 1))


def test_two_tapes_meet_at_the_stake(found: tuple[Stake, ...]) -> None:
    # H11 stands at (17, 34), the house's corners at (14, 46) and (62, 46), in feet
    tapes = dict(_stake(found, "H11").tapes)
    assert tapes["House.southwest"] / FOOT_M == pytest.approx(math.hypot(3, 12))
    assert tapes["House.southeast"] / FOOT_M == pytest.approx(math.hypot(45, 12))
    assert all(len(stake.tapes) == 2 for stake in found)


def test_each_crossing_of_a_buried_line_is_to_be_exposed(found: tuple[Stake, ...]) -> None:
    # the sewer runs along x = 40 from y = -8 to y = 46; L23, L24, L25 and L41 run across it; the gas line
    # runs where no new pipe goes
    crossed = {s.objects for s in found if s.expose}
    assert crossed == {("L23", "SS1"), ("L24", "SS1"), ("L25", "SS1"), ("L41", "SS1")}


def test_hand_dig_zone_is_24_in_to_each_side_at_scale() -> None:
    # 24 in: East Grand Forks one-call page, restated; at 1:120 that is 5.08 mm of paper
    page = sheet(composed()[1], "LI121")
    zone = next(g for top in page.marks for g in groups(top) if g.role == "hand-dig" and g.object == "SS1")
    edges = [m for m in zone.marks if isinstance(m, Line)]
    assert pytest.approx(24 * 0.0254) == HAND_DIG_M
    levels = sorted(edge.points[0][1] for edge in edges)
    assert levels[1] - levels[0] == pytest.approx(2 * 24 * 25.4 / 120, abs=1e-6)


def test_spoil_lies_two_feet_off_and_not_on_the_house() -> None:
    # 29 CFR 1926.651(j)(2): at least 2 ft from the edge
    assert pytest.approx(2 * FOOT_M) == SPOIL_BACK_M
    design = stages()[0]
    main = design.pipe("P8")
    assert main is not None
    # the second run of P8 goes north along x = 12, two feet west of the house: its spoil goes to the west
    a, b = main.route[1].point, main.route[2].point
    assert spoil_side(Ground.of(design), a, b) == -1
    page = sheet(composed()[1], "LI121")
    house = next(g for top in page.marks for g in groups(top) if g.role == "area-building")
    outline = next(m.points for m in house.marks if hasattr(m, "fill") and m.fill == "white")
    for spoil in (g for top in page.marks for g in groups(top) if g.role == "spoil"):
        for mark in spoil.marks:
            assert isinstance(mark, Line)
            middle = [(p + q) / 2 for p, q in zip(mark.points[0], mark.points[-1], strict=True)]
            assert not inside(type(a)(*middle), [type(a)(*p) for p in outline])


def test_sheet_bears_cautions_with_their_sources_and_trench_lengths() -> None:
    found = composed()[1]
    words = " ".join(t.text for id in ("LI121", "LI122") for g in sheet(found, id).marks for t in texts(g))
    for said in ("811", "1926.652(a)(1)", "1926.651(j)(2)", "by hand", "Local code, the water purveyor"):
        assert said in words, said
    # P2: from (10, 2) to (24, 2) to the assembly at (24, 45), in feet
    assert f"P2 {14 + 43} ft" in words


def test_a_design_with_nothing_to_dig_has_no_staking_sheet() -> None:

    design, _, _, layout = stages()
    old = replace(design, pipes=tuple(replace(p, state="existing") for p in design.pipes))
    assert staking_panels(old, layout, "us", "ansi-b", (340.0, 250.0)) == ()
