"""The enlarged connection plan: meter, tap, isolation valve, first pipes and assembly, tied to two corners.

Drawn with the plan's own symbols on the plan's own base. Ties come from the layout facts; a tie that no
corner allows is lettered NOT STATED.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from plangen.layout.results import Layout, TieDistance
from plangen.model.design import Design
from plangen.model.waterworks import Device
from plangen.sheets.callouts import Detail
from plangen.sheets.canvas import Canvas
from plangen.sheets.connection_labels import connection_tasks
from plangen.sheets.connection_notes import connection_notes
from plangen.sheets.connection_views import ConnectionView, connection_views, fixed_corners
from plangen.sheets.details_dimensions import arrow
from plangen.sheets.details_section import NOT_STATED, elevation
from plangen.sheets.labels import Field
from plangen.sheets.marks import XY, Circle, Group, Line
from plangen.sheets.page import ENLARGED, packed, title_height
from plangen.sheets.panel import AnyMark, Panel, joined
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering, lettering
from plangen.sheets.plan_base import draw_base
from plangen.sheets.plan_labels import keep_marker_rooms
from plangen.sheets.plan_water import draw_water
from plangen.sheets.procedure_fill import natural
from plangen.sheets.scalebar import north_arrow, scale_bar
from plangen.sheets.schedule_words import corner_words, taped
from plangen.sheets.shapes import clip_segment, rectangle
from plangen.sheets.shelves import GAP
from plangen.sheets.tables import Column, Row, Table, table_pages
from plangen.sheets.untangle import letter_all
from plangen.sheets.viewport import scale_name
from plangen.terrain.surface import Surface

CONNECTION_SHEET = "LI111"
STUB_MM = 14.0  # of a tie whose corner lies outside the view
TIED = ("meter", "tap", "isolation", "assembly")
_BAND = 20.0


def connection_panels(
    design: Design,
    surface: Surface,
    layout: Layout,
    system: str,
    family: str,
    room: tuple[float, float],
    called: Sequence[Detail] = (),
) -> tuple[Panel, ...]:
    """Return the views of the connection, the table of ties and notes, none larger than `room` (mm).

    `called` are the details of what is shown here (`called_from_connection`), named in the notes.
    """
    letters = lettering(family)
    table = table_pages(_ties_table(design, surface, layout, system), letters.note, room[1])
    # the views fill what the table of ties leaves of the sheet
    under = table[0].height_mm + title_height(letters) + 2 * GAP if len(table) == 1 else 0.0
    tall = room[1] - _BAND - 1.0
    views = connection_views(design, system, (room[0], tall), under)
    if not views:
        note = f"CONNECTION {NOT_STATED}: the design names no meter, tap, isolation valve or assembly."
        return (notes_panel("Connection", (note,), min(room[0], 120.0), letters.note, False),)
    beside = min(room[0] - table[0].width_mm - GAP, room[0] / 2 - GAP)
    notes = notes_panel("Notes to the connection", connection_notes(design, called), beside, letters.note)
    if not _on_one_sheet(views, (*table, notes), letters, room):
        # a scale gained at the foot of the sheet is not worth a sheet for the notes
        views = connection_views(design, system, (room[0], tall - under), 0.0)
    panels = [_view_panel(design, layout, view, system, letters) for view in views]
    return (*panels, *table, notes)


def _on_one_sheet(
    views: Sequence[ConnectionView], rest: Sequence[Panel], letters: Lettering, room: tuple[float, float]
) -> bool:
    """Whether views, table and notes stand on one sheet; views are not lettered for it."""
    foot = _BAND + title_height(letters)
    sizes = [(view.view.window[2], view.view.window[3] + foot) for view in views]
    drawn = [Panel(Group("connection", ()), (), *size) for size in sizes]
    return len(packed((*drawn, *rest), room[0], room[1] + title_height(letters))) == 1


def called_from_connection(design: Design, details: Sequence[Detail]) -> tuple[Detail, ...]:
    """Return the details, of some, that show a tap, isolation valve or assembly of the connection."""
    shown = {d.name for d in design.standing(*TIED)}
    return tuple(d for d in details if d.object in shown)


def tie_text(distance_m: float | None, system: str) -> str:
    """Return a tie distance: feet and inches, or metres."""
    return NOT_STATED if distance_m is None else taped(distance_m, system)


def _view_panel(
    design: Design, layout: Layout, view: ConnectionView, system: str, letters: Lettering
) -> Panel:
    shown = _shown(design)

    canvas = Canvas(view.view, letters, system, Field(view.view.window))
    draw_base(canvas, shown)
    crowded = draw_water(canvas, shown)
    _ties(canvas, design, layout, view)
    letter_all(canvas, connection_tasks(canvas, shown, layout, view, crowded))
    rooms = keep_marker_rooms(canvas)
    left, top, right, bottom = view.view.window
    frame = Group("view-frame", (Line((*rectangle(left, top, right, bottom), (left, top)), "thin"),))
    plan = Panel(
        Group("connection-plan", (*canvas.marks(), frame), title=view.title),
        tuple(canvas.noted),
        right,
        bottom,
        anchors=tuple(canvas.anchors),
        rooms=rooms,
    )
    arrow = north_arrow(view.view.turn_deg, design.site.north_deg, letters.floor * 2.6, letters.floor)
    bar = scale_bar(view.view.denominator, system, letters.floor)
    beside = arrow.width_mm + 4.0
    notes = _notes(canvas, right - beside)
    parts = [(plan, 0.0, 0.0), (arrow, 0.0, bottom + 2.0), (bar, beside, bottom + 2.0)]
    parts.append((notes, beside, bottom + 3.0 + bar.height_mm))
    return joined(parts, ENLARGED, view.title, scale_name(view.view.denominator, system))


def _shown(design: Design) -> Design:
    """Leave out what belongs to the irrigation plan and would only hide the connection here."""
    pipes = tuple(p for p in design.pipes if p.role != "lateral")
    met = {stop.node for pipe in pipes for stop in pipe.route}
    devices = tuple(d for d in design.devices if d.kind != "tee" or d.name in met)
    return replace(design, heads=(), drips=(), pipes=pipes, devices=devices)


def _notes(canvas: Canvas, width: float) -> Panel:
    notes = [
        "Buried lines are from records, not from a locate: have them marked (US: call 811)"
        " and dig by hand near them."
    ]
    if canvas.unplaced:
        notes.append("Not lettered for want of room: " + ", ".join(sorted(set(canvas.unplaced))) + ".")
    return notes_panel("", notes, width, canvas.letters.floor, numbered=False)


def _tie_of(layout: Layout, name: str) -> TieDistance | None:
    return next((t for t in layout.ties if t.object == name), None)


def _ties(canvas: Canvas, design: Design, layout: Layout, view: ConnectionView) -> None:
    """Draw each tie of the view's own devices to its corner; one beyond the window is a short arrow."""
    places = {c.name: c.point for c in fixed_corners(design)}
    for name in view.devices:
        device, tie = design.device(name), _tie_of(layout, name)
        if device is None or tie is None:
            continue
        for corner in (tie.corner1, tie.corner2):
            if corner not in places:
                continue
            here, there = canvas.view.paper(device.point), canvas.view.paper(places[corner])
            piece = clip_segment(here, there, canvas.view.window)
            if piece is None:
                continue
            far = not canvas.sees(there)
            if far:
                piece = clip_segment(here, _toward(here, there, STUB_MM), canvas.view.window) or piece
            marks: list[AnyMark] = [Line(piece, "dimension"), Circle(here, 0.5, "", "black")]
            if far:
                marks.append(arrow(piece[1], _bearing(here, there), 2.0))
            else:
                marks.append(Line(((there[0] - 1, there[1] + 1), (there[0] + 1, there[1] - 1)), "medium"))
            canvas.add("site", Group("tie", tuple(marks), name, f"{name} to {corner}"))
            canvas.space.line(piece, True)
            canvas.note("dimension", "tie", name, here)


