"""Tells of places that are measured from each other without end."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.names import Entry
from plangen.text.source import Span

_MOST_LABELS = 4


def tell_ring(problems: Problems, words: str, span: Span, ring: Iterable[Entry]) -> None:
    """Report a ring or a chain of places, with the first few objects on its way."""
    way = [e.span for e in ring if e.bound is None or not _holds(e.bound.span, span)]
    problems.error(
        "PG3006",
        words,
        span,
        help="give one of them coordinates, or measure it from a corner",
        labels=tuple(Label(place, "on the way") for place in way[:_MOST_LABELS]),
    )


def _holds(whole: Span, part: Span) -> bool:
    return whole.file == part.file and whole.start <= part.start and part.end <= whole.end
