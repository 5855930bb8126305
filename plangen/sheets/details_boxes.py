"""Devices in boxes, one panel for each kind, depth and size: depths and pipes to scale, the rest schematic.

No data sheet gives the sizes of boxes and fittings, so they are lettered as not to scale.
"""

from __future__ import annotations

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_box_marks import (
    SHAPES,
    Depths,
    barrel,
    box_in_ground,
    depth_dimension,
    depths,
    device_body,
    pipe_ends,
    pipe_words,
    sized,
)
from plangen.sheets.details_dimensions import arrow, earth
from plangen.sheets.details_drip import drip_panels
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, Drawing, few, section_panel, stated
from plangen.sheets.details_tap import tap_panel
from plangen.sheets.marks import Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.procedure_fill import natural

# The kinds shown each in its own panel, in the order of the flow; others stand in drip sets.
KINDS = {
    "isolation": "ISOLATION VALVE",
    "master-valve": "MASTER VALVE",
    "flow-sensor": "FLOW SENSOR",
    "injector": "INJECTOR",
    "valve": "ZONE VALVE",
    "drain": "DRAIN",
    "blow-out": "BLOW-OUT CONNECTION",
}
_NAMED = ("isolation", "master-valve", "flow-sensor", "injector", "drain", "blow-out")
_X0, _X1 = 0.0, 40.0  # walls of the box, mm


def box_panels(design: Design, system: str, letters: Lettering) -> tuple[Panel, ...]:
    """Return the tap, a panel for each kind, depth and size of buried device, and the drip sets."""
    height = letters.note
    out = [tap_panel(design, d, system, height) for d in design.standing("tap")]
    groups: dict[tuple[int, str, str, str, str], list[Device]] = {}
    drip = {z.name for z in design.zones if z.kind == "drip"}
    order = tuple(KINDS)
    for d in sorted(design.devices_of(*KINDS), key=lambda d: natural(d.name)):
        shown = d.state != "removed" if d.kind == "isolation" else d.state in ("new", "relocated")
        if shown and not (d.kind == "valve" and d.zone in drip):
            name = d.name if d.kind in _NAMED else ""
            key = (order.index(d.kind), name, stated(d.height), stated(d.size), d.box_size)
            groups.setdefault(key, []).append(d)
    out += [_device_panel(design, groups[k], system, height) for k in sorted(groups)]
    return (*out, *drip_panels(design, sorted(drip, key=natural), system, height))


def _device_panel(design: Design, devices: list[Device], system: str, height: float) -> Panel:
    d = devices[0]
    before, after = pipe_ends(design, d.name)
    scale = depths((d.height,), system, height)
    depth, mid = scale.mm(d.height), (_X0 + _X1) / 2
    marks: list[AnyMark] = (
        [*box_in_ground(_X0, _X1, depth, depth + 11.0)]
        if d.in_box
        else [
            Group("earth", (earth(_X0 - 16, _X1 + 16, 0.0),)),
            Group("grade-line", (Line(((_X0 - 16, 0.0), (_X1 + 16, 0.0)), "earth"),), title="Finished grade"),
        ]
    )
    marks.append(barrel(_X0 - 15, mid - 5, depth, before.name if before else "", scale.half(before)))
    if after is not None:
        marks.append(barrel(mid + 5, _X1 + 15, depth, after.name, scale.half(after)))
    marks += [device_body(mid, depth, d), arrow((_X0 - 8.0, depth), 90.0, 5.0)]
    dim = _X0 - 19.0
    if d.height is not None:
        marks += depth_dimension(dim, depth, d.height, (_X0 - 16, _X0 - 15), height, d.name)
    drawing = Drawing(
        tuple(marks),
        (dim - height - 2.0, -3.0, _X1 + 17.0, depth + 12.0),
        () if after is not None else (_from(before, depth),),
        _labels(devices, mid, depth, before, after, scale),
        (Noted("symbol", d.kind, d.name, mid, depth),),
        ((d.name, mid, depth),),
    )
    title = KINDS[d.kind] + (f" {d.name}" if d.kind in _NAMED else "") + (" IN BOX" if d.in_box else "")
    if d.kind == "valve":
        title += f", {stated(d.height).lstrip('-')} DEEP" if d.height is not None else ""
    role = "detail-zone-valve" if d.kind == "valve" else f"detail-{d.kind}"
    return section_panel(drawing, role, d.name, title, scale.scale, height, height * 21)


def _from(before: Pipe | None, depth: float) -> Label:
    """The pipe that ends at a device, lettered on its own side."""
    return Label((_X0 - 13.0, depth), pipe_words(before, "FROM"), before.name if before else "")


def _labels(
    devices: list[Device], mid: float, depth: float, before: Pipe | None, after: Pipe | None, scale: Depths
) -> tuple[Label, ...]:
    d = devices[0]
    electric = d.kind in ("valve", "master-valve")
    words = d.part.label if d.part else (d.label or KINDS[d.kind].lower())
    names = few([x.name for x in devices])
    out = [Label((mid, depth - (6.0 if electric else 2.0)), f"{names}: {sized(d.size, words)}", d.name)]
    if d.height is None:
        out.append(Label((mid, depth), f"DEPTH {NOT_STATED}", d.name))
    if d.in_box:
        shapes = f"; {SHAPES}" if scale.per_m else ""
        box = f"BOX {d.box_size or f'SIZE {NOT_STATED}'}; LID AT GRADE, LETTERED WITH ITS USE{shapes}"
        sump = f"GRAVEL SUMP, DEPTH {NOT_STATED}; BOX CARRIED CLEAR OF THE PIPE"
        out += [Label((_X1 - 4.0, -0.4), box), Label((_X1 - 6.0, depth + 7.5), sump)]
    elif scale.per_m:
        out.append(Label((mid + 1.0, depth), "FITTINGS NOT TO SCALE"))
    if after is not None:
        at = f"AT {d.name}: " if len(devices) > 1 else ""
        if before is not None and before.size.family != after.size.family:
            words = f"{before.size.family} TO {after.size.family}: LISTED TRANSITION FITTING"
            out.append(Label((mid + 5.0, depth + 2.0), words))
        out.append(Label((_X1 + 10.0, depth), f"{at}{pipe_words(before, 'IN')}; {pipe_words(after, 'OUT')}"))
    if electric:
        up = min(13.0, depth - 4.0)
        out.append(Label((mid + 9.9, depth - up), "WIRE COIL WITH SLACK, WATERPROOF SPLICES, TAG"))
        out.append(Label((mid + 9.0, depth - 2.0), "UNION, SO THAT THE VALVE COMES OUT"))
    elif d.kind == "isolation":
        out.append(Label((mid + 1.0, depth - 8.0), "HANDLE FREE TO TURN; CLOSED UNTIL THE FIRST FILLING"))
    elif d.kind == "drain":
        out.append(Label((mid - 1.5, depth + 6.0), "OPENS DOWN INTO FREE-DRAINING STONE, NEVER TO A SEWER"))
    elif d.kind == "blow-out":
        out.append(Label((mid - 1.5, depth - 6.0), "CAPPED; BEHIND THE ASSEMBLY, NEVER THROUGH IT"))
    return tuple(out)
