"""Which cells of a view are taken, a quarter millimetre each; quick enough to try every place of a label."""

from __future__ import annotations

import math

from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect

CELL = 0.25


class Lattice:
    """Cells of a window, one long integer of bits for each row: quick to fill and to test."""

    __slots__ = ("columns", "left", "rows", "top", "within")

    def __init__(self, window: Rect) -> None:
        self.left, self.top = window[0], window[1]
        self.columns = math.ceil((window[2] - window[0]) / CELL) + 1
        self.rows = [0] * (math.ceil((window[3] - window[1]) / CELL) + 1)
        # a box about all that was ever filled: most of a sheet lies far from its few walls
        self.within = (math.inf, math.inf, -math.inf, -math.inf)

    def _reach(self, box: Rect) -> tuple[int, int, int]:
        """Return the first row, row past the last, and the bits of the columns that a box touches."""
        a = max(0, math.floor((box[0] - self.left) / CELL))
        b = min(self.columns, math.ceil((box[2] - self.left) / CELL))
        c = max(0, math.floor((box[1] - self.top) / CELL))
        d = min(len(self.rows), math.ceil((box[3] - self.top) / CELL))
        return c, d, ((1 << (b - a)) - 1) << a if b > a else 0

    def fill(self, box: Rect) -> None:
        """Set the cells a box touches."""
        first, past, bits = self._reach(box)
        a, b, c, d = self.within
        if box[0] < a or box[1] < b or box[2] > c or box[3] > d:
            self.within = (min(a, box[0]), min(b, box[1]), max(c, box[2]), max(d, box[3]))
        for row in range(first, past):
            self.rows[row] |= bits

    def clear(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Return whether no cell of a box inside the window is set: asked ten thousand times a sheet."""
        rows, a = self.rows, int((left - self.left) / CELL)
        bits = ((1 << (math.ceil((right - self.left) / CELL) - a)) - 1) << a
        first, past = int((top - self.top) / CELL), math.ceil((bottom - self.top) / CELL)
        # nine boxes of ten are not clear, and most of those show it in the row through their middle
        if first < past and rows[(first + past) >> 1] & bits:
            return False
        for row in rows[first:past]:  # noqa: SIM110  a generator would take twice the time
            if row & bits:
                return False
        return True

    def count(self, box: Rect) -> int:
        """Return how many cells a box touches are set."""
        a, b, c, d = self.within
        if box[2] < a - 2 * CELL or box[3] < b - 2 * CELL or box[0] > c + 2 * CELL or box[1] > d + 2 * CELL:
            return 0
        first, past, bits = self._reach(box)
        return sum([(row & bits).bit_count() for row in self.rows[first:past]])

    def draw(self, a: XY, b: XY, half: float) -> None:
        """Fill the cells along a segment, `half` mm to each side."""
        if a[0] == b[0] or a[1] == b[1]:
            self.fill(
                (
                    min(a[0], b[0]) - half,
                    min(a[1], b[1]) - half,
                    max(a[0], b[0]) + half,
                    max(a[1], b[1]) + half,
                )
            )
            return
        for x, y in _steps(a, b, CELL):
            self.fill((x - half, y - half, x + half, y + half))


def _steps(a: XY, b: XY, step: float) -> list[XY]:
    """Points along a segment, both ends included, no further apart than `step`."""
    count = max(1, math.ceil(math.hypot(b[0] - a[0], b[1] - a[1]) / step))
    return [(a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count) for i in range(count + 1)]
