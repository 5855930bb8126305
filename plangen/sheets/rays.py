"""In which directions a leader from one point is stopped close by: most of a crowd is known by a few rays."""

from __future__ import annotations

import math
from itertools import pairwise

from plangen.sheets.leader_ways import Leader, leader_ways, leave
from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.room import Room

_RAYS = 120
_FAR_MM = 10.0  # beyond this two neighbouring rays are too far apart to speak for what lies between them
_TURN = _RAYS / (2 * math.pi)
_WAYS = tuple((math.cos(i / _TURN - math.pi), math.sin(i / _TURN - math.pi)) for i in range(_RAYS + 1))


class Rays:
    """The rays from the middle of a symbol, `half` mm to each side; each is traced when first asked for."""

    __slots__ = ("_half", "_room", "_stops", "_strict", "at")

    def __init__(self, room: Room, at: XY, half: float, strict: bool) -> None:
        self._room, self.at, self._half, self._strict = room, at, half, strict
        self._stops: list[float | None] = [None] * (_RAYS + 1)

    def leaders(self, box: Rect, knees: bool) -> list[Leader]:
        """Return the leaders to a box that are not stopped close by, the best first."""
        ways = leader_ways(self.at, box, knees)
        return [(leave(self.at, way[0], self._half), *way) for way in ways if not self._shut(way[0])]

    def open(self, leader: Leader) -> bool:
        """Return whether nothing is in a leader's way."""
        room, strict = self._room, self._strict
        return all(room.open_way(a, b, strict) for a, b in pairwise(leader)) and not (
            strict and room.fans(leader)
        )

    def _shut(self, to: XY) -> bool:
        """Whether the rays on both sides of the way to a point are stopped on that way."""
        dx, dy = to[0] - self.at[0], to[1] - self.at[1]
        ray = int((math.atan2(dy, dx) + math.pi) * _TURN)
        far = math.hypot(dx, dy)
        return self._stop(ray) < far and self._stop(min(ray + 1, _RAYS)) < far

    def _stop(self, ray: int) -> float:
        """How far a ray gets, in mm; infinite where it gets far enough."""
        stop = self._stops[ray]
        if stop is None:
            dx, dy = _WAYS[ray]
            window = self._room.window
            end = (
                min(max(self.at[0] + dx * _FAR_MM, window[0]), window[2]),
                min(max(self.at[1] + dy * _FAR_MM, window[1]), window[3]),
            )
            start = leave(self.at, end, self._half)
            stopped = self._room.stopped_mm(start, end, self._strict)
            stop = math.inf if stopped is None else stopped + math.dist(self.at, start)
            self._stops[ray] = stop
        return stop
