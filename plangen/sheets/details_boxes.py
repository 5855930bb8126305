"""Valves in boxes, the drip set, and the tee at the tap: schematic, with the depths the design states.

No data sheet gives the sizes of boxes and fittings, so these panels are lettered NOT TO SCALE.
"""

from __future__ import annotations

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_dimensions import arrow, earth, upright
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, NOT_TO_SCALE, Drawing, section_panel, stated
from plangen.sheets.marks import Area, Circle, Group, Line, Segments
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.procedure_fill import natural

_PIPE = 1.6  # half the drawn barrel, mm


def box_panels(design: Design, letters: Lettering) -> tuple[Panel, ...]:
    """Return the tap, each isolation valve, one zone valve for each depth and size, and the drip set."""
    out = [_tap_panel(design, d, letters.note) for d in design.devices_of("tap") if d.state != "removed"]
    out += [
        _valve_panel(design, [d], letters.note)
        for d in design.devices_of("isolation")
        if d.state != "removed"
    ]
    groups: dict[tuple[str, str], list[Device]] = {}
    drip = {z.name for z in design.zones if z.kind == "drip"}
    for valve in sorted(design.devices_of("valve"), key=lambda d: natural(d.name)):
        if valve.state in ("new", "relocated") and valve.zone not in drip:
            groups.setdefault((stated(valve.height), stated(valve.size)), []).append(valve)
    out += [_valve_panel(design, groups[k], letters.note) for k in sorted(groups)]
    for zone in sorted(drip, key=natural):
        panel = _drip_panel(design, zone, letters.note)
        if panel is not None:
            out.append(panel)
    return tuple(out)


def _box(x0: float, x1: float, depth: float, floor: float) -> tuple[AnyMark, ...]:
    """Return a box in the ground: grade, lid, walls, gravel sump below the pipe."""
    stones = tuple(
        ((x, y), (x + 0.9, y - 0.5))
        for row in range(3)
        for x, y in (
            (x0 + 1.5 + i * 3.0 + row % 2 * 1.5, depth + 5.0 + row * 1.8)
            for i in range(int((x1 - x0 - 4) / 3))
        )
    )
    return (
        Group("earth", (earth(x0 - 16, x0 + 2.0, 0.0), earth(x1 - 1.0, x1 + 15.0, 0.0))),
        Group("grade-line", (Line(((x0 - 16, 0.0), (x1 + 16, 0.0)), "earth"),), title="Finished grade"),
        Group(
            "box",
            (
                Area(
                    ((x0 - 1.0, -1.2), (x1 + 1.0, -1.2), (x1 + 1.0, 0.8), (x0 - 1.0, 0.8)), "outline", "white"
                ),
                Line(((x0, 0.8), (x0 - 1.5, depth + 3.5)), "outline"),
                Line(((x1, 0.8), (x1 + 1.5, depth + 3.5)), "outline"),
            ),
        ),
        Group(
            "gravel", (Segments(stones, "hatch-dark"), Line(((x0 - 1.5, floor), (x1 + 1.5, floor)), "thin"))
        ),
    )


def _barrel(x0: float, x1: float, y: float, name: str) -> Group:
    return Group(
        "pipe",
        (
            Line(((x0, y - _PIPE), (x1, y - _PIPE)), "outline"),
            Line(((x0, y + _PIPE), (x1, y + _PIPE)), "outline"),
        ),
        name,
    )


def _ends(design: Design, name: str) -> tuple[Pipe | None, Pipe | None]:
    """Return the pipe that ends at a device and the one that begins there."""
    before = next((p for p in design.pipes if p.route[-1].node == name), None)
    after = next((p for p in design.pipes if p.route[0].node == name), None)
    return before, after


def _pipe_words(pipe: Pipe | None, where: str) -> str:
    if pipe is None:
        return f"{where} PIPE {NOT_STATED}"
    return f"{where} {pipe.name} {pipe.nominal.written} {pipe.size.family}, COVER {stated(pipe.cover)}"


