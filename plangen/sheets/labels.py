"""Where labels go: text never on text or on a heavy line, inside the frame, with a leader when it stands off.

Deterministic: callers ask in a fixed order and candidates are tried in a fixed order; the cheapest free one
wins. A `Field` only gathers what is taken, on a lattice of quarter millimetres; it draws nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.shapes import Segment, clip_segment

# room kept beside a labelled object for a finding's marker
MARKER_W, MARKER_H = 9.0, 3.4
_CELL = 0.25
_CROSS_COST = 0.08  # mm of extra reach worth taking to keep one cell of thin line out of a label
_WALL_COST = 0.6
# Ways to try, best first: a compass bearing, and how the box lies over it when the way is up or down.
_BEARINGS = (45, 315, 135, 225, 90, 270, 0, 180, 25, 335, 155, 205, 67, 293, 113, 247)


def _ways(bearings: Sequence[int]) -> tuple[tuple[float, float, float], ...]:
    return tuple(
        (math.sin(math.radians(d)), -math.cos(math.radians(d)), share)
        for d in bearings
        for share in ((0.5,) if abs(math.sin(math.radians(d))) > 0.3 else (0.5, 0.1, 0.9))
    )


_DIRECTIONS = _ways(_BEARINGS)
_MORE_DIRECTIONS = _ways(tuple(range(0, 360, 9)))
_REACH = (0.0, 2.0, 4.0, 6.0, 8.0, 10.5, 13.0, 16.0, 20.0, 25.0, 31.0, 38.0, 48.0, 60.0)
_LEAVE_MM = 6.0  # within this a leader may still be leaving the crowd it starts in


Found = tuple[float, Rect, Segment | None]  # cost, box, leader


def overlap(a: Rect, b: Rect) -> bool:
    """Return whether two boxes share room (edges that only touch do not)."""
    return a[0] < b[2] - 1e-6 and b[0] < a[2] - 1e-6 and a[1] < b[3] - 1e-6 and b[1] < a[3] - 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a label was put: its box, and its leader from the object to the box (None: none needed)."""

    box: Rect
    leader: Segment | None


class _Lattice:
    """Cells of a window, one long integer of bits for each row: quick to fill and to test."""

    __slots__ = ("columns", "left", "rows", "top")

    def __init__(self, window: Rect) -> None:
        self.left, self.top = window[0], window[1]
        self.columns = math.ceil((window[2] - window[0]) / _CELL) + 1
        self.rows = [0] * (math.ceil((window[3] - window[1]) / _CELL) + 1)

    def _reach(self, box: Rect) -> tuple[int, int, int]:
        """First row, row past the last, and the bits of the columns that a box touches."""
        a = max(0, math.floor((box[0] - self.left) / _CELL))
        b = min(self.columns, math.ceil((box[2] - self.left) / _CELL))
        c = max(0, math.floor((box[1] - self.top) / _CELL))
        d = min(len(self.rows), math.ceil((box[3] - self.top) / _CELL))
        return c, d, ((1 << (b - a)) - 1) << a if b > a else 0

    def fill(self, box: Rect) -> None:
        first, past, bits = self._reach(box)
        for row in range(first, past):
            self.rows[row] |= bits

    def clear(self, box: Rect) -> bool:
        """Return whether no cell of a box inside the window is set: asked ten thousand times a sheet."""
        a = int((box[0] - self.left) / _CELL)
        bits = ((1 << (math.ceil((box[2] - self.left) / _CELL) - a)) - 1) << a
        last = math.ceil((box[3] - self.top) / _CELL)
        return not any([row & bits for row in self.rows[int((box[1] - self.top) / _CELL) : last]])

    def count(self, box: Rect) -> int:
        first, past, bits = self._reach(box)
        return sum((row & bits).bit_count() for row in self.rows[first:past])

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
        for x, y in _steps(a, b, _CELL):
            self.fill((x - half, y - half, x + half, y + half))


