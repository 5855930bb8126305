"""The broken example earns just the findings its comments name, each at the statement below its comment."""

from __future__ import annotations

import re

import pytest

from plangen.checking.finding import Status
from tests.rules.rules_run import RuleRun, example_text, findings_of

FAULT = re.compile(r"\s*# FAULT (?P<rule>[a-z0-9-]+) (?P<subject>[^:]+): (?P<words>.+)")
BAD = (Status.FALLS_SHORT, Status.NOT_KNOWN)


@pytest.fixture(scope="module")
def broken() -> RuleRun:
    return findings_of(example_text("broken"), draw=True)


def faults(text: str) -> dict[tuple[str, str], int]:
    """Return rule and subject of each FAULT comment, with the line of the statement below it."""
    lines = text.split("\n")
    found: dict[tuple[str, str], int] = {}
    for index, line in enumerate(lines):
        match = FAULT.fullmatch(line)
        if match is None:
            continue
        below = index
        while lines[below].lstrip().startswith("#"):
            below += 1
        key = (match["rule"], match["subject"])
        assert key not in found, f"{key} is named twice"
        found[key] = below + 1
    return found


def test_exactly_the_named_faults_are_found(broken: RuleRun) -> None:
    named = faults(broken.source.text)
    assert len(named) >= 12
    earned = {
        (f.rule, f.subject): broken.line(f)
        for f in broken.findings
        if f.severity == "required" and f.status in BAD
    }
    assert set(earned) == set(named)
    assert earned == named


def test_every_fault_says_what_is_wrong_and_what_to_do(broken: RuleRun) -> None:
    for finding in broken.findings:
        if finding.severity == "required" and finding.status in BAD:
            assert finding.message and finding.remedy and finding.sources and finding.why
            assert finding.missing or finding.status is Status.FALLS_SHORT


def test_silence_on_a_hazard_never_reads_as_a_pass(broken: RuleRun) -> None:
    assert broken.of("assembly-for-septic", "BF1").status is Status.NOT_KNOWN
    assert broken.of("hazards-answered", "septic").status is Status.FALLS_SHORT


def test_what_the_faults_do_not_touch_still_meets(broken: RuleRun) -> None:
    assert broken.of("plastic-velocity", "P6").status is Status.MEETS
    assert broken.of("assembly-above-piping", "BF1").status is Status.MEETS
    assert broken.of("head-overspray", "H11").status is Status.MEETS
