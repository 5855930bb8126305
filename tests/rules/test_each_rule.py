"""Each rule of the ordinance has a case that meets it and one that falls short."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from _pytest.mark import ParameterSet

from plangen.checking.finding import Status
from plangen.checking.packs import CheckedPack
from plangen.sheets.marks import Drawn, Sheet
from tests.facts.edits import changed
from tests.rules.cases import FALLS_SHORT, MEETS, Change
from tests.rules.rules_run import RuleRun, example_text, findings_of, gathered, loaded


@cache
def clean() -> RuleRun:
    return findings_of(example_text("residential"), draw=True)


def alone(rule: str) -> CheckedPack:
    """Return the ordinance with that rule only: its findings do not hang on the other rules."""
    whole = loaded("quillmoor")
    return replace(whole, rules=tuple(r for r in whole.rules if r.name == rule))


def sampled(cases: tuple[tuple[str, tuple[Change, ...]], ...]) -> list[ParameterSet]:
    """Return every third case for every run, the others for `--long`."""
    marks = [() if i % 3 == 0 else pytest.mark.long for i in range(len(cases))]
    return [pytest.param(*case, id=case[0], marks=mark) for case, mark in zip(cases, marks, strict=True)]


@pytest.mark.parametrize(("rule", "changes"), sampled(FALLS_SHORT))
def test_a_case_that_falls_short(rule: str, changes: tuple[Change, ...]) -> None:
    run = gathered(changed(example_text("residential"), *changes)).under(alone(rule))
    assert Status.FALLS_SHORT in run.statuses(rule)


@pytest.mark.parametrize(("rule", "changes"), sampled(MEETS))
def test_a_case_that_meets(rule: str, changes: tuple[Change, ...]) -> None:
    run = gathered(changed(example_text("residential"), *changes)).under(alone(rule))
    assert run.statuses(rule) == {Status.MEETS}


# (rule, what is taken off the sheets): a mark less, and the rule about it falls short.
UNDRAWN: tuple[tuple[str, Callable[[Drawn], bool]], ...] = (
    ("plan-north", lambda d: d.what == "north-arrow"),
    ("plan-scale", lambda d: d.what == "scale-bar"),
    ("plan-legend", lambda d: d.what == "legend-entry" and d.kind.endswith("rotor")),
    ("plan-heads", lambda d: d.what == "symbol" and d.object == "H11"),
    ("plan-pipes", lambda d: d.object == "L24" and "pipe" in d.what + d.kind),
    ("plan-valves", lambda d: d.object == "V1" and d.what == "symbol"),
    ("plan-assembly", lambda d: d.object == "BF1" and d.what == "symbol"),
    ("plan-source", lambda d: d.object == "M1" and d.what == "label"),
    ("plan-control", lambda d: d.object == "C1" and d.what == "symbol"),
    ("plan-zone-flow", lambda d: d.what == "table" and d.kind == "zones"),
    ("plan-site", lambda d: d.object == "Drive"),
    ("plan-utilities", lambda d: d.object == "SS1"),
    ("plan-title-block", lambda d: d.what == "title-block"),
)


@pytest.mark.parametrize(("rule", "lost"), UNDRAWN, ids=[r for r, _ in UNDRAWN])
def test_a_plan_that_lacks_a_mark(rule: str, lost: Callable[[Drawn], bool]) -> None:
    def stripped(sheet: Sheet) -> Sheet:
        return replace(sheet, inventory=tuple(d for d in sheet.inventory if not lost(d)))

    run = gathered(example_text("residential"), True, stripped).under(alone(rule))
    assert run.statuses(rule) == {Status.FALLS_SHORT}


def test_a_plan_that_does_not_letter_its_pressures() -> None:
    bare = gathered(example_text("residential"), True, lambda s: replace(s, marks=()))
    assert bare.under(loaded("quillmoor")).statuses("plan-pressure") == {Status.FALLS_SHORT}


def test_every_required_rule_has_a_case_each_way() -> None:
    asked = {"seal-and-sign", "utilities-located", "trench-inspected", "assembly-tested"}
    required = {r.name for r in loaded("quillmoor").rules if r.severity == "required"} - asked
    falls = {r for r, _ in FALLS_SHORT} | {r for r, _ in UNDRAWN} | {"plan-pressure"}
    meets = {f.rule for f in clean().findings if f.status is Status.MEETS} | {r for r, _ in MEETS}
    assert sorted(required - falls) == []
    assert sorted(required - meets) == []
