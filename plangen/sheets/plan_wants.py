"""Which labels a plan letters, in the order in which they get their places."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from plangen.geometry.point import Point, at, bounds, path_length
from plangen.hydraulics.results import Hydraulics
from plangen.layout.wire import Wiring
from plangen.model.design import Design
from plangen.model.waterworks import Device, DripArea, Head, Pipe, Sleeve
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import DISPLAY, fixed, number, told
from plangen.quantity.quantity import si_to
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.enlarged import Frame, is_short, letter_frame
from plangen.sheets.pens import pen
from plangen.sheets.plan_labels import put, put_along
from plangen.sheets.plan_sleeves import sleeve_places
from plangen.sheets.plan_wants_site import letter_grade, numbered_grades, site_tasks
from plangen.sheets.plan_water import HEAD_SIZE, pipe_pen
from plangen.sheets.plan_wire import letter_wire
from plangen.sheets.plan_zones import letter_street, letter_zone
from plangen.sheets.symbols import SYMBOLS, symbol_kind
from plangen.sheets.untangle import Task, task

STATE_WORDS = {"existing": " (EX)", "relocated": " (REL)", "removed": " (REM)", "new": ""}


def plan_tasks(
    canvas: Canvas,
    design: Design,
    hydraulics: Hydraulics,
    crowded: tuple[str, ...],
    wiring: Wiring | None,
    middles: Mapping[str, tuple[Point, bool]],
    framed: Sequence[Frame] = (),
) -> Iterator[Task]:
    """Return what letters every object of one view, with the zones that have a middle.

    The order puts those first which lack room. What is `framed` is lettered in an enlarged view.
    """
    elsewhere = {name for frame in framed for name in frame.names}
    pipes = [pipe for pipe in design.pipes if pipe.name not in elsewhere]
    devices = sorted(design.devices, key=lambda d: (d.name not in crowded, d.name))
    for device in (d for d in devices if d.kind not in ("valve", "tee")):
        yield task(_device, design, device, device.name in crowded)
    for device in (d for d in devices if d.kind == "valve"):
        yield task(_valve, design, hydraulics, device, device.name in crowded)
    yield from (task(letter_frame, frame) for frame in framed)
    for end in _ends(canvas, design):
        yield task(_end, end, crowded)
    yield task(_sensors, design)
    for name, grade in numbered_grades(design):
        yield task(letter_grade, name, grade)
    for sleeve in design.sleeves:
        yield task(_sleeve, design, sleeve)
    for drip in design.drips:
        yield task(_drip, design, drip)
    for device in (d for d in devices if d.kind == "tee" and d.name not in elsewhere):
        yield task(_device, design, device, device.name in crowded)
    # short runs among fittings have few places left, long laterals many
    for pipe in sorted(pipes, key=lambda p: (round(path_length(_route(p)), 1), p.name)):
        if is_short(canvas, pipe):
            yield task(_pipe, pipe)
    for head in design.heads:
        yield task(_head, head)
    for pipe in sorted(pipes, key=lambda p: (p.role == "lateral", p.name)):
        if not is_short(canvas, pipe):
            yield task(_pipe, pipe)
    for zone in (z for z in design.zones if z.name in middles):
        yield task(letter_zone, zone, *middles[zone.name])
    yield task(letter_wire, wiring)
    yield task(letter_street, design)
    yield from site_tasks(canvas, design)


def _route(pipe: Pipe) -> tuple[Point, ...]:
    return tuple(stop.point for stop in pipe.route)


def code_of(design: Design, device: Device) -> str:
    """Return the letter code of a device's symbol."""
    zone = design.zone(device.zone)
    if device.kind == "valve" and zone is not None and zone.kind == "drip":
        return SYMBOLS["valve-drip"].code
    return SYMBOLS[symbol_kind(device)].code


def head_code(head: Head, units: str) -> str:
    """Return a head's letter code with its throw in whole feet or metres: `S15`."""
    code = SYMBOLS[head.part.kind].code if head.part.kind in SYMBOLS else head.part.kind.upper()
    if head.part.radius is None:
        return code
    unit, decimals = ("ft", 0) if units == "us" else ("m", 1)
    return code + number(head.part.radius.to(unit), decimals)


