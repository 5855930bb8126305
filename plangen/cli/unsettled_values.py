"""Values only assumed, typical or from memory, each listed once for all findings on it. Text only."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from plangen.checking.finding import Finding, Status
from plangen.text.source import SourceSet, Span

Key = tuple[str, Span | None]  # the words for a value with its basis, and where it is stated


@dataclass(frozen=True, slots=True)
class UnsettledValues:
    """What a person is asked to vouch for, in the order of the findings, and how many rest on each."""

    counts: dict[Key, int]

    @classmethod
    def of(cls, findings: Iterable[Finding]) -> UnsettledValues:
        """Return the values behind all findings that wait for a person because of them."""
        counts: dict[Key, int] = {}
        for key in (key for finding in findings if waits(finding) for key in _keys(finding)):
            counts[key] = counts.get(key, 0) + 1
        return cls(counts)

    def numbers(self, findings: Iterable[Finding]) -> str:
        """Return which of the values some findings rest on, by their numbers."""
        order = {key: number for number, key in enumerate(self.counts, 1)}
        numbers = sorted({order[key] for f in findings for key in _keys(f)})
        return f"{'value' if len(numbers) == 1 else 'values'} {_ranges(numbers)}"

    def lines(self, sources: SourceSet, prefix: str) -> list[str]:
        """Return one line for each value."""
        lines = []
        for number, ((words, at), count) in enumerate(self.counts.items(), 1):
            place = sources.place(at) if at is not None else None
            where = f"  {prefix}{place.file}:{place.line}:{place.column}" if place is not None else ""
            behind = "1 finding" if count == 1 else f"{count} findings"
            lines.append(f"  {number:>3}  {words}, behind {behind}{where}")
        return lines


def _keys(finding: Finding) -> list[Key]:
    places = {f"{e.name} ({e.provenance.told()})": e.span for e in finding.evidence}
    return [(words, places.get(words)) for words in finding.weak]


def waits(finding: Finding) -> bool:
    """Return whether a finding holds on its values, but some of them must first be vouched for."""
    return finding.status is Status.NEEDS_PERSON and bool(finding.weak) and not finding.missing


def _ranges(numbers: list[int]) -> str:
    """Return numbers with runs of three and more drawn together: 1, 2, 4 to 7."""
    told: list[str] = []
    for _, run in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        found = [number for _, number in run]
        told += [f"{found[0]} to {found[-1]}"] if len(found) > 2 else map(str, found)
    return ", ".join(told)
