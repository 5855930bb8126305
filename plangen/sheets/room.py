"""The room of one view: what stands in it, and what each label took of it, to be lifted again.

Drawn things stand for good. A label is held under a number: what it took can be lifted, put back, or left
out of sight for a while; only the rows of cells that it touches are reckoned anew.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Self

from plangen.sheets.lattice import CELL, Lattice
from plangen.sheets.leader_ways import Leader, cross
from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.shapes import Segment

_CROSS_COST = 0.08  # mm of extra reach worth taking to keep one cell of thin line out of a label
_WALL_COST = 0.6
_LEAVE_MM = 6.0  # within this a leader may still be leaving the crowd it starts in
_SQUARE_MM = 16.0  # leaders are looked up by squares of this size


@dataclass(slots=True)
class Held:
    """What one label took: for each row of cells the bits of its boxes and of its leaders; its leaders."""

    cells: dict[int, tuple[int, int]] = field(default_factory=dict)
    leaders: list[Segment] = field(default_factory=list)

    def add(self, row: int, boxes: int, leaders: int) -> None:
        """Enter cells of one row."""
        before = self.cells.get(row, (0, 0))
        self.cells[row] = before[0] | boxes, before[1] | leaders


class Leaders:
    """The leaders of a view, looked up by the squares that they run through."""

    __slots__ = ("_squares",)

    def __init__(self) -> None:
        self._squares: dict[tuple[int, int], list[Segment]] = {}

    def add(self, leader: Segment) -> None:
        """Enter one straight piece of a leader."""
        for square in _squares(*leader):
            self._squares.setdefault(square, []).append(leader)

    def remove(self, leader: Segment) -> None:
        """Take one out again."""
        for square in _squares(*leader):
            self._squares[square].remove(leader)

    def crossed(self, a: XY, b: XY) -> bool:
        """Return whether a segment crosses any leader."""
        squares = self._squares
        for square in _squares(a, b):
            for c, d in squares.get(square, ()):
                if cross(a, b, c, d):
                    return True
        return False


def _squares(a: XY, b: XY) -> Iterator[tuple[int, int]]:
    xs, ys = sorted((a[0], b[0])), sorted((a[1], b[1]))
    for column in range(int(xs[0] // _SQUARE_MM), int(xs[1] // _SQUARE_MM) + 1):
        for row in range(int(ys[0] // _SQUARE_MM), int(ys[1] // _SQUARE_MM) + 1):
            yield column, row


class Room:
    """Boxes taken, heavy lines to keep off, thin lines to avoid where possible, leaders not to cross."""

    __slots__ = (
        "_at_row",
        "_blocked",
        "_drawn",
        "_held",
        "_leaders",
        "_led",
        "_new",
        "_taken",
        "_thin",
        "_walls",
        "window",
    )

    def __init__(self, window: Rect) -> None:
        self.window = window
        self._taken, self._blocked = Lattice(window), Lattice(window)
        self._thin, self._leaders = Lattice(window), Lattice(window)
        self._walls = Lattice(window)
        self._led = Leaders()
        self._new = Held()  # what was taken since the last that is held
        self._held: dict[int, Held] = {}
        self._at_row: dict[int, dict[int, tuple[int, int]]] = {}
        self._drawn: tuple[list[int], list[int], list[int]] = ([], [], [])

    def take(self, box: Rect) -> None:
        """Mark a box as taken: nothing may be lettered there."""
        first, past, bits = self._taken.reach(box)
        self._taken.widen(box)
        taken, blocked, new = self._taken.rows, self._blocked.rows, self._new
        for row in range(first, past):
            taken[row] |= bits
            blocked[row] |= bits
            new.add(row, bits, 0)

    def take_led(self, box: Rect, leader: Leader | None) -> None:
        """Mark a box and the leader to it as taken."""
        self.take(box)
        leaders, blocked, new = self._leaders.rows, self._blocked.rows, self._new
        for a, b in pairwise(leader or ()):
            for row, bits in self._leaders.along(a, b, 0.05):
                leaders[row] |= bits
                blocked[row] |= bits
                new.add(row, 0, bits)
            new.leaders.append((a, b))
            self._led.add((a, b))

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
        return self._blocked.clear(*box)

    def bare(self, at: XY, half: float) -> bool:
        """Return whether no symbol, letter or label lies within `half` mm of a point inside the window."""
        return self._taken.count((at[0] - half, at[1] - half, at[0] + half, at[1] + half)) == 0

    def crossings(self, box: Rect) -> float:
        """Return what the thin lines that run through a box cost, in mm of reach."""
        walls = min(self._walls.count(box) * _WALL_COST, 14.0)
        return min(self._thin.count(box) * _CROSS_COST, 4.0) + walls

    def open_way(self, a: XY, b: XY, strict: bool = True) -> bool:
        """Return whether a leader meets no taken box once it has left its own; `strict`: nor any leader."""
        return self.stopped_mm(a, b, strict) is None and not (strict and self._led.crossed(a, b))

    def stopped_mm(self, a: XY, b: XY, strict: bool) -> float | None:
        """Return how far a leader gets before it meets what `open_way` tells; None: to its end."""
        left, top, taken, leaders = self.window[0], self.window[1], self._taken.rows, self._leaders.rows
        count = max(1, int(math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * CELL)))
        x, y = (a[0] - left) / CELL, (a[1] - top) / CELL
        dx, dy = (b[0] - a[0]) / CELL / count, (b[1] - a[1]) / CELL / count
        leaving = True
        for run in range(count + 1):
            row, column = int(y), int(x)
            if taken[row] >> column & 1:
                if not leaving or run * 2 * CELL > _LEAVE_MM:
                    return run * 2 * CELL
            else:
                leaving = False
            if strict and run > 2 and leaders[row] >> column & 1:
                return run * 2 * CELL
            x, y = x + dx, y + dy
        return None

    # What labels took, and how it is lifted

    def settle(self) -> None:
        """Keep what stands now as drawn: what is taken later can be lifted."""
        self._drawn = (self._taken.rows[:], self._blocked.rows[:], self._leaders.rows[:])
        self._new = Held()

    def hold(self, owner: int) -> Held:
        """Keep what was taken since the last call under a number; return it."""
        held, self._new = self._new, Held()
        self._held[owner] = held
        for row, cells in held.cells.items():
            self._at_row.setdefault(row, {})[owner] = cells
        return held

    def lift(self, owner: int) -> Held:
        """Take what one label took out of the room; return it."""
        held = self._held.pop(owner)
        taken, blocked, leaders = self._drawn
        for row in held.cells:
            others = self._at_row[row]
            del others[owner]
            boxes, led = taken[row], leaders[row]
            for a, b in others.values():
                boxes, led = boxes | a, led | b
            self._taken.rows[row], self._leaders.rows[row] = boxes, led
            self._blocked.rows[row] = blocked[row] | boxes | led
        for leader in held.leaders:
            self._led.remove(leader)
        return held

    def put_back(self, owner: int, held: Held) -> None:
        """Take again what a lifted label took."""
        taken, blocked, leaders = self._taken.rows, self._blocked.rows, self._leaders.rows
        for row, (boxes, led) in held.cells.items():
            taken[row] |= boxes
            leaders[row] |= led
            blocked[row] |= boxes | led
        for leader in held.leaders:
            self._led.add(leader)
        self._new = held
        self.hold(owner)

    def met(self, held: Held) -> set[int]:
        """Return the labels whose boxes or leaders share cells with what another took or would take."""
        found: set[int] = set()
        for row, (boxes, led) in held.cells.items():
            bits = boxes | led
            found.update(o for o, (a, b) in self._at_row.get(row, {}).items() if (a | b) & bits)
        return found

    def taken(self) -> Held:
        """Return what was taken since the room was settled, or since the last that is held."""
        return self._new

    def seeing(self, owners: Iterable[int]) -> Self:
        """Return the room as it would be with no other labels than those given."""
        sight = type(self)(self.window)
        sight._thin, sight._walls = self._thin, self._walls
        taken, blocked, leaders = self._drawn
        sight._taken.rows, sight._blocked.rows, sight._leaders.rows = taken[:], blocked[:], leaders[:]
        sight._taken.within = self._taken.within
        for owner in owners:
            sight.put_back(owner, self._held[owner])
        sight._new = Held()
        return sight
