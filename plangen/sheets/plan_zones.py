"""The names of zones on a plan, and of the street: in bold, among what they name."""

from __future__ import annotations

import math
from itertools import pairwise

from plangen.geometry.point import Point, at, inside, polygon_centre
from plangen.model.design import Design
from plangen.model.waterworks import Zone
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY
from plangen.sheets.plan_labels import put, put_along

_STREET_OFF_MM = 3.0


def letter_zone(canvas: Canvas, zone: Zone, centre: Point, among: bool) -> None:
    """Letter a zone's name in bold, `among` its heads, or led to the middle of what its dripline waters."""
    at_xy = canvas.view.paper(centre)
    if not canvas.sees(at_xy):
        return
    lines, body = (f"ZONE {zone.name}", zone.label), canvas.letters.body
    whole = Want(zone.name, "zone-tag", lines, at_xy, 0.2, body, 3.0, True, dot=not among, quiet=among)
    before = len(canvas.unplaced)
    put(canvas, whole)
    if len(canvas.unplaced) > before:
        # the bare name needs less room, and may stand off with a leader
        canvas.unplaced.pop()
        canvas.lost.pop()
        note = canvas.letters.note
        put(canvas, Want(zone.name, "zone-tag", lines[:1], at_xy, 0.2, note, 1.0, True, dot=True))
    canvas.anchors.append((zone.name, *at_xy))


def zone_middles(design: Design) -> dict[str, tuple[Point, bool]]:
    """Return the middle of each zone's heads (and True), or of the area of its first dripline (False)."""
    found: dict[str, tuple[Point, bool]] = {}
    for drip in design.drips:
        area = design.area(drip.area)
        if area is not None:
            found.setdefault(drip.zone, (polygon_centre(area.outline), False))
    heads: dict[str, list[Point]] = {}
    for head in design.heads:
        heads.setdefault(head.zone, []).append(head.point)
    for zone, points in heads.items():
        middle = at(sum(p.x for p in points) / len(points), sum(p.y for p in points) / len(points))
        found[zone] = (middle, True)
    return found


def letter_street(canvas: Canvas, design: Design) -> None:
    """Letter the street along the lot side that the source lies beyond, outside the lot.

    The service comes from the main in the street: where the source is not drawn outside the lot, no
    side can be told, and the street is named in the address alone.
    """
    lot, source = design.site.lot, design.source
    if not design.site.street or lot is None or source is None or inside(source.point, lot.outline):
        return
    sides = tuple(pairwise((*lot.outline, lot.outline[0])))
    a, b = min(sides, key=lambda side: round(_apart(source.point, *side), 6))
    start, end = canvas.view.paper(a), canvas.view.paper(b)
    away = canvas.view.paper(source.point)
    length = math.hypot(end[0] - start[0], end[1] - start[1])
    if length < 1e-6:
        return
    nx, ny = (end[1] - start[1]) / length, (start[0] - end[0]) / length
    if nx * (away[0] - start[0]) + ny * (away[1] - start[1]) < 0:
        nx, ny = -nx, -ny
    off = _STREET_OFF_MM + canvas.letters.heading
    line = tuple((x + nx * off, y + ny * off) for x, y in (start, end))
    middle: XY = ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)
    if not (canvas.sees(line[0]) or canvas.sees(line[1]) or canvas.sees(middle)):
        return
    words, body = design.site.street.upper(), canvas.letters.body
    if text_width_mm(words, body, True) > length:
        return
    want = Want("street", "street", (words,), middle, 0.2, body, 0.5, True, quiet=True)
    put_along(canvas, want, (line,), 0.2)


def _apart(p: Point, a: Point, b: Point) -> float:
    """The distance from a point to a straight side."""
    dx, dy = b.x - a.x, b.y - a.y
    square = dx * dx + dy * dy
    t = max(0.0, min(1.0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square)) if square else 0.0
    return math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy)
