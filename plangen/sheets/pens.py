"""Pen, fill and lettering roles: what a mark's `pen` and `fill` words mean on paper.

Monochrome first: every role is told apart by width, dash or grey alone. Widths after the ISO 128 series
(0.13 to 1.0 mm, from memory); lettering heights and the half-size floor are this project's proposal.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pen:
    """A line: width in mm, dash pattern in mm, grey from 0 (black) to 1 (white), cap `round` or `butt`."""

    width_mm: float
    dash: tuple[float, ...] = ()
    grey: float = 0.0
    cap: str = "round"

    @property
    def heavy(self) -> bool:
        """Return whether lettering must keep off this line."""
        return self.width_mm >= 0.5 and self.grey < 0.6


_DOTS = (0.2, 1.1)

PENS: dict[str, Pen] = {
    # general drawing
    "hair": Pen(0.13),
    "thin": Pen(0.18),
    "medium": Pen(0.35),
    "heavy": Pen(0.70),
    "thin-dash": Pen(0.18, (1.8, 0.9)),
    "medium-dash": Pen(0.35, (2.4, 1.2), cap="butt"),
    "centre": Pen(0.18, (5.0, 1.0, 1.0, 1.0)),
    "hidden": Pen(0.25, (1.6, 0.8)),
    # sheet furniture
    "frame": Pen(0.70, cap="butt"),
    "frame-thin": Pen(0.25, cap="butt"),
    "table": Pen(0.18, cap="butt"),
    "table-head": Pen(0.35, cap="butt"),
    # site base, half-tone
    "base": Pen(0.18, grey=0.45),
    "building": Pen(0.35, grey=0.35),
    "paving": Pen(0.18, grey=0.45),
    "planting": Pen(0.18, (1.2, 0.9), grey=0.45),
    "property": Pen(0.35, (8.0, 1.2, 1.6, 1.2, 1.6, 1.2), grey=0.2, cap="butt"),
    "utility": Pen(0.25, (4.0, 1.2), grey=0.35, cap="butt"),
    "tree": Pen(0.18, grey=0.5),
    "grade": Pen(0.18, grey=0.35),
    # water
    "service": Pen(0.70, cap="butt"),
    "service-existing": Pen(0.70, (3.4, 0.9), cap="butt"),
    "mainline": Pen(0.70),
    "mainline-existing": Pen(0.70, grey=0.55),
    "lateral": Pen(0.35),
    "lateral-existing": Pen(0.35, grey=0.55),
    "nipple": Pen(0.50),
    "removed": Pen(0.25, (0.8, 0.8), grey=0.4),
    "sleeve": Pen(0.25, (1.6, 0.8), cap="butt"),
    "wire": Pen(0.25, (2.4, 0.8, 0.3, 0.8), cap="butt"),
    "dripline": Pen(0.18, (0.5, 0.6)),
    "zone-edge": Pen(0.25, _DOTS),
    "throw": Pen(0.13, grey=0.3),
    "symbol": Pen(0.30),
    "symbol-thin": Pen(0.18),
    "symbol-existing": Pen(0.30, grey=0.5),
    "symbol-relocated": Pen(0.30, (0.7, 0.6)),
    "cross": Pen(0.35),
    # notes on the drawing
    "dimension": Pen(0.18),
    "leader": Pen(0.18),
    "hatch": Pen(0.13, grey=0.4),
    "hatch-dark": Pen(0.18, grey=0.2),
    "match": Pen(1.0, (9.0, 1.5, 1.8, 1.5, 1.8, 1.5), cap="butt"),
    "enlarged": Pen(0.35, (4.0, 1.2), cap="butt"),
    "cut": Pen(0.70, (6.0, 1.2, 1.2, 1.2), cap="butt"),
    "hand-dig": Pen(0.18, (1.2, 0.8)),
    "spoil": Pen(0.25, _DOTS),
    "cloud": Pen(0.35),
    "finding": Pen(0.50),
    # sections, details and plots
    "earth": Pen(0.50),
    "water-line": Pen(0.50),
    "outline": Pen(0.35),
    "plot": Pen(0.50),
    "plot-second": Pen(0.50, (2.4, 1.2), cap="butt"),
    "plot-third": Pen(0.50, (0.6, 1.2)),
    "grid": Pen(0.13, grey=0.55),
    "station": Pen(0.13, (0.8, 0.8), grey=0.3),
}

# Fill roles as grey, 0 black to 1 white; None is no fill.
FILLS: dict[str, float | None] = {"none": None, "white": 1.0, "black": 0.0, "grey": 0.75, "pale": 0.92}


@dataclass(frozen=True, slots=True)
class Lettering:
    """Capital heights in mm by use. Nothing on a sheet is lettered below `floor`."""

    floor: float
    note: float  # table cells, notes, labels on a crowded plan
    body: float
    heading: float
    title: float
    sheet_id: float


_SMALL = Lettering(floor=2.0, note=2.0, body=2.5, heading=3.2, title=4.0, sheet_id=8.0)
_LARGE = Lettering(floor=2.4, note=2.4, body=3.2, heading=4.0, title=5.0, sheet_id=11.0)
LETTERING: dict[str, Lettering] = {"ansi-b": _SMALL, "a3": _SMALL, "arch-d": _LARGE, "a1": _LARGE}


def roomy(letters: Lettering) -> tuple[float, ...]:
    """Return the heights above that of notes that tables may take where there is room, the largest first."""
    return tuple(letters.note + (letters.body - letters.note) * share for share in (1.0, 0.66, 0.33))


def descending(letters: Lettering) -> tuple[float, ...]:
    """Return the heights from that of headings down to that of notes, for a sheet with nothing but words."""
    steps = 10
    return tuple(letters.note + (letters.heading - letters.note) * k / steps for k in range(steps, -1, -1))


def pen(role: str) -> Pen:
    """Return the pen of a role. Raises KeyError for a role that does not exist."""
    return PENS[role]


def lettering(family: str) -> Lettering:
    """Return the lettering heights of a sheet family."""
    return LETTERING[family]
