"""What keeps many findings from being known, as the page shows it: said once, with links to each. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from plangen.annotation.markers import mark_of
from plangen.checking.finding import Finding
from plangen.checking.open_causes import OpenCause
from plangen.packet.anchors import cause_anchor, finding_anchor
from plangen.packet.tables import Cell
from plangen.text.source import SourceSet


@dataclass(frozen=True, slots=True)
class Waiting:
    """One missing thing. `rules` holds title, name and weight of each rule, with a link to each finding."""

    anchor: str
    words: str
    count: int
    required: int
    remedy: str
    at: str  # where it can be said, or empty
    rules: tuple[tuple[str, str, str, tuple[Cell, ...]], ...]
    findings: frozenset[str]  # anchors


def waiting(causes: Iterable[OpenCause], sources: SourceSet) -> tuple[Waiting, ...]:
    """Return each cause ready for the template."""
    return tuple(_waiting(cause, sources) for cause in causes)


def problem(cause: OpenCause) -> Cell:
    """Return the line that stands for all findings of a cause among what must be acted on."""
    first = cause.findings[0]
    words = f"{first.status.words}: {cause.words} ({len(cause.findings)} findings)"
    return Cell(words, cause_anchor(first.id))


def _waiting(cause: OpenCause, sources: SourceSet) -> Waiting:
    place = sources.place(cause.at) if cause.at is not None else None
    return Waiting(
        cause_anchor(cause.findings[0].id),
        cause.words,
        len(cause.findings),
        cause.required,
        cause.remedy,
        f"{place.file}, line {place.line}" if place is not None else "",
        tuple((f[0].title, f[0].rule, f[0].severity, tuple(map(_link, f))) for f in cause.rules),
        frozenset(finding_anchor(f.id) for f in cause.findings),
    )


def _link(finding: Finding) -> Cell:
    return Cell(f"{finding.subject or 'design'} ({mark_of(finding)})", finding_anchor(finding.id))
