"""The tee at the tap and the drip control set: depths and pipes to scale, fittings schematic."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_box_marks import (
    HALF_BARREL,
    SHAPES,
    Depths,
    barrel,
    box_in_ground,
    depth_dimension,
    depths,
    pipe_ends,
    pipe_words,
    sized,
    zone_valve,
)
from plangen.sheets.details_dimensions import arrow, earth, lane, upright
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, Drawing, section_panel, stated
from plangen.sheets.marks import Area, Circle, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel

_GRADE_Y = 53.0  # the section's grade line under the view from above, mm


def tap_panel(design: Design, tap: Device, system: str, height: float) -> Panel:
    """Return the tee in the service from above, and the section with the covers of service and branch.

    House water goes straight on, irrigation to the branch.
    """
    before, _ = pipe_ends(design, tap.name)
    after = [p for p in design.pipes if p.route[0].node == tap.name]
    irrigation = next((p for p in after if p.role != "service"), None)
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
    covers = tuple(p.cover if p else None for p in (before, irrigation))
    scale = depths(covers, system, height)
    section, reach, said = _tap_section(before, irrigation, scale, height)
    drawing = Drawing(
        (*marks, *section),
        (-1.0 - 2 * lane(height) - 3.0, 12.0, 59.0, reach),
        (Label((3.0, y - HALF_BARREL), pipe_words(before, "FROM THE METER"), before.name if before else ""),),
        (*_tap_labels(tap, irrigation, house, y), *said),
        (Noted("symbol", "tap", tap.name, 28.0, y),),
        ((tap.name, 28.0, y),),
    )
    title = f"TAP {tap.name} SEEN FROM ABOVE, AND SECTION"
    return section_panel(drawing, "detail-tap", tap.name, title, scale.scale, height, height * 21)


def _tap_section(
    service: Pipe | None, branch: Pipe | None, scale: Depths, height: float
) -> tuple[tuple[AnyMark, ...], float, tuple[Label, ...]]:
    """Return the section along the service, how far down it reaches, and its labels."""

    def centre(pipe: Pipe | None) -> float:
        return _GRADE_Y + scale.mm(pipe.cover if pipe else None) + scale.half(pipe)

    low, high = centre(service), centre(branch)
    neck = min(2.2, max(scale.half(branch), HALF_BARREL))
    marks: list[AnyMark] = [
        Group("earth", (earth(0.0, 58.0, _GRADE_Y),)),
        Group("grade-line", (Line(((0.0, _GRADE_Y), (58.0, _GRADE_Y)), "earth"),), title="Finished grade"),
        barrel(0.0, 58.0, low, service.name if service else "", scale.half(service)),
        Group(
            "tee-body",
            (
                Area(
                    ((22, low - 2.8), (34, low - 2.8), (34, low + 2.8), (22, low + 2.8)), "outline", "white"
                ),
                Area(
                    ((28 - neck, low), (28 + neck, low), (28 + neck, high), (28 - neck, high)),
                    "outline",
                    "white",
                ),
            ),
        ),
        Group(
            "pipe",
            (Circle((28.0, high), scale.half(branch), "outline", "grey"),),
            branch.name if branch else "",
        ),
    ]
    at = -2.0
    for pipe, y in ((branch, high), (service, low)):
        if pipe is not None and pipe.cover is not None:
            top = y - scale.half(pipe)
            marks.append(Line(((at - 1.5, top), (28.0 if pipe is branch else 22.0, top)), "hair"))
            words = f"{pipe.name} COVER {pipe.cover.written}"
            marks.append(upright(at, _GRADE_Y, top, words, height, "dimension-cover", pipe.name))
        at -= lane(height) + 1.0
    only = "SECTION: DEPTHS AND PIPES TO SCALE; FITTINGS AND THE VIEW FROM ABOVE NOT"
    said = [Label((56.0, _GRADE_Y), f"FINISHED GRADE. {only}" if scale.per_m else "FINISHED GRADE")]
    if branch is not None:
        said.append(
            Label((28.0 + scale.half(branch), high), f"BRANCH {branch.name} TOWARD THE READER", branch.name)
        )
    return tuple(marks), low + 6.0, tuple(said)


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


def _tap_labels(tap: Device, irrigation: Pipe | None, house: Pipe | None, y: float) -> tuple[Label, ...]:
    what = tap.label or f"FITTING {NOT_STATED}"
    return (
        Label((28.0, y - 2.8), f"{tap.name}: {sized(tap.size, what)}, LISTED FOR DRINKING WATER", tap.name),
        Label((54.0, y), pipe_words(house, "TO THE HOUSE (POTABLE)"), house.name if house else ""),
        Label(
            (28.0, y + 20.0),
            pipe_words(irrigation, "TO THE ISOLATION VALVE (IRRIGATION)"),
            irrigation.name if irrigation else "",
        ),
    )


def drip_panel(design: Design, zone: str, system: str, height: float) -> Panel | None:
    """Return the row of valve, strainer and regulator of a drip zone, in the order of the flow."""
    order = {"valve": 0, "strainer": 1, "regulator": 2}
    row = sorted(
        (d for d in design.devices if d.zone == zone and d.kind in order),
        key=lambda d: (order[d.kind], d.name),
    )
    if not row:
        return None
    scale, pitch = depths((row[0].height,), system, height), 18.0
    depth = scale.mm(row[0].height)
    x1 = pitch * len(row) + 6.0
    marks: list[AnyMark] = [*box_in_ground(0.0, x1, depth, depth + 11.0)]
    xs = [12.0 + i * pitch for i in range(len(row))]
    stops = [-15.0, *(x for c in xs for x in (c - 5, c + 5)), x1 + 15.0]
    half = scale.half(pipe_ends(design, row[0].name)[0])
    marks += [barrel(a, b, depth, "", half) for a, b in zip(stops[::2], stops[1::2], strict=True)]
    if row[0].height is not None:
        marks += depth_dimension(-19.0, depth, row[0].height, (-16.0, -15.0), height, row[0].name)
    labels = [_drip_label(d, x, depth) for d, x in zip(row, xs, strict=True)]
    for d, x in zip(row, xs, strict=True):
        marks.append(_zone_valve_short(x, depth, d) if d.kind == "valve" else _inline(x, depth, d))
    shapes = f"; {SHAPES}" if scale.per_m else ""
    labels.append(Label((x1 - 3.0, -0.4), f"{_box_words(row)}, SIZE {NOT_STATED}; LID AT GRADE{shapes}"))
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
    drawing = Drawing(tuple(marks), (-21.0 - height, -3.0, x1 + 17.0, depth + 12.0), (), tuple(labels), drawn)
    return section_panel(
        drawing,
        "detail-drip",
        row[0].name,
        f"DRIP CONTROL SET, ZONE {zone}",
        scale.scale,
        height,
        height * 21,
    )


def _drip_label(d: Device, x: float, depth: float) -> Label:
    setting = f"SET {d.setting.written}" if d.setting else ""
    words = sized(d.size, d.part.label if d.part else d.kind)
    told = (f"{d.name}: {words}", setting, f"DEPTH {stated(d.height).lstrip('-')}")
    return Label((x, depth - 3.0), ", ".join(t for t in told if t), d.name)


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
