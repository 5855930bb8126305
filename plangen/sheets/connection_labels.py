"""The lettering of the connection plan: devices with their ties, pipes with cover and side, base, corners."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from plangen.geometry.point import distance, path_length
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.canvas import Canvas
from plangen.sheets.connection_path import sides
from plangen.sheets.connection_views import ConnectionView, fixed_corners
from plangen.sheets.details_section import NOT_STATED, stated
from plangen.sheets.marks import XY
from plangen.sheets.plan_base import utility_words
from plangen.sheets.plan_ground import letter_ground
from plangen.sheets.plan_labels import Want, put, put_along, put_in_area
from plangen.sheets.plan_wants import code_of
from plangen.sheets.plan_wants_site import building_words
from plangen.sheets.schedule_words import corner_words, taped
from plangen.sheets.untangle import Task, task

STUMP_MM = 6.0  # a pipe that the view cuts to less than this is lettered on the irrigation plan only


def connection_tasks(
    canvas: Canvas,
    design: Design,
    layout: Layout,
    view: ConnectionView,
    crowded: tuple[str, ...],
) -> Iterator[Task]:
    """Return what letters one view, first what it is about."""
    own = [d for d in design.devices if d.name in view.devices]
    others = [d for d in design.devices if d.name not in view.devices]
    for device in own:
        yield task(_device, design, layout, device, device.name in crowded, True)
    for corner in fixed_corners(design):
        at = canvas.view.paper(corner.point)
        if canvas.sees(at):
            words = (corner_words(corner.name),)
            want = Want(corner.name, "corner", words, at, 0.6, canvas.letters.note, 1.2, dot=True)
            yield task(put, want)
    for device in others:
        yield task(_device, design, layout, device, device.name in crowded, False)
    yield task(_ends, design)
    side = sides(design)
    for pipe in design.pipes:
        yield task(_pipe, pipe, side[pipe.name])
    yield task(_base, design)


def _ends(canvas: Canvas, design: Design) -> None:
    """Letter the source and the house entry, where the view holds them."""
    source, house = design.source, design.house
    if source is not None:
        depth = f"{source.name}, SOURCE OF THE PRESSURE, DEPTH {stated(source.depth)}"
        _end(canvas, source.name, "source", depth, canvas.view.paper(source.point))
    if house is not None:
        _end(canvas, house.name, "house", f"{house.name}, HOUSE ENTRY", canvas.view.paper(house.point))


def _end(canvas: Canvas, name: str, kind: str, text: str, at: XY) -> None:
    if canvas.sees(at):
        put(
            canvas,
            Want(name, kind, (text,), at, canvas.device_mm, canvas.letters.note, canvas.device_mm + 1.0),
        )


def _device(
    canvas: Canvas, design: Design, layout: Layout, device: Device, crowded: bool, tied: bool
) -> None:
    at = canvas.view.paper(device.point)
    if not canvas.sees(at):
        return
    size = f" {device.size.written}" if device.size else ""
    lines = [f"{device.name} {code_of(design, device)}{size}"]
    if device.state == "removed":
        lines.append("REMOVE")
    elif device.kind == "assembly":
        lines.append(f"LEVEL {stated(device.height)} ABOVE GRADE")
        lines.append(f"CLEAR OF {device.wall or 'WALL'} {stated(device.wall_clearance)}")
    elif tied and device.kind != "tap":
        depth = NOT_STATED if device.height is None else device.height.written.lstrip("-")
        lines.append(f"DEPTH {depth}")
    if tied:
        lines += _chain(design, device, canvas.units)
        lines += _tie_lines(layout, device.name, canvas.units)
    half = canvas.device_mm * (1.5 if device.kind == "assembly" else 1.0)
    kind = device.kind
    put(canvas, Want(device.name, kind, tuple(lines), at, half, canvas.letters.note, half + 1.0, dot=crowded))


def _chain(design: Design, device: Device, system: str) -> list[str]:
    """Return the link of the dimension chain: tap from meter, isolation valve from tap, along the ground."""
    before = {"tap": "meter", "isolation": "tap"}.get(device.kind)
    if before is None:
        return []
    near = list(design.standing(before))
    if not near:
        return []
    first = min(near, key=lambda d: (distance(d.point, device.point), d.name))
    return [f"{taped(distance(first.point, device.point), system)} FROM {first.name}"]


def _tie_lines(layout: Layout, name: str, system: str) -> list[str]:
    tie = next((t for t in layout.ties if t.object == name), None)
    if tie is None or tie.distance1_m is None or tie.distance2_m is None:
        return [f"TIES {NOT_STATED}"]

    one, two = taped(tie.distance1_m, system), taped(tie.distance2_m, system)
    return [f"{one} FROM {corner_words(tie.corner1)}", f"{two} FROM {corner_words(tie.corner2)}"]


def _pipe(canvas: Canvas, pipe: Pipe, side: str) -> None:
    route = tuple(stop.point for stop in pipe.route)
    pieces = canvas.path(route)
    seen = sum(math.dist(a, b) for piece in pieces for a, b in pairwise(piece))
    if seen < min(STUMP_MM, path_length(route) * canvas.view.per_m / 2):
        return  # a stump at the edge of the view, mostly under the symbol it comes from
    size = f"{pipe.nominal.written} {pipe.size.family}"
    text = f"{pipe.name} {size}, COVER {stated(pipe.cover)}, {side}"
    (ax, ay), (bx, by) = max(pieces, key=len)[:2]
    middle, *starts = ((ax + (bx - ax) * t, ay + (by - ay) * t) for t in (0.5, 0.3, 0.7, 0.15, 0.85))
    note = canvas.letters.note
    kind = f"pipe-{pipe.role}"
    want = Want(pipe.name, kind, (text,), middle, 0.6, note, 1.4, dot=True, starts=tuple(starts))
    put_along(canvas, want, pieces, 1.0)


def _base(canvas: Canvas, design: Design) -> None:
    note = canvas.letters.note
    for utility in design.site.utilities:
        pieces = canvas.path(utility.route)
        if pieces:
            told_line = (utility_words(utility, canvas.units),)
            want = Want(
                utility.name, f"utility-{utility.kind}", told_line, pieces[0][0], 0.5, note, 1.6, dot=True
            )
            put_along(canvas, want, pieces, 0.6)
    for area in design.site.buildings:
        put_in_area(canvas, area, building_words(area), canvas.letters.body, True)
    for area in design.site.paving:
        words = ", ".join(w for w in (area.name, area.material) if w)
        put_in_area(canvas, area, ((area.label or area.name).upper(), words), note, False)
    letter_ground(canvas, design)
    lot = design.site.lot
    if lot is not None:
        pieces = canvas.path((*lot.outline, lot.outline[0]))
        if pieces:
            want = Want(lot.name, "lot", ("PROPERTY LINE",), pieces[0][0], 0.5, note, 1.6, dot=True)
            put_along(canvas, want, pieces, 0.6)
