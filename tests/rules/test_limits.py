"""Each number of the packs decides: what lies just inside falls short once the limit moves by a tenth."""

from __future__ import annotations

import pytest

from plangen.checking.finding import Status
from plangen.text.source import SourceFile
from tests.facts.edits import changed
from tests.rules.cases import (
    AVB_BEHIND_V1,
    RP,
    Change,
    gas_under_main,
    other_assembly,
    pressure_tested,
    recorded,
)
from tests.rules.limits_moved import moved, numbers_in
from tests.rules.rules_run import PACKS, example_text, gathered, load, loaded, pack_text

# (limit, rule, factor that tightens it, changes that bring the example just inside it)
EDGES: tuple[tuple[str, str, float, tuple[Change, ...]], ...] = (
    ("vacuum_breaker_above_outlets", "assembly-above-outlets", 1.1, (("level 28 in", "level 24 in"),)),
    ("vacuum_breaker_above_piping", "assembly-above-piping", 1.1, (("level 28 in", "level 12 in"),)),
    ("vacuum_breaker_above_snow", "assembly-above-snow", 1.1, (("level 28 in", "level 25 in"),)),
    ("atmospheric_above_outlets", "atmospheric-above-outlets", 1.1,
     (*AVB_BEHIND_V1, ("level 24 in", "level 5.5 in"))),
    ("rp_above_grade", "rp-above-grade", 1.1, other_assembly("rp", "relief port 12.5 in above grade")),
    ("rp_not_above", "rp-within-reach", 0.9, other_assembly("rp", "relief port 46 in above grade")),
    ("wall_clearance", "assembly-clearance", 1.1, (("clearance 12 in", "clearance 6.2 in"),)),
    ("main_cover", "main-cover", 1.1, (("route N1 -> V4, cover ...", "route N1 -> V4, cover 12.5 in"),)),
    ("lateral_cover", "lateral-cover", 1.1, (("N12 -> N13, cover ...", "N12 -> N13, cover 8.3 in"),)),
    ("below_frost", "frost-cover", 1.1, (("T1 -> IV1, cover 18 in", "T1 -> IV1, cover 16.2 in"),)),
    ("wire_cover", "wire-cover", 1.1, (('one spare", cover ...', 'one spare", cover 6.2 in'),)),
    ("pvc_velocity", "plastic-velocity", 0.9, ()),  # Z3's 12 gpm in 1 in pipe: 4.6 ft/s
    ("metal_velocity", "metal-velocity", 0.9, (("demand 4 gpm", "demand 6 gpm"),)),
    ("static_without_regulator", "static-pressure", 0.9, (("static 64 psi", "static 76 psi"),)),
    ("meter_share", "meter-share", 0.9, (("0.5 gpm to 30 gpm", "0.5 gpm to 23 gpm"),)),
    ("sleeve_over_pipe", "sleeve-size", 1.1, ()),
    ("sleeve_extends", "sleeve-extends", 1.1, (("extends ...\n  assembly", "extends 12.5 in\n  assembly"),)),
    ("spacing_over_radius", "head-spacing", 0.9, ()),  # rotors at 30 ft with a radius of 30 ft
    ("hardscape_distance", "head-to-hardscape", 1.1,
     (("route N21 -> (46, 34)", "route N21 -> (47.65, 34)"), ("15q, at (46, 34)", "15q, at (47.65, 34)"))),
    ("sewer_above", "sewer-separation", 1.1,
     (("route (40, 46) -> (40, -8), depth 4 ft", "route (9, 46) -> (9, -8), depth 32 in"),)),
    ("sewer_aside", "sewer-separation", 1.1,
     (("route (40, 46) -> (40, -8), depth 4 ft", "route (2.8, 20) -> (2.8, -8), depth 20 in"),)),
    ("test_air_inlet", "recorded-air-inlet", 1.1, (recorded("air inlet 1.05 psi, check valve 2 psi"),)),
    ("test_check", "recorded-check", 1.1, (recorded("air inlet 2 psi, check valve 1.05 psi"),)),
    ("test_first_check", "recorded-rp-checks", 1.1,
     (*RP, recorded("first check 5.2 psi, second check 2 psi, relief valve 2.1 psi"))),
    ("test_relief", "recorded-relief", 1.1,
     (*RP, recorded("first check 6 psi, second check 2 psi, relief valve 2.1 psi"))),
    ("test_relief_margin", "recorded-relief", 1.1,
     (*RP, recorded("first check 5.3 psi, second check 2 psi, relief valve 2.2 psi"))),
    ("gauge_age", "recorded-gauge", 0.9,
     (recorded("air inlet 2 psi, check valve 2 psi", calibrated="2025-06-20"),)),
    ("pressure_test_loss", "recorded-pressure-test", 0.9, (pressure_tested("1.9 psi"),)),
    ("gas_aside", "gas-separation", 1.1, gas_under_main("32 in")),
    ("pressure_spread", "zone-pressure-spread", 0.9,
     (("lateral L31 pvc-sch40 1 in", "lateral L31 pvc-sch80 1/2 in"),
      ("lateral L33 pvc-sch40 1 in", "lateral L33 pvc-sch40 3/4 in"))),
    ("flow_spread", "zone-flow-spread", 0.9,
     (("lateral L31 pvc-sch40 1 in", "lateral L31 pvc-sch80 1/2 in"),)),
    ("low_head_volume", "zone-low-head", 0.9,
     (("(0, 46) 101.4", "(0, 46) 102"), ("(24, 45) 101.5", "(24, 45) 102.1"),
      ("(70, 46) 101.4", "(70, 46) 102"))),
    ("rate_spread", "zone-rate-spread", 0.9, (("flow 0.92 gpm", "flow 1.06 gpm"),)),
    ("spare_pressure", "zone-spare-pressure", 1.1, (("lowest 58 psi", "lowest 55.4 psi"),)),
    ("least_uniformity", "area-uniformity", 1.1,
     (("radius 30 ft at 40 psi\n  arc 90 deg", "radius 21.4 ft at 40 psi\n  arc 90 deg"),
      ("radius 30 ft at 40 psi\n  arc 180 deg", "radius 21.4 ft at 40 psi\n  arc 180 deg"))),
)  # fmt: skip


