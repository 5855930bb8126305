"""What keeps many findings from being known, each said once with the findings that wait for it. Pure.

In: findings, the design. Out: one `OpenCause` for each thing that at least `MANY` findings lack alike. What
fewer lack stays with its finding, and no finding is changed or left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from plangen.checking.finding import Finding, Status
from plangen.model.design import Design
from plangen.text.source import Span

MANY = 3
_NAME = re.compile(r"[\w.-]*\w")
_UNANSWERED = "the design does not say "


@dataclass(frozen=True, slots=True)
class OpenCause:
    """Something that nobody says. `at` is the statement that could say it, where the words name one."""

    missing: tuple[str, ...]
    remedy: str
    at: Span | None
    findings: tuple[Finding, ...]

    @property
    def words(self) -> str:
        """Return what is missing as one line."""
        return "; ".join(self.missing)

    @property
    def required(self) -> int:
        """Return how many of the findings are required."""
        return sum(f.severity == "required" for f in self.findings)

    @property
    def rules(self) -> tuple[tuple[Finding, ...], ...]:
        """Return the findings of each rule that waits, in the order of the findings."""
        found: dict[str, list[Finding]] = {}
        for finding in self.findings:
            found.setdefault(finding.rule, []).append(finding)
        return tuple(map(tuple, found.values()))


def open_causes(findings: Iterable[Finding], design: Design) -> tuple[OpenCause, ...]:
    """Return what keeps at least `MANY` findings from being known, in the order of the findings."""
    waiting: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        if finding.status is Status.NOT_KNOWN and finding.missing:
            waiting.setdefault(finding.missing, []).append(finding)
    many = {missing: found for missing, found in waiting.items() if len(found) >= MANY}
    places = dict(_places(design)) if many else {}
    return tuple(
        OpenCause(missing, found[0].remedy, _place(missing, places, design), tuple(found))
        for missing, found in many.items()
    )


def told_once(causes: Iterable[OpenCause]) -> frozenset[str]:
    """Return the ids of the findings that wait for one of these."""
    return frozenset(f.id for cause in causes for f in cause.findings)


def _place(missing: tuple[str, ...], places: dict[str, Span], design: Design) -> Span | None:
    """Return the statement of the first thing that the words name, or the block of the questions."""
    for words in missing:
        if words.startswith(_UNANSWERED):
            return design.hazards_span
        named = next((places[name] for name in _NAME.findall(words) if name in places), None)
        if named is not None:
            return named
    return None


def _places(design: Design) -> Iterator[tuple[str, Span]]:
    """Yield the name and the place of all that is stated; an object hides a part of the same name."""
    parts = [d.part for d in design.devices if d.part is not None]
    parts += [*(h.part for h in design.heads), *(d.part for d in design.drips)]
    yield from ((p.name, p.span) for p in parts if p.span is not None)
    site = design.site
    for ground in (site.planting, site.paving, site.buildings, site.trees):
        yield from ((x.name, x.span) for x in ground)
    for made in (design.devices, design.pipes, design.sleeves, design.zones, design.heads, design.drips):
        yield from ((x.name, x.span) for x in made)
    for one in (design.source, design.house, design.control):
        if one is not None:
            yield one.name, one.span
