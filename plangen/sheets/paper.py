"""Sheet sizes, margins, frames and border zones by sheet family.

Sizes: ANSI/ASME Y14.1 B, ARCH D, ISO 216 A3 and A1. US families count zones from the title-block corner
(numerals right to left, letters bottom to top), ISO families from the opposite one; I and O are left out.
Both directions, the margins and field counts are from memory of ASME Y14.1 and ISO 5457.
"""

from __future__ import annotations

from dataclasses import dataclass

ZONE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
Rect = tuple[float, float, float, float]  # left, top, right, bottom


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet family, in mm. `strip` is the width of the title strip along the right edge."""

    family: str
    name: str
    width: float
    height: float
    left: float
    edge: float  # top, right and bottom margin
    columns: int
    rows: int
    from_title_corner: bool
    strip: float
    half_of: str

    @property
    def frame(self) -> Rect:
        """Return the frame rectangle."""
        return self.left, self.edge, self.width - self.edge, self.height - self.edge

    @property
    def strip_rect(self) -> Rect:
        """Return the title strip: the right end of the frame."""
        _, top, right, bottom = self.frame
        return right - self.strip, top, right, bottom

    @property
    def drawing(self) -> Rect:
        """Return the room for drawings: the frame without the title strip, less a clear margin."""
        left, top, _, bottom = self.frame
        return left + 4.0, top + 4.0, self.strip_rect[0] - 4.0, bottom - 4.0

    def column_name(self, index: int) -> str:
        """Return the numeral of a column counted from the left, from 0."""
        return str(self.columns - index if self.from_title_corner else index + 1)

    def row_name(self, index: int) -> str:
        """Return the letter of a row counted from the top, from 0."""
        return ZONE_LETTERS[self.rows - 1 - index if self.from_title_corner else index]

    def zone_of(self, x: float, y: float) -> str:
        """Return the border zone of a place on the sheet, such as `C4`; a place outside takes the nearest."""
        left, top, right, bottom = self.frame
        column = int((x - left) / (right - left) * self.columns)
        row = int((y - top) / (bottom - top) * self.rows)
        column = max(0, min(self.columns - 1, column))
        row = max(0, min(self.rows - 1, row))
        return self.row_name(row) + self.column_name(column)


PAPERS: dict[str, Paper] = {
    p.family: p
    for p in (
        Paper("ansi-b", "ANSI B, 11 x 17 in", 431.8, 279.4, 18.0, 9.0, 8, 4, True, 62.0, "5.5 x 8.5 in"),
        Paper("arch-d", "ARCH D, 24 x 36 in", 914.4, 609.6, 38.1, 12.7, 8, 6, True, 110.0, "12 x 18 in"),
        Paper("a3", "ISO A3", 420.0, 297.0, 20.0, 10.0, 8, 6, False, 62.0, "A4"),
        Paper("a1", "ISO A1", 841.0, 594.0, 20.0, 10.0, 16, 12, False, 110.0, "A2"),
    )
}


def paper(family: str) -> Paper:
    """Return the paper of a sheet family. Raises KeyError for an unknown family."""
    return PAPERS[family]