def _valve_panel(design: Design, devices: list[Device], height: float) -> Panel:
    d = devices[0]
    zone = d.kind == "valve"
    before, after = _ends(design, d.name)
    depth, x0, x1 = 26.0, 0.0, 40.0
    mid = (x0 + x1) / 2
    marks: list[AnyMark] = (
        [*_box(x0, x1, depth, depth + 11.0)]
        if d.in_box
        else [Group("grade-line", (Line(((x0 - 16, 0.0), (x1 + 16, 0.0)), "earth"),), title="Finished grade")]
    )
    marks += [
        _barrel(x0 - 15, mid - 5, depth, before.name if before else ""),
        _barrel(mid + 5, x1 + 15, depth, after.name if after else ""),
    ]
    marks.append(_zone_valve(mid, depth, d) if zone else _ball_valve(mid, depth, d))
    marks.append(arrow((x0 - 8.0, depth), 90.0, 5.0))
    dim = x0 - 19.0
    if d.height is not None:
        marks.append(Line(((dim - 1.5, depth), (x0 - 15, depth)), "hair"))
        marks.append(Line(((dim - 1.5, 0.0), (x0 - 16, 0.0)), "hair"))
        text = d.height.written.lstrip("-")
        marks.append(upright(dim, 0.0, depth, text, height, "dimension-depth", d.name))
    names = ", ".join(x.name for x in devices)
    labels = _valve_labels(d, names, zone, mid, depth, x1, before, after)
    title = (
        f"ZONE VALVE IN BOX ({names})"
        if zone
        else f"ISOLATION VALVE {d.name}" + (" IN BOX" if d.in_box else "")
    )
    extent = (dim - 4.0, -3.0, x1 + 17.0, depth + 12.0)
    drawing = Drawing(
        tuple(marks),
        extent,
        (),
        labels,
        (Noted("symbol", d.kind, d.name, mid, depth),),
        ((d.name, mid, depth),),
    )
    role = "detail-zone-valve" if zone else "detail-isolation"
    return section_panel(drawing, role, d.name, title, NOT_TO_SCALE, height, height * 21)


def _valve_labels(
    d: Device,
    names: str,
    zone: bool,
    mid: float,
    depth: float,
    x1: float,
    before: Pipe | None,
    after: Pipe | None,
) -> tuple[Label, ...]:
    label = d.part.label if d.part else (d.label or d.kind)
    out = [Label((mid, depth - (6.0 if zone else 3.0)), f"{names}: {stated(d.size)} {label}", d.name)]
    if d.height is None:
        out.append(Label((mid, depth), f"DEPTH {NOT_STATED}", d.name))
    if d.in_box:
        out.append(Label((x1 - 4.0, -0.4), f"BOX, SIZE {NOT_STATED}; LID AT GRADE, LETTERED WITH ITS USE"))
        out.append(
            Label((x1 - 6.0, depth + 7.5), f"GRAVEL SUMP, DEPTH {NOT_STATED}; BOX CARRIED CLEAR OF THE PIPE")
        )
    out.append(Label((x1 + 10.0, depth), f"{_pipe_words(before, 'IN')}; {_pipe_words(after, 'OUT')}"))
    if zone:
        out.append(Label((mid + 8.0, depth - 13.0), "WIRE COIL WITH SLACK, WATERPROOF SPLICES, TAG"))
        out.append(Label((mid + 7.5, depth - 2.0), "UNION, SO THAT THE VALVE COMES OUT"))
    else:
        out.append(Label((mid - 5.0, depth - 8.0), "HANDLE FREE TO TURN; CLOSED UNTIL THE FIRST FILLING"))
    return tuple(out)


def _zone_valve(x: float, y: float, d: Device) -> Group:
    coil = tuple(Circle((x + 8.0, y - 13.0), r, "thin") for r in (1.2, 1.9))
    return Group(
        "valve-body",
        (
            Area(
                ((x - 5, y - 2.2), (x + 5, y - 2.2), (x + 5, y + 2.2), (x - 5, y + 2.2)), "outline", "white"
            ),
            Area(
                ((x - 4, y - 2.2), (x - 3, y - 5.0), (x + 3, y - 5.0), (x + 4, y - 2.2)), "outline", "white"
            ),
            Area(
                ((x - 1.3, y - 5.0), (x - 1.3, y - 9.5), (x + 1.3, y - 9.5), (x + 1.3, y - 5.0)),
                "outline",
                "grey",
            ),
            Line(((x + 1.3, y - 9.0), (x + 4.5, y - 11.0), (x + 6.2, y - 12.6)), "thin"),
            *coil,
            Area(
                ((x + 6, y - 2.6), (x + 9, y - 2.6), (x + 9, y + 2.6), (x + 6, y + 2.6)), "outline", "white"
            ),
        ),
        d.name,
        f"Zone valve {d.name}",
    )


def _ball_valve(x: float, y: float, d: Device) -> Group:
    return Group(
        "valve-body",
        (
            Area(
                ((x - 5, y - 2.6), (x + 5, y - 2.6), (x + 5, y + 2.6), (x - 5, y + 2.6)), "outline", "white"
            ),
            Circle((x, y), 2.2, "outline", "grey"),
            Line(((x, y - 2.6), (x, y - 8.0)), "medium"),
            Line(((x - 8.0, y - 8.0), (x + 1.0, y - 8.0)), "medium"),
        ),
        d.name,
        f"Isolation valve {d.name}",
    )


