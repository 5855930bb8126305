"""A line plot on paper: axes, grid, curves, numbered bubbles that never collide. Figures in, marks out.

Knows no water: the caller gives values already in the units that are lettered.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.quantity.display import number
from plangen.sheets.details_labels import spread
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark


@dataclass(frozen=True, slots=True)
class Axes:
    """A plot's rectangle on paper and the values at its edges."""

    left: float
    top: float
    right: float
    bottom: float
    x_low: float
    x_high: float
    y_low: float
    y_high: float

    def at(self, x: float, y: float) -> XY:
        """Return where a pair of values lies on paper."""
        return (
            self.left + (x - self.x_low) / (self.x_high - self.x_low) * (self.right - self.left),
            self.bottom - (y - self.y_low) / (self.y_high - self.y_low) * (self.bottom - self.top),
        )


def steps(low: float, high: float, most: int) -> tuple[float, ...]:
    """Return round values 1, 2 or 5 times a power of ten apart that hold a range, at most `most` spaces."""
    span = max(high - low, 1e-9)
    raw = span / most
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= raw - 1e-12)
    first = math.floor(low / step + 1e-9)
    last = math.ceil(high / step - 1e-9)
    return tuple(round(i * step, 9) for i in range(first, max(last, first + 1) + 1))


def frame(
    axes: Axes, xs: Sequence[float], ys: Sequence[float], x_name: str, y_name: str, height: float
) -> Group:
    """Return the box, grid lines, lettered values and names of both axes."""
    marks: list[AnyMark] = []
    for x in xs:
        px = axes.at(x, axes.y_low)[0]
        marks.append(Line(((px, axes.top), (px, axes.bottom)), "grid"))
        marks.append(Text(px, axes.bottom + height * 1.7, number(x, 2), height, "middle", halo=True))
    widest = 0.0
    for y in ys:
        py = axes.at(axes.x_low, y)[1]
        text = number(y, 2)
        widest = max(widest, text_width_mm(text, height))
        marks.append(Line(((axes.left, py), (axes.right, py)), "grid"))
        marks.append(Text(axes.left - 1.2, py + height / 2, text, height, "end"))
    box = ((axes.left, axes.top), (axes.right, axes.top), (axes.right, axes.bottom), (axes.left, axes.bottom))
    marks.append(Line((*box, box[0]), "thin"))
    marks.append(
        Text((axes.left + axes.right) / 2, axes.bottom + height * 3.6, x_name, height, "middle", True)
    )
    y_at = axes.left - widest - 1.2 - height
    marks.append(Text(y_at, (axes.top + axes.bottom) / 2, y_name, height, "middle", True, -90.0))
    return Group("plot-axes", tuple(marks))


def bubbles(
    points: Sequence[XY], names: Sequence[str], y: float, height: float, left: float
) -> tuple[Group, ...]:
    """Return a row of numbered circles at level `y`, each led down to its point, in the points' order.

    No circle stands left of `left`.
    """
    radius = height * 1.15
    starts = list(spread([p[0] for p in points], [2 * radius] * len(points), 0.6))
    for i, start in enumerate(starts):
        starts[i] = max(start, left if i == 0 else starts[i - 1] + 2 * radius + 0.6)
    out = []
    for point, name, start in zip(points, names, starts, strict=True):
        x = start + radius
        out.append(
            Group(
                "bubble",
                (
                    Line(((x, y + radius), (x, y + radius + 1.5), point), "leader"),
                    Circle((x, y), radius, "thin", "white"),
                    Text(x, y + height / 2, name, height, "middle"),
                ),
            )
        )
    return tuple(out)
