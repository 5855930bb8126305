"""The leaders of one view: which cross, run into each other, or fan out from one place; mm of paper.

Four or more leaders that begin together, each less than 30 degrees from the next, cannot be told apart at
half size (common practice, no source): they count as tangled, as leaders that cross do.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from plangen.sheets.leader_ways import Leader, cross
from plangen.sheets.marks import XY

FAN_MM, FAN_LEADERS, FAN_DEG = 4.0, 4, 30.0  # begun within, so many, each so close to the next
_SLACK = 1.01  # a fan is seen a little early: sheets round their places
_SQUARE_MM = 16.0  # leaders are looked up by squares of this size
_TOUCH_MM = 0.4  # nearer than this two leaders run into one
_LEAVE_MM = 1.5  # but for where both leave the same thing


@dataclass(slots=True, eq=False)
class Held:
    """What one label took: for each row of cells the bits of its boxes and of its leaders; its leaders.

    `owner` is the number it is held under, below 0 for what stands for good.
    """

    cells: dict[int, tuple[int, int]] = field(default_factory=dict)
    leaders: list[Leader] = field(default_factory=list)
    owner: int = -1

    def add(self, row: int, boxes: int, leaders: int) -> None:
        """Enter cells of one row."""
        before = self.cells.get(row, (0, 0))
        self.cells[row] = before[0] | boxes, before[1] | leaders


_Piece = tuple[XY, XY, XY, Held]  # its ends, where its leader begins, whose it is
_Spoke = tuple[XY, float, Held]  # where a leader begins, its bearing in degrees, whose it is


class Leaders:
    """The leaders of a view, looked up by the squares that they run through and begin in."""

    __slots__ = ("_spokes", "_squares")

    def __init__(self) -> None:
        self._squares: dict[tuple[int, int], list[_Piece]] = {}
        self._spokes: dict[tuple[int, int], list[_Spoke]] = {}

    def add(self, leader: Leader, held: Held) -> None:
        """Enter a leader of what a label took."""
        for a, b in pairwise(leader):
            for square in _squares(a, b):
                self._squares.setdefault(square, []).append((a, b, leader[0], held))
        spoke = _spoke(leader, held)
        if spoke:
            self._spokes.setdefault(_square(spoke[0]), []).append(spoke)

    def remove(self, leader: Leader, held: Held) -> None:
        """Take one out again."""
        for a, b in pairwise(leader):
            for square in _squares(a, b):
                self._squares[square].remove((a, b, leader[0], held))
        spoke = _spoke(leader, held)
        if spoke:
            self._spokes[_square(spoke[0])].remove(spoke)

    def crossed(self, a: XY, b: XY) -> bool:
        """Return whether a segment crosses any leader."""
        squares = self._squares
        for square in _squares(a, b):
            for c, d, _, _ in squares.get(square, ()):
                if cross(a, b, c, d):
                    return True
        return False

    def tangled(self, held: Held) -> set[int]:
        """Return whose leaders cross or touch those of a label, or fan out with them: perhaps its own."""
        found: set[int] = set()
        for leader in held.leaders:
            for a, b in pairwise(leader):
                for square in _squares(a, b):
                    for c, d, start, other in self._squares.get(square, ()):
                        if other is not held and _meet((a, b, leader[0]), (c, d, start)):
                            found.add(other.owner)
            found.update(other.owner for other in self.fan(leader, held))
        return found

    def fan(self, leader: Leader, own: Held | None = None) -> list[Held]:
        """Return what all took whose leaders fan out with one of `own`, which may be entered already."""
        spoke = _spoke(leader, own or Held())
        if spoke is None:
            return []
        around = self._about(spoke[0], 2 * FAN_MM)
        if own is None or spoke not in around:
            around.append(spoke)
        if len(around) < FAN_LEADERS:
            return []
        found: list[Held] = []
        for centre in around:
            if math.dist(centre[0], spoke[0]) <= FAN_MM * _SLACK:
                here = [s for s in around if math.dist(s[0], centre[0]) <= FAN_MM * _SLACK]
                for run in _runs(here):
                    if centre == spoke or spoke in run:
                        found.extend(s[2] for s in (centre, *run))
        return found

    def _about(self, at: XY, reach: float) -> list[_Spoke]:
        squares = _squares((at[0] - reach, at[1] - reach), (at[0] + reach, at[1] + reach))
        spokes = (s for square in squares for s in self._spokes.get(square, ()))
        return [s for s in spokes if math.dist(s[0], at) <= reach * _SLACK]


def _spoke(leader: Leader, held: Held) -> _Spoke | None:
    """How a leader begins; None where that is too short to be seen in a fan."""
    (ax, ay), (bx, by) = leader[:2]
    if math.hypot(bx - ax, by - ay) < FAN_MM / _SLACK:
        return None
    return (ax, ay), math.degrees(math.atan2(by - ay, bx - ax)) % 360.0, held


def _runs(spokes: Sequence[_Spoke]) -> Iterator[list[_Spoke]]:
    """Runs of enough spokes about one place, each close to the next."""
    if len(spokes) < FAN_LEADERS:
        return
    ordered = sorted(spokes, key=lambda s: s[1])
    count = len(ordered)
    wide = [(ordered[(i + 1) % count][1] - ordered[i][1]) % 360.0 > FAN_DEG * _SLACK for i in range(count)]
    if not any(wide):
        yield ordered
        return
    first = wide.index(True) + 1
    run: list[_Spoke] = []
    for i in range(first, first + count):
        run.append(ordered[i % count])
        if wide[i % count]:
            if len(run) >= FAN_LEADERS:
                yield run
            run = []


def _meet(one: tuple[XY, XY, XY], other: tuple[XY, XY, XY]) -> bool:
    """Whether two pieces of leaders cross or touch, but for where their leaders begin together."""
    (a, b, start), (c, d, begin) = one, other
    if cross(a, b, c, d):
        return True
    return (
        any(_off(p, c, d) < _TOUCH_MM and math.dist(p, begin) > _LEAVE_MM for p in (a, b))
        or any(_off(p, a, b) < _TOUCH_MM and math.dist(p, start) > _LEAVE_MM for p in (c, d))
    )  # fmt: skip


def _off(p: XY, a: XY, b: XY) -> float:
    """How far a point lies off a segment."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy or 1.0)
    share = min(max(share, 0.0), 1.0)
    return math.hypot(a[0] + dx * share - p[0], a[1] + dy * share - p[1])


def _square(at: XY) -> tuple[int, int]:
    return int(at[0] // _SQUARE_MM), int(at[1] // _SQUARE_MM)


def _squares(a: XY, b: XY) -> Iterator[tuple[int, int]]:
    xs, ys = sorted((a[0], b[0])), sorted((a[1], b[1]))
    for column in range(int(xs[0] // _SQUARE_MM), int(xs[1] // _SQUARE_MM) + 1):
        for row in range(int(ys[0] // _SQUARE_MM), int(ys[1] // _SQUARE_MM) + 1):
            yield column, row
