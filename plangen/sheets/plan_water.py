"""The work itself on a plan: pipes, sleeves, dripline, devices, heads with arc and throw, controller."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from plangen.geometry.point import Point, at, bearing_deg
from plangen.model.design import Design
from plangen.model.waterworks import Device, DripArea, Head, Pipe
from plangen.sheets.canvas import Canvas, letter_mark, lettered
from plangen.sheets.labels import overlap
from plangen.sheets.marks import XY, Arc, Area, Circle, Group, Line, Segments
from plangen.sheets.paper import Rect
from plangen.sheets.pens import pen
from plangen.sheets.plan_sleeves import draw_sleeve
from plangen.sheets.shapes import Segment, box_of, clip_path, clip_segment, hatch, polar
from plangen.sheets.states import STATES, crosses, in_state
from plangen.sheets.symbols import head_symbol, symbol, symbol_kind

HEAD_SIZE = 1.45
_RANK = (
    "assembly",
    "meter",
    "tap",
    "isolation",
    "master-valve",
    "valve",
    "blow-out",
    "drain",
    "quick-coupler",
    "strainer",
    "regulator",
)


def draw_water(canvas: Canvas, design: Design) -> tuple[str, ...]:
    """Draw the work and return the names of devices whose symbol must stand beside their label.

    Symbols are never drawn over one another: where two would meet, the lesser gets a dot at its place.
    """
    pipes = {pipe.name: pipe for pipe in design.pipes}
    for head in design.heads:
        _throw(canvas, head)
    for drip in design.drips:
        _drip(canvas, design, drip)
    draw_pipes(canvas, design.pipes)
    for sleeve in design.sleeves:
        if sleeve.pipe in pipes:
            draw_sleeve(canvas, design, sleeve, pipes[sleeve.pipe])
    boxes = [_head(canvas, head) for head in design.heads if canvas.sees(canvas.view.paper(head.point))]
    crowded = _devices(canvas, design, boxes)
    return (*crowded, *_ends(canvas, design, boxes))


def pipe_pen(pipe: Pipe) -> str:
    """Return the pen role of a pipe."""
    if pipe.state == "removed":
        return "removed"
    if pipe.role == "service":
        return "service-existing" if pipe.state == "existing" else "service"
    role = {"mainline": "mainline", "lateral": "lateral", "nipple": "nipple"}.get(pipe.role, "lateral")
    return f"{role}-existing" if pipe.state == "existing" and role != "nipple" else role


def device_turn(design: Design, canvas: Canvas) -> dict[str, float]:
    """Return, for each named stop, the way the water flows there: degrees clockwise from paper right."""
    out: dict[str, float] = {}
    for pipe in design.pipes:
        for a, b in pairwise(pipe.route):
            if a.point == b.point:
                continue
            turn = canvas.view.bearing(bearing_deg(a.point, b.point)) - 90.0
            if b.node:
                out[b.node] = turn
            if a.node:
                out.setdefault(a.node, turn)
    return out


def _throw(canvas: Canvas, head: Head) -> None:
    x, y = canvas.view.paper(head.point)
    if head.part.radius is None or not canvas.sees((x, y)):
        return
    radius = head.part.radius.si * canvas.view.per_m
    start, end = canvas.view.bearing(head.arc_start_deg), canvas.view.bearing(head.arc_end_deg)
    full = abs((end - start) % 360.0) < 1e-6
    left, top, right, bottom = canvas.view.window
    title = f"{head.name} throw"
    if left <= x - radius and x + radius <= right and top <= y - radius and y + radius <= bottom:
        mark = Circle((x, y), radius, "throw") if full else Arc((x, y), radius, start, end, "throw")
        canvas.add("throw", Group("throw", (mark,), head.name, title))
    else:
        sweep = (end - start) % 360.0 or 360.0
        steps = math.ceil(sweep / 2.0)
        curve = [polar(x, y, radius, start + sweep * i / steps) for i in range(steps + 1)]
        lines = tuple(Line(piece, "throw") for piece in clip_path(curve, canvas.view.window))
        canvas.add("throw", Group("throw", lines, head.name, title))
    canvas.note("line", "throw", head.name, (x, y))


def _drip(canvas: Canvas, design: Design, drip: DripArea) -> None:
    area = design.area(drip.area)
    outline = canvas.outline(area.outline) if area else ()
    if len(outline) < 3:
        return
    left, top, right, bottom = box_of(outline)
    spacing = max(drip.row_spacing.si * canvas.view.per_m, 1.2)
    across = right - left >= bottom - top
    offset = (top if across else -right) + spacing / 2
    rows = hatch(outline, spacing, 0.0 if across else 90.0, offset % spacing)
    canvas.add(
        "lateral", Group("dripline", (Segments(rows, "dripline"),), drip.name, f"{drip.name} dripline")
    )
    for a, b in rows:
        canvas.space.line((a, b), False)
    canvas.note("line", "dripline", drip.name, outline[0])


def draw_pipes(canvas: Canvas, pipes: Sequence[Pipe]) -> None:
    """Draw pipes; the letters of a service stand off the runs of others."""
    services = [p for p in pipes if p.role == "service"]
    runs = {p.name: _runs(canvas, p) for p in pipes} if services else {}
    for pipe in pipes:
        others = runs.items() if pipe.role == "service" else ()
        _draw_pipe(canvas, pipe, tuple(r for name, found in others if name != pipe.name for r in found))


def _runs(canvas: Canvas, pipe: Pipe) -> tuple[Segment, ...]:
    """The straight runs of a pipe in the view, on paper."""
    return tuple(
        run for piece in canvas.path(tuple(stop.point for stop in pipe.route)) for run in pairwise(piece)
    )


def _draw_pipe(canvas: Canvas, pipe: Pipe, others: Sequence[Segment]) -> None:
    """Draw a pipe with its line's letter off the runs of others, and enter it as a line to keep off."""
    role = pipe_pen(pipe)
    pieces = canvas.path(tuple(stop.point for stop in pipe.route))
    if not pieces:
        return
    layer = "lateral" if pipe.role == "lateral" else "main"
    title = f"{pipe.name} {pipe.role} {pipe.nominal.written}"
    height = canvas.letters.floor

    def clear(at_xy: XY) -> bool:
        return not any(clip_segment(a, b, square(at_xy, height * 0.9)) for a, b in others)

    marks: list[Line | Group | Area] = []
    for piece in pieces:
        parts, middles = (
            lettered(piece, 45.0, height * 2.0, clear) if pipe.role == "service" else ((piece,), ())
        )
        marks.extend(Line(p, role) for p in parts)
        for x, y in middles:
            marks.append(Group("line-letter", (letter_mark("W", (x, y), height),)))
            canvas.space.take((x - height, y - height * 0.7, x + height, y + height * 0.7))
        for p in parts:
            canvas.space.line(p, pen(role).heavy)
        if pipe.state == "removed":
            marks.extend(crosses(piece))
    canvas.add(layer, Group(f"pipe-{pipe.role}", tuple(marks), pipe.name, title))
    canvas.note("line", role, pipe.name, pieces[0][0])


