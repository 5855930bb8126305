"""Lettering along a row of evenly spaced places: level and in two tiers by turns, or turned where too tight.

Takes words and paper mm, returns marks. Knows nothing of what is lettered.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Text
from plangen.sheets.panel import AnyMark
from plangen.sheets.paragraphs import LINE, wrapped

_CLEAR = 0.9  # between a level text and the thin line of the neighbour that passes it, mm
_MOST_LINES = 7


@dataclass(frozen=True, slots=True)
class Tags:
    """The blocks of lines of each place; with `turned` each is one line that stands upright."""

    blocks: tuple[tuple[str, ...], ...]
    height: float
    turned: bool

    @property
    def tier(self) -> float:
        """Return how tall one tier is; a turned row has one only."""
        if self.turned:
            return max((text_width_mm(b[0], self.height) for b in self.blocks if b), default=0.0)
        return max((len(b) for b in self.blocks), default=0) * self.height * LINE + self.height

    @property
    def tall(self) -> float:
        """Return how tall the row is with all its tiers."""
        return self.tier * (1 if self.turned or len(self.blocks) < 2 else 2)

    def reach(self, index: int) -> float:
        """Return how far beyond the row's edge the thin line to a place's lettering goes."""
        return 0.0 if self.turned or index % 2 == 0 else self.tier

    def marks(self, index: int, x: float, edge: float, below: bool) -> tuple[AnyMark, ...]:
        """Return the lettering of a place at `x`, under the row's edge or over it."""
        block, height = self.blocks[index], self.height
        if self.turned:
            return (Text(x + height / 2, edge, block[0], height, "end" if below else "start", angle=-90.0),)
        top = edge + self.reach(index) if below else edge - self.reach(index) - len(block) * height * LINE
        first = top + height * (1.0 if below else LINE - 0.4)
        return tuple(
            Text(x, first + i * height * LINE, line, height, "middle", i == 0) for i, line in enumerate(block)
        )


def tagged(words: Sequence[tuple[str, ...]], pitch: float, height: float) -> Tags:
    """Return how some places `pitch` mm apart are lettered, each with one or more lines of words."""
    width = 2 * (pitch - _CLEAR)
    each = (word for said in words for text in said for word in text.split())
    if all(text_width_mm(word, height, True) <= width for word in each):
        blocks = tuple(
            tuple(line for text in said for line in wrapped(text, width, height, True)) for said in words
        )
        if max((len(b) for b in blocks), default=0) <= _MOST_LINES:
            return Tags(blocks, height, False)
    return Tags(tuple((", ".join(said),) for said in words), height, True)
