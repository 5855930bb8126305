"""Colour on a terminal, and only there. Words and shapes carry the meaning; colour repeats it."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import TextIO

_CODES = {"bold": "1", "red": "31", "green": "32", "yellow": "33", "blue": "34", "dim": "2"}


@dataclass(frozen=True, slots=True)
class Paint:
    """Paints text, or leaves it as it is."""

    on: bool

    def __call__(self, text: str, *styles: str) -> str:
        """Return the text in the named styles."""
        if not self.on or not styles:
            return text
        return f"\x1b[{';'.join(_CODES[s] for s in styles)}m{text}\x1b[0m"


def paint_for(stream: TextIO) -> Paint:
    """Return a painter for a stream: on for a terminal, unless NO_COLOR is set or the terminal is dumb."""
    return Paint(stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb")
