"""The verdict on top of the page: how many findings have each status, and the sentence over them. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking.finding import Finding, Status
from plangen.checking.open_causes import OpenCause
from plangen.packet.anchors import finding_anchor
from plangen.packet.code_check import headline
from plangen.packet.tables import Cell
from plangen.packet.waiting import problem

# Worst first. What each means, in one sentence.
MEANING: tuple[tuple[Status, str], ...] = (
    (Status.FALLS_SHORT, "The design does not do what the rule requires."),
    (Status.NOT_KNOWN, "The design does not say what the rule needs to know. This is not a pass."),
    (
        Status.NEEDS_PERSON,
        "No file can show this, or it rests on a value nobody measured: a person must look.",
    ),
    (Status.WAIVED, "It falls short, and a waiver is named. The authority decides whether it holds."),
    (Status.MEETS, "The values of the design meet the rule. What is built must still be looked at."),
    (Status.NOT_APPLICABLE, "The rule has nothing to speak about in this design."),
)


@dataclass(frozen=True, slots=True)
class TallyLine:
    """One status with its count and meaning; `key` names its shape."""

    key: str
    words: str
    count: int
    required: int
    meaning: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """The whole of it. `key` is the status whose shape stands beside the sentence."""

    key: str
    sentence: str
    lines: tuple[TallyLine, ...]
    total: int
    problems: tuple[Cell, ...]  # what must be acted on, each linked to its finding


def verdict(findings: tuple[Finding, ...], causes: tuple[OpenCause, ...] = ()) -> Verdict:
    """Return the verdict over all findings; those that wait for one cause are one problem."""
    lines = tuple(_line(status, meaning, findings) for status, meaning in MEANING)
    once = {f.id: problem(cause) for cause in causes for f in cause.findings}
    problems = dict.fromkeys(
        once.get(f.id) or Cell(f"{f.status.words}: {headline(f)}", finding_anchor(f.id))
        for status, _ in MEANING[:3]
        for f in findings
        if f.status is status
    )
    key, sentence = _sentence({line.key: line for line in lines})
    return Verdict(key, sentence, lines, len(findings), tuple(problems))


def _line(status: Status, meaning: str, findings: tuple[Finding, ...]) -> TallyLine:
    of_status = [f for f in findings if f.status is status]
    required = sum(f.severity == "required" for f in of_status)
    return TallyLine(status.value, status.words, len(of_status), required, meaning)


def _sentence(lines: dict[str, TallyLine]) -> tuple[str, str]:
    short, unknown = lines[Status.FALLS_SHORT.value], lines[Status.NOT_KNOWN.value]
    persons, waived = lines[Status.NEEDS_PERSON.value], lines[Status.WAIVED.value]
    if short.required:
        return short.key, "Not ready for a permit: something that is required falls short."
    if unknown.required:
        return unknown.key, "Not ready for a permit: something that is required is not known."
    if persons.count:
        return persons.key, "Nothing required falls short or is unknown. Some findings still need a person."
    if waived.count:
        return waived.key, "Nothing required falls short beyond what is waived."
    return Status.MEETS.value, "Nothing required falls short or is unknown in the rules that were checked."
