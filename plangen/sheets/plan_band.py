"""What surrounds a plan view: the strip under it with north arrow, bar scale and key plan; match lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from plangen.layout.wire import Wiring
from plangen.model.design import Design
from plangen.sheets.canvas import Canvas
from plangen.sheets.enlarged import frame_notes
from plangen.sheets.font import text_box, text_width_mm
from plangen.sheets.marks import XY, Area, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, moved_panel
from plangen.sheets.paper import Rect
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering
from plangen.sheets.plan_view import PlanView
from plangen.sheets.plan_wire import wire_note
from plangen.sheets.scalebar import north_arrow, scale_bar
from plangen.sheets.shapes import rectangle

# Where along a match line its lettering is tried, the middle first.
_ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)


def band_height(letters: Lettering) -> float:
    """Return the room under a view for north arrow, bar scale, key plan and notes."""
    return letters.floor * 12.0


def band_panels(
    design: Design,
    letters: Lettering,
    room: tuple[float, float],
    cut: PlanView,
    index: int,
    notes: Sequence[str],
    ids: Sequence[str],
) -> tuple[Panel, ...]:
    """The strip under the view: north arrow, bar scale, key plan, notes."""
    view = cut.views[index]
    top = room[1] - band_height(letters) + letters.floor
    arrow = north_arrow(view.turn_deg, design.site.north_deg, letters.floor * 2.6, letters.floor)
    bar = scale_bar(view.denominator, design.project.units, letters.floor)
    x = arrow.width_mm + letters.floor * 2
    parts = [moved_panel(arrow, 0.0, top), moved_panel(bar, x, top)]
    x += bar.width_mm + letters.floor * 2
    if cut.split:
        key = _key_plan(design, cut, index, letters, ids)
        parts.append(moved_panel(key, x, top))
        x += key.width_mm + letters.floor * 2
    text = notes_panel("", notes, room[0] - x, letters.floor, numbered=False)
    parts.append(moved_panel(text, x, top))
    return tuple(parts)


def plan_notes(design: Design, canvas: Canvas, wiring: Wiring | None) -> tuple[str, ...]:
    """Return what is said in words under a view of the irrigation plan."""
    notes = [
        "Symbols and codes: see the legend. Pipes are to scale; at crowded fittings a dot marks the place"
        " and the symbol stands beside its label.",
        "Buried lines are from records, not from a locate: hand-dig near them.",
        wire_note(design, wiring),
    ]
    notes.extend(frame_notes(canvas))
    if canvas.keys:
        notes.append("Keys: " + "; ".join(f"{key} {words}" for key, words in canvas.keys) + ".")
    if canvas.uncalled:
        notes.append("Details: " + ", ".join(canvas.uncalled) + ".")
    if canvas.unplaced:
        notes.append("Not lettered for want of room: " + ", ".join(sorted(set(canvas.unplaced))) + ".")
    return tuple(n for n in notes if n)


def match_lines(canvas: Canvas, cut: PlanView, index: int, ids: Sequence[str]) -> tuple[Group, ...]:
    """Heavy chain lines at the edges where another window goes on. Call before anything is lettered."""
    return tuple(
        Group("match-line", (Line((a, b), "match"),), title=f"Match line to {ids[other]}")
        for other, _, _, a, b in _edges(canvas, cut, index)
    )


def letter_match_lines(
    canvas: Canvas, cut: PlanView, index: int, ids: Sequence[str], letters: Lettering
) -> tuple[Group, ...]:
    """The sheet beyond each match line, lettered along it where it is bare. Call before other labels."""
    out: list[Group] = []
    size, inset = letters.floor, letters.floor * 0.8
    for other, dx, dy, a, b in _edges(canvas, cut, index):
        words = f"MATCH LINE - SEE {ids[other]}"
        texts = []
        for t in _ALONG:
            x, y = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
            if dy:
                y += inset + size if dy < 0 else -inset
            else:
                x += inset + size if dx < 0 else -inset
            texts.append(Text(x, y, words, size, "middle", angle=0.0 if dy else -90.0, halo=True))
        # a millimetre of air around it, so that no label reads on from it
        rooms = [_grown(_text_room(text, size, dx), 1.0 if dx else 0.6) for text in texts]
        place = canvas.space.first_free([_inside(room, canvas.view.window) for room in rooms])
        text = texts[place or 0]
        if place is None:
            canvas.space.take(_inside(rooms[0], canvas.view.window))
        out.append(Group("match-line", (text,), title=words))
        canvas.note("match-line", ids[other], "", (text.x, text.y))
    return tuple(out)


def _edges(canvas: Canvas, cut: PlanView, index: int) -> Iterator[tuple[int, int, int, XY, XY]]:
    """The edges of a window where the plan goes on: index of the window beyond, the way there, both ends."""
    left, top, right, bottom = canvas.view.window
    for dx, dy, a, b in (
        (-1, 0, (left, top), (left, bottom)),
        (1, 0, (right, top), (right, bottom)),
        (0, -1, (left, top), (right, top)),
        (0, 1, (left, bottom), (right, bottom)),
    ):
        other = cut.neighbour(index, dx, dy)
        if other is not None:
            canvas.space.line((a, b), True)
            yield other, dx, dy, a, b


def _grown(box: Rect, by: float) -> Rect:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _inside(box: Rect, window: Rect) -> Rect:
    """A box cut at the heavy line of the window's edge."""
    left, top, right, bottom = _grown(window, -0.6)
    return max(box[0], left), max(box[1], top), min(box[2], right), min(box[3], bottom)


def _text_room(text: Text, height: float, dx: int) -> Rect:
    left, top, right, bottom = text_box(text.x, text.y, text.text, height, "middle")
    if not dx:
        return left, top, right, bottom
    # turned a quarter to the left about its anchor
    return (
        text.x + top - text.y,
        text.y - (right - text.x),
        text.x + bottom - text.y,
        text.y - (left - text.x),
    )


def _key_plan(design: Design, cut: PlanView, index: int, letters: Lettering, ids: Sequence[str]) -> Panel:
    """A small outline of the whole plan with its windows and their sheets; this one is filled."""
    first = cut.views[0]
    left, top, right, bottom = first.window
    size = letters.floor
    high = size * 7.5
    k = high / (cut.rows * (bottom - top))
    wide, tall = (right - left) * k, (bottom - top) * k
    fills: list[AnyMark] = []
    names: list[AnyMark] = []
    for i, sheet_id in enumerate(ids):
        x, y = (i % cut.columns) * wide, (i // cut.columns) * tall
        fills.append(Area(rectangle(x, y, x + wide, y + tall), "thin", "grey" if i == index else "none"))
        whole = text_width_mm(sheet_id, size) < wide - 0.8
        words = sheet_id if whole else sheet_id.lstrip("LI")
        if text_width_mm(words, size) < wide - 0.4 and tall > size * 1.4:
            names.append(Text(x + wide / 2, y + tall / 2 + size / 2, words, size, "middle", halo=True))
    outlines: list[AnyMark] = []
    for area, role in ((design.site.lot, "medium"), *((b, "base") for b in design.site.buildings)):
        if area is not None:
            outline = tuple(((x - left) * k, (y - top) * k) for x, y in first.path(area.outline))
            outlines.append(Area(outline, role, "none"))
    title = Text(0.0, high + size * 1.6, "KEY PLAN", size)
    drawn = (Noted("key-plan", f"part {index + 1}", "", 0.0, 0.0),)
    width = max(wide * cut.columns, size * 6)
    marks = (*fills, *outlines, *names, title)
    return Panel(Group("key-plan", marks, title="Key plan"), drawn, width, high + size * 2)
