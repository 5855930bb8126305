"""The valve wire at a box and in the ground, and the rows of a drip area: what the design states, to scale
where it states a length."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.model.design import Design
from plangen.model.waterworks import DripArea
from plangen.sheets.details_box_marks import box_in_ground, depth_dimension, depths
from plangen.sheets.details_dimensions import earth, lane, level_across, upright
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import (
    NOT_STATED,
    NOT_TO_SCALE,
    Drawing,
    Section,
    enlarged,
    few,
    scale_text,
    section_panel,
    stated,
)
from plangen.sheets.marks import Circle, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.viewport import DETAIL_SCALES

_ROOM_MM = (46.0, 40.0)  # for two rows of a drip area with three emitters each


def wire_panels(design: Design, system: str, letters: Lettering) -> tuple[Panel, ...]:
    """Return the way of the wire into a box, where the design has wire and a new valve in a box."""
    control = design.control
    boxed = [v for v in design.devices_of("valve", "master-valve") if v.in_box and v.state == "new"]
    if control is None or not control.wire or not boxed:
        return ()
    height = letters.note
    scale = depths((control.wire_cover,), system, height)
    depth = scale.mm(control.wire_cover)
    floor = max(depth + 6.0, 24.0)
    x0, x1 = 0.0, 30.0
    way = ((-32.0, depth), (-6.0, depth), (4.0, depth), (9.0, floor - 9.0), (15.0, floor - 11.0))
    coils = tuple(Circle((19.0, floor - 13.0), r, "thin") for r in (1.8, 2.7, 3.6))
    marks: list[AnyMark] = [
        *box_in_ground(x0, x1, floor - 3.0, floor + 8.0),
        Group("earth", (earth(-33.0, -17.0, 0.0),)),
        Group("grade-line", (Line(((-33.0, 0.0), (-16.0, 0.0)), "earth"),), title="Finished grade"),
        Group("wire", (Line(way, "wire"), *coils), control.name, "Control wire"),
        Group("splice", (Circle((13.0, floor - 10.4), 0.9, "outline", "black"),), title="Splice"),
    ]
    if control.wire_cover is not None:
        marks += depth_dimension(-36.0, depth, control.wire_cover, (-33.0, -32.0), height, control.name)
    cover = "" if control.wire_cover is not None else f", COVER {NOT_STATED}"
    labels = (
        Label((x1 - 4.0, -0.4), "VALVE BOX; BOX AND COIL NOT TO SCALE"),
        Label((22.6, floor - 13.0), "COIL OF SLACK, SO THAT VALVE AND SPLICE COME OUT TOGETHER"),
        Label((13.9, floor - 10.4), "SPLICES WATERPROOF, IN BOXES ONLY, SHOWN ON THE RECORD DRAWING"),
        Label((-14.0, depth), f"WIRE FROM {control.name}: {control.wire}{cover}", control.name),
        Label((x1 - 6.0, floor + 5.0), "CONTROLLER UNPLUGGED WHILE WIRES ARE JOINED; TAG EACH WITH ITS ZONE"),
    )
    drawing = Drawing(
        tuple(marks),
        (-38.0 - height, -3.0, x1 + 17.0, floor + 9.0),
        (),
        labels,
        (Noted("symbol", "wire", control.name, -10.0, depth),),
    )
    title = f"WIRE FROM {control.name} INTO A VALVE BOX"
    return (section_panel(drawing, "detail-wire", control.name, title, scale.scale, height, height * 21),)


def drip_row_panels(design: Design, system: str, letters: Lettering) -> tuple[Panel, ...]:
    """Return two rows of drip areas seen from above, at their spacing and that of their emitters.

    Areas of the same part and spacing share a panel.
    """
    alike: dict[tuple[str, str], list[DripArea]] = {}
    for drip in design.drips:
        if drip.state in ("new", "relocated"):
            alike.setdefault((drip.part.label, drip.row_spacing.written), []).append(drip)
    return tuple(_rows_panel(drips, system, letters.note) for drips in alike.values())


def _rows_panel(drips: Sequence[DripArea], system: str, height: float) -> Panel:
    drip = drips[0]
    rows = drip.row_spacing.si
    emitters = drip.part.emitter_spacing.si if drip.part.emitter_spacing else 0.3
    wide, tall = (v * enlarged(height) for v in _ROOM_MM)
    scales = DETAIL_SCALES[system]
    fits = (d for d in scales if rows * 1000 / d <= tall and 2 * emitters * 1000 / d <= wide)
    denominator = next(fits, scales[-1])
    s = Section(denominator, 0.0, 0.0)
    end = 2.5 * emitters
    marks: list[AnyMark] = [
        Group(
            "drip-header",
            (Line(s.path(((-0.5 * emitters, 0.06), (-0.5 * emitters, -rows - 0.06))), "lateral"),),
        )
    ]
    for z in (0.0, -rows):
        dots = tuple(Circle(s.at(i * emitters, z), 0.8, "thin", "black") for i in range(3))
        marks.append(
            Group("drip-row", (Line(s.path(((-0.5 * emitters, z), (end, z))), "medium"), *dots), drip.name)
        )
    left, y = s.at(-0.5 * emitters, 0)[0], s.at(0, -rows)[1] + 4.0
    marks.append(
        upright(
            left - 4.0, 0.0, s.at(0, -rows)[1], drip.row_spacing.written, height, "dimension-rows", drip.name
        )
    )
    if drip.part.emitter_spacing is not None:
        words = drip.part.emitter_spacing.written
        ends = (s.at(emitters, 0)[0], s.at(2 * emitters, 0)[0])
        marks.append(level_across(*ends, y, words, height, "dimension-emitters", drip.name))
    spacing = stated(drip.part.emitter_spacing)
    every = "" if spacing in drip.part.label else f"; EMITTERS EVERY {spacing}"
    fed = few([d.pipe or NOT_STATED for d in drips])
    labels = (
        Label(s.at(2 * emitters, 0.0), f"{drip.part.label}{every}"),
        Label(s.at(end, -rows), "ROW ENDS JOINED OR CAPPED, FLUSHED BEFORE THE FIRST RUN"),
        Label((left, s.at(0, -rows * 0.5)[1]), f"HEADER FROM {fed}", drip.name),
    )
    known = drip.part.emitter_spacing is not None
    drawing = Drawing(
        tuple(marks),
        (left - 4.0 - lane(height), -3.0, s.at(end, 0)[0], y + 2.0),
        (),
        labels,
        (Noted("symbol", "dripline", drip.name, 0.0, 0.0),),
    )
    title = f"DRIP ROWS OF {few([d.name for d in drips], 3)} FROM ABOVE"
    scale = scale_text(denominator, system) if known else NOT_TO_SCALE
    return section_panel(drawing, "detail-drip-rows", drip.name, title, scale, height, height * 20)
