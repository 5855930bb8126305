"""Where labels go: text never on text or on a heavy line, inside the frame, with a leader when it stands off.

Deterministic: callers ask in a fixed order and candidates are tried in a fixed order; the cheapest free one
wins. A `Field` only gathers what is taken, on lattices of quarter millimetres; it draws nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from plangen.sheets.lattice import CELL, Lattice
from plangen.sheets.leader_ways import Leader, cross, lead_between, leader_ways, rooms_beside
from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.shapes import Segment

# room kept beside a labelled object for a finding's marker
MARKER_W, MARKER_H = 9.0, 3.4
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


Found = tuple[float, Rect, Leader | None]  # cost, box, leader
# what a way costs, its direction, and how far left of and above its end the corner of the box lies
_Way = tuple[float, float, float, float, float]


def overlap(a: Rect, b: Rect) -> bool:
    """Return whether two boxes share room (edges that only touch do not)."""
    return a[0] < b[2] - 1e-6 and b[0] < a[2] - 1e-6 and a[1] < b[3] - 1e-6 and b[1] < a[3] - 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a label was put: its box, and its leader from the object to the box (None: none needed).

    `crossing`: the leader crosses another, for want of better room.
    """

    box: Rect
    leader: Leader | None
    crossing: bool = False


class Field:
    """The room of one view: boxes taken, heavy lines to keep off, thin lines to avoid where possible."""

    __slots__ = ("_blocked", "_leaders", "_led", "_taken", "_thin", "_walls", "window")

    def __init__(self, window: Rect) -> None:
        self.window = window
        self._taken, self._blocked = Lattice(window), Lattice(window)
        self._thin, self._leaders = Lattice(window), Lattice(window)
        self._walls = Lattice(window)
        self._led: list[Segment] = []

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
        left, top, taken, leaders = self.window[0], self.window[1], self._taken.rows, self._leaders.rows
        count = max(1, int(math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * CELL)))
        x, y = (a[0] - left) / CELL, (a[1] - top) / CELL
        dx, dy = (b[0] - a[0]) / CELL / count, (b[1] - a[1]) / CELL / count
        leaving = True
        for run in range(count + 1):
            row, column = int(y), int(x)
            if taken[row] >> column & 1:
                if not leaving or run * 2 * CELL > _LEAVE_MM:
                    return False
            else:
                leaving = False
            if strict and run > 2 and leaders[row] >> column & 1:
                return False
            x, y = x + dx, y + dy
        return not strict or not any(cross(a, b, c, d) for c, d in self._led)

    def _open_all(self, leader: Leader, strict: bool) -> bool:
        return all(self.open_way(a, b, strict) for a, b in pairwise(leader))

    def place(
        self,
        width: float,
        height: float,
        starts: Sequence[XY],
        clear: float,
        half: float,
        loose: bool = True,
        led: bool = False,
    ) -> Spot | None:
        """Return the best free spot for a label of that size about any of some points, and take it.

        `clear` is how far the nearest candidates stand off a point; `half` is half the size of the
        object's own symbol, which the leader may leave; `loose` lets it cross other leaders where it must;
        `led` keeps it off the point itself.
        None: no room within reach.
        """
        search = partial(self._search, width, height, starts, clear, half, _REACH[1:] if led else _REACH)
        # a leader that crosses another is worse than one with a knee, and better than no label
        best = search(True, False) or search(True, True)
        crossing = best is None
        if loose:
            best = best or search(False, True)
        if best is None:
            return None
        self._take(best[1], best[2])
        return Spot(best[1], best[2], crossing)

    def _search(
        self,
        width: float,
        height: float,
        starts: Sequence[XY],
        clear: float,
        half: float,
        reaches: Sequence[float],
        strict: bool,
        thorough: bool,
    ) -> Found | None:
        best: Found | None = None
        ways = _beside(_MORE_DIRECTIONS if thorough else _DIRECTIONS, width, height)
        for reach in reaches:
            if best is not None and best[0] < reach:
                break
            for rank, at in enumerate(starts):
                limit = best[0] - rank if best else math.inf
                size = (width, height)
                found = self._best_about(at, ways, size, clear, reach, half, limit, strict, thorough)
                if found is not None:
                    best = (found[0] + rank, *found[1:])
        return best

    def _best_about(
        self,
        at: XY,
        ways: Sequence[_Way],
        size: XY,
        clear: float,
        reach: float,
        half: float,
        limit: float,
        strict: bool,
        thorough: bool,
    ) -> Found | None:
        """The cheapest free spot at one reach about one point that costs less than `limit`.

        `thorough` also tries leaders with a knee.
        """
        own = (at[0] - half, at[1] - half, at[0] + half, at[1] + half)
        best: Found | None = None
        enough = limit - 1e-9
        window, is_clear = self.window, self._blocked.clear
        stand, (width, height) = clear + reach, size
        for more, dx, dy, back, up in ways:
            if reach + more >= enough:
                break
            left, top = at[0] + dx * stand - back, at[1] + dy * stand - up
            right, bottom = left + width, top + height
            if left < window[0] or top < window[1] or right > window[2] or bottom > window[3]:
                continue
            if not is_clear(left, top, right, bottom):
                continue
            box = (left, top, right, bottom)
            cost = reach + more + self.crossings(box)
            if cost >= enough:
                continue
            leader: Leader | None = None
            if reach > 0.0:
                leaders = leader_ways(at, box, own, thorough)
                leader = next((found for found in leaders if self._open_all(found, strict)), None)
                if leader is None:
                    continue
            best, enough = (cost, box, leader), cost - 1e-9
        return best

    def beside(self, label: Rect, width: float, height: float, ink: Rect | None = None) -> Spot | None:
        """Return the nearest free room of a size by a label's box, led to it without crossing; take it.

        `ink` is the box of the label's letters, where the line ends. None: no such room.
        """
        for room in rooms_beside(label, width, height):
            if not self.free(room):
                continue
            lead = lead_between(room, ink or label)
            # from the label outward: a way may leave what it begins in
            if lead is None or self.open_way(lead[1], lead[0]):
                self._take(room, lead)
                return Spot(room, lead)
        return None

    def _take(self, box: Rect, leader: Leader | None) -> None:
        self.take(box)
        for a, b in pairwise(leader or ()):
            self._leaders.draw(a, b, 0.05)
            self._blocked.draw(a, b, 0.05)
            self._led.append((a, b))

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


def _beside(ways: Sequence[tuple[float, float, float]], width: float, height: float) -> tuple[_Way, ...]:
    """For each way the box whose nearest edge or corner stands off a point; a share of it lies left."""
    return tuple(
        (
            0.05 * rank,
            dx,
            dy,
            0.0 if dx > 0.3 else width if dx < -0.3 else width * share,
            0.0 if dy > 0.3 else height if dy < -0.3 else height / 2,
        )
        for rank, (dx, dy, share) in enumerate(ways)
    )