def _drip_panel(design: Design, zone: str, height: float) -> Panel | None:
    """Return the row of valve, strainer and regulator of a drip zone, in the order of the flow."""
    order = {"valve": 0, "strainer": 1, "regulator": 2}
    row = sorted(
        (d for d in design.devices if d.zone == zone and d.kind in order),
        key=lambda d: (order[d.kind], d.name),
    )
    if not row:
        return None
    depth, pitch = 24.0, 18.0
    x1 = pitch * len(row) + 6.0
    marks: list[AnyMark] = [*_box(0.0, x1, depth, depth + 11.0)]
    xs = [12.0 + i * pitch for i in range(len(row))]
    stops = [-15.0, *(x for c in xs for x in (c - 5, c + 5)), x1 + 15.0]
    marks += [_barrel(a, b, depth, "") for a, b in zip(stops[::2], stops[1::2], strict=True)]
    labels = []
    for d, x in zip(row, xs, strict=True):
        marks.append(_zone_valve_short(x, depth, d) if d.kind == "valve" else _inline(x, depth, d))
        setting = f", SET {d.setting.written}" if d.setting else ""
        words = d.part.label if d.part else d.kind
        labels.append(
            Label(
                (x, depth - 3.0),
                f"{d.name}: {stated(d.size)} {words}{setting}, DEPTH {stated(d.height).lstrip('-')}",
                d.name,
            )
        )
    labels.append(Label((x1 - 3.0, -0.4), f"BOX, SIZE {NOT_STATED}; LID AT GRADE"))
    labels.append(Label((x1 - 6.0, depth + 7.5), f"GRAVEL SUMP, DEPTH {NOT_STATED}"))
    drips = [d for d in design.drips if d.zone == zone]
    for drip in drips:
        spacing = stated(drip.part.emitter_spacing)
        labels.append(
            Label(
                (x1 + 10.0, depth),
                f"TO {drip.name}: ROWS {drip.row_spacing.written}, EMITTERS {spacing}, LINE ENDS FLUSHED",
                drip.name,
            )
        )
    marks.append(arrow((-8.0, depth), 90.0, 5.0))
    drawn = tuple(Noted("symbol", d.kind, d.name, x, depth) for d, x in zip(row, xs, strict=True))
    drawing = Drawing(tuple(marks), (-17.0, -3.0, x1 + 17.0, depth + 12.0), (), tuple(labels), drawn)
    return section_panel(
        drawing,
        "detail-drip",
        row[0].name,
        f"DRIP CONTROL SET, ZONE {zone}",
        NOT_TO_SCALE,
        height,
        height * 21,
    )


def _zone_valve_short(x: float, y: float, d: Device) -> Group:
    return Group(
        "valve-body", tuple(m for m in _zone_valve(x, y, d).marks[:3]), d.name, f"Zone valve {d.name}"
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


def _tap_panel(design: Design, tap: Device, height: float) -> Panel:
    """Return the tee in the service seen from above: house water straight on, irrigation to the branch."""
    before, _ = _ends(design, tap.name)
    after = [p for p in design.pipes if p.route[0].node == tap.name]
    irrigation = next((p for p in after if p.state == "new"), None)
    house = next((p for p in after if p is not irrigation), None)
    y = 20.0
    marks: list[AnyMark] = [
        _barrel(0.0, 22.0, y, before.name if before else ""),
        _barrel(34.0, 58.0, y, house.name if house else ""),
        Group(
            "pipe",
            (
                Line(((28 - _PIPE, y + 6), (28 - _PIPE, y + 22)), "outline"),
                Line(((28 + _PIPE, y + 6), (28 + _PIPE, y + 22)), "outline"),
            ),
            irrigation.name if irrigation else "",
        ),
        Group(
            "tee-body",
            (
                Area(
                    (
                        (22, y - 2.8),
                        (34, y - 2.8),
                        (34, y + 2.8),
                        (30.8, y + 2.8),
                        (30.8, y + 6),
                        (25.2, y + 6),
                        (25.2, y + 2.8),
                        (22, y + 2.8),
                    ),
                    "outline",
                    "white",
                ),
            ),
            tap.name,
            f"Tap {tap.name}",
        ),
        arrow((12.0, y), 90.0, 6.0),
        arrow((48.0, y), 90.0, 6.0),
        arrow((28.0, y + 17.0), 180.0, 6.0),
    ]
    what = tap.label or f"FITTING {NOT_STATED}"
    labels = (
        Label((3.0, y - _PIPE), _pipe_words(before, "FROM THE METER"), before.name if before else ""),
        Label(
            (28.0, y - 2.8), f"{tap.name}: {what}, {stated(tap.size)}, LISTED FOR DRINKING WATER", tap.name
        ),
        Label((54.0, y), _pipe_words(house, "TO THE HOUSE (POTABLE)"), house.name if house else ""),
        Label(
            (28.0, y + 20.0),
            _pipe_words(irrigation, "TO THE ISOLATION VALVE (IRRIGATION)"),
            irrigation.name if irrigation else "",
        ),
    )
    drawing = Drawing(
        tuple(marks),
        (-1.0, 12.0, 59.0, y + 23.0),
        (),
        labels,
        (Noted("symbol", "tap", tap.name, 28.0, y),),
        ((tap.name, 28.0, y),),
    )
    return section_panel(
        drawing, "detail-tap", tap.name, f"TAP {tap.name} SEEN FROM ABOVE", NOT_TO_SCALE, height, height * 21
    )
