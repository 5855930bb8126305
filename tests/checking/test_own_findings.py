"""Findings that no pack writes: a zone without figures is not known; each is named and explained.

No outside source: that what is not known never reads as a pass is the project's own decision.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.checking.finding import Finding, Status
from plangen.checking.own_findings import OWN_FINDINGS, own_finding
from plangen.facts.values import Value
from tests.checking.small_packs import inches, row, rule, run

PACKAGE = Path(__file__).resolve().parents[2]
COVER = rule("cover at least limit least_cover")
WHY = "the pressure at Z1.D1 is above what its flow is stated for"
SOLVED, DRY = Value(True), Value(False, how=WHY)


def findings_with(solved: Value, text: str = COVER) -> tuple[Finding, ...]:
    rows = (row("pipe", "P1", cover=inches(30)), row("zone", "Z1", solved=solved))
    return run(text, *rows)


def test_a_zone_without_figures_is_not_known_though_no_rule_asks() -> None:
    unsolved = [f for f in findings_with(DRY) if f.rule == "water-unsolved"]
    assert [(f.subject, f.status, f.severity) for f in unsolved] == [("Z1", Status.NOT_KNOWN, "required")]
    assert WHY in unsolved[0].message


def test_a_zone_with_figures_has_no_such_finding() -> None:
    assert not [f for f in findings_with(SOLVED) if f.rule == "water-unsolved"]


def test_a_rule_that_asks_for_the_figures_is_enough() -> None:
    source = row("source", "W1", solved=DRY)
    assert [f.rule for f in run(rule("solved", about="for each source"), source)] == ["r"]
    assert [f.rule for f in run(COVER, row("pipe", "P1", cover=inches(30)), source)] == [
        "r",
        "water-unsolved",
    ]


@pytest.mark.parametrize("own", OWN_FINDINGS, ids=lambda own: own.name)
def test_each_is_found_by_its_id_and_stands_in_the_handbook(own) -> None:  # type: ignore[no-untyped-def]
    assert own_finding(f"{own.name}/Z1") is own
    assert f"`{own.name}`" in (PACKAGE / "site" / "handbook" / "rules.md").read_text(encoding="utf-8")


def test_every_finding_the_checker_writes_itself_is_listed() -> None:
    code = "".join(p.read_text(encoding="utf-8") for p in (PACKAGE / "plangen" / "checking").glob("*.py"))
    written = set(re.findall(r'notice\(\s*"([a-z-]+)"', code)) | set(
        re.findall(r'^RULE = "([a-z-]+)"', code, re.M)
    )
    assert written == {own.name for own in OWN_FINDINGS}
