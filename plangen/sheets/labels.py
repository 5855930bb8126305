"""Where labels go: text never on text or on a heavy line, inside the frame, with a leader when it stands off.

Deterministic: callers ask in a fixed order and candidates are tried in a fixed order; the cheapest free one
wins. A `Field` only gathers what is taken; it draws nothing.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.shapes import Segment, clip_segment

# room kept beside a labelled object for a finding's marker
MARKER_W, MARKER_H = 7.5, 3.6
_CELL = 8.0
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
_REACH = (0.0, 2.5, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 38.0, 48.0, 60.0)


Found = tuple[float, Rect, Segment | None]  # cost, box, leader


def overlap(a: Rect, b: Rect) -> bool:
    """Return whether two boxes share room (edges that only touch do not)."""
    return a[0] < b[2] - 1e-6 and b[0] < a[2] - 1e-6 and a[1] < b[3] - 1e-6 and b[1] < a[3] - 1e-6


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a label was put: its box, and its leader from the object to the box (None: none needed)."""

    box: Rect
    leader: Segment | None


@dataclass(slots=True)
class Field:
    """The room of one view: boxes taken, heavy lines to keep off, thin lines to avoid where possible."""

    window: Rect
    _taken: dict[tuple[int, int], list[Rect]] = field(default_factory=dict)
    _heavy: dict[tuple[int, int], list[Segment]] = field(default_factory=dict)
    _thin: dict[tuple[int, int], list[Segment]] = field(default_factory=dict)
    _leaders: dict[tuple[int, int], list[Segment]] = field(default_factory=dict)

    def take(self, box: Rect) -> None:
        """Mark a box as taken: nothing may be lettered there."""
        for cell in _cells(box):
            self._taken.setdefault(cell, []).append(box)

    def line(self, points: Sequence[XY], heavy: bool) -> None:
        """Enter a drawn polyline: heavy lines are kept clear, thin ones avoided."""
        store = self._heavy if heavy else self._thin
        for a, b in itertools.pairwise(points):
            _enter(store, (a, b))

    def free(self, box: Rect) -> bool:
        """Return whether nothing taken and no heavy line or leader lies in a box inside the window."""
        w = self.window
        if box[0] < w[0] or box[1] < w[1] or box[2] > w[2] or box[3] > w[3]:
            return False
        for cell in _cells(box):
            if any(overlap(box, other) for other in self._taken.get(cell, ())):
                return False
            for store in (self._heavy, self._leaders):
                if any(clip_segment(s[0], s[1], box) for s in store.get(cell, ())):
                    return False
        return True

    def crossings(self, box: Rect) -> int:
        """Return how many thin lines run through a box."""
        found: set[Segment] = set()
        for cell in _cells(box):
            found.update(
                s for s in self._thin.get(cell, ()) if s not in found and clip_segment(s[0], s[1], box)
            )
        return len(found)

    def open_way(self, a: XY, b: XY, own: Rect, strict: bool = True) -> bool:
        """Return whether a leader meets no taken box but its own object's; `strict`: nor any leader."""
        for cell in _cells_of_segment(a, b):
            for box in self._taken.get(cell, ()):
                if not overlap(box, own) and clip_segment(a, b, box):
                    return False
            if strict and any(_cross(a, b, s[0], s[1]) for s in self._leaders.get(cell, ())):
                return False
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
            _enter(self._leaders, best[2])
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
            leader: Segment | None = None
            if reach > 0.0:
                end = _near_edge(at, box)
                leader = (_leave(at, end, own), end)
                if not self.open_way(leader[0], end, own, strict):
                    continue
            cost = least + 1.6 * self.crossings(box)
            if cost < (best[0] if best else limit) - 1e-9:
                best = (cost, box, leader)
        return best

    def first_free(self, boxes: Sequence[Rect]) -> int | None:
        """Return the index of the free box with fewest thin crossings, earliest first, and take it."""
        best: tuple[int, int] | None = None
        for i, box in enumerate(boxes):
            if self.free(box):
                crossed = self.crossings(box)
                if best is None or crossed < best[0]:
                    best = (crossed, i)
                if crossed == 0:
                    break
        if best is None:
            return None
        self.take(boxes[best[1]])
        return best[1]


def _cells(box: Rect) -> list[tuple[int, int]]:
    return [
        (i, j)
        for i in range(math.floor(box[0] / _CELL), math.floor(box[2] / _CELL) + 1)
        for j in range(math.floor(box[1] / _CELL), math.floor(box[3] / _CELL) + 1)
    ]


def _cells_of_segment(a: XY, b: XY) -> list[tuple[int, int]]:
    """Cells near a segment: those of short pieces of it, so that long slanted lines stay cheap."""
    pieces = max(1, math.ceil(math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * _CELL)))
    out: dict[tuple[int, int], None] = {}
    for i in range(pieces):
        p = (a[0] + (b[0] - a[0]) * i / pieces, a[1] + (b[1] - a[1]) * i / pieces)
        q = (a[0] + (b[0] - a[0]) * (i + 1) / pieces, a[1] + (b[1] - a[1]) * (i + 1) / pieces)
        out.update(
            dict.fromkeys(_cells((min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1]))))
        )
    return list(out)


def _enter(store: dict[tuple[int, int], list[Segment]], segment: Segment) -> None:
    for cell in _cells_of_segment(*segment):
        store.setdefault(cell, []).append(segment)


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


def _cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    def side(p: XY, q: XY, r: XY) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
