"""Whether a closed outline crosses itself."""

from __future__ import annotations

from plangen.geometry.point import Point


def _side(a: Point, b: Point, c: Point) -> float:
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)


def _on(a: Point, b: Point, c: Point) -> bool:
    """Return whether c, known to be in line with a and b, lies between them."""
    return min(a.x, b.x) <= c.x <= max(a.x, b.x) and min(a.y, b.y) <= c.y <= max(a.y, b.y)


def meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Return whether segments ab and cd share a point."""
    s1, s2, s3, s4 = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
    if ((s1 > 0) != (s2 > 0)) and ((s3 > 0) != (s4 > 0)) and 0 not in (s1, s2, s3, s4):
        return True
    return (
        (s1 == 0 and _on(a, b, c))
        or (s2 == 0 and _on(a, b, d))
        or (s3 == 0 and _on(c, d, a))
        or (s4 == 0 and _on(c, d, b))
    )


def first_crossing(outline: tuple[Point, ...]) -> tuple[int, int] | None:
    """Return the numbers of the first two sides that are not neighbours and meet, or None."""
    count = len(outline)
    for i in range(count):
        a, b = outline[i], outline[(i + 1) % count]
        for j in range(i + 2, count):
            if (j + 1) % count == i:
                continue
            if meet(a, b, outline[j], outline[(j + 1) % count]):
                return i, j
    return None
