"""What many findings lack alike is said once, and every finding that lacks it is among those it lists.

Oracle: the findings themselves; nothing may be dropped, and what fewer lack stays where it is.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from plangen.checking.finding import Finding, Status
from plangen.checking.open_causes import MANY, OpenCause, open_causes, told_once
from plangen.text.source import SourceFile
from tests.facts.edits import changed
from tests.rules.rules_run import example_text, findings_of, worked_out

ONE_READING = changed(
    example_text("residential"), (', lowest 58 psi from standard "Quillmoor Water pressure record 2025"', "")
)


def causes_of(text: str) -> tuple[tuple[Finding, ...], tuple[OpenCause, ...]]:
    findings = findings_of(text).findings
    return findings, open_causes(findings, worked_out(text, False)[1])


def test_one_reading_is_one_cause_with_all_that_waits_for_it() -> None:
    findings, causes = causes_of(ONE_READING)
    (cause,) = (
        c for c in causes if c.words.startswith("the lowest pressure of the year at W1 is not stated")
    )
    assert "`lowest` at W1" in cause.remedy and "`allowance`" in cause.remedy
    source = SourceFile.of("design.plan", ONE_READING)
    assert cause.at is not None
    line, _ = source.line_column(cause.at.start)
    assert ONE_READING.splitlines()[line - 1].split()[:2] == ["source", "W1"]
    waiting = {f.id for f in findings if f.missing == cause.missing and f.status is Status.NOT_KNOWN}
    assert told_once((cause,)) == waiting and len(waiting) > 100
    assert [f for found in cause.rules for f in found] == sorted(
        cause.findings, key=lambda f: [r[0].rule for r in cause.rules].index(f.rule)
    )
    assert cause.required == sum(f.severity == "required" for f in cause.findings) > 0


def test_what_few_lack_stays_with_its_finding() -> None:
    findings, causes = causes_of(example_text("broken"))
    open_now = [f for f in findings if f.status is Status.NOT_KNOWN]
    counts = Counter(f.missing for f in open_now)
    assert min(counts.values()) < MANY
    assert {c.missing for c in causes} == {m for m, count in counts.items() if count >= MANY}
    assert told_once(causes) == {f.id for f in open_now if counts[f.missing] >= MANY}


def test_an_unanswered_question_points_at_the_questions() -> None:
    text = changed(example_text("residential"), ("septic none", ""))
    design = worked_out(text, False)[1]
    asked = next(f for f in findings_of(text).findings if f.missing and "septic" in f.missing[0])
    (cause,) = open_causes([replace(asked, id=f"{asked.id}{n}") for n in range(MANY)], design)
    assert cause.at == design.hazards_span is not None
    assert open_causes([asked] * (MANY - 1), design) == ()
