"""Labels of a plan: what is lettered beside each object, and where it goes.

Order is fixed: what has least room first. What finds no room is listed on the sheet, never dropped silently.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache, partial
from itertools import pairwise, starmap

from plangen.geometry.point import Point, distance_to_polygon, inside, polygon_centre
from plangen.model.site import Area as SiteArea
from plangen.sheets.canvas import Canvas, Want, blank
from plangen.sheets.font import drawable, text_width_mm
from plangen.sheets.labels import MARKER_H, MARKER_W, Spot
from plangen.sheets.marks import XY, Area, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark
from plangen.sheets.paper import Rect
from plangen.sheets.paragraphs import LINE
from plangen.sheets.shapes import rectangle
from plangen.sheets.states import STATES, in_state
from plangen.sheets.symbols import symbol
from plangen.sheets.text_rect import text_rect

_PAD = 0.5
_DOT_ROOM = 0.6
# kinds that a leader may end on anywhere along them
_LED_ANYWHERE = ("pipe-", "utility-", "area-", "lot")


def put_keys(canvas: Canvas, lost: Sequence[Want]) -> None:
    """Letter a short key where a whole label found no room; the label itself is told under the plan."""
    for want in lost:
        key = f"K{len(canvas.keys) + 1}"
        short = replace(want, lines=(key,), flag=False, bold=True, height=canvas.letters.note)
        before = len(canvas.unplaced)
        put(canvas, short)
        if len(canvas.unplaced) > before:
            canvas.unplaced.pop()
            continue
        canvas.unplaced.remove(want.object)
        canvas.keys.append((key, ", ".join(want.lines)))
        if want.kind == "pipe-size":
            canvas.note("pipe-size", want.kind, want.object, want.at)
            canvas.anchors.append((want.object, *want.at))


def put(canvas: Canvas, want: Want) -> None:
    """Place one label with its leader, or list it as not placed."""
    lines = tuple(drawable(line) for line in want.lines)
    width, height = _size(want, lines)
    starts: tuple[XY, ...] = (want.at, *want.starts)
    if want.dot and want.kind.startswith(_LED_ANYWHERE):
        # the dot at the end of a leader stands on the line or area, not on a letter or symbol in it
        starts = tuple(at for at in starts if canvas.space.bare(at, _DOT_ROOM)) or starts
    spot = canvas.space.place(width, height, starts, want.clear, want.half, led=want.led)
    if spot is None:
        canvas.unplaced.append(want.object)
        canvas.lost.append(want)
        return
    if spot.leader and not want.quiet:
        canvas.led.append((want.object, sum(starmap(math.dist, pairwise(spot.leader)))))
    _letter(canvas, want, lines, spot)


def put_along(canvas: Canvas, want: Want, pieces: Sequence[Sequence[XY]], off: float) -> None:
    """Letter a pipe along one of its straight runs, `off` mm from its centre; else with a leader."""
    text = drawable(want.lines[0])
    width, height = text_width_mm(text, want.height, want.bold), want.height
    for a, b in _runs(pieces):
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        if length < width * 0.9:
            continue
        level = abs(b[1] - a[1]) < 0.02 * length
        upright = abs(b[0] - a[0]) < 0.02 * length
        if not (level or upright):
            continue
        centres = [
            (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for t in (0.5, 0.35, 0.65, 0.22, 0.78)
        ]
        boxes = [_along_box(c, side, off, width, height, level) for c in centres for side in (-1, 1)]
        index = canvas.space.first_free(boxes)
        if index is not None:
            _letter_along(canvas, want, text, boxes[index], level)
            return
    put(canvas, want)


def put_in_area(
    canvas: Canvas, area: SiteArea, lines: tuple[str, ...], height: float, on_hatch: bool
) -> None:
    """Letter an area inside its outline, level or turned, where there is room; else by a leader from it."""
    outline = canvas.outline(area.outline)
    if len(outline) < 3:
        return
    texts = tuple(drawable(line) for line in lines)
    grid = _grid(outline)
    kind = f"area-{area.kind}"
    want = Want(
        area.name,
        kind,
        texts,
        grid[0],
        0.0,
        height,
        1.5,
        dot=True,
        starts=(*grid[1:30:2], *grid[30::9]),
        led=True,
    )
    width, tall = _size(want, texts)
    boxes, fit = _boxes_about(grid, width, tall), partial(_lies_inside, outline)
    index = canvas.space.first_free(boxes, fit)
    if index is not None:
        if on_hatch:
            canvas.add("building", blank(boxes[index]))
        _letter(canvas, want, texts, Spot(boxes[index], None))
        return
    # a long narrow area takes its name in one line, along it
    line = drawable(lines[0])
    long, thin = text_width_mm(line, height) + _PAD, height * 1.35
    boxes = _boxes_about(grid, long, thin) + _boxes_about(grid, thin, long)
    index = canvas.space.first_free(boxes, fit)
    if index is None:
        put(canvas, want)
        return
    if on_hatch:
        canvas.add("building", blank(boxes[index]))
    _letter_along(canvas, want, line, boxes[index], index < len(grid))


def _boxes_about(places: Sequence[XY], width: float, tall: float) -> list[Rect]:
    return [(x - width / 2, y - tall / 2, x + width / 2, y + tall / 2) for x, y in places]


def _lies_inside(outline: Sequence[XY], box: Rect) -> bool:
    """Whether a box lies inside an outline, nor a notch of the outline reaches into the box."""
    left, top, right, bottom = box
    if any(left < x < right and top < y < bottom for x, y in outline):
        return False
    corners = tuple(starmap(Point, outline))
    return all(inside(Point(*c), corners) for c in rectangle(*box))


def keep_marker_rooms(canvas: Canvas) -> tuple[tuple[str, float, float, float, float], ...]:
    """Find empty room for a finding's marker beside each label, and take it. Call after all labels."""
    wide, tall = (side * canvas.letters.floor / 2.0 for side in (MARKER_W, MARKER_H))
    rooms: list[tuple[str, float, float, float, float]] = []
    for name, box in canvas.label_boxes.items():
        spot = canvas.space.beside(box, wide, tall, canvas.ink_boxes.get(name))
        if spot is not None:
            rooms.append((name, spot.box[0], spot.box[1], wide, tall))
    return tuple(rooms)