class Field:
    """The room of one view: boxes taken, heavy lines to keep off, thin lines to avoid where possible."""

    __slots__ = ("_blocked", "_leaders", "_taken", "_thin", "_walls", "window")

    def __init__(self, window: Rect) -> None:
        self.window = window
        self._taken, self._blocked = _Lattice(window), _Lattice(window)
        self._thin, self._leaders = _Lattice(window), _Lattice(window)
        self._walls = _Lattice(window)

    def take(self, box: Rect) -> None:
        """Mark a box as taken: nothing may be lettered there."""
        self._taken.fill(box)
        self._blocked.fill(box)

    def line(self, points: Sequence[XY], heavy: bool) -> None:
        """Enter a drawn polyline: heavy lines are kept clear, thin ones avoided."""
        for a, b in pairwise(points):
            if heavy:
                self._blocked.draw(a, b, 0.3)
            else:
                self._thin.draw(a, b, 0.05)

    def wall(self, points: Sequence[XY]) -> None:
        """Enter the outline of a building: a label over it would open the building, so it costs much."""
        for a, b in pairwise(points):
            self._walls.draw(a, b, 0.15)

    def free(self, box: Rect) -> bool:
        """Return whether nothing taken and no heavy line or leader lies in a box inside the window."""
        w = self.window
        if box[0] < w[0] or box[1] < w[1] or box[2] > w[2] or box[3] > w[3]:
            return False
        return self._blocked.clear(box)

    def bare(self, at: XY, half: float) -> bool:
        """Return whether no symbol, letter or label lies within `half` mm of a point inside the window."""
        return self._taken.count((at[0] - half, at[1] - half, at[0] + half, at[1] + half)) == 0

    def crossings(self, box: Rect) -> float:
        """Return what the thin lines that run through a box cost, in mm of reach."""
        walls = min(self._walls.count(box) * _WALL_COST, 14.0)
        return min(self._thin.count(box) * _CROSS_COST, 4.0) + walls

    def open_way(self, a: XY, b: XY, strict: bool = True) -> bool:
        """Return whether a leader meets no taken box once it has left its own; `strict`: nor any leader."""
        left, top, taken, leaders = self.window[0], self.window[1], self._taken.rows, self._leaders.rows
        count = max(1, int(math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * _CELL)))
        x, y = (a[0] - left) / _CELL, (a[1] - top) / _CELL
        dx, dy = (b[0] - a[0]) / _CELL / count, (b[1] - a[1]) / _CELL / count
        leaving = True
        for run in range(count + 1):
            row, column = int(y), int(x)
            if taken[row] >> column & 1:
                if not leaving or run * 2 * _CELL > _LEAVE_MM:
                    return False
            else:
                leaving = False
            if strict and run > 2 and leaders[row] >> column & 1:
                return False
            x, y = x + dx, y + dy
        return True

    def place(
        self, width: float, height: float, starts: Sequence[XY], clear: float, half: float
    ) -> Spot | None:
        """Return the best free spot for a label of that size about any of some points, and take it.

        `clear` is how far the nearest candidates stand off a point; `half` is half the size of the
        object's own symbol, which the leader may leave. None: no room within reach.
        """
        # a leader that crosses another is worse than none that does, and better than no label
        best = self._search(width, height, starts, clear, half, True)
        best = best or self._search(width, height, starts, clear, half, False)
        if best is None:
            return None
        self.take(best[1])
        if best[2] is not None:
            self._leaders.draw(*best[2], 0.05)
            self._blocked.draw(*best[2], 0.05)
        return Spot(best[1], best[2])

    def _search(
        self, width: float, height: float, starts: Sequence[XY], clear: float, half: float, strict: bool
    ) -> Found | None:
        best: Found | None = None
        for reach in _REACH:
            if best is not None and best[0] < reach:
                break
            for rank, at in enumerate(starts):
                limit = best[0] - rank if best else math.inf
                found = self._best_about(at, width, height, clear, reach, half, limit, strict)
                if found is not None:
                    best = (found[0] + rank, *found[1:])
        return best

    def _best_about(
        self,
        at: XY,
        width: float,
        height: float,
        clear: float,
        reach: float,
        half: float,
        limit: float,
        strict: bool,
    ) -> Found | None:
        """The cheapest free spot at one reach about one point that costs less than `limit`."""
        own = (at[0] - half, at[1] - half, at[0] + half, at[1] + half)
        best: Found | None = None
        for rank, (dx, dy, share) in enumerate(_DIRECTIONS if strict else _MORE_DIRECTIONS):
            least = reach + 0.05 * rank
            if least >= (best[0] if best else limit) - 1e-9:
                break
            box = _beside(at, dx, dy, share, clear + reach, width, height)
            if not self.free(box):
                continue
            cost = least + self.crossings(box)
            if cost >= (best[0] if best else limit) - 1e-9:
                continue
            leader: Segment | None = None
            if reach > 0.0:
                end = _near_edge(at, box)
                leader = (_leave(at, end, own), end)
                if not self.open_way(*leader, strict):
                    continue
            best = (cost, box, leader)
        return best

    def first_free(self, boxes: Sequence[Rect]) -> int | None:
        """Return the index of the free box with fewest thin crossings, earliest first, and take it."""
        best: tuple[float, int] | None = None
        for i, box in enumerate(boxes):
            if self.free(box):
                crossed = self.crossings(box)
                if best is None or crossed < best[0] - 1e-9:
                    best = (crossed, i)
                if crossed == 0:
                    break
        if best is None:
            return None
        self.take(boxes[best[1]])
        return best[1]


def _steps(a: XY, b: XY, step: float) -> list[XY]:
    """Points along a segment, both ends included, no further apart than `step`."""
    count = max(1, math.ceil(math.hypot(b[0] - a[0], b[1] - a[1]) / step))
    return [(a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count) for i in range(count + 1)]


def _beside(at: XY, dx: float, dy: float, share: float, clear: float, width: float, height: float) -> Rect:
    """The box whose nearest edge or corner stands `clear` from a point; `share` of it left of it."""
    cx, cy = at[0] + dx * clear, at[1] + dy * clear
    left = cx if dx > 0.3 else cx - width if dx < -0.3 else cx - width * share
    top = cy if dy > 0.3 else cy - height if dy < -0.3 else cy - height / 2
    return left, top, left + width, top + height


def _near_edge(at: XY, box: Rect) -> XY:
    """The middle of the left or right edge of a box, or the nearest point of its top or bottom."""
    if at[0] < box[0]:
        return box[0], (box[1] + box[3]) / 2
    if at[0] > box[2]:
        return box[2], (box[1] + box[3]) / 2
    return (at[0], box[1]) if at[1] < box[1] else (at[0], box[3])


def _leave(at: XY, end: XY, own: Rect) -> XY:
    """Where the way from a point to `end` leaves the box of its own symbol."""
    inside = clip_segment(at, end, own)
    return inside[1] if inside else at
