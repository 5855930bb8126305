"""What runs out of the lowest outlets of a zone, against volumes worked by hand.

Oracle: water at rest. Pipe that stands higher than an open outlet empties through it, pipe below stays full
(hydrostatics). A bore of d holds pi/4 d2 for each length; 3/4 in schedule 40 has 0.824 in (ASTM D1785), and
1 ft3 is 7.48052 gal (231 in3 to the gallon).
"""

from __future__ import annotations

import math

import pytest

from plangen.layout.low_heads import measure_low_heads
from plangen.layout.results import LowHead
from plangen.quantity.dimension import FOOT_M, Dimension
from plangen.quantity.quantity import si_to
from tests.advice.standing_designs import SMALL, changed, source_of
from tests.rules.rules_run import example_text, worked_out

# The ground rises 5 ft in 100 toward north: 99.75 ft at y = -5, 103.5 ft at y = 70.
SLOPE = (("grade          (0, -5) 100 ft", "grade (0, -5) 99.75 ft"),
         ("grade          (70, -5) 100 ft", "grade (70, -5) 99.75 ft"),
         ("grade          (0, 70) 100 ft", "grade (0, 70) 103.5 ft"),
         ("grade          (70, 70) 100 ft", "grade (70, 70) 103.5 ft"))  # fmt: skip
SHALLOW = (
    ("(10, 50), cover 12 in", "(10, 50), cover 6 in"),
    ("(50, 50), cover 12 in", "(50, 50), cover 6 in"),
)
GALLONS_A_FOOT = math.pi / 4 * (0.824 / 12) ** 2 * 7.48052


def low_head(*changes: tuple[str, str]) -> LowHead:
    _, design, surface, *_ = worked_out(source_of(changed(SMALL, *changes)).text, False)
    (found,) = measure_low_heads(design, surface)
    return found


def gallons(found: LowHead) -> float:
    assert found.drained_m3 is not None, found.missing
    return si_to(found.drained_m3, Dimension.VOLUME, "gal")


def test_what_stands_above_the_lowest_head_runs_out() -> None:
    """H1 at y = 30 is lowest, at 101.5 ft. Under 6 in of cover the top of the pipe at y stands at 99.5 + y/20
    ft, over H1 from y = 40 on: 10 ft of L2 and 10 ft of L3 to their ends at y = 50.
    """
    found = low_head(*SLOPE, *SHALLOW)
    assert found.outlet == "H1" and found.lowest == ("H1",) and found.checked is False
    assert found.difference_m == pytest.approx(1.0 * FOOT_M)
    assert gallons(found) == pytest.approx(20 * GALLONS_A_FOOT, rel=1e-6)


def test_pipe_below_the_lowest_head_stays_full() -> None:
    """Under 12 in of cover the pipe reaches the height of H1 only at its very ends."""
    assert gallons(low_head(*SLOPE)) == pytest.approx(0.0, abs=1e-9)
    assert gallons(low_head(*SHALLOW)) == 0.0  # on level ground every pipe lies under its heads


def test_a_riser_holds_back_what_stands_below_its_nozzle() -> None:
    """With H1 3 in above grade, at 101.75 ft, the pipe is over it from y = 45 on: 5 ft twice."""
    found = low_head(*SLOPE, *SHALLOW, ("on L1, arc", "on L1, riser 3 in, arc"))
    assert gallons(found) == pytest.approx(10 * GALLONS_A_FOOT, rel=1e-6)


def test_check_valves_hold_it() -> None:
    found = low_head(
        *SLOPE, *SHALLOW, ("radius          30 ft at 40 psi", "radius 30 ft at 40 psi\n  check valve")
    )
    assert gallons(found) == 0.0 and found.checked is True and found.outlet == "" and found.lowest == ()


def test_a_valve_above_ground_empties_its_own_riser() -> None:
    """On level ground a valve 12 in up, on pipe 12 in down: of its two upright pieces the foot over grade.

    P3 brings the water before the valve shuts it off: only the piece behind it, in L1, can run out.
    """
    found = low_head(("height -10 in, in box", "height 12 in"))
    assert gallons(found) == pytest.approx(1.0 * GALLONS_A_FOOT, rel=1e-6)


def test_what_is_not_stated_is_not_known() -> None:
    blind = low_head(("(10, 50), cover 12 in", "(10, 50)"))
    assert blind.drained_m3 is None and "cover of L2" in blind.missing
    off = low_head(("grade          (0, 70) 100 ft measured 2026-04-20\n", ""),
                   ("grade          (70, 70) 100 ft measured 2026-04-20\n", ""))  # fmt: skip
    assert off.drained_m3 is None and off.difference_m is None and "level" in off.missing


def test_it_rests_on_the_levels_bores_and_covers_behind_it() -> None:
    names = {i.name for i in low_head(*SLOPE, *SHALLOW).inputs}
    assert {"cover of L2", "cover of L3", "size of L2", "grade at (0, 70)", "grade at (0, -5)"} <= names
    assert not names & {"cover of L1", "size of L1", "size of P2", "cover of P3"}


def test_the_lower_heads_of_a_lawn_are_named() -> None:
    """H13 stands at y = 4, H11 at y = 34: the lawn rises 1.4 ft in 46, so they differ by 30/46 x 1.4 ft or
    a little more where the grade between spots is steeper."""
    _, design, surface, *_ = worked_out(example_text("residential"), False)
    z1 = next(x for x in measure_low_heads(design, surface) if x.zone == "Z1")
    assert z1.difference_m is not None and z1.difference_m / FOOT_M == pytest.approx(30 / 46 * 1.4, abs=0.15)
    assert {"H13", "H16"} <= set(z1.lowest) and "H11" not in z1.lowest and z1.checked is False
