"""Lines of the budget, the pressure left for the house and a break, worked again in the units of the trade.

Hazen-Williams as in the EPANET 2.2 User Manual, ch. 3: hf[ft] = 4.727 L Q[cfs]^1.852 / (C^1.852 D[ft]^4.871),
so 10.4621 q[gpm]^1.852 / (C^1.852 d[in]^4.871) in a foot; v[ft/s] = 0.4085 q / d2; local loss K v2 / 2g; a
foot of water is 0.4333 psi (62.4 lb/ft3, the same manual). Bores: ASTM B88 type K 1 in 0.995 in; ASTM D1785
schedule 40 1-1/4 in 1.380 in.
"""

from __future__ import annotations

import re

import pytest

from plangen.hydraulics.results import BudgetLine
from plangen.quantity.dimension import FOOT_M, INCH_M, pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.residential import analysed_with, design_with

PSI_M = pressure_to_head_m(to_si(1, "psi"))
GPM = to_si(1, "gpm")


def friction_ft(gpm: float, feet: float, bore_in: float, c: float) -> float:
    return 10.4621 * gpm**1.852 / (c**1.852 * bore_in**4.871) * feet


def local_ft(gpm: float, bore_in: float, k: float) -> float:
    return k * (0.4085 * gpm / bore_in**2) ** 2 / (2 * 32.174)


def k_of(line: BudgetLine) -> float:
    """Return the sum of K from the words of a line, as `2 x 90 deg bend (K 0.9)`."""
    pieces = re.findall(r"(?:(\d+) x )?[^,(]*(?:,[^(]*)?\(K ([\d.]+)\)", line.fittings)
    return sum(int(count or 1) * float(k) for count, k in pieces)


def test_each_pipe_of_the_budget_is_what_the_formula_gives() -> None:
    worst = analysed_with().case_of_zone("Z3")
    assert worst is not None and worst.budget is not None
    pipes = [line for line in worst.budget.lines if line.length_m is not None]
    assert len(pipes) >= 9
    for line in pipes:
        assert line.bore_m is not None and line.velocity_ms is not None and line.length_m is not None
        gpm, bore = line.flow_m3s / GPM, line.bore_m / INCH_M
        c = 130.0 if "copper" in line.description else 150.0
        hand = friction_ft(gpm, line.length_m / FOOT_M, bore, c) + local_ft(gpm, bore, k_of(line))
        assert line.loss_m / FOOT_M == pytest.approx(hand, rel=2e-3, abs=1e-3), line.id
        assert line.velocity_ms / FOOT_M == pytest.approx(0.4085 * gpm / bore**2, rel=1e-3)
    first = next(line for line in pipes if line.id == "S1")
    assert first.bore_m is not None and first.bore_m / INCH_M == pytest.approx(0.995)


def test_what_a_pipe_holds_and_fills_with() -> None:
    """Gallons in 100 ft = 4.08 d2, and 1 ft/s = 2.448 d2 gpm, d in inches (231 in3 to the gallon)."""
    for check in analysed_with().pipes:
        bore = next(p.size.bore_m for p in design_with().pipes if p.name == check.pipe) / INCH_M
        gallons = check.volume_m3 / to_si(1, "gal")
        assert gallons == pytest.approx(4.08 * bore**2 * check.length_m / FOOT_M / 100, rel=1e-3)
        assert check.fill_flow_m3s / GPM == pytest.approx(2.448 * bore**2, rel=1e-3)


def test_the_house_keeps_the_pressure_at_the_tap_less_its_own_service() -> None:
    """At the tap both part: the house's 4 gpm lose their own way in type K 1 in, and a rise."""
    hydraulics = analysed_with()
    assert hydraulics.studies is not None
    case = hydraulics.case_of_zone("Z3")
    assert case is not None and case.budget is not None
    tap = next(line for line in case.budget.lines if line.id == "S2").pressure_after_m
    service = [r for r in case.solution.links if r.link.object == "S3"]
    feet = sum(r.link.length_m for r in service) / FOOT_M
    k = sum(r.link.minor_k for r in service)
    level = {n.node.id: n.node.elevation_m for n in case.solution.nodes}
    rise = (level["HS"] - level[service[0].link.start]) / FOOT_M
    lost = friction_ft(4.0, feet, 0.995, 130.0) + local_ft(4.0, 0.995, k) + rise
    left = next(h for h in hydraulics.studies.house if h.case == "Z3")
    assert left.pressure_m / PSI_M == pytest.approx(tap / PSI_M - 0.4333 * lost, abs=0.02)


def test_a_break_loses_its_whole_head_on_the_way_and_at_the_open_end() -> None:
    """Pipes, meter, valve and assembly at its flow, and v2 / 2g at its 1.380 in end, take it all."""
    hydraulics = analysed_with()
    assert hydraulics.studies is not None
    (broken,) = hydraulics.studies.breaks
    worst = hydraulics.case_of_zone("Z3")
    assert broken.flow_m3s is not None and worst is not None and worst.budget is not None
    gpm = broken.flow_m3s / GPM
    lost = local_ft(gpm, 1.380, 1.0)
    for line in worst.budget.lines:
        if line.bore_m is not None and line.length_m is not None:
            c = 130.0 if "copper" in line.description else 150.0
            lost += friction_ft(gpm, line.length_m / FOOT_M, line.bore_m / INCH_M, c)
            lost += local_ft(gpm, line.bore_m / INCH_M, k_of(line))
        if line.id == "BF1":
            break
    lost += local_ft(gpm, 1.0, 0.07)  # ball valve, K on its size
    meter = 15.0 * (gpm / 30.0) ** 2  # carried on by the square from its last point, 30 gpm 15 psi
    assembly = 4.6 + (8.5 - 4.6) * (gpm - 30) / 20  # its sheet: 30 gpm 4.6 psi, 50 gpm 8.5 psi
    source, end = 99.8 + 0.2 * 3 / 10, 101.5 + 28 / 12  # ground at W1, critical level of BF1, ft
    assert 0.4333 * (lost + end - source) + meter + assembly == pytest.approx(58.0, abs=0.3)
