"""What surrounds a plan view: the strip under it with north arrow, bar scale and key plan; match lines."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.layout.wire import Wiring
from plangen.model.design import Design
from plangen.sheets.canvas import Canvas
from plangen.sheets.font import text_box
from plangen.sheets.marks import Area, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, moved_panel
from plangen.sheets.paper import Rect
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering
from plangen.sheets.plan_view import PlanView
from plangen.sheets.plan_wire import wire_note
from plangen.sheets.scalebar import north_arrow, scale_bar
from plangen.sheets.shapes import rectangle


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
        key = _key_plan(design, cut, index, letters)
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
    if canvas.keys:
        notes.append("Keys: " + "; ".join(f"{key} {words}" for key, words in canvas.keys) + ".")
    if canvas.uncalled:
        notes.append("Details: " + ", ".join(canvas.uncalled) + ".")
    if canvas.unplaced:
        notes.append("Not lettered for want of room: " + ", ".join(sorted(set(canvas.unplaced))) + ".")
    return tuple(n for n in notes if n)


def match_lines(
    canvas: Canvas, cut: PlanView, index: int, ids: Sequence[str], letters: Lettering
) -> tuple[Group, ...]:
    """Heavy chain lines at the edges where another window goes on, lettered with its sheet id."""
    left, top, right, bottom = canvas.view.window
    out: list[Group] = []
    edges = (
        (-1, 0, (left, top), (left, bottom)),
        (1, 0, (right, top), (right, bottom)),
        (0, -1, (left, top), (right, top)),
        (0, 1, (left, bottom), (right, bottom)),
    )
    for dx, dy, a, b in edges:
        other = cut.neighbour(index, dx, dy)
        if other is None:
            continue
        words = f"MATCH LINE - SEE {ids[other]}"
        x, y, inset = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, letters.floor * 0.8
        text = (
            Text(
                x,
                y + (inset + letters.floor if dy < 0 else -inset),
                words,
                letters.floor,
                "middle",
                halo=True,
            )
            if dy
            else Text(
                x + (inset + letters.floor if dx < 0 else -inset),
                y,
                words,
                letters.floor,
                "middle",
                angle=-90.0,
                halo=True,
            )
        )
        out.append(Group("match-line", (Line((a, b), "match"), text), title=words))
        canvas.space.line((a, b), True)
        canvas.space.take(_text_room(text, letters.floor, dx))
        canvas.note("match-line", ids[other], "", (x, y))
    return tuple(out)


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


def _key_plan(design: Design, cut: PlanView, index: int, letters: Lettering) -> Panel:
    """A small outline of the whole plan with its windows; the one on this sheet is filled."""
    first = cut.views[0]
    left, top, right, bottom = first.window
    high = letters.floor * 7.0
    k = high / (cut.rows * (bottom - top))
    wide, tall = (right - left) * k, (bottom - top) * k
    marks: list[AnyMark] = []
    for i in range(len(cut.views)):
        x, y = (i % cut.columns) * wide, (i // cut.columns) * tall
        fill = "grey" if i == index else "none"
        marks.append(Area(rectangle(x, y, x + wide, y + tall), "thin", fill))
    for area, role in ((design.site.lot, "medium"), *((b, "base") for b in design.site.buildings)):
        if area is not None:
            outline = tuple(((x - left) * k, (y - top) * k) for x, y in first.path(area.outline))
            marks.append(Area(outline, role, "none"))
    marks.append(Text(0.0, high + letters.floor * 1.6, "KEY PLAN", letters.floor))
    drawn = (Noted("key-plan", f"part {index + 1}", "", 0.0, 0.0),)
    width = max(wide * cut.columns, letters.floor * 6)
    return Panel(Group("key-plan", tuple(marks), title="Key plan"), drawn, width, high + letters.floor * 2)
