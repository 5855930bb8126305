"""Ratings by temperature, slow closing, meter capacity."""

from __future__ import annotations

import pytest

from plangen.hydraulics.strength import SLOW_TIMES
from plangen.hydraulics.temperature import temperature_factor, temperature_factors
from plangen.model.pipe_table import pipe_size
from plangen.quantity.dimension import FOOT_M, pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.residential import analysed_with

PSI_M = pressure_to_head_m(to_si(1, "psi"))


def at_f(family: str, degrees: float) -> float | None:
    size = pipe_size(family, "1 in")
    assert size is not None
    return temperature_factor(size, to_si(degrees, "degF"))


def test_factors_are_those_of_the_published_tables() -> None:
    """PPI Recommendation C (PPFA User Bulletin 3-96): 0.88 at 80 F. Trade tables: 230 psi pipe holds 92 psi
    at 120 F (0.40), 243 psi pipe 121 psi at 110 F (0.50); 0.22 at 140 F; nothing above."""
    assert at_f("pvc-sch40", 60) == 1.0 and at_f("pvc-sch40", 73) == 1.0
    assert at_f("pvc-sch40", 80) == pytest.approx(0.88)
    assert round(230 * (at_f("pvc-sch40", 120) or 0)) == 92
    assert 243 * (at_f("pvc-sch40", 110) or 0) == pytest.approx(121, abs=1)
    assert at_f("pvc-sch40", 140) == pytest.approx(0.22)
    assert at_f("pvc-sch40", 141) is None
    assert at_f("pvc-sch40", 85) == pytest.approx((0.88 + 0.75) / 2)
    assert [f.factor for f in temperature_factors()] == sorted(
        (f.factor for f in temperature_factors()), reverse=True
    )


def test_other_materials_have_no_factor_of_pvc() -> None:
    assert at_f("pe-sidr7", 90) is None and at_f("pe-sidr7", 70) == 1.0
    assert at_f("copper-k", 90) == 1.0 and at_f("copper-k", 120) is None


def test_a_pipe_is_judged_at_the_stated_temperature() -> None:
    cool = analysed_with().studies
    hot = analysed_with(("temperature 77 degF", "temperature 140 degF")).studies
    stated = ', temperature 77 degF from standard "Quillmoor Water quality report 2025"'
    unsaid = analysed_with((stated, "")).studies
    assert cool and hot and unsaid
    holds = [next(s.holds for s in found.strengths if s.pipe == "P3") for found in (cool, hot, unsaid)]
    # P3: 1-1/4 in schedule 40, 370 psi at 73 F, some 67 psi at rest and 40 psi of surge; 81 psi left at 140 F
    assert holds == [True, False, None]
    p3 = next(s for s in hot.strengths if s.pipe == "P3")
    assert (p3.derated_m or 0) / PSI_M == pytest.approx(370 * 0.22)


def test_the_check_of_a_pipe_rests_on_the_same_rating() -> None:
    hot = analysed_with(("temperature 77 degF", "temperature 120 degF"))
    assert hot.studies is not None
    check = next(p for p in hot.pipes if p.pipe == "P3")
    strength = next(s for s in hot.studies.strengths if s.pipe == "P3")
    assert check.rating_m == pytest.approx(strength.derated_m)


def test_slow_closing_is_the_rigid_column() -> None:
    """dp[psi] = 0.01346 V L / t in ft/s, ft, s, summed over the bores on the way (rigid water column)."""
    hydraulics = analysed_with()
    assert hydraulics.studies is not None
    closing = next(c for c in hydraulics.studies.closings if c.valve == "V1")
    case = hydraulics.case_of_zone("Z1")
    assert case is not None and case.budget is not None and closing.slow_m is not None
    psi = 0.0
    for line in case.budget.lines:
        if line.object == "V1":
            break
        if line.length_m is not None and line.velocity_ms is not None:
            psi += 0.01346 * (line.velocity_ms / FOOT_M) * (line.length_m / FOOT_M) / 3.0
    assert closing.slow_m / PSI_M == pytest.approx(psi, rel=2e-3)


def test_slow_closing_counts_only_where_it_holds() -> None:
    """2 L / a is the time a wave takes there and back; below ten times that the sudden stop stands."""
    fast = analysed_with(("closing time 3 s", "closing time 0.5 s")).studies
    assert fast is not None
    closing = next(c for c in fast.closings if c.valve == "V1")
    assert closing.critical_s is not None and closing.critical_s * SLOW_TIMES > 0.5
    assert closing.slow_m is None and "sudden stop stands" in closing.note
    silent = analysed_with(("closing time 3 s", "")).studies
    assert silent is not None and all(c.slow_m is None for c in silent.closings)


def test_the_meter_is_held_to_its_sheet() -> None:
    found = analysed_with().studies
    assert found is not None
    (load,) = found.meters
    assert load.within is True
    small = analysed_with(("flow range      0.5 gpm to 30 gpm", "flow range 0.5 gpm to 12 gpm")).studies
    assert small is not None and small.meters[0].within is False
    unsaid = analysed_with(("flow range      0.5 gpm to 30 gpm", "")).studies
    assert unsaid is not None and unsaid.meters[0].within is None
