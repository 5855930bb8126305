"""Budgets, checks of pipes, static results and the networks of `report.json`, on the residential example."""

from __future__ import annotations

import json
import math

import pytest

from plangen.hydraulics.report import cases_json, networks_json
from plangen.hydraulics.results import CaseResult, Hydraulics
from plangen.quantity.dimension import FOOT_M, INCH_M, pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.residential import analysed_with

PSI_M = pressure_to_head_m(to_si(1, "psi"))
TOGETHER = ("days 3", "days 3\n  together Z1, Z4")


def spare(case: CaseResult, node: str) -> float:
    outlet = next(o for o in case.outlets if o.node == node)
    assert outlet.low_m is not None
    return outlet.pressure_m - outlet.low_m + outlet.regulator_m


def test_every_zone_alone_and_each_set_together() -> None:
    assert [c.case for c in analysed_with().cases] == ["Z1", "Z2", "Z3", "Z4"]
    both = analysed_with(TOGETHER)
    assert [c.zones for c in both.cases][-1] == ("Z1", "Z4")
    alone = both.case_of_zone("Z1")
    assert alone is not None
    assert both.cases[-1].total_flow_m3s > alone.total_flow_m3s


def test_overlapping_sets_stay_apart() -> None:
    """Z1 may run with Z2 and Z2 with Z3, which does not let all three run."""
    sets = "\n  together Z1, Z2\n  together Z2, Z3"
    found = analysed_with(("days 3", "days 3" + sets))
    assert [c.zones for c in found.cases if len(c.zones) > 1] == [("Z1", "Z2"), ("Z2", "Z3")]


def test_budget_lines_lead_from_the_source_to_the_worst_outlet() -> None:
    for case in analysed_with().cases:
        budget = case.budget
        assert budget is not None and budget.spare_m is not None
        left = budget.source_pressure_m
        for line in budget.lines:
            left -= line.loss_m + line.rise_m
            assert line.pressure_after_m == pytest.approx(left, abs=1e-6)
        assert left == pytest.approx(budget.available_m, abs=1e-6)
        assert budget.spare_m == pytest.approx(min(spare(case, o.node) for o in case.outlets))
        assert [line.id for line in budget.lines][:6] == ["W1", "S1", "M1", "S2", "P1", "IV1"]
        assert all(line.source for line in budget.lines)


def test_the_source_pressure_is_a_gauge_at_ground_level() -> None:
    """58 psi at the ground is 58 psi and 3 ft of water more in the main 36 in below."""
    hydraulics = analysed_with()
    first = hydraulics.cases[0].budget
    assert first is not None
    assert first.source_pressure_m == pytest.approx(58 * PSI_M)
    assert first.lines[0].pressure_after_m == pytest.approx(58 * PSI_M + 3 * FOOT_M)


def pipe_check(hydraulics: Hydraulics, name: str):  # type: ignore[no-untyped-def]
    return next(p for p in hydraulics.pipes if p.pipe == name)


def test_pipe_checks() -> None:
    hydraulics = analysed_with()
    p2 = pipe_check(hydraulics, "P2")
    assert p2.case == "Z3"  # the zone that draws most
    assert p2.volume_m3 == pytest.approx(math.pi / 4 * (1.38 * INCH_M) ** 2 * p2.length_m)
    # 1 ft/s and 2.5 ft/s through 1.380 in: v = 0.4085 q / d2 in gpm and inches (unit conversion)
    assert p2.fill_flow_m3s / to_si(1, "gpm") == pytest.approx(1.380**2 / 0.4085, rel=1e-3)
    assert p2.flush_flow_m3s / to_si(1, "gpm") == pytest.approx(2.5 * 1.380**2 / 0.4085, rel=1e-3)
    s1 = pipe_check(hydraulics, "S1")
    # highest static 64 psi (not the seasonal low) at the ground, pipe 36 in down, near the street
    assert s1.static_pressure_m == pytest.approx(64 * PSI_M + 3 * FOOT_M, abs=0.05)
    assert s1.static_known
    behind = pipe_check(hydraulics, "L41")
    assert behind.static_pressure_m < 32 * PSI_M  # a regulator stands before it