def square(at_xy: XY, half: float) -> Rect:
    """Return the box of that half size about a point."""
    return at_xy[0] - half, at_xy[1] - half, at_xy[0] + half, at_xy[1] + half


def _head(canvas: Canvas, head: Head) -> Rect:
    x, y = canvas.view.paper(head.point)
    arc = (
        (canvas.view.bearing(head.arc_start_deg), canvas.view.bearing(head.arc_end_deg))
        if head.arc_known
        else None
    )
    shown = head_symbol(head.part.kind, x, y, HEAD_SIZE, arc, head.name)
    canvas.add("symbols", in_state(shown, head.state, (x, y), HEAD_SIZE))
    canvas.note("symbol", head.part.kind, head.name, (x, y))
    note_state(canvas, head.name, head.state, (x, y))
    canvas.anchors.append((head.name, x, y))
    box = square((x, y), HEAD_SIZE + 0.15)
    canvas.space.take(box)
    return box


def _devices(canvas: Canvas, design: Design, boxes: list[Rect]) -> tuple[str, ...]:
    """Draw device symbols in order of weight; a dot stands in for one that would cover another."""
    turns = device_turn(design, canvas)
    crowded: list[str] = []

    def weight(device: Device) -> tuple[int, str]:
        return (_RANK.index(device.kind) if device.kind in _RANK else len(_RANK), device.name)

    for device in sorted(design.devices, key=weight):
        x, y = canvas.view.paper(device.point)
        if not canvas.sees((x, y)):
            continue
        canvas.anchors.append((device.name, x, y))
        half = canvas.device_mm * (
            0.45 if device.kind == "tee" else 1.5 if device.kind == "assembly" else 1.0
        )
        box = square((x, y), half)
        if any(overlap(box, other) for other in boxes):
            crowded.append(device.name)
            dot = square((x, y), 0.5)
            canvas.add(
                "symbols", Group("place", (Circle((x, y), 0.45, "", "black"),), device.name, device.name)
            )
            canvas.space.take(dot)
            continue
        boxes.append(box)
        canvas.space.take(box)
        kind = symbol_kind(device)
        zone = design.zone(device.zone)
        if kind == "valve" and zone is not None and zone.kind == "drip":
            kind = "valve-drip"
        shown = symbol(kind, x, y, canvas.device_mm, turns.get(device.name, 0.0), device.name)
        canvas.add("symbols", in_state(shown, device.state, (x, y), canvas.device_mm))
        canvas.note("symbol", kind, device.name, (x, y))
        note_state(canvas, device.name, device.state, (x, y))
        if device.in_box:
            canvas.add("symbols", symbol("box", x, y, canvas.device_mm, object=device.name))
            canvas.note("symbol", "box", device.name, (x, y))
    return tuple(crowded)


def note_state(canvas: Canvas, name: str, state: str, at_xy: XY) -> None:
    """Enter a state other than new, so that the legend explains how it is drawn."""
    if state in STATES:
        canvas.note("line", f"state-{state}", name, at_xy)


def _ends(canvas: Canvas, design: Design, boxes: list[Rect]) -> tuple[str, ...]:
    """Draw the source, the house entry and the controller."""
    crowded: list[str] = []
    ends: list[tuple[str, str, Point]] = []
    if design.source:
        ends.append(("source", design.source.name, design.source.point))
    if design.house:
        ends.append(("house", design.house.name, design.house.point))
    if design.control and design.control.point:
        ends.append(("controller", design.control.name, at(*design.control.point)))
    for kind, name, point in ends:
        x, y = canvas.view.paper(point)
        if not canvas.sees((x, y)):
            continue
        canvas.anchors.append((name, x, y))
        box = square((x, y), canvas.device_mm)
        if any(overlap(box, other) for other in boxes):
            crowded.append(name)
            continue
        boxes.append(box)
        canvas.space.take(box)
        canvas.add("symbols", symbol(kind, x, y, canvas.device_mm, object=name))
        canvas.note("symbol", kind, name, (x, y))
    return tuple(crowded)