def zone_flow(hydraulics: Hydraulics, zone: str, units: str) -> str:
    """Return a zone's solved flow in words, or that it is not known."""
    case = hydraulics.case_of_zone(zone)
    if case is None:
        return "flow not known"
    unit, _ = DISPLAY[units][Dimension.FLOW]
    return f"{fixed(si_to(case.total_flow_m3s, Dimension.FLOW, unit), 1)} {unit}"


# What of an assembly the stated height is measured to.
_DATUM = {"rp": "relief port"} | dict.fromkeys(("pvb", "svb", "avb", "db"), "critical level")


def _device(canvas: Canvas, design: Design, device: Device, crowded: bool) -> None:
    at_xy = canvas.view.paper(device.point)
    if not canvas.sees(at_xy):
        return
    size = f" {device.size.written}" if device.size and device.kind not in ("tee", "tap") else ""
    first = f"{device.name} {code_of(design, device)}{size}{STATE_WORDS[device.state]}"
    lines: tuple[str, ...] = (first,)
    if device.kind == "assembly" and device.height:
        height = told(device.height.si, Dimension.LENGTH, canvas.units, small=True)
        datum = _DATUM.get(device.assembly_kind, "height")
        lines = (first, f"{datum} {height} above grade")
    if device.kind == "regulator" and device.setting:
        lines = (f"{first} set {told(device.setting.si, Dimension.PRESSURE, canvas.units)}",)
    kind = symbol_kind(device)
    half = 0.6 if device.kind == "tee" or crowded else canvas.device_mm * (1.4 if device.in_box else 1.0)
    half = canvas.device_mm * 1.55 if device.kind == "assembly" and not crowded else half
    height_mm = canvas.letters.body if device.kind != "tee" else canvas.letters.note
    mark = kind if crowded and device.kind != "tee" else ""
    if crowded and device.kind == "tee":
        canvas.note("symbol", "tee", device.name, at_xy)
    put(
        canvas,
        Want(
            device.name,
            device.kind,
            lines,
            at_xy,
            half,
            height_mm,
            half + 0.6,
            device.kind == "assembly",
            mark=mark,
            state=device.state,
        ),
    )


def _valve(canvas: Canvas, design: Design, hydraulics: Hydraulics, device: Device, crowded: bool) -> None:
    """The zone flag: zone, valve, flow, size."""
    at_xy = canvas.view.paper(device.point)
    if not canvas.sees(at_xy):
        return
    zone = design.zone(device.zone) or next((z for z in design.zones if z.valve == device.name), None)
    cells = [f"{device.name} {code_of(design, device)}{STATE_WORDS[device.state]}"]
    if zone is not None:
        cells = [zone.name, *cells, zone_flow(hydraulics, zone.name, canvas.units)]
        if zone.hydrozone:
            cells.append(f"HZ {zone.hydrozone}")
    if device.size:
        cells.append(device.size.written)
    half = 0.6 if crowded else canvas.device_mm * (1.4 if device.in_box else 1.0)
    want = Want(
        device.name, "zone-flag", tuple(cells), at_xy, half, canvas.letters.body, half + 0.6, flag=True
    )
    if crowded:
        canvas.note("symbol", "valve", device.name, at_xy)
    put(canvas, want)


def _ends(canvas: Canvas, design: Design) -> Iterator[Want]:
    """What the labels of source, house and controller say, and where they are wanted."""
    ends: list[tuple[str, str, tuple[str, ...], Point]] = []
    if design.source:
        source = design.source
        static = (
            f", {told(source.static.si, Dimension.PRESSURE, canvas.units)} static" if source.static else ""
        )
        told_source = (f"{source.name} SRC{static}", *((source.label,) if source.label else ()))
        ends.append(("source", source.name, told_source, source.point))
    if design.house:
        house = design.house
        told_house = (f"{house.name} HSE", *((house.label,) if house.label else ()))
        ends.append(("house", house.name, told_house, house.point))
    control = design.control
    if control and control.point:
        stations = f", {control.stations} stations" if control.stations else ""
        lines = (f"{control.name} C{stations}", *((control.place,) if control.place else ()))
        ends.append(("controller", control.name, lines, at(*control.point)))
    half = canvas.device_mm
    for kind, name, told_lines, point in ends:
        at_xy = canvas.view.paper(point)
        yield Want(name, kind, told_lines, at_xy, half, canvas.letters.body, half + 0.6)


