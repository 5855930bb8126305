"""The water that falls on each place of the plan, as a map in plain numbers and a table behind it. Pure.

The rates are those of the coverage grid; each cell is classed by its share of its own area's mean.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from plangen.geometry.point import Point, polygon_centre
from plangen.layout.results import AreaCoverage
from plangen.model.site import Area
from plangen.packet.contents import Contents
from plangen.packet.tables import NOT_KNOWN, Cell, Table
from plangen.packet.tell import Tell
from plangen.quantity.display import number

WIDTH, MARGIN, KEY, NORTH = 760.0, 8.0, 64.0, 40.0
# Upper bound of each class as a share of the area's mean, and its words; the last has no bound.
CLASSES: tuple[tuple[float, str], ...] = (
    (0.1, "nearly dry"),
    (0.5, "under 50 %"),
    (0.75, "50 to 75 %"),
    (0.9, "75 to 90 %"),
    (1.1, "90 to 110 %"),
    (1.25, "110 to 125 %"),
    (float("inf"), "over 125 %"),
)


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline of the plan as a path, with its kind for the style and its name."""

    kind: str
    path: str
    name: str


@dataclass(frozen=True, slots=True)
class Shade:
    """One class of rate: all its cells as one path, its words, and where its key stands."""

    key: int
    words: str
    path: str
    x: str


@dataclass(frozen=True, slots=True)
class RainMap:
    """The map in drawing units, `words` for who cannot see it, and its table."""

    title: str
    words: str
    width: str
    height: str
    key_y: str
    shades: tuple[Shade, ...]
    shapes: tuple[Shape, ...]
    heads: tuple[tuple[str, str, str], ...]  # (x, y, name)
    names: tuple[tuple[str, str, str], ...]  # (x, y, name of an area)
    north: tuple[str, str]  # where the north arrow stands from the left, and its turn in degrees
    table: Table


@dataclass(frozen=True, slots=True)
class _Frame:
    """How ground is laid on the drawing: y goes down there."""

    left: float
    top: float
    scale: float

    def x(self, x_m: float) -> str:
        return number(MARGIN + (x_m - self.left) * self.scale, 1)

    def y(self, y_m: float) -> str:
        return number(MARGIN + (self.top - y_m) * self.scale, 1)

    def path(self, outline: Iterable[Point]) -> str:
        return "M" + "L".join(f"{self.x(p.x)},{self.y(p.y)}" for p in outline) + "Z"


def rain_map(contents: Contents) -> RainMap | None:
    """Return the map, or None if no area's rate is known."""
    known = [c for c in contents.layout.coverage if c.grid and c.mean_rate_ms]
    if not known:
        return None
    site = contents.design.site
    areas = [a for a in (site.lot, *site.buildings, *site.paving, *site.planting) if a is not None]
    points = [p for a in areas for p in a.outline] or [p for c in known for p, _ in c.grid]
    left, right = min(p.x for p in points), max(p.x for p in points)
    bottom, top = min(p.y for p in points), max(p.y for p in points)
    scale = min((WIDTH - 2 * MARGIN - NORTH) / max(right - left, 0.1), 620.0 / max(top - bottom, 0.1))
    frame = _Frame(left, top, scale)
    height = 2 * MARGIN + (top - bottom) * scale
    return RainMap(
        title="Water that falls on the ground, by its share of each area's mean",
        words=_words(known, Tell(contents.units)),
        width=number(WIDTH, 0),
        height=number(height + KEY, 0),
        key_y=number(height + 14, 0),
        shades=_shades(known, frame),
        shapes=tuple(Shape(a.kind, frame.path(a.outline), a.name) for a in areas),
        heads=tuple((frame.x(h.point.x), frame.y(h.point.y), h.name) for h in contents.design.heads),
        names=_names((*site.buildings, *site.planting), frame),
        north=(number(MARGIN + (right - left) * scale + 24, 1), number(site.north_deg, 1)),
        table=_table(contents.layout.coverage, Tell(contents.units)),
    )


def _names(areas: Iterable[Area], frame: _Frame) -> tuple[tuple[str, str, str], ...]:
    middles = ((polygon_centre(a.outline), a.name) for a in areas)
    return tuple((frame.x(p.x), frame.y(p.y), name) for p, name in middles)


def _class_of(share: float) -> int:
    return next(n for n, (bound, _) in enumerate(CLASSES) if share < bound)


def _shades(known: list[AreaCoverage], frame: _Frame) -> tuple[Shade, ...]:
    paths: list[list[str]] = [[] for _ in CLASSES]
    for area in known:
        mean = area.mean_rate_ms or 1.0
        wide, high = area.cell_m, area.cell_y_m or area.cell_m
        for row in _rows(area):
            for key, start, end in _runs([(p, _class_of(rate / mean)) for p, rate in row], wide):
                x, y = frame.x(start.x - wide / 2), frame.y(start.y + high / 2)
                across = number((end.x - start.x + wide) * frame.scale, 1)
                down = number(high * frame.scale, 1)
                paths[key].append(f"M{x},{y}h{across}v{down}h-{across}z")
    step = (WIDTH - 2 * MARGIN) / len(CLASSES)
    return tuple(
        Shade(n, words, "".join(paths[n]), number(MARGIN + n * step, 1))
        for n, (_, words) in enumerate(CLASSES)
    )


def _rows(area: AreaCoverage) -> list[list[tuple[Point, float]]]:
    """Return the cells of a grid in rows from south to north, each from west to east."""
    rows: dict[float, list[tuple[Point, float]]] = {}
    for point, rate in area.grid:
        rows.setdefault(round(point.y, 4), []).append((point, rate))
    return [sorted(rows[y], key=lambda cell: cell[0].x) for y in sorted(rows)]


def _runs(row: list[tuple[Point, int]], wide: float) -> list[tuple[int, Point, Point]]:
    """Return neighbouring cells of one class as (class, first, last)."""
    runs: list[tuple[int, Point, Point]] = []
    for point, key in row:
        if runs and runs[-1][0] == key and point.x - runs[-1][2].x < wide * 1.5:
            runs[-1] = (key, runs[-1][1], point)
        else:
            runs.append((key, point, point))
    return runs


def _words(known: list[AreaCoverage], tell: Tell) -> str:
    told = "; ".join(
        f"{c.area}: mean {tell.rate(c.mean_rate_ms)}"
        + (f", driest quarter {tell.share(c.low_quarter)} of it" if c.low_quarter is not None else "")
        for c in known
    )
    return f"The darker, the more water. {told}."


def _table(coverage: tuple[AreaCoverage, ...], tell: Tell) -> Table:
    rows = []
    for area in coverage:
        mean = area.mean_rate_ms
        if not area.grid or not mean:
            rows.append((Cell(area.area), *(Cell(NOT_KNOWN, number=True) for _ in range(len(CLASSES) + 1))))
            continue
        held = [_class_of(rate / mean) for _, rate in area.grid]
        shares = (Cell(tell.share(held.count(n) / len(held)), number=True) for n in range(len(CLASSES)))
        rows.append((Cell(area.area), Cell(tell.rate(mean), number=True), *shares))
    columns = ("Area", "Mean rate", *(words for _, words in CLASSES))
    note = "Share of the ground of each area that gets so much of the area's mean rate."
    return Table(
        "rain-shares", "Ground by the water it gets", columns, tuple(rows), "No area is watered.", note
    )
