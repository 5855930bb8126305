"""Shapes of the symbols that mark places on the ground: grades, trees, stakes. Takes half sizes in mm."""

from __future__ import annotations

from plangen.sheets.marks import Area, Circle, Line
from plangen.sheets.shapes import polar, rectangle

Shape = Line | Area | Circle


def grade(s: float) -> tuple[Shape, ...]:
    """Return a small cross: finished grade."""
    return Line(((-0.6 * s, 0.0), (0.6 * s, 0.0)), "grade"), Line(((0.0, -0.6 * s), (0.0, 0.6 * s)), "grade")


def tree(s: float) -> tuple[Shape, ...]:
    """Return a circle with spokes: a tree with its canopy."""
    spokes = tuple(Line(((0.0, 0.0), polar(0, 0, s, d)), "tree") for d in (0, 60, 120, 180, 240, 300))
    return Circle((0, 0), s, "tree", "none"), *spokes


def tank(s: float) -> tuple[Shape, ...]:
    """Return an oblong with a wall across it: a septic tank."""
    box = rectangle(-1.2 * s, -0.7 * s, 1.2 * s, 0.7 * s)
    return Area(box, "symbol", "white"), Line(((0.3 * s, -0.7 * s), (0.3 * s, 0.7 * s)), "symbol")


def well(s: float) -> tuple[Shape, ...]:
    """Return two rings, one in the other: a well and its casing."""
    return Circle((0, 0), s, "symbol", "white"), Circle((0, 0), 0.45 * s, "symbol", "none")


def cistern(s: float) -> tuple[Shape, ...]:
    """Return a ring with a water line across it: a cistern or rain tank."""
    return Circle((0, 0), s, "symbol", "white"), Line(((-s, 0.0), (s, 0.0)), "symbol")


def stake(s: float) -> tuple[Shape, ...]:
    """Return a pennant whose foot is the place."""
    return (
        Circle((0.0, 0.0), 0.22 * s, "", "black"),
        Line(((0.0, 0.0), (0.0, -1.4 * s)), "symbol"),
        Area(((0.0, -1.4 * s), (0.9 * s, -1.05 * s), (0.0, -0.7 * s)), "symbol-thin", "black"),
    )


def expose(s: float) -> tuple[Shape, ...]:
    """Return a ring with a cross: dig by hand here."""
    k = 0.7 * s
    return (
        Circle((0.0, 0.0), s, "symbol", "white"),
        Line(((-k, -k), (k, k)), "symbol"),
        Line(((-k, k), (k, -k)), "symbol"),
    )


def splice(s: float) -> tuple[Shape, ...]:
    """Return a small open diamond: a splice of control wire."""
    return (Area(((0.0, -s), (s, 0.0), (0.0, s), (-s, 0.0)), "symbol-thin", "white"),)
