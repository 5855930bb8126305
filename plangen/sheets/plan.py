"""The irrigation plan: a panel for each window, true to scale, with north arrow, bar scale, match lines."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.geometry.point import bounds
from plangen.hydraulics.results import Hydraulics
from plangen.model.design import Design
from plangen.sheets.canvas import Canvas
from plangen.sheets.labels import Field
from plangen.sheets.marks import Area, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, moved_panel
from plangen.sheets.paper import Rect
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering, lettering
from plangen.sheets.plan_base import draw_base
from plangen.sheets.plan_labels import keep_marker_rooms
from plangen.sheets.plan_view import PlanView, ground_points, plan_view
from plangen.sheets.plan_wants import letter_plan
from plangen.sheets.plan_water import draw_water
from plangen.sheets.scalebar import north_arrow, scale_bar
from plangen.sheets.shapes import rectangle
from plangen.sheets.viewport import Viewport, scale_name


def plan_panels(
    design: Design, hydraulics: Hydraulics, family: str, room: tuple[float, float], ids: Sequence[str]
) -> tuple[tuple[Panel, Viewport], ...]:
    """Return the plan's panels with their viewports, one for each sheet it needs.

    `ids` are the sheet ids to be used in order; match lines name the neighbours by them.
    """
    letters = lettering(family)
    band = _band_height(letters)
    window = (0.0, 0.0, room[0], room[1] - band)
    cut = plan_view(design, window)
    return tuple(
        (_panel(design, hydraulics, letters, room, cut, i, ids), cut.views[i]) for i in range(len(cut.views))
    )


def plan_count(design: Design, family: str, room: tuple[float, float]) -> int:
    """Return how many sheets the plan needs."""
    return len(plan_view(design, (0.0, 0.0, room[0], room[1] - _band_height(lettering(family)))).views)


def _band_height(letters: Lettering) -> float:
    """Room under the view for north arrow, bar scale and notes."""
    return letters.floor * 11.0


def _panel(
    design: Design,
    hydraulics: Hydraulics,
    letters: Lettering,
    room: tuple[float, float],
    cut: PlanView,
    index: int,
    ids: Sequence[str],
) -> Panel:
    view = cut.views[index]
    canvas = Canvas(view, letters, design.project.units, Field(view.window))
    match = _match_lines(canvas, cut, index, ids, letters)
    draw_base(canvas, design)
    crowded = draw_water(canvas, design)
    letter_plan(canvas, design, hydraulics, crowded)
    rooms = keep_marker_rooms(canvas)
    band = _band(design, letters, room, cut, index, canvas)
    marks = (*canvas.marks(), *match, *(p.group for p in band))
    drawn = (*canvas.noted, *(d for p in band for d in p.drawn))
    title = "Irrigation plan" + (f", part {index + 1} of {len(cut.views)}" if cut.split else "")
    scale = scale_name(view.denominator, design.project.units)
    return Panel(
        Group("irrigation-plan", marks, title=title),
        drawn,
        room[0],
        room[1],
        title,
        scale,
        (),
        tuple(canvas.anchors),
        rooms,
    )


def _band(
    design: Design, letters: Lettering, room: tuple[float, float], cut: PlanView, index: int, canvas: Canvas
) -> tuple[Panel, ...]:
    """The strip under the view: north arrow, bar scale, key plan, notes."""
    view = cut.views[index]
    top = room[1] - _band_height(letters) + letters.floor
    arrow = north_arrow(view.turn_deg, design.site.north_deg, letters.floor * 2.6, letters.floor)
    bar = scale_bar(view.denominator, design.project.units, letters.floor)
    x = arrow.width_mm + letters.floor * 2
    parts = [moved_panel(arrow, 0.0, top), moved_panel(bar, x, top)]
    x += bar.width_mm + letters.floor * 2
    if cut.split:
        key = _key_plan(design, cut, index, letters)
        parts.append(moved_panel(key, x, top))
        x += key.width_mm + letters.floor * 2
    control = design.control
    wire = (
        f"Control wire {control.wire}: runs with the mainline, not drawn apart."
        if control and control.wire
        else ""
    )
    notes = [
        "Symbols and codes: see the legend. Pipes are to scale; at crowded fittings a dot marks the place"
        " and the symbol stands beside its label.",
        "Buried lines are from records, not from a locate: hand-dig near them.",
        wire,
    ]
    if canvas.unplaced:
        notes.append(
            "Not lettered for want of room, see the schedules: "
            + ", ".join(sorted(set(canvas.unplaced)))
            + "."
        )
    text = notes_panel("", [n for n in notes if n], room[0] - x, letters.floor, numbered=False)
    parts.append(moved_panel(text, x, top))
    return tuple(parts)


def _match_lines(
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
    half = len(text.text) * height * 0.45
    if dx:
        return text.x - height * 1.3, text.y - half, text.x + height * 0.4, text.y + half
    return text.x - half, text.y - height * 1.3, text.x + half, text.y + height * 0.4


def _key_plan(design: Design, cut: PlanView, index: int, letters: Lettering) -> Panel:
    """A small outline of the whole plan with its windows; the one on this sheet is filled."""
    west, south, east, north = bounds(ground_points(design))
    tile = cut.views[0]
    tile_w = (tile.window[2] - tile.window[0]) / tile.per_m
    tile_h = (tile.window[3] - tile.window[1]) / tile.per_m
    high = letters.floor * 7.0
    k = high / (cut.rows * tile_h)
    wide = cut.columns * tile_w * k
    marks: list[AnyMark] = []
    for i in range(len(cut.views)):
        x, y = (i % cut.columns) * tile_w * k, (i // cut.columns) * tile_h * k
        marks.append(
            Area(rectangle(x, y, x + tile_w * k, y + tile_h * k), "thin", "grey" if i == index else "none")
        )
    cx, cy = (west + east) / 2, (south + north) / 2
    if design.site.lot:
        outline = tuple(
            (wide / 2 + (p.x - cx) * k, high / 2 - (p.y - cy) * k) for p in design.site.lot.outline
        )
        marks.append(Area(outline, "medium", "none"))
    marks.append(Text(0.0, high + letters.floor * 1.5, "KEY PLAN", letters.floor))
    drawn = (Noted("key-plan", f"part {index + 1}", "", 0.0, 0.0),)
    return Panel(
        Group("key-plan", tuple(marks), title="Key plan"),
        drawn,
        max(wide, letters.floor * 6),
        high + letters.floor * 2,
    )