def tightened(limit: str, factor: float) -> dict[str, SourceFile]:
    """Return the pack texts with one limit moved, in the pack that governs; a zero moves up by its step."""
    texts = {n: pack_text(n) for n in PACKS}
    name = next(n for n in reversed(PACKS) if limit in numbers_in(texts[n].text))
    texts[name] = SourceFile.of(texts[name].name, moved(texts[name].text, limit, factor))
    return texts


@pytest.mark.long  # test_pack_cases moves the limits of the same pack by its own cases in every run
@pytest.mark.parametrize(("limit", "rule", "factor", "changes"), EDGES, ids=[e[0] for e in EDGES])
def test_a_tenth_decides(limit: str, rule: str, factor: float, changes: tuple[Change, ...]) -> None:
    facts = gathered(changed(example_text("residential"), *changes))
    assert facts.under(loaded("quillmoor")).statuses(rule) == {Status.MEETS}
    assert Status.FALLS_SHORT in facts.under(load("quillmoor", tightened(limit, factor))).statuses(rule)


# From nothing a limit only moves up, by a fixed step: (limit, rule, changes that bring the example past it).
FROM_NOTHING: tuple[tuple[str, str, tuple[Change, ...]], ...] = (
    ("overspray", "head-overspray",
     (("at (31.5, 19), on L21, full circle", "at (33.21, 19), on L24, full circle"),)),
)  # fmt: skip


@pytest.mark.parametrize(("limit", "rule", "changes"), FROM_NOTHING, ids=[e[0] for e in FROM_NOTHING])
def test_a_step_from_nothing_decides(limit: str, rule: str, changes: tuple[Change, ...]) -> None:
    facts = gathered(changed(example_text("residential"), *changes))
    assert Status.FALLS_SHORT in facts.under(loaded("quillmoor")).statuses(rule)
    assert facts.under(load("quillmoor", tightened(limit, 1.1))).statuses(rule) == {Status.MEETS}


def test_every_number_has_an_edge() -> None:
    edges = {e[0] for e in (*EDGES, *FROM_NOTHING)}
    assert {name for pack in PACKS for name in numbers_in(pack_text(pack).text)} == edges
