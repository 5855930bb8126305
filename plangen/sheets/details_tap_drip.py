"""The tee at the tap and the drip control set: schematic, with the sizes and depths the design states."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_box_marks import (
    HALF_BARREL,
    barrel,
    box_in_ground,
    pipe_ends,
    pipe_words,
    zone_valve,
)
from plangen.sheets.details_dimensions import arrow
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, NOT_TO_SCALE, Drawing, section_panel, stated
from plangen.sheets.marks import Area, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel


def tap_panel(design: Design, tap: Device, height: float) -> Panel:
    """Return the tee in the service seen from above: house water straight on, irrigation to the branch."""
    before, _ = pipe_ends(design, tap.name)
    after = [p for p in design.pipes if p.route[0].node == tap.name]
    irrigation = next((p for p in after if p.state == "new"), None)
    house = next((p for p in after if p is not irrigation), None)
    y = 20.0
    marks: list[AnyMark] = [
        barrel(0.0, 22.0, y, before.name if before else ""),
        barrel(34.0, 58.0, y, house.name if house else ""),
        Group(
            "pipe",
            (
                Line(((28 - HALF_BARREL, y + 6), (28 - HALF_BARREL, y + 22)), "outline"),
                Line(((28 + HALF_BARREL, y + 6), (28 + HALF_BARREL, y + 22)), "outline"),
            ),
            irrigation.name if irrigation else "",
        ),
        _tee(tap, y),
        arrow((12.0, y), 90.0, 6.0),
        arrow((48.0, y), 90.0, 6.0),
        arrow((28.0, y + 17.0), 180.0, 6.0),
    ]
    drawing = Drawing(
        tuple(marks),
        (-1.0, 12.0, 59.0, y + 23.0),
        (),
        _tap_labels(design, tap, irrigation, house, y),
        (Noted("symbol", "tap", tap.name, 28.0, y),),
        ((tap.name, 28.0, y),),
    )
    return section_panel(
        drawing, "detail-tap", tap.name, f"TAP {tap.name} SEEN FROM ABOVE", NOT_TO_SCALE, height, height * 21
    )


def _tee(tap: Device, y: float) -> Group:
    """Return the tee's body from above, its branch down the sheet."""
    up, down = y - 2.8, y + 2.8
    body = (
        (22, up),
        (34, up),
        (34, down),
        (30.8, down),
        (30.8, y + 6),
        (25.2, y + 6),
        (25.2, down),
        (22, down),
    )
    return Group("tee-body", (Area(body, "outline", "white"),), tap.name, f"Tap {tap.name}")


def _tap_labels(
    design: Design, tap: Device, irrigation: Pipe | None, house: Pipe | None, y: float
) -> tuple[Label, ...]:
    before, _ = pipe_ends(design, tap.name)
    what = tap.label or f"FITTING {NOT_STATED}"
    return (
        Label((3.0, y - HALF_BARREL), pipe_words(before, "FROM THE METER"), before.name if before else ""),
        Label(
            (28.0, y - 2.8), f"{tap.name}: {what}, {stated(tap.size)}, LISTED FOR DRINKING WATER", tap.name
        ),
        Label((54.0, y), pipe_words(house, "TO THE HOUSE (POTABLE)"), house.name if house else ""),
        Label(
            (28.0, y + 20.0),
            pipe_words(irrigation, "TO THE ISOLATION VALVE (IRRIGATION)"),
            irrigation.name if irrigation else "",
        ),
    )


def drip_panel(design: Design, zone: str, height: float) -> Panel | None:
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
    marks: list[AnyMark] = [*box_in_ground(0.0, x1, depth, depth + 11.0)]
    xs = [12.0 + i * pitch for i in range(len(row))]
    stops = [-15.0, *(x for c in xs for x in (c - 5, c + 5)), x1 + 15.0]
    marks += [barrel(a, b, depth, "") for a, b in zip(stops[::2], stops[1::2], strict=True)]
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
    labels.append(Label((x1 - 3.0, -0.4), f"{_box_words(row)}, SIZE {NOT_STATED}; LID AT GRADE"))
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


def _box_words(row: Sequence[Device]) -> str:
    """What the one box drawn stands for, where each device has a box of its own."""
    boxed = [d.name for d in row if d.in_box]
    return f"{', '.join(boxed)} EACH IN ITS OWN BOX, DRAWN TOGETHER" if len(boxed) > 1 else "BOX"


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