def _size(want: Want, lines: Sequence[str]) -> tuple[float, float]:
    widths = [text_width_mm(line, want.height, want.bold) for line in lines]
    if want.flag:
        return sum(w + want.height * 0.8 for w in widths), want.height * 1.9
    extra = want.height * 2.2 if want.mark else 0.0
    return max(widths) + extra + _PAD, want.height * (LINE * (len(lines) - 1) + 1.35) + _PAD


def _letter(canvas: Canvas, want: Want, lines: Sequence[str], spot: Spot) -> None:
    left, top, right, bottom = spot.box
    marks: list[AnyMark] = []
    if want.flag:
        marks.extend(_flag(lines, want, spot.box))
    else:
        x = left + _PAD / 2
        if want.mark:
            size = want.height * 0.8
            middle = (x + size, (top + bottom) / 2)
            shown = symbol(want.mark, *middle, size, object=want.object)
            marks.append(in_state(shown, want.state, middle, size))
            canvas.note("symbol", want.mark, want.object, want.at)
            if want.state in STATES:
                canvas.note("line", f"state-{want.state}", want.object, want.at)
            x += want.height * 2.2
        for i, line in enumerate(lines):
            y = top + _PAD / 2 + want.height * (1.05 + i * LINE)
            marks.append(Text(x, y, line, want.height, bold=want.bold, halo=True))
    if spot.leader and not want.quiet:
        canvas.add("leaders", Group("leader", _leader(spot.leader, want.dot), want.object))
    canvas.add("labels", Group("label", tuple(marks), want.object, f"Label of {want.object}"))
    _boxed(canvas, want.object, spot.box, marks)
    canvas.note("label", want.kind, want.object, ((left + right) / 2, (top + bottom) / 2))


