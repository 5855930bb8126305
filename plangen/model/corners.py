"""Named corners of an outline: the one vertex that lies clearly farthest in a diagonal direction."""

from __future__ import annotations

import math

from plangen.geometry.point import Point, bounds

# A corner must lead the next one by this share of the outline's diagonal, or people would disagree about it.
CORNER_LEAD = 0.05
CORNER_SIGNS = {"northeast": (1, 1), "northwest": (-1, 1), "southeast": (1, -1), "southwest": (-1, -1)}


def corner(outline: tuple[Point, ...], name: str) -> Point | None:
    """Return the vertex that lies farthest in a diagonal direction, or None where it is not clearly one."""
    sx, sy = CORNER_SIGNS[name]
    ranked = sorted(set(outline), key=lambda p: (-(sx * p.x + sy * p.y), p))
    if len(ranked) < 2:
        return None
    x0, y0, x1, y1 = bounds(outline)
    lead = (sx * ranked[0].x + sy * ranked[0].y) - (sx * ranked[1].x + sy * ranked[1].y)
    return ranked[0] if lead > CORNER_LEAD * math.hypot(x1 - x0, y1 - y0) else None
