"""Every value the results rest on that nobody measured or documented, with what rests on it. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from plangen.checking.finding import Finding
from plangen.hydraulics.results import Hydraulics
from plangen.quantity.quantity import Provenance
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value that cannot decide a required rule: typical, assumed or from memory."""

    name: str
    written: str
    provenance: str
    span: Span | None
    used_by: tuple[str, ...]  # load cases and rules


def assumptions(hydraulics: Hydraulics, findings: Iterable[Finding]) -> tuple[Assumption, ...]:
    """Return them in the order of names."""
    used: dict[tuple[str, str, str], tuple[Span | None, set[str]]] = {}

    def note(name: str, written: str, provenance: Provenance, span: Span | None, user: str) -> None:
        if provenance.basis.decides:
            return
        key = (name, written, provenance.told())
        first, users = used.get(key, (span, set()))
        users.add(user)
        used[key] = (first or span, users)

    for entry in hydraulics.static_inputs:
        note(entry.name, entry.written, entry.provenance, entry.span, "static pressure")
    for case in hydraulics.cases:
        for entry in case.inputs:
            note(entry.name, entry.written, entry.provenance, entry.span, f"load case {case.case}")
    for check in hydraulics.pipes:
        for entry in (*check.flow_inputs, *check.static_inputs, *check.pipe_inputs):
            note(entry.name, entry.written, entry.provenance, entry.span, "pipe checks")
    for entry in hydraulics.studies.inputs if hydraulics.studies is not None else ():
        note(entry.name, entry.written, entry.provenance, entry.span, "studies of the water")
    for finding in findings:
        for evidence in finding.evidence:
            user = f"rule {finding.rule}"
            note(evidence.name, evidence.value.words, evidence.provenance, evidence.span, user)
    return tuple(
        Assumption(name, written, told, span, tuple(sorted(users)))
        for (name, written, told), (span, users) in sorted(used.items(), key=lambda item: item[0])
    )
