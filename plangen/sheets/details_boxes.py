"""Valves in boxes, the drip set, and the tee at the tap: schematic, with the depths the design states.

No data sheet gives the sizes of boxes and fittings, so these panels are lettered NOT TO SCALE.
"""

from __future__ import annotations

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_box_marks import barrel, box_in_ground, pipe_ends, pipe_words, zone_valve
from plangen.sheets.details_dimensions import arrow, upright
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, NOT_TO_SCALE, Drawing, few, section_panel, stated
from plangen.sheets.details_tap_drip import drip_panel, tap_panel
from plangen.sheets.marks import Area, Circle, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.procedure_fill import natural


def box_panels(design: Design, letters: Lettering) -> tuple[Panel, ...]:
    """Return the tap, each isolation valve, one zone valve for each depth and size, and the drip set."""
    out = [tap_panel(design, d, letters.note) for d in design.devices_of("tap") if d.state != "removed"]
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
        panel = drip_panel(design, zone, letters.note)
        if panel is not None:
            out.append(panel)
    return tuple(out)


def _valve_panel(design: Design, devices: list[Device], height: float) -> Panel:
    d = devices[0]
    zone = d.kind == "valve"
    before, after = pipe_ends(design, d.name)
    depth, x0, x1 = 26.0, 0.0, 40.0
    mid = (x0 + x1) / 2
    marks: list[AnyMark] = (
        [*box_in_ground(x0, x1, depth, depth + 11.0)]
        if d.in_box
        else [Group("grade-line", (Line(((x0 - 16, 0.0), (x1 + 16, 0.0)), "earth"),), title="Finished grade")]
    )
    marks += [
        barrel(x0 - 15, mid - 5, depth, before.name if before else ""),
        barrel(mid + 5, x1 + 15, depth, after.name if after else ""),
    ]
    marks.append(zone_valve(mid, depth, d) if zone else _ball_valve(mid, depth, d))
    marks.append(arrow((x0 - 8.0, depth), 90.0, 5.0))
    dim = x0 - 19.0
    if d.height is not None:
        marks.append(Line(((dim - 1.5, depth), (x0 - 15, depth)), "hair"))
        marks.append(Line(((dim - 1.5, 0.0), (x0 - 16, 0.0)), "hair"))
        text = d.height.written.lstrip("-")
        marks.append(upright(dim, 0.0, depth, text, height, "dimension-depth", d.name))
    names = few([x.name for x in devices])
    labels = _valve_labels(d, names, zone, mid, depth, x1, before, after)
    title = ("ZONE VALVE" if zone else f"ISOLATION VALVE {d.name}") + (" IN BOX" if d.in_box else "")
    extent = (dim - height - 2.0, -3.0, x1 + 17.0, depth + 12.0)
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
    out.append(Label((x1 + 10.0, depth), f"{pipe_words(before, 'IN')}; {pipe_words(after, 'OUT')}"))
    if zone:
        out.append(Label((mid + 8.0, depth - 13.0), "WIRE COIL WITH SLACK, WATERPROOF SPLICES, TAG"))
        out.append(Label((mid + 7.5, depth - 2.0), "UNION, SO THAT THE VALVE COMES OUT"))
    else:
        out.append(Label((mid - 5.0, depth - 8.0), "HANDLE FREE TO TURN; CLOSED UNTIL THE FIRST FILLING"))
    return tuple(out)


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
