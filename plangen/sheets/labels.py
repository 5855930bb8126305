"""Where labels go: text never on text or on a heavy line, inside the frame, with a leader when it stands off.

Deterministic: callers ask in a fixed order and candidates are tried in a fixed order; the cheapest free one
wins. A `Field` only gathers what is taken, on lattices of quarter millimetres; it draws nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from plangen.sheets.leader_ways import Leader, lead_between, rooms_beside
from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.rays import Rays
from plangen.sheets.room import Room

# room kept beside a labelled object for a finding's marker
MARKER_W, MARKER_H = 9.0, 3.4
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
_REACHES = (8, 11, 14)  # how many of them are worth trying with each effort


Found = tuple[float, Rect, Leader | None]  # cost, box, leader
# what a way costs, its direction, and how far left of and above its end the corner of the box lies
_Way = tuple[float, float, float, float, float]


def overlap(a: Rect, b: Rect) -> bool:
    """Return whether two boxes share room (edges that only touch do not)."""
    return a[0] < b[2] - 1e-6 and b[0] < a[2] - 1e-6 and a[1] < b[3] - 1e-6 and b[1] < a[3] - 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a label was put: its box, and its leader from the object to the box (None: none needed)."""

    box: Rect
    leader: Leader | None


@dataclass(frozen=True, slots=True)
class _Sought:
    """A spot that is sought: its size, how far off a point it begins, half the symbol there, the reaches."""

    width: float
    height: float
    clear: float
    half: float
    reaches: Sequence[float]


class Field(Room):
    """The room of one view, searched for places of labels."""

    __slots__ = ("effort",)

    def __init__(self, window: Rect) -> None:
        super().__init__(window)
        self.effort = 2  # 0: only near and straight; 1: not far, no leader may cross; 2: all there is

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
        reaches = _REACH[: _REACHES[self.effort]]
        sought = _Sought(width, height, clear, half, reaches[1:] if led else reaches)
        rays = [Rays(self, at, half, True) for at in starts]
        # a leader that crosses another is worse than one with a knee, and better than no label
        best = self._search(sought, rays, False)
        if best is None and self.effort:
            best = self._search(sought, rays, True)
        if best is None and loose and self.effort == 2:
            best = self._search(sought, [Rays(self, at, half, False) for at in starts], True)
        if best is None:
            return None
        self.take_led(best[1], best[2])
        return Spot(best[1], best[2])

    def _search(self, sought: _Sought, starts: Sequence[Rays], thorough: bool) -> Found | None:
        best: Found | None = None
        ways = _beside(_MORE_DIRECTIONS if thorough else _DIRECTIONS, sought.width, sought.height)
        for reach in sought.reaches:
            if best is not None and best[0] < reach:
                break
            for rank, rays in enumerate(starts):
                limit = best[0] - rank if best else math.inf
                found = self._best_about(rays, ways, sought, reach, limit, thorough)
                if found is not None:
                    best = (found[0] + rank, *found[1:])
        return best

    def _best_about(
        self, rays: Rays, ways: Sequence[_Way], sought: _Sought, reach: float, limit: float, thorough: bool
    ) -> Found | None:
        """The cheapest free spot at one reach about one point that costs less than `limit`.

        `thorough` also tries leaders with a knee.
        """
        best: Found | None = None
        enough = limit - 1e-9
        window, is_clear, at = self.window, self._blocked.clear, rays.at
        stand, width, height = sought.clear + reach, sought.width, sought.height
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
            leaders = rays.leaders(box, thorough) if reach > 0.0 else None
            if leaders == []:
                continue
            cost = reach + more + self.crossings(box)
            if cost >= enough:
                continue
            leader = next(filter(rays.open, leaders), None) if leaders else None
            if leaders is None or leader is not None:
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
                self.take_led(room, lead)
                return Spot(room, lead)
        return None

    def first_free(self, boxes: Sequence[Rect], fit: Callable[[Rect], bool] | None = None) -> int | None:
        """Return the index of the free box with fewest thin crossings, earliest first, and take it.

        `fit` says whether a box will do; only those that are free and better than before it are asked for.
        """
        best: tuple[float, int] | None = None
        for i, box in enumerate(boxes):
            if self.free(box):
                crossed = self.crossings(box)
                if (best is None or crossed < best[0] - 1e-9) and (fit is None or fit(box)):
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