def _boxed(canvas: Canvas, name: str, box: Rect, marks: Sequence[AnyMark]) -> None:
    """Keep the box of an object's first label, and that of its letters."""
    canvas.label_boxes.setdefault(name, box)
    ink = [text_rect(m) for m in marks if isinstance(m, Text)]
    if ink:
        lefts, tops, rights, bottoms = zip(*ink, strict=True)
        canvas.ink_boxes.setdefault(name, (min(lefts), min(tops), max(rights), max(bottoms)))


def _leader(points: tuple[XY, ...], dot: bool) -> tuple[Line | Circle, ...]:
    line = Line(points, "leader")
    return (line, Circle(points[0], 0.4, "", "black")) if dot else (line,)


def _flag(cells: Sequence[str], want: Want, box: Rect) -> list[AnyMark]:
    left, top, right, bottom = box
    marks: list[AnyMark] = [Area(rectangle(left, top, right, bottom), "thin", "white")]
    x = left
    for i, cell in enumerate(cells):
        width = text_width_mm(cell, want.height, want.bold) + want.height * 0.8
        marks.append(Text(x + width / 2, bottom - want.height * 0.45, cell, want.height, "middle", want.bold))
        x += width
        if i < len(cells) - 1:
            marks.append(Line(((x, top), (x, bottom)), "thin"))
    return marks


def _runs(pieces: Sequence[Sequence[XY]]) -> list[tuple[XY, XY]]:
    """Straight runs, the longest first; equal ones in drawing order."""
    runs = [(a, b) for piece in pieces for a, b in pairwise(piece)]
    return sorted(runs, key=lambda r: -round(math.hypot(r[1][0] - r[0][0], r[1][1] - r[0][1]), 3))


def _along_box(centre: XY, side: int, off: float, width: float, height: float, level: bool) -> Rect:
    x, y = centre
    tall = height * 1.35
    if level:
        middle = y + side * (off + tall / 2)
        return x - width / 2, middle - tall / 2, x + width / 2, middle + tall / 2
    middle = x + side * (off + tall / 2)
    return middle - tall / 2, y - width / 2, middle + tall / 2, y + width / 2


def _letter_along(canvas: Canvas, want: Want, text: str, box: Rect, level: bool) -> None:
    left, top, right, bottom = box
    x, y = (left + right) / 2, (top + bottom) / 2
    mark = (
        Text(x, bottom - want.height * 0.3, text, want.height, "middle", want.bold, halo=True)
        if level
        # turned text is read from the right of the sheet
        else Text(right - want.height * 0.3, y, text, want.height, "middle", want.bold, -90.0, True)
    )
    canvas.add("labels", Group("label", (mark,), want.object, f"Label of {want.object}"))
    _boxed(canvas, want.object, box, (mark,))
    canvas.note("label", want.kind, want.object, (x, y))


def _middle(outline: Sequence[XY]) -> XY:
    centre = polygon_centre([Point(x, y) for x, y in outline])
    return centre.x, centre.y


@lru_cache(maxsize=256)
def _grid(outline: tuple[XY, ...]) -> tuple[XY, ...]:
    """Places inside an area to try for its name: its middle first, then a lattice, nearest to that first.

    The middle of an area with wings may lie outside of it: then the place deepest inside stands for it.
    """
    corners = tuple(Point(x, y) for x, y in outline)
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    lattice = [
        Point(min(xs) + (max(xs) - min(xs)) * i / 16, min(ys) + (max(ys) - min(ys)) * j / 16)
        for i in range(1, 16)
        for j in range(1, 16)
    ]
    within = [p for p in lattice if inside(p, corners)]
    middle = Point(*_middle(outline))
    if within and not inside(middle, corners):
        middle = min(within, key=lambda p: (round(distance_to_polygon(p, corners), 3), p))
    return (middle, *sorted(within, key=lambda p: (round(math.dist(p, middle), 3), p)))
