"""The long section: ground and water path over one distance axis, both axes at standard scales.

Takes polylines of (distance, elevation) in metres and places on paper; knows no water.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.quantity.dimension import FOOT_M, Dimension
from plangen.quantity.quantity import si_to
from plangen.sheets.font import text_width_mm
from plangen.sheets.hydraulic_rows import unit_of
from plangen.sheets.marks import XY, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark
from plangen.sheets.profile_course import Course
from plangen.sheets.profile_plot import Axes, frame, steps

# Engineer's scales, as for plans: in feet multiples of 1 in = 1 ft, in metres the usual reductions.
_ACROSS = {"us": (60, 120, 240, 360, 480, 600, 1200, 2400), "metric": (50, 100, 200, 250, 500, 1000, 2000)}
_UPRIGHT = {"us": (12, 24, 48, 60, 120, 240, 480), "metric": (10, 20, 25, 50, 100, 200, 500)}
_KEY = "WATER PATH: BURIED PIPE AT ITS COVER, RISERS UPRIGHT"
Box = tuple[float, float, float, float]  # left, top, right, bottom


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: values at its ends and between, its scale (0: no standard one fits), its mm of paper."""

    low: float
    high: float
    ticks: tuple[float, ...]
    denominator: int
    mm: float


def across(length_m: float, room_mm: float, system: str) -> Axis:
    """Return the axis of distances from 0, in the length unit of a unit system."""
    return _axis(0.0, length(length_m, system), room_mm, system, _ACROSS[system], 10)


def key_width(height: float) -> float:
    """Return how wide the key over a section stands, in mm: no panel with one is narrower."""
    return 58.0 + text_width_mm(_KEY, height)


def upright(levels_m: Sequence[float], room_mm: float, system: str) -> Axis:
    """Return the axis of some elevations, in the length unit of a unit system."""
    values = [length(v, system) for v in levels_m]
    return _axis(min(values), max(values), room_mm, system, _UPRIGHT[system], 8)


def length(length_m: float, system: str) -> float:
    """Return a length in the length unit of a unit system."""
    return si_to(length_m, Dimension.LENGTH, unit_of(Dimension.LENGTH, system))


def _axis(low: float, high: float, room_mm: float, system: str, scales: Sequence[int], most: int) -> Axis:
    ticks = steps(low, high, most)
    unit_mm = (FOOT_M if system == "us" else 1.0) * 1000.0
    for denominator in scales:
        span = room_mm * denominator / unit_mm
        if high <= ticks[0] + span + 1e-9:
            top = min(ticks[0] + span, ticks[-1])
            shown = tuple(t for t in ticks if t <= top + 1e-9)
            return Axis(ticks[0], top, shown, denominator, (top - ticks[0]) * unit_mm / denominator)
    return Axis(ticks[0], ticks[-1], ticks, 0, room_mm)


def scale_words(x: Axis, y: Axis, system: str) -> str:
    """Return both scales as lettered under the section, or NOT TO SCALE where one is no standard one."""
    if not (x.denominator and y.denominator):
        return "NOT TO SCALE"

    def named(denominator: int) -> str:
        return f"1 in = {denominator // 12} ft" if system == "us" else f"1:{denominator}"

    return f"ACROSS {named(x.denominator)}, UPRIGHT {named(y.denominator)}"


def section_marks(
    course: tuple[Course, Course], places: Sequence[XY], box: Box, x: Axis, system: str, height: float
) -> tuple[tuple[AnyMark, ...], str, tuple[XY, ...]]:
    """Return ground full and water path dashed on the design's own datum, the scales, and `places` on paper.

    `places` are (distance, elevation) in metres of what stands on the way; each gets a dot.
    """
    unit = unit_of(Dimension.LENGTH, system)
    left, top, right, bottom = box
    levels = [z for line in course for _, z in line]
    if not levels:
        said = Text((left + right) / 2, (top + bottom) / 2, "ELEVATIONS NOT STATED", height, "middle")
        return (said,), "", ()
    y = upright(levels, bottom - top, system)
    top = bottom - y.mm
    axes = Axes(left, top, right, bottom, x.low, x.high, y.low, y.high)

    def on(at: Sequence[XY]) -> tuple[XY, ...]:
        return tuple(axes.at(length(d, system), length(z, system)) for d, z in at)

    out: list[AnyMark] = [
        frame(axes, x.ticks, y.ticks, f"DISTANCE ALONG THE PIPE IN PLAN {unit}", f"ELEVATION {unit}", height)
    ]
    for role, line, pen, title in (
        ("profile-ground", course[0], "earth", "Ground"),
        ("profile-pipe", course[1], "medium-dash", "Water path"),
    ):
        if len(line) > 1:
            out.append(Group(role, (Line(on(line), pen),), title=title))
    dots = on(places)
    out += [Group("profile-place", (Circle(at, 0.7, "thin", "black"),)) for at in dots]
    key = top - 2.0
    out += [
        Line(((left, key), (left + 8.0, key)), "earth"),
        Text(left + 9.5, key + height / 2, "FINISHED GRADE", height, halo=True),
        Line(((left + 48.0, key), (left + 56.0, key)), "medium-dash"),
        Text(left + 57.5, key + height / 2, _KEY, height, halo=True),
    ]
    return tuple(out), scale_words(x, y, system), dots
