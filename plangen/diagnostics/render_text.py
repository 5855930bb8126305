"""Diagnostics as people read them: headline, place, the line with the spot underlined, what to do."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable

from plangen.diagnostics.catalogue import name_of
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.text.source import SourceSet, Span

# A longer line is shown as a window around the spot.
WIDEST = 110
_BEFORE = 40
MOST_PLACES = 12


def render(
    diagnostic: Diagnostic,
    sources: SourceSet,
    again: Iterable[Diagnostic] = (),
    named: Callable[[str], str] = str,
) -> str:
    """Return one diagnostic as lines of text, ending with a line end.

    `again` are those that would say the same: their places are listed. `named` gives the name by which a
    reader knows a file.
    """
    name = name_of(diagnostic.code)
    code = f"{diagnostic.code} {name}".rstrip()
    head = f"{diagnostic.severity.value} {code}: {clean(diagnostic.message)}"
    lines = [head, *_spot(diagnostic.span, sources, named, "^", "")]
    if diagnostic.expected:
        lines.append(f"  expected: {clean(diagnostic.expected)}")
    for label in diagnostic.labels:
        lines += _spot(label.span, sources, named, "-", label.text)
    if diagnostic.help:
        lines.append(f"  help: {clean(diagnostic.help)}")
    lines += _also(diagnostic.span.file, [d.span for d in again], sources, named)
    return "\n".join(lines) + "\n"


def render_all(diagnostics: Iterable[Diagnostic], sources: SourceSet) -> str:
    """Return all diagnostics in the order given, with an empty line between, alike ones as one."""
    return "\n".join(render(first, sources, rest) for first, *rest in alike(diagnostics))


def alike(diagnostics: Iterable[Diagnostic]) -> tuple[tuple[Diagnostic, ...], ...]:
    """Return the diagnostics in groups that say the same, such as a material misnamed in every pipe.

    Groups, and those in them, keep the order given.
    """
    groups: dict[object, list[Diagnostic]] = {}
    for d in diagnostics:
        groups.setdefault((d.code, d.severity, d.message, d.expected, d.help, d.labels), []).append(d)
    return tuple(tuple(group) for group in groups.values())


def clean(text: str) -> str:
    """Return text without control characters, so that a design cannot drive the terminal."""
    return "".join(
        " " if ch == "\t" else "�" if unicodedata.category(ch) in ("Cc", "Cf", "Cs") else ch for ch in text
    )


def width(text: str) -> int:
    """Return how many columns a text takes on a terminal."""
    return sum(
        0 if unicodedata.combining(ch) else 2 if unicodedata.east_asian_width(ch) in "WF" else 1
        for ch in text
    )


def _also(file: str, spans: list[Span], sources: SourceSet, named: Callable[[str], str]) -> list[str]:
    """Return the list of further places; those in the file that the reader is in go without its name."""
    if not spans:
        return []
    places = [_where(span, sources, named).removeprefix(f"{named(file)}:") for span in spans[:MOST_PLACES]]
    more = len(spans) - MOST_PLACES
    tail = f" and {more} {'place' if more == 1 else 'places'} more" if more > 0 else ""
    return [f"  the same at {', '.join(places)}{tail}"]


def _where(span: Span, sources: SourceSet, named: Callable[[str], str]) -> str:
    source = sources.get(span.file)
    if source is None:
        return named(span.file)
    row, column = source.line_column(span.start)
    return f"{named(span.file)}:{row}:{column}"


def _spot(span: Span, sources: SourceSet, named: Callable[[str], str], mark: str, text: str) -> list[str]:
    source = sources.get(span.file)
    where = f"  at {_where(span, sources, named)}" + (f": {clean(text)}" if text else "")
    if source is None:
        return [where]
    row, column = source.line_column(span.start)
    written = clean(source.line(row))
    if not written.strip():
        return [where]
    begin = column - 1
    end = max(begin + 1, min(begin + span.end - span.start, len(written)))
    written, begin, end = _window(written, begin, end)
    under = " " * width(written[:begin]) + mark * max(1, width(written[begin:end]))
    return [where, f"{row:>5} | {written}", f"{'':>5} | {under}"]


def _window(written: str, begin: int, end: int) -> tuple[str, int, int]:
    """Return a line cut to what can be read, with the spot's new place in it."""
    if len(written) <= WIDEST:
        return written, begin, end
    start = 0 if begin <= WIDEST - 20 else begin - _BEFORE
    stop = start + WIDEST
    left, right = "…" if start else "", "…" if stop < len(written) else ""
    shift = len(left) - start
    return left + written[start:stop] + right, begin + shift, min(end, stop) + shift
