"""How a symbol or pipe shows its state without colour: existing half-tone, removed crossed, moved dashed.

New work is drawn in full. Each state that occurs has its legend entry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from plangen.sheets.canvas import along
from plangen.sheets.marks import XY, Arc, Area, Circle, Group, Line
from plangen.sheets.panel import AnyMark

STATES = ("existing", "relocated", "removed")
_CROSS_EVERY_MM = 9.0
_CROSS_MM = 1.1


def in_state(group: Group, state: str, at: XY, size: float) -> Group:
    """Return a symbol's group as its state is drawn; `size` is the symbol's half size in mm."""
    if state not in STATES:
        return group
    pen = "symbol-relocated" if state == "relocated" else "symbol-existing"
    marks = [_toned(mark, pen) for mark in group.marks]
    if state == "removed":
        marks.extend(_cross(at, size * 1.15))
    return replace(group, marks=tuple(marks), title=f"{group.title}, {state}")


def crosses(points: Sequence[XY]) -> tuple[Line, ...]:
    """Return crosses along a polyline that is taken out, at least one."""
    total = sum(math.dist(a, b) for a, b in pairwise(points))
    count = max(1, round(total / _CROSS_EVERY_MM))
    return tuple(
        line for i in range(count) for line in _cross(along(points, total * (i + 0.5) / count), _CROSS_MM)
    )


def _cross(at: XY, half: float) -> tuple[Line, Line]:
    x, y = at
    return (
        Line(((x - half, y - half), (x + half, y + half)), "cross"),
        Line(((x - half, y + half), (x + half, y - half)), "cross"),
    )


def _toned(mark: AnyMark, pen: str) -> AnyMark:
    """The same mark with its outline in another pen; black fills turn grey, but not where it only moves."""
    if isinstance(mark, Group):
        return replace(mark, marks=tuple(_toned(m, pen) for m in mark.marks))
    if isinstance(mark, Line):
        return replace(mark, pen=pen)
    if isinstance(mark, Area | Circle | Arc):
        fill = "grey" if mark.fill == "black" and pen == "symbol-existing" else mark.fill
        return replace(mark, pen=pen if mark.pen else "", fill=fill)
    return mark
