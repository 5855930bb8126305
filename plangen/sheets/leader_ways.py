"""The ways a leader may go from an object to its label, and whether two leaders cross; mm of paper."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect

Leader = tuple[XY, ...]
TOGETHER_MM = 1.5  # a marker nearer to its label than this needs no line to it
_RINGS = (0.3, 2.0, 4.0, 6.0, 8.5, 11.0, 14.0, 18.0, 23.0, 29.0, 36.0, 45.0)  # mm from a label to its marker
_SHOULDERS = (2.5, 5.0, 8.0, 12.0)  # mm of level leader before a label


def leader_ways(at: XY, box: Rect, knees: bool) -> Iterator[Leader]:
    """Ways from a point to a box, without the point: straight, then with a level shoulder at the box."""
    end = _near_edge(at, box)
    yield (end,)
    if knees and end[0] in (box[0], box[2]):
        way = -1.0 if end[0] == box[0] else 1.0
        for shoulder in _SHOULDERS:
            knee = (end[0] + way * shoulder, end[1])
            # a knee behind the object would turn the leader back
            if (knee[0] - at[0]) * way < -0.5 and abs(knee[1] - at[1]) > 0.5:
                yield knee, end


def lead_between(room: Rect, label: Rect) -> tuple[XY, XY] | None:
    """Return the line from a marker's room to the label it belongs to; None where they stand together."""
    x = _nearest(room[0], room[2], label[0], label[2])
    y = _nearest(room[1], room[3], label[1], label[3])
    apart = max(abs(x[0] - x[1]), abs(y[0] - y[1]))
    return ((x[0], y[0]), (x[1], y[1])) if apart > TOGETHER_MM else None


def rooms_beside(label: Rect, width: float, height: float) -> Iterator[Rect]:
    """Rooms of a size about a label's box, the nearest first: at its sides, then at its corners."""
    left, top, right, bottom = label
    xs = (left, (left + right - width) / 2, right - width)
    ys = ((top + bottom - height) / 2, top, bottom - height)
    for reach in _RINGS:
        beyond_x, beyond_y = (right + reach, left - reach - width), (bottom + reach, top - reach - height)
        corners = [(x, y) for x in beyond_x for y in beyond_y]
        for x, y in (
            *((x, y) for y in ys for x in beyond_x),
            *((x, y) for x in xs for y in beyond_y),
            *corners,
        ):
            yield x, y, x + width, y + height


def _nearest(a: float, b: float, c: float, d: float) -> tuple[float, float]:
    """The nearest pair of places of two stretches; where they overlap, the middle of what they share."""
    if b < c:
        return b, c
    if d < a:
        return a, d
    middle = (max(a, c) + min(b, d)) / 2
    return middle, middle


def cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    """Return whether two segments cross at a place inside both."""
    ax, ay, cx, cy = a[0], a[1], c[0], c[1]
    abx, aby, cdx, cdy = b[0] - ax, b[1] - ay, d[0] - cx, d[1] - cy
    if (abx * (cy - ay) - aby * (cx - ax)) * (abx * (d[1] - ay) - aby * (d[0] - ax)) >= 0.0:
        return False
    return (cdx * (ay - cy) - cdy * (ax - cx)) * (cdx * (b[1] - cy) - cdy * (b[0] - cx)) < 0.0


def _near_edge(at: XY, box: Rect) -> XY:
    """The middle of the left or right edge of a box, or the nearest point of its top or bottom."""
    if at[0] < box[0]:
        return box[0], (box[1] + box[3]) / 2
    if at[0] > box[2]:
        return box[2], (box[1] + box[3]) / 2
    return (at[0], box[1]) if at[1] < box[1] else (at[0], box[3])


def leave(at: XY, end: XY, half: float) -> XY:
    """Return where the way from the middle of a symbol to `end` leaves its box, `half` mm to each side."""
    dx, dy = end[0] - at[0], end[1] - at[1]
    far = max(abs(dx), abs(dy))
    share = half / far if half < far else 1.0
    return at[0] + dx * share, at[1] + dy * share
