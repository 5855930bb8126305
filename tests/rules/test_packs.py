"""The shipped packs load, say where each rule comes from, and list their clauses."""

from __future__ import annotations

import re

import pytest

from tests.rules.rules_run import PACKS, ROOT, loaded, pack_text


@pytest.mark.parametrize("name", PACKS)
def test_every_rule_has_reason_remedy_and_source(name: str) -> None:
    for rule in loaded(name).rules:
        assert rule.why and rule.fix and rule.sources, rule.name
        assert rule.severity in ("required", "advisory")


def test_there_are_enough_rules() -> None:
    assert len(loaded("quillmoor").rules) >= 25


def test_the_model_pack_warns_and_the_invented_city_says_it_is_invented() -> None:
    assert "Check with the authority" in loaded("model-us").banner
    assert loaded("quillmoor").invented


@pytest.mark.parametrize("name", PACKS)
def test_the_readme_lists_every_rule_and_limit(name: str) -> None:
    readme = (ROOT / "rules" / name / "README.md").read_text(encoding="utf-8")
    text = pack_text(name).text
    rules = re.findall(r"^(?:replace )?rule ([a-z0-9-]+) ", text, flags=re.M)
    limits = re.findall(r"^limit ([a-z0-9_]+) ", text, flags=re.M)
    assert rules and limits
    for found in (*rules, *limits):
        assert f"`{found}`" in readme, found


def test_no_required_rule_of_the_ordinance_rests_on_memory_alone() -> None:
    for rule in loaded("quillmoor").rules:
        if rule.severity == "required":
            assert {s.verified for s in rule.sources} != {"from memory"}, rule.name


@pytest.mark.parametrize("name", PACKS)
def test_hazard_rules_cannot_be_waived(name: str) -> None:
    rules = {r.name: r for r in loaded(name).rules}
    for rule in ("hazards-answered", "zone-protected", "assembly-for-chemicals", "assembly-for-septic"):
        assert not rules[rule].waivable, rule