def _end(canvas: Canvas, want: Want, crowded: tuple[str, ...]) -> None:
    if canvas.sees(want.at):
        put(canvas, replace(want, mark=want.kind if want.object in crowded else ""))


def _sensors(canvas: Canvas, design: Design) -> None:
    """Sensors stand where their words say; their symbols are lettered by the controller they are wired to."""
    control = design.control
    if control is None or control.point is None or not canvas.sees(canvas.view.paper(at(*control.point))):
        return
    at_xy = canvas.view.paper(at(*control.point))
    for sensor in control.sensors:
        kind = f"sensor-{sensor.kind}" if f"sensor-{sensor.kind}" in SYMBOLS else "device"
        name = sensor.name or sensor.kind
        lines = (f"{name} {SYMBOLS[kind].code}", sensor.place or "place not given")
        body = canvas.letters.body
        put(canvas, Want(name, kind, lines, at_xy, canvas.device_mm, body, canvas.device_mm + 0.6, mark=kind))


def _head(canvas: Canvas, head: Head) -> None:
    at_xy = canvas.view.paper(head.point)
    if canvas.sees(at_xy):
        words = f"{head.name} {head_code(head, canvas.units)}{STATE_WORDS[head.state]}"
        put(
            canvas,
            Want(head.name, head.part.kind, (words,), at_xy, HEAD_SIZE, canvas.letters.note, HEAD_SIZE + 0.4),
        )


def _pipe(canvas: Canvas, pipe: Pipe) -> None:
    pieces = canvas.path(tuple(stop.point for stop in pipe.route))
    if not pieces:
        return
    longest = max(
        ((a, b) for piece in pieces for a, b in itertools.pairwise(piece)),
        key=lambda s: round(abs(s[1][0] - s[0][0]) + abs(s[1][1] - s[0][1]), 3),
    )
    middle = ((longest[0][0] + longest[1][0]) / 2, (longest[0][1] + longest[1][1]) / 2)
    off = pen(pipe_pen(pipe)).width_mm / 2 + 0.45
    words = f"{pipe.name} {pipe.nominal.written}{STATE_WORDS[pipe.state]}"
    (ax, ay), (bx, by) = longest
    starts = tuple((ax + (bx - ax) * t, ay + (by - ay) * t) for t in (0.25, 0.75, 0.1, 0.9))
    want = Want(
        pipe.name, "pipe-size", (words,), middle, 0.5, canvas.letters.note, 1.6, dot=True, starts=starts
    )
    put_along(canvas, want, pieces, off)
    if pipe.name in canvas.label_boxes:
        canvas.note("pipe-size", pipe.role, pipe.name, middle)
        canvas.anchors.append((pipe.name, *middle))


def _sleeve(canvas: Canvas, design: Design, sleeve: Sleeve) -> None:
    places = [canvas.view.paper(p) for p in sleeve_places(design, sleeve)]
    if places and canvas.sees(places[0]):
        words, note = f"{sleeve.name} SL {sleeve.size.nominal}", canvas.letters.note
        starts = tuple(places[1:])
        put(canvas, Want(sleeve.name, "sleeve", (words,), places[0], 1.0, note, 1.8, dot=True, starts=starts))
        canvas.anchors.append((sleeve.name, *places[0]))


def _drip(canvas: Canvas, design: Design, drip: DripArea) -> None:
    area = design.area(drip.area)
    if area is None:
        return
    west, south, east, north = bounds(area.outline)
    at_xy = canvas.view.paper(at(west + (east - west) * 0.7, (south + north) / 2))
    if canvas.sees(at_xy):
        rows = told(drip.row_spacing.si, Dimension.LENGTH, canvas.units, small=True)
        words = (f"{drip.name} DL, rows {rows}",)
        put(canvas, Want(drip.name, "drip", words, at_xy, 0.5, canvas.letters.note, 2.0, dot=True))
        canvas.anchors.append((drip.name, *at_xy))
