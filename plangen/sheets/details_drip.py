"""The drip control set: valve, strainer and regulator in the order of the flow, each in the box it has.

Depths and pipes are to scale, boxes and fittings schematic. Zones whose sets are alike share a panel.
"""

from __future__ import annotations

from collections.abc import Sequence

from plangen.model.design import Design
from plangen.model.waterworks import Device
from plangen.sheets.details_box_marks import (
    SHAPES,
    Depths,
    barrel,
    boxes_in_ground,
    depth_dimension,
    depths,
    pipe_ends,
    sized,
    zone_valve,
)
from plangen.sheets.details_dimensions import arrow, earth
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, Drawing, few, section_panel, stated
from plangen.sheets.marks import Area, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel

_ORDER = {"valve": 0, "strainer": 1, "regulator": 2}
_PITCH, _FIRST, _HALF_BOX = 22.0, 9.0, 8.0  # of the devices along the row, mm of paper
Row = tuple[Device, ...]


def drip_panels(design: Design, zones: Sequence[str], system: str, height: float) -> tuple[Panel, ...]:
    """Return one panel for all drip zones whose sets have the same parts at the same depth."""
    alike: dict[tuple[object, ...], list[tuple[str, Row]]] = {}
    for zone in zones:
        row = _row(design, zone)
        if row:
            before, _ = pipe_ends(design, row[0].name)
            ways = tuple((_device_words(d), stated(d.height), d.in_box, d.box_size) for d in row)
            rows = tuple(words for words, _ in _led_to(design, (zone,)))
            key = (ways, before.size if before else None, rows)
            alike.setdefault(key, []).append((zone, row))
    return tuple(_drip_panel(design, sets, system, height) for sets in alike.values())


def _row(design: Design, zone: str) -> Row:
    found = (d for d in design.devices if d.zone == zone and d.kind in _ORDER and d.state != "removed")
    return tuple(sorted(found, key=lambda d: (_ORDER[d.kind], d.name)))


def _drip_panel(design: Design, sets: Sequence[tuple[str, Row]], system: str, height: float) -> Panel:
    row = sets[0][1]
    scale = depths((row[0].height,), system, height)
    depth = scale.mm(row[0].height)
    xs = [_FIRST + i * _PITCH for i in range(len(row))]
    end = xs[-1] + _FIRST
    stops = [-15.0, *(x for c in xs for x in (c - 5, c + 5)), end + 15.0]
    half = scale.half(pipe_ends(design, row[0].name)[0])
    marks: list[AnyMark] = [*_ground(row, xs, end, depth)]
    marks += [barrel(a, b, depth, "", half) for a, b in zip(stops[::2], stops[1::2], strict=True)]
    if row[0].height is not None:
        marks += depth_dimension(-19.0, depth, row[0].height, (-16.0, -15.0), height, row[0].name)
    for d, x in zip(row, xs, strict=True):
        marks.append(_zone_valve_short(x, depth, d) if d.kind == "valve" else _inline(x, depth, d))
    marks.append(arrow((-8.0, depth), 90.0, 5.0))
    drawn = tuple(Noted("symbol", d.kind, d.name, x, depth) for d, x in zip(row, xs, strict=True))
    labels = _labels(design, sets, xs, end, depth, scale)
    drawing = Drawing(tuple(marks), (-21.0 - height, -3.0, end + 17.0, depth + 12.0), (), labels, drawn)
    many = "S, ZONES" if len(sets) > 1 else ", ZONE"
    title = f"DRIP CONTROL SET{many} {few([zone for zone, _ in sets], 3)}"
    return section_panel(drawing, "detail-drip", row[0].name, title, scale.scale, height, height * 21)


