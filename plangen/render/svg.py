"""One sheet as SVG: exact page size, text kept as text, groups tied to design objects.

Marks only; nothing of the design is known here. Coordinates are millimetres of paper rounded to a hundredth,
far finer than any plotter, so that equal marks give equal bytes everywhere. What most marks share stands on
the groups around them: a set of sheets goes whole into one page.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable
from typing import Any

import svgwrite
import svgwrite.base

from plangen.sheets.font import drawable, face, font_size_mm, text_width_mm
from plangen.sheets.marks import Arc, Area, Circle, Group, Line, Segments, Sheet, Text
from plangen.sheets.pens import FILLS, pen

AnyMark = Line | Area | Circle | Arc | Segments | Text | Group


def svg_text(sheet: Sheet) -> str:
    """Return a sheet as one SVG document, without an XML declaration."""
    drawing = svgwrite.Drawing(
        size=(f"{_n(sheet.width_mm)}mm", f"{_n(sheet.height_mm)}mm"),
        viewBox=f"0 0 {_n(sheet.width_mm)} {_n(sheet.height_mm)}",
        debug=False,
        id=f"sheet-{element_id(sheet.id)}",
    )
    drawing.attribs.update(
        {
            "role": "img",
            "aria-label": drawable(f"Sheet {sheet.id}, {sheet.title}"),
            "data-sheet": sheet.id,
            "font-family": face().family,
            "fill": "none",
            "stroke-linejoin": "round",
        }
    )
    drawing.set_desc(title=drawable(f"{sheet.id} {sheet.title}"))
    drawing.add(
        _styled(
            "rect",
            {"x": "0", "y": "0", "width": _n(sheet.width_mm), "height": _n(sheet.height_mm), "fill": "#fff"},
        )
    )
    writer = _Writer(sheet.id)
    for group in sheet.marks:
        drawing.add(writer.top_group(group))
    return str(drawing.tostring()) + "\n"


def element_id(words: str) -> str:
    """Return words made fit for an id: letters, digits, point, dash and underscore."""
    return re.sub(r"[^A-Za-z0-9._-]+", "-", words).strip("-") or "x"


def object_element_id(sheet_id: str, name: str) -> str:
    """Return the id of an object's first group on a sheet, such as `LI101-BF1`."""
    return f"{element_id(sheet_id)}-{element_id(name)}"


class _Raw(svgwrite.base.BaseElement):
    """An element by name: svgwrite's own classes turn numbers to text in their own way."""

    def __init__(self, name: str, attributes: dict[str, str], text: str = "") -> None:
        self.elementname = name
        super().__init__(debug=False)
        self.attribs = dict(attributes)
        self._text = text

    def get_xml(self) -> Any:
        xml = super().get_xml()
        if self._text:
            xml.text = self._text
        return xml


class _Writer:
    """Writes groups of one sheet; remembers which object already has its id, and the lettering around."""

    def __init__(self, sheet_id: str) -> None:
        self.sheet_id = sheet_id
        self.named: set[str] = set()
        self.size = ""

    def top_group(self, group: Group) -> _Raw:
        """Return a group of the sheet itself, which carries the size most of its texts have."""
        sizes = Counter(_n(font_size_mm(text.height), 3) for text in _texts(group))
        self.size = max(sorted(sizes), key=lambda size: sizes[size]) if sizes else ""
        shared = {"stroke-linecap": "round"} | ({"font-size": self.size} if self.size else {})
        return self.group(group, shared)

    def group(self, group: Group, shared: dict[str, str] | None = None) -> _Raw:
        attributes = {"class": element_id(group.role), **(shared or {})}
        lettering = all(isinstance(mark, Text) and not mark.halo for mark in group.marks)
        if lettering:
            attributes["fill"] = "#000"
        if group.object:
            attributes["data-object"] = drawable(group.object)
            name = object_element_id(self.sheet_id, group.object)
            if name not in self.named:
                self.named.add(name)
                attributes["id"] = name
        element = _Raw("g", attributes)
        if group.title:
            element.add(_Raw("title", {}, drawable(group.title)))
        for mark in group.marks:
            for child in self.mark(mark):
                if lettering:
                    child.attribs.pop("fill", None)
                if child.attribs.get("font-size") == self.size:
                    del child.attribs["font-size"]
                element.add(child)
        return element

    def mark(self, mark: AnyMark) -> Iterable[_Raw]:
        match mark:
            case Group():
                return (self.group(mark),)
            case Line(points, pen_role):
                return (_Raw("polyline", {"points": _points(points), **_stroke(pen_role)}),)
            case Area(points, pen_role, fill):
                return (_Raw("polygon", {"points": _points(points), **_stroke(pen_role), **_fill(fill)}),)
            case Circle((x, y), radius, pen_role, fill):
                place = {"cx": _n(x), "cy": _n(y), "r": _n(radius)}
                return (_Raw("circle", {**place, **_stroke(pen_role), **_fill(fill)}),)
            case Arc():
                return (_Raw("path", {"d": _arc_path(mark), **_stroke(mark.pen), **_fill(mark.fill)}),)
            case Segments(lines, pen_role):
                path = "".join(f"M{_n(a[0])} {_n(a[1])}L{_n(b[0])} {_n(b[1])}" for a, b in lines)
                return (_Raw("path", {"d": path, **_stroke(pen_role)}),) if lines else ()
            case Text():
                return _text(mark)


