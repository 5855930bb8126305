"""Wrapped text: a paragraph in a column of given width, measured with the shipped face."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from plangen.sheets.font import drawable, text_width_mm
from plangen.sheets.marks import Group, Text
from plangen.sheets.panel import Noted, Panel

# Words that stay on the line of the number before them.
_UNIT = re.compile(
    r"(in|ft|mm|m|cm|psi|kPa|bar|gpm|gph|L/min|L/h|ft/s|m/s|gal|L|min|s|h|deg|°?[FC]|sq|mA|AWG|V|%)[.,;:)]*$"
)
_NUMBER = re.compile(r"[(~+-]?\d[\d.,/-]*$")
LINE = 1.62  # line spacing over capital height


@lru_cache(maxsize=32768)  # a table is measured, perhaps in several ways, before it is set
def wrapped(text: str, width: float, height: float, bold: bool = False) -> tuple[str, ...]:
    """Return the lines of a text set in a column. A word wider than the column is cut."""
    if "\n" not in text and text_width_mm(text, height, bold) <= width:
        return (drawable(text).strip(),)
    lines: list[str] = []
    for part in map(drawable, text.split("\n")):
        lines.extend(_wrap_one(part, width, height, bold))
    return tuple(lines) or ("",)


def _wrap_one(text: str, width: float, height: float, bold: bool) -> list[str]:
    lines: list[str] = []
    line = ""
    for word in _joined(text.split(), width, height, bold):
        trial = f"{line} {word}" if line else word
        if text_width_mm(trial, height, bold) <= width:
            line = trial
            continue
        if line:
            lines.append(line)
        while text_width_mm(word, height, bold) > width and len(word) > 1:
            cut = next(
                n for n in range(len(word), 0, -1) if n == 1 or text_width_mm(word[:n], height, bold) <= width
            )
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return [*lines, line] if line or not lines else lines


def _joined(words: Sequence[str], width: float, height: float, bold: bool) -> list[str]:
    """The words of a text, each number joined with its unit where both fit one line."""
    out: list[str] = []
    for word in words:
        pair = f"{out[-1]} {word}" if out and _NUMBER.match(out[-1]) else ""
        if pair and _UNIT.match(word) and text_width_mm(pair, height, bold) <= width:
            out[-1] = pair
        else:
            out.append(word)
    return out


def paragraph(
    text: str, x: float, y: float, width: float, height: float, bold: bool = False
) -> tuple[Text, ...]:
    """Return a wrapped text whose first line's capitals have their top at y."""
    return tuple(
        Text(x, y + height + i * height * LINE, line, height, bold=bold)
        for i, line in enumerate(wrapped(text, width, height, bold))
        if line
    )


def paragraph_height(text: str, width: float, height: float, bold: bool = False) -> float:
    """Return how high a wrapped text stands, descenders of its last line included."""
    return len(wrapped(text, width, height, bold)) * height * LINE


def notes_panel(
    title: str, notes: Sequence[str], width: float, height: float, numbered: bool = True, first: int = 1
) -> Panel:
    """Return a headed block of notes of that width, numbered from `first` or plain."""
    marks: list[Text] = []
    drawn: list[Noted] = []
    y = 0.0
    if title:
        marks.extend(paragraph(title.upper(), 0.0, 0.0, width, height * 1.25, bold=True))
        y = paragraph_height(title.upper(), width, height * 1.25, bold=True) + height * 0.5
        drawn.append(Noted("note-heading", title, "", 0.0, 0.0))
    indent = text_width_mm("00. ", height) if numbered else 0.0
    for number, note in enumerate(notes, first):
        if numbered:
            marks.append(Text(0.0, y + height, f"{number}.", height))
        marks.extend(paragraph(note, indent, y, width - indent, height))
        drawn.append(Noted("note", title, "", 0.0, y))
        y += paragraph_height(note, width - indent, height) + height * 0.45
    return Panel(Group("notes", tuple(marks), title=title), tuple(drawn), width, y)


def notes_pages(
    title: str, notes: Sequence[str], width: float, height: float, room: float
) -> tuple[Panel, ...]:
    """Return numbered notes broken into columns no higher than `room`; the numbers run on."""
    pages: list[Panel] = []
    first = 0
    while first < len(notes):
        head = f"{title} (continued)" if pages else title
        taken = len(notes) - first
        while taken > 1:
            if (
                notes_panel(head, notes[first : first + taken], width, height, first=first + 1).height_mm
                <= room
            ):
                break
            taken -= 1
        pages.append(notes_panel(head, notes[first : first + taken], width, height, first=first + 1))
        first += taken
    return tuple(pages)
