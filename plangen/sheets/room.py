"""The room of one view: what stands in it, and what each label took of it, to be lifted again.

Drawn things stand for good. A label is held under a number: what it took can be lifted, put back, or left
out of sight for a while; only the rows of cells that it touches are reckoned anew.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Self

from plangen.sheets.lattice import CELL, Lattice
from plangen.sheets.leader_ways import Leader
from plangen.sheets.leaders import Held, Leaders
from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect

_CROSS_COST = 0.08  # mm of extra reach worth taking to keep one cell of thin line out of a label
_WALL_COST = 0.6
_LEAVE_MM = 6.0  # within this a leader may still be leaving the crowd it starts in


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
        "_tangled",
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
        self._tangled: dict[int, bool] = {}  # whether leaders are tangled, as far as that was asked
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
        if leader:
            new.leaders.append(leader)
            self._led.add(leader, new)

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

    def fans(self, leader: Leader) -> bool:
        """Return whether one more leader would fan out with others."""
        return bool(self._led.fan(leader))

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
        self._held[owner], held.owner = held, owner
        for row, cells in held.cells.items():
            self._at_row.setdefault(row, {})[owner] = cells
        self._ask_again(held)
        return held

    def _ask_again(self, held: Held) -> None:
        """Forget whether the leaders of a label, and of those tangled with it, are tangled."""
        for owner in (held.owner, *self._led.tangled(held)):
            self._tangled.pop(owner, None)

    def tangled(self, owner: int) -> bool:
        """Return whether a leader held under a number crosses, touches or fans out with others."""
        if owner not in self._tangled:
            self._tangled[owner] = self.would_tangle(self._held[owner])
        return self._tangled[owner]

    def would_tangle(self, held: Held) -> bool:
        """Return whether leaders that a label took or would take are tangled with any."""
        return bool(held.leaders) and bool(self._led.tangled(held))

    def lift(self, owner: int) -> Held:
        """Take what one label took out of the room; return it."""
        held = self._held.pop(owner)
        self._ask_again(held)
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
            self._led.remove(leader, held)
        return held

    def put_back(self, owner: int, held: Held) -> None:
        """Take again what a lifted label took."""
        taken, blocked, leaders = self._taken.rows, self._blocked.rows, self._leaders.rows
        for row, (boxes, led) in held.cells.items():
            taken[row] |= boxes
            leaders[row] |= led
            blocked[row] |= boxes | led
        for leader in held.leaders:
            self._led.add(leader, held)
        self._new = held
        self.hold(owner)

    def met(self, held: Held) -> set[int]:
        """Return the labels in the way of what another took or would take.

        Boxes are in the way of boxes and leaders, leaders of boxes and, where tangled, of leaders.
        """
        found = {owner for owner in self._led.tangled(held) if owner in self._held}
        for row, (boxes, led) in held.cells.items():
            both = boxes | led
            for owner, (a, b) in self._at_row.get(row, {}).items():
                if a & both or b & boxes:
                    found.add(owner)
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