def _ground(row: Row, xs: Sequence[float], end: float, depth: float) -> tuple[AnyMark, ...]:
    """The grade, and a box about each device that has one."""
    walls = [(x - _HALF_BOX, x + _HALF_BOX) for d, x in zip(row, xs, strict=True) if d.in_box]
    if len(walls) == len(row):
        return boxes_in_ground(walls, depth, depth + 11.0)
    line = Line(((-16.0, 0.0), (end + 16.0, 0.0)), "earth")
    bare: tuple[AnyMark, ...] = (
        Group("earth", (earth(-16.0, end + 15.0, 0.0, tuple(walls)),)),
        Group("grade-line", (line,), title="Finished grade"),
    )
    boxes = (m for wall in walls for m in boxes_in_ground((wall,), depth, depth + 11.0))
    return (*bare, *(m for m in boxes if isinstance(m, Group) and m.role in ("box", "gravel")))


def _labels(
    design: Design,
    sets: Sequence[tuple[str, Row]],
    xs: Sequence[float],
    end: float,
    depth: float,
    scale: Depths,
) -> tuple[Label, ...]:
    row = sets[0][1]
    out = []
    for i, (d, x) in enumerate(zip(row, xs, strict=True)):
        names = few([devices[i].name for _, devices in sets])
        words = f"{names}: {_device_words(d)}, DEPTH {stated(d.height).lstrip('-')}"
        out.append(Label((x, depth - 3.0), words, d.name))
    boxed = [x for d, x in zip(row, xs, strict=True) if d.in_box]
    shapes = f"; {SHAPES}" if scale.per_m else ""
    if boxed:
        each = "EACH IN A BOX OF ITS OWN" if len(boxed) == len(row) > 1 else "BOX"
        sizes = {d.box_size for d in row if d.in_box}
        size = next(iter(sizes)) if len(sizes) == 1 else " AND ".join(sorted(s or NOT_STATED for s in sizes))
        box = f"{each}, {size or f'SIZE {NOT_STATED}'}; LID AT GRADE{shapes}"
        out.append(Label((boxed[-1] + _HALF_BOX - 3.0, -0.4), box))
        out.append(Label((boxed[-1] + 3.0, depth + 7.5), f"GRAVEL SUMP, DEPTH {NOT_STATED}"))
    else:
        out.append(Label((xs[-1] + _HALF_BOX, 0.0), f"BOX {NOT_STATED}{shapes}"))
    for told, fed in _led_to(design, [zone for zone, _ in sets]):
        out.append(Label((end + 10.0, depth), f"TO {few(fed)}: {told}", fed[0]))
    return tuple(out)


def _led_to(design: Design, zones: Sequence[str]) -> tuple[tuple[str, list[str]], ...]:
    """What drip areas some zones feed, in words, with the names of those alike."""
    found: dict[str, list[str]] = {}
    for drip in design.drips:
        if drip.zone in zones:
            spacing = stated(drip.part.emitter_spacing)
            words = f"ROWS {drip.row_spacing.written}, EMITTERS {spacing}, LINE ENDS FLUSHED"
            found.setdefault(words, []).append(drip.name)
    return tuple(found.items())


def _device_words(d: Device) -> str:
    setting = f"SET {d.setting.written}" if d.setting else ""
    words = sized(d.size, d.part.label if d.part else d.kind)
    return ", ".join(t for t in (words, setting) if t)


def _zone_valve_short(x: float, y: float, d: Device) -> Group:
    return Group(
        "valve-body", tuple(m for m in zone_valve(x, y, d).marks[:3]), d.name, f"Zone valve {d.name}"
    )


def _inline(x: float, y: float, d: Device) -> Group:
    box = Area(((x - 5, y - 2.4), (x + 5, y - 2.4), (x + 5, y + 2.4), (x - 5, y + 2.4)), "outline", "white")
    if d.kind == "strainer":
        extra = Area(
            ((x - 1.0, y + 2.4), (x + 3.0, y + 7.0), (x + 5.0, y + 5.4), (x + 2.2, y + 2.4)),
            "outline",
            "white",
        )
    else:
        extra = Area(
            ((x - 3.0, y - 2.4), (x - 1.5, y - 6.0), (x + 1.5, y - 6.0), (x + 3.0, y - 2.4)),
            "outline",
            "white",
        )
    return Group(f"{d.kind}-body", (box, extra), d.name, f"{d.kind.capitalize()} {d.name}")
