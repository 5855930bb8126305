"""Dimension lines, level lines and hatches of sections and details, in paper millimetres.

Every function returns marks for points already on paper; scale is the caller's.
"""

from __future__ import annotations

import math

from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY, Area, Group, Line, Segments, Text
from plangen.sheets.panel import AnyMark

TICK = 1.0


def lane(height: float) -> float:
    """Return how wide a lane one upright dimension takes."""
    return height * 1.9


def upright(
    x: float,
    y0: float,
    y1: float,
    text: str,
    height: float,
    role: str,
    name: str = "",
    avoid: float | None = None,
) -> Group:
    """Return a dimension between two levels at `x`, its text turned to read from the right.

    A text longer than the dimension stands above its upper end, still on the line's own lane. `avoid`
    is a level that the text keeps off where there is room.
    """
    top, bottom = min(y0, y1), max(y0, y1)
    wide = text_width_mm(text, height)
    fits = wide + 1.5 <= bottom - top
    middle = (top + bottom) / 2 if fits else top - wide / 2 - 1.5
    if fits and avoid is not None and abs(avoid - middle) < wide / 2 + 1.0:
        parts = ((top, avoid), (avoid, bottom))
        longest = max(parts, key=lambda p: (p[1] - p[0], p[0]))
        if longest[1] - longest[0] >= wide + 2.0:
            middle = sum(longest) / 2
    marks: list[AnyMark] = [
        Line(((x, y0), (x, y1)), "dimension"),
        *(_tick(x, y) for y in (y0, y1)),
        Text(x - 0.8, middle, text, height, "middle", angle=-90.0, halo=True),
    ]
    if not fits:
        marks.insert(1, Line(((x, top), (x, top - wide - 1.5)), "dimension"))
    return Group(role, tuple(marks), name)


def level_across(
    x0: float, x1: float, y: float, text: str, height: float, role: str, name: str = ""
) -> Group:
    """Return a dimension between two places at one level, its text above the line, or beside it if long."""
    left, right = min(x0, x1), max(x0, x1)
    wide = text_width_mm(text, height)
    fits = wide + 1.5 <= right - left
    marks: list[AnyMark] = [Line(((x0, y), (x1, y)), "dimension"), _tick(x0, y), _tick(x1, y)]
    if fits:
        marks.append(Text((left + right) / 2, y - 0.8, text, height, "middle", halo=True))
    else:
        marks.append(Line(((left, y), (left - 1.5 - wide, y)), "dimension"))
        marks.append(Text(left - 1.0, y - 0.8, text, height, "end", halo=True))
    return Group(role, tuple(marks), name)


def _tick(x: float, y: float) -> Line:
    return Line(((x - TICK * 0.7, y + TICK * 0.7), (x + TICK * 0.7, y - TICK * 0.7)), "medium")


def earth(x0: float, x1: float, y: float, gaps: tuple[tuple[float, float], ...] = ()) -> Segments:
    """Return undisturbed-earth hatching under a grade line: groups of three diagonals, none inside `gaps`."""
    lines: list[tuple[XY, XY]] = []
    x = x0 + 1.0
    while x < x1 - 4.5:
        if not any(left - 4.5 < x < right + 0.5 for left, right in gaps):
            lines.extend(((x + i * 1.2, y + 0.4), (x + i * 1.2 - 0.0 + 1.8, y + 2.2)) for i in range(3))
        x += 8.0
    return Segments(tuple(lines), "hatch")


def hatched(left: float, top: float, right: float, bottom: float, gap: float, pen: str = "hatch") -> Segments:
    """Return diagonals (up to the right) clipped to a rectangle, `gap` mm apart measured along its edge."""
    lines: list[tuple[XY, XY]] = []
    # A diagonal x + y = c meets the rectangle between these bounds.
    c = left + top + gap
    while c < right + bottom - 1e-9:
        a = max(left, c - bottom)
        b = min(right, c - top)
        if b - a > 0.2:
            lines.append(((a, c - a), (b, c - b)))
        c += gap
    return Segments(tuple(lines), pen)


def sand(left: float, top: float, right: float, bottom: float, gap: float = 1.5) -> Segments:
    """Return dots (very short strokes) for bedding: rows shifted by half a step."""
    lines: list[tuple[XY, XY]] = []
    row = 0
    y = top + gap * 0.6
    while y < bottom - 0.2:
        x = left + gap * (0.5 if row % 2 == 0 else 1.0)
        while x < right - 0.2:
            lines.append(((x, y), (x + 0.15, y)))
            x += gap
        y += gap * 0.8
        row += 1
    return Segments(tuple(lines), "hatch-dark")


def break_line(x0: float, x1: float, y: float) -> Line:
    """Return a level break line with one zigzag in its middle."""
    m = (x0 + x1) / 2
    return Line(
        ((x0, y), (m - 1.2, y), (m - 0.4, y - 1.6), (m + 0.4, y + 1.6), (m + 1.2, y), (x1, y)), "thin"
    )


def arrow(tip: XY, bearing: float, length: float) -> Group:
    """Return a flow arrow whose tip is there, pointing on a paper bearing (degrees from up, clockwise)."""
    angle = math.radians(bearing)
    ux, uy = math.sin(angle), -math.cos(angle)
    tail = (tip[0] - ux * length, tip[1] - uy * length)
    back = (tip[0] - ux * 1.8, tip[1] - uy * 1.8)
    head = Area(
        (tip, (back[0] - uy * 0.7, back[1] + ux * 0.7), (back[0] + uy * 0.7, back[1] - ux * 0.7)), "", "black"
    )
    return Group("flow-arrow", (Line((tail, back), "medium"), head))
