"""The cover's sketch of the lot: its outline, buildings, paving, the water source and the street, north up.

Not to scale and no map: a location map is the applicant's to attach.
"""

from __future__ import annotations

from plangen.geometry.point import Point, bounds
from plangen.model.design import Design
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY, Area, Circle, Group, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, moved_group
from plangen.sheets.paper import Rect
from plangen.sheets.paragraphs import paragraph, paragraph_height
from plangen.sheets.pens import Lettering
from plangen.sheets.scalebar import north_arrow, true_north_words
from plangen.sheets.shapes import rectangle

_TITLE = "SKETCH OF THE LOT (NOT TO SCALE)"
_SHOWN = (
    "Heavy line: lot. Grey: building. Pale: paving. Dot: where the water comes from. This is no map of the"
    " vicinity: attach a location map if the authority asks for one."
)


def sketch_panel(design: Design, letters: Lettering, width: float) -> Panel:
    """Return the sketch with what it shows told under it."""
    height = letters.note
    tall = width * 0.62
    top = height * 1.25 * 1.62 + height * 0.5
    marks: list[AnyMark] = [
        Text(0.0, height * 1.25, _TITLE, height * 1.25, bold=True),
        Area(rectangle(0.0, top, width, top + tall), "thin"),
    ]
    arrow = north_arrow(0.0, design.site.north_deg, height * 1.8, height, worded=False)
    # nothing of the lot is drawn in the arrow's strip, nor in one as wide on the other side
    strip = arrow.width_mm + 2.0
    marks.extend(_ground(design, height, (strip, top, width - strip, top + tall)))
    words = design.project.address or "Address not given"
    marks.append(Text(1.2, top + height * 1.6, words, height))
    marks.append(moved_group(arrow.group, width - arrow.width_mm - 1.0, top + 1.0))
    below = top + tall + height * 0.7
    angle = true_north_words(design.site.north_deg)
    shown = f"{_SHOWN} {angle.capitalize()}." if angle else _SHOWN
    marks.extend(paragraph(shown, 0.0, below, width, height))
    bottom = below + paragraph_height(shown, width, height)
    drawn = (Noted("vicinity", "lot", "", 0.0, top), Noted("north-arrow", "vicinity", "", width - 10.0, top))
    return Panel(Group("vicinity", tuple(marks), title="Sketch of the lot"), drawn, width, bottom)


def _ground(design: Design, height: float, box: Rect) -> list[AnyMark]:
    """Lot, paving, buildings, source and street inside a box, to one scale."""
    left, top, right, bottom = box
    width, tall = right - left, bottom - top
    site, source = design.site, design.source
    lot = site.lot.outline if site.lot else ()
    if not lot:
        return [Text(left + width / 2, top + tall / 2, "Lot not given", height, "middle")]
    shown = (*lot, source.point) if source else lot
    west, south, east, north = bounds(shown)
    k = min((tall - height * 7.0) / max(north - south, 1.0), width / max(east - west, 1.0))
    cx, cy = left + width / 2, top + tall / 2

    def to(p: Point) -> XY:
        return cx + (p.x - (west + east) / 2) * k, cy - (p.y - (south + north) / 2) * k

    marks: list[AnyMark] = [Area(tuple(map(to, lot)), "medium")]
    marks += [Area(tuple(map(to, area.outline)), "paving", "pale") for area in site.paving]
    marks += [Area(tuple(map(to, area.outline)), "building", "grey") for area in site.buildings]
    for area in site.buildings:
        west_mm, north_mm, east_mm, south_mm = _paper_bounds([to(p) for p in area.outline])
        words = (area.label or area.name).upper()
        if text_width_mm(words, height) < (east_mm - west_mm) * 0.9 and south_mm - north_mm > height * 2.0:
            middle = (north_mm + south_mm) / 2 + height / 2
            marks.append(Text((west_mm + east_mm) / 2, middle, words, height, "middle"))
    if source:
        marks.append(Circle(to(source.point), 0.8, "", "black"))
        if site.street:
            marks.append(_street(site.street, to(source.point), lot, source.point, height))
    return marks


def _paper_bounds(points: list[XY]) -> Rect:
    """Return left, top, right, bottom of places on paper."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _street(street: str, at: XY, lot: tuple[Point, ...], source: Point, height: float) -> Text:
    """The street's name beyond the side of the lot that the water comes from."""
    west, south, east, north = bounds(lot)
    words = street.upper()
    if source.y < south:
        return Text(at[0] + 2.0, at[1] + height * 1.6, words, height)
    if source.y > north:
        return Text(at[0] + 2.0, at[1] - height * 0.8, words, height)
    if source.x < west:
        return Text(at[0] - 2.0, at[1] + height / 2, words, height, "end")
    room = 2.0 if source.x > east else 2.0 + text_width_mm(" ", height)
    return Text(at[0] + room, at[1] + height / 2, words, height)