def test_wave_speed_uses_the_pipes_own_wall() -> None:
    """PVC schedule 40 1-1/4 in: 1631 ft/s, from E 400,000 psi and a bore over wall of 9.86 (by formula)."""
    assert pipe_check(analysed_with(), "P2").wave_speed_ms / FOOT_M == pytest.approx(1631, rel=5e-3)


def test_static_results_when_nothing_runs() -> None:
    at = {p.object: p for p in analysed_with().static_points}
    ground = 99.8 + 0.2 * 3 / 10  # at the source
    critical = 101.5 + 28 / 12
    expected = 64 * PSI_M - (critical - ground) * FOOT_M
    assert at["BF1"].pressure_m == pytest.approx(expected, abs=1e-6)
    assert at["HS"].node == "HS"


def test_networks_keep_the_form_promised_to_other_solvers() -> None:
    found = json.loads(json.dumps(networks_json(analysed_with())))
    for network in found:
        nodes = {n["id"]: n for n in network["nodes"]}
        assert set(network) == {"case", "zones", "sources", "nodes", "links"}
        assert set(network["sources"][0]) == {"node", "head_m"}
        for n in nodes.values():
            assert {"id", "elevation_m", "head_m", "demand_m3s", "outflow_m3s"} <= set(n)
            assert set(n) <= {"id", "elevation_m", "head_m", "demand_m3s", "outflow_m3s", "emitter",
                              "regulated_at_m", "dry"}  # fmt: skip
        for link in network["links"]:
            assert link["kind"] in ("pipe", "device", "regulator", "pump")
            drop = nodes[link["from"]]["head_m"] - nodes[link["to"]]["head_m"]
            assert link["headloss_m"] == pytest.approx(drop, abs=1e-6)
            if link["kind"] == "pipe":
                assert {"length_m", "diameter_m", "hazen_williams_c"} <= set(link)
                area = math.pi * link["diameter_m"] ** 2 / 4
                assert link["velocity_ms"] == pytest.approx(abs(link["flow_m3s"]) / area, rel=1e-6)
        assert nodes["HS"]["demand_m3s"] == pytest.approx(to_si(4, "gpm"))


def test_outlets_are_told_by_the_law_they_follow() -> None:
    found = {n["case"]: n for n in networks_json(analysed_with())}
    kinds = {
        name: {tuple(n["emitter"]) for n in found[name]["nodes"] if "emitter" in n}  # type: ignore[attr-defined]
        for name in ("Z1", "Z3", "Z4")
    }
    assert kinds == {"Z1": {("k_m3s_per_m05",)}, "Z3": {("table_m_m3s",)}, "Z4": {("constant_m3s",)}}
    regulator = next(r for r in found["Z4"]["links"] if r["kind"] == "regulator")  # type: ignore[attr-defined]
    assert regulator["state"] == "regulating"
    assert regulator["setting_m"] == pytest.approx(30 * PSI_M)


def test_numbers_have_nine_significant_digits() -> None:
    text = json.dumps(networks_json(analysed_with()) + cases_json(analysed_with()))
    for word in text.replace("[", " ").replace("]", " ").replace(",", " ").replace("}", " ").split():
        try:
            value = float(word)
        except ValueError:
            continue
        assert float(f"{value:.9g}") == value


def test_an_assembly_moved_higher_leaves_less_pressure() -> None:
    low, high = analysed_with(), analysed_with(("critical level 28 in", "critical level 60 in"))
    at = {c.case: c.budget for c in high.cases}
    for case in low.cases:
        budget, other = case.budget, at[case.case]
        assert budget and other
        if case.case != "Z4":  # behind a regulator nothing changes
            assert other.available_m < budget.available_m
