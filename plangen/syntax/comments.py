"""Comments and braces of a design text with their places. The text parses: its strings are all closed."""

from __future__ import annotations

import re
from dataclasses import dataclass

_MARKS = re.compile(r'"[^"\n]*"|#[^\n]*|[{}]')
_BLANK_LINE = re.compile(r"\n[ \t\x0c\xa0\r]*\n")


@dataclass(frozen=True, slots=True)
class Comment:
    """One comment, from its `#` to the end of its line; `alone` if nothing stands before it on the line."""

    start: int
    end: int
    text: str
    alone: bool


@dataclass(frozen=True, slots=True)
class Marks:
    """What the tree of a text leaves out: its comments, and where its blocks open and close."""

    text: str
    comments: tuple[Comment, ...]
    opens: tuple[int, ...]
    closes: tuple[int, ...]

    def blank_between(self, start: int, end: int) -> bool:
        """Return whether an empty line lies in a stretch of the text."""
        return _BLANK_LINE.search(self.text, max(start, 0), end) is not None


def marks_of(text: str) -> Marks:
    """Return the comments and braces of a text that parses without a message."""
    comments, opens, closes = [], [], []
    for found in _MARKS.finditer(text):
        mark = found.group()
        if mark == "{":
            opens.append(found.start())
        elif mark == "}":
            closes.append(found.start())
        elif mark[0] == "#":
            line = text.rfind("\n", 0, found.start()) + 1
            alone = not text[line : found.start()].strip()
            comments.append(Comment(found.start(), found.end(), mark.rstrip(), alone))
    return Marks(text, tuple(comments), tuple(opens), tuple(closes))
