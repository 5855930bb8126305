"""North arrow, bar scale with calibration mark: what makes a printed plan measurable."""

from __future__ import annotations

import re

from plangen.quantity.dimension import FOOT_M
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Arc, Area, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.shapes import polar, rectangle, turned
from plangen.sheets.viewport import scale_name


def scale_bar(denominator: int, units: str, height: float) -> Panel:
    """Return a bar of four parts for one scale, lettered in ft or m, with the 1 in (25 mm) tick pair."""
    unit_m, name = (FOOT_M, "ft") if units == "us" else (1.0, "m")
    per_unit = unit_m * 1000.0 / denominator
    steps = (0.25, 0.5, 1, 2, 2.5, 5, 10, 20, 25, 50)
    part = next((s for s in steps if s * per_unit >= 9.0), steps[-1])
    width = part * per_unit
    thick = height * 0.6
    x0, y0 = height * 1.5, height * 1.9
    marks: list[AnyMark] = [
        Area(
            rectangle(x0 + i * width, y0, x0 + (i + 1) * width, y0 + thick),
            "thin",
            "black" if i % 2 == 0 else "white",
        )
        for i in range(4)
    ]
    for i in (0, 1, 2, 4):
        text = f"{part * i:g}" + (f" {name}" if i == 4 else "")
        marks.append(Text(x0 + i * width, y0 - height * 0.5, text, height, "middle"))
    y = y0 + thick + height * 2.2
    tick = 25.4 if units == "us" else 25.0
    words = (
        "1 in at full size, 1/2 in at half size"
        if units == "us"
        else "25 mm at full size, 12.5 mm at half size"
    )
    marks.extend(
        (
            Line(((x0, y - height), (x0, y)), "medium"),
            Line(((x0 + tick, y - height), (x0 + tick, y)), "medium"),
            Line(((x0, y - height / 2), (x0 + tick, y - height / 2)), "thin"),
            Text(x0 + tick + height, y, words, height),
        )
    )
    right = x0 + max(4 * width + 4 * height, tick + height * 2 + text_width_mm(words, height))
    drawn = (Noted("scale-bar", f"1:{denominator}", "", x0, y0), Noted("calibration-mark", words, "", x0, y))
    return Panel(
        Group("scale-bar", tuple(marks), title=f"Bar scale, {scale_name(denominator, units)}"),
        drawn,
        right,
        y + height * 0.6,
    )


_SMALL_BARS: dict[str, tuple[tuple[float, str], ...]] = {
    "us": (*((n / 12, f"{n} in") for n in (1, 2, 3, 6)), *((n, f"{n} ft") for n in (1, 2, 4, 5, 10))),
    "metric": (*((n / 1000, f"{n} mm") for n in (50, 100, 200, 500)), *((n, f"{n} m") for n in (1, 2, 5))),
}
_SMALL_BAR_MM = 18.0  # no bar under a detail is shorter, so that a ruler reads it well


def small_bar(scale: str, x: float, y: float, height: float) -> Group | None:
    """Return a bar of two parts for a view whose scale is lettered as `scale`, its left top at (x, y).

    None where the view has no single scale.
    """
    found = re.fullmatch(r"(?:(.+) \()?1:(\d+)\)?", scale)
    if found is None:
        return None
    units, unit_m = ("us", FOOT_M) if found[1] else ("metric", 1.0)
    per_unit = unit_m * 1000.0 / int(found[2])
    long, words = next(
        (b for b in _SMALL_BARS[units] if b[0] * per_unit >= _SMALL_BAR_MM), _SMALL_BARS[units][-1]
    )
    half, low = long * per_unit / 2, y + height * 0.5
    marks = (
        Area(rectangle(x, y, x + half, low), "thin", "black"),
        Area(rectangle(x + half, y, x + 2 * half, low), "thin", "white"),
        Text(x + 2 * half + height * 0.6, low + height * 0.2, words, height),
    )
    return Group("scale-bar", marks, title=f"Bar scale, {scale}")


def true_north_words(true_north_deg: float) -> str:
    """Return how far true north lies off plan north, in words; nothing where the two are one."""
    off = abs(true_north_deg % 360.0) > 1e-9
    return f"TRUE NORTH {true_north_deg:g}° FROM PLAN NORTH" if off else ""


def north_arrow(
    turn_deg: float, true_north_deg: float, size: float, height: float, worded: bool = True
) -> Panel:
    """Return the north arrow: plan north at paper bearing `turn_deg`; true north too where they differ.

    Unless `worded` the angle between them is for the caller to letter (`true_north_words`).
    """
    c = size + height * 2.2
    tip, left, right, tail = (
        (0.0, -size),
        (-0.42 * size, 0.75 * size),
        (0.42 * size, 0.75 * size),
        (0.0, 0.4 * size),
    )
    marks: list[AnyMark] = [
        Circle((c, c), size * 1.05, "thin"),
        Area(turned((tip, left, tail), turn_deg, c, c), "thin", "black"),
        Area(turned((tip, right, tail), turn_deg, c, c), "thin", "white"),
    ]
    lx, ly = polar(c, c, size * 1.05 + height * 1.1, turn_deg)
    marks.append(Text(lx, ly + height * 0.6, "N", height * 1.2, "middle", True))
    drawn = [Noted("north-arrow", "plan north", "", c, c)]
    low = width = 2 * c
    words = true_north_words(true_north_deg)
    if words:
        bearing = (turn_deg + true_north_deg) % 360.0
        marks.append(Line(((c, c), polar(c, c, size * 1.05, bearing)), "thin-dash"))
        marks.append(Arc((c, c), size * 0.6, turn_deg, bearing, "thin"))
        drawn.append(Noted("north-arrow", "true north", "", c, c))
    if words and worded:
        marks.append(Text(0.0, low + height, words, height))
        width = max(width, text_width_mm(words, height))
        low += height * 1.8
    return Panel(Group("north-arrow", tuple(marks), title="North arrow"), tuple(drawn), width, low)
