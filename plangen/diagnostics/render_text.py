"""Diagnostics as people read them: headline, place, the line with the spot underlined, what to do."""

from __future__ import annotations

import unicodedata

from plangen.diagnostics.catalogue import name_of
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.text.source import SourceSet, Span

# A longer line is shown as a window around the spot.
WIDEST = 110
_BEFORE = 40


def render(diagnostic: Diagnostic, sources: SourceSet) -> str:
    """Return one diagnostic as lines of text, ending with a line end."""
    name = name_of(diagnostic.code)
    code = f"{diagnostic.code} {name}".rstrip()
    head = f"{diagnostic.severity.value} {code}: {clean(diagnostic.message)}"
    lines = [head, *_spot(diagnostic.span, sources, "^", "")]
    if diagnostic.expected:
        lines.append(f"  expected: {clean(diagnostic.expected)}")
    for label in diagnostic.labels:
        lines += _spot(label.span, sources, "-", label.text)
    if diagnostic.help:
        lines.append(f"  help: {clean(diagnostic.help)}")
    return "\n".join(lines) + "\n"


def render_all(diagnostics: tuple[Diagnostic, ...], sources: SourceSet) -> str:
    """Return all diagnostics in the order given, with an empty line between."""
    return "\n".join(render(d, sources) for d in diagnostics)


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


def _spot(span: Span, sources: SourceSet, mark: str, text: str) -> list[str]:
    source = sources.get(span.file)
    tail = f": {clean(text)}" if text else ""
    if source is None:
        return [f"  at {span.file}{tail}"]
    row, column = source.line_column(span.start)
    where = f"  at {span.file}:{row}:{column}{tail}"
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
