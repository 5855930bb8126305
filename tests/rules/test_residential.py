"""The residential example passes its own ordinance, and one changed value moves just what rests on it."""

from __future__ import annotations

import pytest

from plangen.checking.finding import Finding, Status
from tests.facts.edits import changed
from tests.rules.rules_run import RuleRun, example_text, findings_of, gathered, load, pack_text

GOOD = (Status.MEETS, Status.NEEDS_PERSON, Status.NOT_APPLICABLE)


@pytest.fixture(scope="module")
def clean() -> RuleRun:
    return findings_of(example_text("residential"), draw=True)


def test_no_required_rule_falls_short(clean: RuleRun) -> None:
    required = [f for f in clean.findings if f.severity == "required"]
    assert [(f.rule, f.subject, f.message) for f in required if f.status not in GOOD] == []


def test_only_what_no_file_can_show_needs_a_person(clean: RuleRun) -> None:
    asked = {f.rule for f in clean.findings if f.severity == "required" and f.status is Status.NEEDS_PERSON}
    assert asked == {"seal-and-sign", "utilities-located", "trench-inspected", "assembly-tested"}


def test_a_rule_from_memory_alone_does_not_pass() -> None:
    # 30 TAC 344.62 (d) could not be read: the pack says so, and the velocities of the example are low enough.
    texts = {"texas": pack_text("texas")}
    found = gathered(example_text("residential")).under(load("texas", texts))
    assert found.statuses("plastic-velocity") == {Status.NEEDS_PERSON}


def test_hazard_reasoning_is_told_step_by_step(clean: RuleRun) -> None:
    steps = " ".join(clean.of("assembly-accepted", "BF1").steps)
    assert "not a health hazard" in steps
    assert "no pressure from downstream" in steps


def test_margin_of_the_assembly_by_hand(clean: RuleRun) -> None:
    # 28 in over grade at 101.5 ft; highest head at 102.4267 ft (see the fact tests): 1.4066 ft over it.
    finding = clean.of("assembly-above-outlets", "BF1")
    assert finding.status is Status.MEETS
    assert finding.margin is not None and finding.margin.si == pytest.approx(
        (1.4066 - 1.0) * 0.3048, abs=2e-4
    )


@pytest.mark.parametrize(
    ("old", "new", "rule", "subject"),
    [
        ("chemicals          none", 'chemicals          "weed-and-feed"', "assembly-for-chemicals", "BF1"),
        ("septic             none", 'septic             "tank in the back"', "assembly-for-septic", "BF1"),
        ("second source      none", 'second source      "old well"', "assembly-for-second-source", "BF1"),
        ("reclaimed water    none", 'reclaimed water    "purple pipe"', "assembly-for-reclaimed", "BF1"),
        ("pump               none", 'pump               "booster"', "assembly-against-backpressure", "BF1"),
        ("static 64 psi measured", "static 84 psi measured", "static-pressure", "W1"),
        ("rain sensor RS1 ...", "rain sensor none\n  soil sensor none", "rain-shutoff", "C1"),
        ("freeze sensor FS1 ...", "freeze sensor none", "freeze-shutoff", "C1"),
        ("stations 6", "stations 3", "controller-stations", "C1"),
        ("extends ...\n  assembly", "extends 6 in\n  assembly", "sleeve-extends", "SL1"),
        ("critical level 28 in", "critical level 20 in", "assembly-above-outlets", "BF1"),
        ("  listing   \"ASSE 1020\"\n", "", "assembly-listed", "BF1"),
        (', supports "two galvanised posts"', "", "assembly-supported", "BF1"),
        ("height -10 in, in box\n  tee N11", "height -10 in\n  tee N11", "valve-reachable", "V1"),
    ],
)  # fmt: skip
def test_one_change_breaks_the_rule_it_is_about(old: str, new: str, rule: str, subject: str) -> None:
    text = changed(example_text("residential"), (old, new))
    assert findings_of(text).of(rule, subject).status is Status.FALLS_SHORT


def test_a_reduced_pressure_assembly_answers_the_chemicals() -> None:
    text = changed(
        example_text("residential"),
        ("chemicals          none", 'chemicals          "weed-and-feed"'),
        ("assembly BF1   pvb-1, pvb,", "assembly BF1   rp-1, rp,"),
        ("critical level 28 in above grade", "relief port 14 in above grade"),
        ("part ball-valve-1 {", _RP + "part ball-valve-1 {"),
    )
    run = findings_of(text)
    statuses = {r: run.of(r, "BF1").status for r in ("assembly-for-chemicals", "rp-above-grade", "rp-drain")}
    assert set(statuses.values()) == {Status.MEETS}
    aside = {f.rule for f in run.findings if f.status is Status.NOT_APPLICABLE}
    assert {"assembly-above-outlets", "assembly-above-piping", "assembly-above-snow"} <= aside


def test_one_assumed_pressure_moves_just_what_rests_on_it() -> None:
    text = changed(
        example_text("residential"), ("static 64 psi measured 2026-04-20", "static 64 psi assumed")
    )
    assumed = findings_of(text)
    before = {_key(f): f.status for f in findings_of(example_text("residential")).findings}
    moved = {_key(f) for f in assumed.findings if before.get(_key(f)) is not f.status}
    assert ("static-pressure", "W1") in moved
    assert ("pipe-rating", "P5") in moved
    # The design pressure is the stated seasonal low, so nothing that flows rests on the static pressure.
    still = {"static-pressure", "pipe-rating", "pipe-surge", "pressure-measured"}
    assert {rule for rule, _ in moved} <= still


def test_what_is_taken_for_a_silence_is_a_person_s_to_confirm() -> None:
    """No temperature is taken as 73 F, which leaves PVC (not copper) its whole rating.

    The ratings of PVC are tabled for 73 F, those of copper tube for 100 F first (both from memory).
    """
    warm = ', temperature 77 degF from standard "Quillmoor Water quality report 2025"'
    text = example_text("residential")
    run, whole = findings_of(changed(text, (warm, ""))), findings_of(text)
    assert {whole.of("pipe-rating", p).status for p in ("P1", "P2")} == {Status.MEETS}
    assert run.of("pipe-rating", "P1").status is Status.MEETS
    assert run.of("pipe-rating", "P2").status is Status.NEEDS_PERSON
    assert run.of("pipe-rating", "P2").weak == ("highest temperature (assumed)",)


def _key(finding: Finding) -> tuple[str, str]:
    return finding.rule, finding.subject


_RP = """part rp-1 {
  kind      assembly
  label     "Reduced-pressure assembly 1 in"
  assembly  rp
  size      1 in
  loss      (0 gpm, 10 psi) (10 gpm, 11.0 psi) (20 gpm, 12.0 psi) (30 gpm, 13.5 psi)
  flow range 0 gpm to 30 gpm
  rating    175 psi
  listing   "ASSE 1013"
  height    14 in
  length    16 in
  from      data sheet "RP-1, curve 1"
}

"""
