"""Which cells of a view are taken, a quarter millimetre each; quick enough to try every place of a label."""

from __future__ import annotations

import math
from collections.abc import Iterator

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

    def reach(self, box: Rect) -> tuple[int, int, int]:
        """Return the first row, row past the last, and the bits of the columns that a box touches."""
        left, top = self.left, self.top
        a = math.floor((box[0] - left) / CELL)
        b = math.ceil((box[2] - left) / CELL)
        c = math.floor((box[1] - top) / CELL)
        d = math.ceil((box[3] - top) / CELL)
        a, b = (a if a > 0 else 0), (b if b < self.columns else self.columns)
        c, d = (c if c > 0 else 0), (d if d < len(self.rows) else len(self.rows))
        return c, d, ((1 << (b - a)) - 1) << a if b > a else 0

    def fill(self, box: Rect) -> None:
        """Set the cells a box touches."""
        first, past, bits = self.reach(box)
        self.widen(box)
        rows = self.rows
        for row in range(first, past):
            rows[row] |= bits

    def widen(self, box: Rect) -> None:
        """Enter that something within a box is set."""
        a, b, c, d = self.within
        if box[0] < a or box[1] < b or box[2] > c or box[3] > d:
            self.within = (min(a, box[0]), min(b, box[1]), max(c, box[2]), max(d, box[3]))

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
        first, past, bits = self.reach(box)
        return sum([(row & bits).bit_count() for row in self.rows[first:past]])

    def draw(self, a: XY, b: XY, half: float) -> None:
        """Fill the cells along a segment, `half` mm to each side."""
        rows = self.rows
        for row, bits in self.along(a, b, half):
            rows[row] |= bits
        left, right = (a[0], b[0]) if a[0] < b[0] else (b[0], a[0])
        top, bottom = (a[1], b[1]) if a[1] < b[1] else (b[1], a[1])
        self.widen((left - half, top - half, right + half, bottom + half))

    def along(self, a: XY, b: XY, half: float) -> Iterator[tuple[int, int]]:
        """Each row that a segment touches, `half` mm to each side, with the bits of its columns there."""
        if a[1] > b[1]:
            a, b = b, a
        wide, tall = b[0] - a[0], b[1] - a[1]
        left, right = (a[0], b[0]) if wide > 0 else (b[0], a[0])
        first, past, bits = self.reach((left - half, a[1] - half, right + half, b[1] + half))
        if abs(wide) < CELL or tall < 1e-9:
            for row in range(first, past):
                yield row, bits
            return
        step = wide / tall
        for row in range(first, past):
            # the stretch of the segment no further than `half` above or below this row of cells
            low = self.top + row * CELL - half - a[1]
            high = min(low + CELL + 2 * half, tall)
            x, y = a[0] + step * max(low, 0.0), a[0] + step * high
            if x > y:
                x, y = y, x
            start = math.floor((x - half - self.left) / CELL)
            end = math.ceil((y + half - self.left) / CELL)
            yield row, bits & (((1 << (end - start)) - 1) << start if start > 0 else (1 << max(end, 0)) - 1)
