"""Go or no-go by the rules: against a solver that shares nothing with ours, and properties of the search."""

from __future__ import annotations

from functools import cache

import pytest

from plangen.advice.judged import Judge
from plangen.advice.least_supply import TOLERANCE_M, least_supply
from plangen.advice.mentions import WATER_FACTS, facts_of, required_on
from plangen.checking.packs import CheckedPack
from plangen.facts.collect import collect
from plangen.hydraulics.analyse import Prepared, prepare, solve_cases
from plangen.layout.measure import measure
from plangen.packet.least_supply import LeastSupply, least_words
from plangen.quantity.dimension import PSI_PA, Dimension, pressure_to_head_m
from plangen.quantity.quantity import si_to
from plangen.text.source import SourceFile
from tests.advice.standing_designs import SMALL, changed, least_of, residential, standing
from tests.hydraulics.epanet_oracle import resolve
from tests.rules.rules_run import load, loaded, pack_text

PSI_M = pressure_to_head_m(PSI_PA)


def prepared(text: str) -> Prepared:
    at = standing(text)
    found = prepare(at.design, at.surface)
    assert isinstance(found, Prepared)
    return found


def with_rule(old: str, new: str) -> CheckedPack:
    """Return the ordinance of Quillmoor with one piece of its text replaced."""
    text = pack_text("quillmoor").text
    assert text.count(old) == 1
    fresh = SourceFile.of("rules/quillmoor/pack.rules", text.replace(old, new))
    return load("quillmoor", {"model-us": pack_text("model-us"), "quillmoor": fresh})


@cache
def spare_pack() -> CheckedPack:
    """Return the ordinance with its advice to keep pressure to spare made a requirement."""
    head = "least_spare_pressure at least limit spare_pressure\n  severity  "
    return with_rule(f"{head}advisory", f"{head}required")


@pytest.fixture(scope="module")
def least() -> LeastSupply:
    return least_of(residential())


def test_every_head_has_its_pressure_there_and_not_below_by_another_solver(least: LeastSupply) -> None:
    """Oracle: the public-domain network solver behind `owa-epanet`; the data sheets give the needs."""
    assert least.pressure_m is not None and least.steady and least.governing
    ready = prepared(residential())
    low = {h.name: h.part.pressure_low for h in standing(residential()).design.heads}

    def lacking(pressure_m: float) -> set[str]:
        found = set()
        for case in solve_cases(ready, pressure_m).cases:
            theirs = resolve(case.solution.network, case.solution)
            for outlet in case.outlets:
                need = low.get(outlet.name)
                if need is not None and theirs.pressure_m[outlet.node] < pressure_to_head_m(need.si) - 0.005:
                    found.add(outlet.name)
        return found

    assert not lacking(least.pressure_m)
    below = lacking(least.pressure_m - least.tolerance_m - 0.02)
    assert least.governing[0].rule == "head-least-pressure" and least.governing[0].subject in below


def test_the_figure_is_as_close_as_promised(least: LeastSupply) -> None:
    """Half a pound is promised; the outlets' own least pressure is found by another search."""
    assert least.pressure_m is not None and 0 < least.tolerance_m <= TOLERANCE_M * (1 + 1e-6)
    studies = standing(residential()).hydraulics.studies
    assert studies is not None and studies.least.source_m is not None
    assert abs(least.pressure_m - studies.least.source_m) <= least.tolerance_m
    assert len(least.tried) <= 12


def test_a_rule_may_govern_that_the_outlets_do_not_know() -> None:
    """The rule asks 10 psi over the least: the pressure must then be 10 psi higher, and more for losses."""
    text = residential()
    plain, more = least_of(text), least_supply(standing(text, spare_pack()))
    assert plain.pressure_m is not None and more.pressure_m is not None
    assert more.governing[0].rule == "zone-spare-pressure"
    assert more.pressure_m - plain.pressure_m >= 10 * PSI_M - more.tolerance_m - plain.tolerance_m
    judge = Judge(standing(text, spare_pack()), required_on((spare_pack(),), WATER_FACTS))
    ready = prepared(text)
    assert not judge.faults(solve_cases(ready, more.pressure_m))
    assert judge.faults(solve_cases(ready, more.pressure_m - more.tolerance_m))


@pytest.mark.parametrize(("share", "go"), [(1.005, True), (0.95, False)])
def test_a_supply_is_a_go_if_it_gives_the_flow_at_the_pressure(
    least: LeastSupply, share: float, go: bool
) -> None:
    """A supply whose pressure falls as in a residual test, through the least flow and pressure or not."""
    hardest = next(c for c in least.cases if c.case == "Z3")
    flow = si_to(hardest.flow_m3s, Dimension.FLOW, "gpm") * share
    measured = (
        f"allowance 0 psi, residual {hardest.running_m / PSI_M:.3f} psi at {flow:.4f} gpm measured 2026-04-20"
    )
    at = standing(
        residential(('lowest 58 psi from standard "Quillmoor Water pressure record 2025"', measured))
    )
    judge = Judge(at, required_on((loaded("quillmoor"),), WATER_FACTS))
    # The third zone governs; the test's curve ends at its flow, so the others are beyond it.
    third = [f for f in judge.faults(at.hydraulics) if f.subject == "Z3" or f.subject.startswith("H3")]
    assert least.governing[0].subject.startswith("H3") and (not third) is go


@pytest.mark.parametrize("psi", [30.0, 44.0, 90.0])
def test_nothing_hangs_on_the_pressure_that_is_not_listed(psi: float) -> None:
    """Every fact is collected afresh at another pressure: only the listed ones may have moved."""
    at = standing(residential())
    water = solve_cases(prepared(residential()), psi * PSI_M)
    layout = measure(at.design, at.surface, water)
    fresh = collect(at.design, at.surface, water, layout, at.sheets)
    moved = {
        (row.relation, name)
        for row, before in zip(fresh.rows, at.facts.rows, strict=True)
        for (name, value), (_, old) in zip(row.values, before.values, strict=True)
        if value.value != old.value
    }
    listed = {(relation, name) for relation, names in WATER_FACTS.items() for name in names}
    assert moved and moved <= listed


def test_rows_collected_again_are_those_of_a_whole_collection() -> None:
    """Two ways to the same facts: all of them, and only those that the rules read."""
    at = standing(residential())
    judge = Judge(at, required_on(at.packs, WATER_FACTS))
    water = solve_cases(prepared(residential()), 50 * PSI_M)
    whole = collect(at.design, at.surface, water, measure(at.design, at.surface, water), at.sheets)
    again = judge.facts(water)
    read = {fact for rule in judge.rules for fact in facts_of(rule) if fact[1]}
    assert ("head", "pressure") in read and ("pipe", "velocity") in read
    mine, theirs = (
        [(r.relation, r.name, n, v.value) for r in f.rows for n, v in r.values if (r.relation, n) in read]
        for f in (again, whole)
    )
    assert mine == theirs


def test_what_falls_short_at_every_pressure_gets_no_figure() -> None:
    """A head 40 ft from its neighbour under a limit of 33 ft stays so at any pressure."""
    found = least_supply(standing(SMALL))
    assert found.pressure_m is None and "head-spacing H3" in found.missing
    words = least_words(found, "us")
    assert "no pressure can be named" in words[0] and "no-go until" in words[1]


def test_a_supply_that_nobody_measured_gets_no_figure() -> None:
    """Silence on the pressure never becomes a figure."""
    text = changed(SMALL, ("static 50 psi measured 2026-04-20, ", ""))
    found = least_supply(standing(text))
    assert found.pressure_m is None and "pressure is given" in found.missing