def _toward(here: XY, there: XY, length: float) -> XY:
    """Return the point that far along the way from one place to another, or the other if it is nearer."""
    share = min(1.0, length / max(math.dist(here, there), 1e-9))
    return here[0] + (there[0] - here[0]) * share, here[1] + (there[1] - here[1]) * share


def _bearing(here: XY, there: XY) -> float:
    """Return the paper bearing from one place to another, degrees from up, clockwise."""
    return math.degrees(math.atan2(there[0] - here[0], here[1] - there[1]))


def _ties_table(design: Design, surface: Surface, layout: Layout, system: str) -> Table:
    devices = sorted((d for d in design.devices if d.kind in TIED and d.state != "removed"), key=_order)
    rows = []
    for device in devices:
        tie = _tie_of(layout, device.name)
        cells = [device.name, device.kind]
        if tie is None:
            cells += [NOT_STATED] * 4
        else:
            cells += [corner_words(tie.corner1) or NOT_STATED, tie_text(tie.distance1_m, system)]
            cells += [corner_words(tie.corner2) or NOT_STATED, tie_text(tie.distance2_m, system)]
        grade = surface.elevation_m(device.point)
        told_grade = NOT_STATED if grade is None else elevation(grade, system)
        rows.append(Row((*cells, told_grade, _height(design, device)), device.name))
    columns = (
        Column("Object"),
        Column("Kind"),
        Column("From corner"),
        Column("Distance", "end"),
        Column("From corner"),
        Column("Distance", "end"),
        Column("Grade elevation", "end"),
        Column("Height above grade", "end"),
    )
    note = (
        "Two tape distances fix each place; they are level distances from the named corners of house and lot."
    )
    return Table("Ties of the connection", "ties", columns, tuple(rows), note)


def _order(device: Device) -> tuple[int, tuple[tuple[int, str], ...]]:
    return TIED.index(device.kind), natural(device.name)


def _height(design: Design, device: Device) -> str:
    """The height over grade; a tap lies as deep as the service it is cut into."""
    if device.height is not None:
        return device.height.written
    into = next((p for p in design.pipes if p.role == "service" and p.route[-1].node == device.name), None)
    if device.kind == "tap" and into is not None and into.cover is not None:
        return f"cover {into.cover.written}"
    return NOT_STATED
