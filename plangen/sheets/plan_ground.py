"""Other things on the ground of a plan: walls, ponds, septic systems, wells, banks. Drawn and lettered."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from plangen.model.design import Design
from plangen.model.site import Area as SiteArea
from plangen.sheets.canvas import Canvas, Want, letter_mark, lettered
from plangen.sheets.marks import XY, Area, Group, Line, Segments
from plangen.sheets.panel import AnyMark
from plangen.sheets.plan_labels import put, put_in_area
from plangen.sheets.shapes import Segment, hatch
from plangen.sheets.symbols import SYMBOLS, symbol

FIELD_LETTERS = "SF"
_WAVES_MM = 4.0
_TICK_MM = 2.4
# Such things stand there already unless the author says otherwise.
_STATE = {"existing": "", "new": " (NEW)", "relocated": " (REL)", "removed": " (REM)"}


def draw_ground(canvas: Canvas, design: Design) -> None:
    """Draw walls, ponds, septic fields and banks, and the symbols of tanks and wells."""
    for area in design.site.other:
        outline = canvas.outline(area.outline)
        if len(outline) < 3:
            continue
        closed = (*outline, outline[0])
        marks = _marks(canvas, area, outline)
        canvas.add("building", Group(f"area-{area.kind}", marks, area.name, area.label or area.name))
        canvas.space.line(closed, area.kind == "wall")
        canvas.note("line", area.kind, area.name, outline[0])
    for mark in design.site.landmarks:
        at_xy = canvas.view.paper(mark.point)
        if canvas.sees(at_xy):
            half = canvas.device_mm
            canvas.add("site", symbol(mark.kind, *at_xy, half, object=mark.name))
            canvas.space.take((at_xy[0] - half, at_xy[1] - half, at_xy[0] + half, at_xy[1] + half))
            canvas.note("symbol", mark.kind, mark.name, at_xy)


def letter_ground(canvas: Canvas, design: Design) -> None:
    """Letter what `draw_ground` has drawn."""
    note = canvas.letters.note
    for area in design.site.other:
        put_in_area(canvas, area, _words(area), note, area.kind == "water")
    for mark in design.site.landmarks:
        at_xy = canvas.view.paper(mark.point)
        if canvas.sees(at_xy):
            lines = (
                f"{mark.name} {SYMBOLS[mark.kind].code}{_STATE[mark.state]}",
                *((mark.label,) if mark.label else ()),
            )
            half = canvas.device_mm
            put(canvas, Want(mark.name, mark.kind, lines, at_xy, half, note, half + 0.6, state=mark.state))


def _words(area: SiteArea) -> tuple[str, ...]:
    more = [area.material] if area.material else []
    more += [f"slope {area.slope.written}"] if area.slope is not None and area.kind == "bank" else []
    label = (area.label or area.name).upper()
    return (label + _STATE[area.state], ", ".join((area.name, *more)))


def _marks(canvas: Canvas, area: SiteArea, outline: tuple[XY, ...]) -> tuple[AnyMark, ...]:
    # the true edges: where the view ends, an area has none
    edges = canvas.path((*area.outline, area.outline[0]))
    if area.kind == "wall":
        return (Area(outline, "building", "grey"),)
    if area.kind == "water":
        return Area(outline, "base", "white"), Segments(hatch(outline, _WAVES_MM, 0.0), "hatch")
    if area.kind == "bank":
        inner = turn(outline)
        strokes = tuple(stroke for edge in edges for stroke in ticks(edge, _TICK_MM, inner))
        return *(Line(edge, "base") for edge in edges), Segments(strokes, "base")
    height = canvas.letters.floor
    half = height * (0.5 + 0.4 * len(FIELD_LETTERS))
    marks: list[AnyMark] = []
    for edge in edges:
        parts, middles = lettered(edge, 38.0, height * (1.0 + len(FIELD_LETTERS)))
        marks += [Line(part, "utility") for part in parts]
        marks += [letter_mark(FIELD_LETTERS, middle, height) for middle in middles]
        for x, y in middles:
            canvas.space.take((x - half, y - height * 0.7, x + half, y + height * 0.7))
    return tuple(marks)


def turn(closed: Sequence[XY]) -> float:
    """Return on which side of its edges an outline's inside lies: 1 or -1."""
    doubled = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(closed, [*closed[1:], closed[0]], strict=True))
    return 1.0 if doubled > 0 else -1.0


def ticks(edge: Sequence[XY], length: float, side: float) -> tuple[Segment, ...]:
    """Return short strokes from an edge to one side, long and short in turn, as a bank is drawn."""
    found: list[Segment] = []
    for a, b in pairwise(edge):
        far = math.dist(a, b)
        for i in range(int(far / length)):
            t = (i + 0.5) * length / far
            x, y = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
            tall = length * (1.0 if i % 2 == 0 else 0.5)
            found.append(
                ((x, y), (x - side * (b[1] - a[1]) / far * tall, y + side * (b[0] - a[0]) / far * tall))
            )
    return tuple(found)