def _styled(name: str, attributes: dict[str, str]) -> _Raw:
    return _Raw(name, attributes)


def _texts(group: Group) -> Iterable[Text]:
    for mark in group.marks:
        if isinstance(mark, Text):
            yield mark
        elif isinstance(mark, Group):
            yield from _texts(mark)


def _n(value: float, places: int = 2) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{_n(x)},{_n(y)}" for x, y in points)


def _grey(value: float) -> str:
    level = round(value * 255)
    return "#000" if level == 0 else "#fff" if level == 255 else f"#{level:02x}{level:02x}{level:02x}"


def _stroke(role: str) -> dict[str, str]:
    if not role:
        return {}
    found = pen(role)
    out = {"stroke": _grey(found.grey), "stroke-width": _n(found.width_mm)}
    if found.dash:
        out["stroke-dasharray"] = " ".join(_n(d) for d in found.dash)
    if found.cap != "round":
        out["stroke-linecap"] = found.cap
    return out


def _fill(role: str) -> dict[str, str]:
    grey = FILLS[role]
    return {} if grey is None else {"fill": _grey(grey)}


def _arc_path(arc: Arc) -> str:
    (x, y), r = arc.centre, arc.radius
    sweep = (arc.end_deg - arc.start_deg) % 360.0 or 360.0

    def at(deg: float) -> str:
        angle = math.radians(deg)
        return f"{_n(x + r * math.sin(angle))} {_n(y - r * math.cos(angle))}"

    # a full turn has equal ends, which an SVG arc cannot say: it goes in two halves
    stops = [arc.start_deg + sweep / 2, arc.start_deg + sweep]
    body = "".join(f"A{_n(r)} {_n(r)} 0 0 1 {at(stop)}" for stop in stops)
    start = at(arc.start_deg)
    return f"M{_n(x)} {_n(y)}L{start}{body}Z" if arc.closed else f"M{start}{body}"


def _text(mark: Text) -> Iterable[_Raw]:
    words = drawable(mark.text)
    turn = {"transform": f"rotate({_n(mark.angle)} {_n(mark.x)} {_n(mark.y)})"} if mark.angle else {}
    if mark.halo:
        # a white sheet under the words, not a stroked copy of them: a copy would be found twice by a search
        width = text_width_mm(words, mark.height, mark.bold)
        left = mark.x - {"start": 0.0, "middle": width / 2, "end": width}[mark.anchor]
        yield _Raw(
            "rect",
            {
                "x": _n(left - 0.2),
                "y": _n(mark.y - mark.height * 1.12),
                "width": _n(width + 0.4),
                "height": _n(mark.height * 1.38),
                "fill": "#fff",
                **turn,
            },
        )
    attributes = {
        "x": _n(mark.x),
        "y": _n(mark.y),
        "font-size": _n(font_size_mm(mark.height), 3),
        "fill": "#000",
        **turn,
    }
    if mark.anchor != "start":
        attributes["text-anchor"] = mark.anchor
    if mark.bold:
        attributes["font-weight"] = "bold"
    yield _Raw("text", attributes, words)
