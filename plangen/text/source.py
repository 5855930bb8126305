"""Source text with positions: what a message points at. Holds text; never reads a file."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of one source file: character offsets, end exclusive."""

    file: str
    start: int
    end: int

    def join(self, other: Span) -> Span:
        """Return the span from the start of the earlier to the end of the later one."""
        return Span(self.file, min(self.start, other.start), max(self.end, other.end))


@dataclass(frozen=True, slots=True)
class SourceFile:
    """One text as read: `name` is the path as shown to people, with forward slashes."""

    name: str
    text: str
    line_starts: tuple[int, ...] = field(default=(), compare=False)

    @staticmethod
    def of(name: str, text: str) -> SourceFile:
        """Return a source file with its line index built."""
        starts = [0]
        starts.extend(i + 1 for i, ch in enumerate(text) if ch == "\n")
        return SourceFile(name, text, tuple(starts))

    def line_column(self, offset: int) -> tuple[int, int]:
        """Return the line and column of an offset, both counted from 1, columns in characters."""
        offset = max(0, min(offset, len(self.text)))
        row = bisect_right(self.line_starts, offset) - 1
        return row + 1, offset - self.line_starts[row] + 1

    def line(self, number: int) -> str:
        """Return the text of a line counted from 1, without its line end."""
        start = self.line_starts[number - 1]
        end = self.text.find("\n", start)
        return self.text[start : len(self.text) if end < 0 else end].rstrip("\r")


@dataclass(frozen=True, slots=True)
class Place:
    """A span told in people's terms."""

    file: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class SourceSet:
    """All texts of one run, by name."""

    files: tuple[SourceFile, ...]

    def get(self, name: str) -> SourceFile | None:
        """Return the file of that name, or None."""
        return next((f for f in self.files if f.name == name), None)

    def place(self, span: Span) -> Place:
        """Return file, line and column of the start of a span."""
        source = self.get(span.file)
        line, column = source.line_column(span.start) if source else (1, 1)
        return Place(span.file, line, column)
