"""The lettering's measures: how wide a text is and which of its characters the face lacks.

Widths are plain sums of advances (no kerning), which is how the PDF writer sets text. Reads the shipped
table once; never a font file.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, lru_cache

from plangen.shipped.folders import shipped_text

FALLBACK = "?"


@dataclass(frozen=True, slots=True)
class Face:
    """The shipped family: advances in font units by character, and its vertical measures."""

    family: str
    units_per_em: int
    cap_height: int
    ascent: int
    descent: int
    regular: dict[str, int]
    bold: dict[str, int]


@cache
def face() -> Face:
    """Return the shipped family's measures.

    Raises:
        FileNotFoundError: the installation is incomplete.
    """
    return Face(**json.loads(shipped_text("site", "fonts", "advances.json")))


def font_size_mm(cap_height_mm: float) -> float:
    """Return the font size (em) in mm at which capitals are that high."""
    shipped = face()
    return cap_height_mm * shipped.units_per_em / shipped.cap_height


def text_width_mm(text: str, cap_height_mm: float, bold: bool = False) -> float:
    """Return the width of a text on paper in mm. A missing character counts as the question mark."""
    return _advance(text, bold) * cap_height_mm / face().cap_height


@lru_cache(maxsize=16384)
def _advance(text: str, bold: bool) -> int:
    shipped = face()
    table = shipped.bold if bold else shipped.regular
    try:
        return sum(map(table.__getitem__, text))
    except KeyError:
        return sum(table.get(ch, table[FALLBACK]) for ch in text)


def missing_glyphs(text: str) -> str:
    """Return the characters of a text that the shipped faces cannot draw, each once, in order."""
    known = face().regular
    return "".join(dict.fromkeys(ch for ch in text if ch not in known))


def drawable(text: str) -> str:
    """Return the text with characters the face lacks, and control characters, replaced by `?`.

    The PDF writer has no fallback face: a missing glyph would print as an empty box.
    """
    known = face().regular
    if all(map(known.__contains__, text)):
        return text
    return "".join(ch if ch in known else " " if ch.isspace() else FALLBACK for ch in text)


def text_box(
    x: float, y: float, text: str, height: float, anchor: str = "start", bold: bool = False
) -> tuple[float, float, float, float]:
    """Return (left, top, right, bottom) of an upright text on its baseline, with room for descenders."""
    width = text_width_mm(text, height, bold)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return left, y - height * 1.08, left + width, y + height * 0.32
