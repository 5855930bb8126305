"""Where the object of a finding is drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from plangen.checking.finding import Finding


def with_places(
    findings: Sequence[Finding], places: Mapping[str, tuple[tuple[str, str], ...]]
) -> tuple[Finding, ...]:
    """Return the findings with the sheets and zones of their objects, given (sheet, zone) pairs by name."""
    return tuple(replace(f, drawn_on=places.get(f.subject, f.drawn_on)) if f.subject else f for f in findings)
