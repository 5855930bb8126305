"""From the ground to paper at a standard scale. Metres in, sheet millimetres out, y down.

The plan may be turned so that north points to the left of the sheet, as a long lot asks.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.geometry.point import Point
from plangen.sheets.marks import XY
from plangen.sheets.paper import Rect

# Engineer's scales for plans (never architect's scales on a site plan); nothing smaller than 1:240 or 1:250.
PLAN_SCALES: dict[str, tuple[int, ...]] = {"us": (60, 120, 240), "metric": (50, 100, 125, 200, 250)}
DETAIL_SCALES: dict[str, tuple[int, ...]] = {
    "us": (4, 8, 12, 16, 24, 48, 60, 120),
    "metric": (5, 10, 20, 50, 100),
}
_US_NAMES = {
    4: "3 in = 1 ft",
    8: "1-1/2 in = 1 ft",
    12: "1 in = 1 ft",
    16: "3/4 in = 1 ft",
    24: "1/2 in = 1 ft",
    48: "1/4 in = 1 ft",
}


@dataclass(frozen=True, slots=True)
class Viewport:
    """A window on the ground: `centre` of the ground lies at the middle of `window` on paper.

    `turn_deg` is the paper bearing of plan north: 0 up, 270 to the left.
    """

    denominator: int
    centre: Point
    window: Rect
    turn_deg: float = 0.0

    @property
    def per_m(self) -> float:
        """Return paper mm per metre of ground."""
        return 1000.0 / self.denominator

    def paper(self, p: Point) -> XY:
        """Return where a ground point lies on paper."""
        left, top, right, bottom = self.window
        dx, dy = (p.x - self.centre.x) * self.per_m, (p.y - self.centre.y) * self.per_m
        angle = math.radians(self.turn_deg)
        c, s = round(math.cos(angle), 12), round(math.sin(angle), 12)
        return (left + right) / 2 + dx * c + dy * s, (top + bottom) / 2 + dx * s - dy * c

    def path(self, points: Sequence[Point]) -> tuple[XY, ...]:
        """Return a polyline on paper."""
        return tuple(self.paper(p) for p in points)

    def ground(self) -> tuple[float, float, float, float]:
        """Return the ground that the window shows: west, south, east, north in metres."""
        wide, tall = self.window[2] - self.window[0], self.window[3] - self.window[1]
        if self.turn_deg % 180.0:
            wide, tall = tall, wide
        x, y, half = self.centre.x, self.centre.y, 0.5 / self.per_m
        return x - wide * half, y - tall * half, x + wide * half, y + tall * half

    def bearing(self, ground_deg: float) -> float:
        """Return the paper bearing (clockwise from paper up) of a ground bearing."""
        return (ground_deg + self.turn_deg) % 360.0

    def holds(self, p: Point, margin: float = 0.0) -> bool:
        """Return whether a ground point falls in the window, `margin` mm inside its edge."""
        x, y = self.paper(p)
        left, top, right, bottom = self.window
        return left + margin <= x <= right - margin and top + margin <= y <= bottom - margin


def scale_name(denominator: int, units: str) -> str:
    """Return a scale as lettered: `1 in = 10 ft (1:120)`, `1/2 in = 1 ft (1:24)` or `1:100`."""
    if units != "us":
        return f"1:{denominator}"
    if denominator in _US_NAMES:
        return f"{_US_NAMES[denominator]} (1:{denominator})"
    return f"1 in = {denominator // 12} ft (1:{denominator})"


def denominator_of(scale: str) -> int:
    """Return the denominator of a scale as `scale_name` letters it; 0 where there is none."""
    _, _, after = scale.rpartition("1:")
    digits = after.rstrip(")")
    return int(digits) if digits.isdigit() else 0


def choose_scale(
    width_m: float, height_m: float, room_w: float, room_h: float, scales: Sequence[int]
) -> int | None:
    """Return the largest scale at which a ground extent fits a room in mm, or None if none does."""
    for denominator in scales:
        if width_m * 1000 / denominator <= room_w and height_m * 1000 / denominator <= room_h:
            return denominator
    return None
