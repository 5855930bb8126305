"""The ways a leader may go from an object to its label, and whether two leaders cross; mm of paper."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect
from plangen.sheets.shapes import clip_segment

Leader = tuple[XY, ...]
_SHOULDERS = (2.5, 5.0, 8.0, 12.0)  # mm of level leader before a label


def leader_ways(at: XY, box: Rect, own: Rect, knees: bool) -> Iterator[Leader]:
    """Ways from a point to a box: straight, then with a level shoulder at the box."""
    end = _near_edge(at, box)
    yield _leave(at, end, own), end
    if knees and end[0] in (box[0], box[2]):
        way = -1.0 if end[0] == box[0] else 1.0
        for shoulder in _SHOULDERS:
            knee = (end[0] + way * shoulder, end[1])
            # a knee behind the object would turn the leader back
            if (knee[0] - at[0]) * way < -0.5 and abs(knee[1] - at[1]) > 0.5:
                yield _leave(at, knee, own), knee, end


def cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    """Return whether two segments cross at a place inside both."""

    def side(p: XY, q: XY, r: XY) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


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
