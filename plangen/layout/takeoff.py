"""The takeoff: everything new, counted or measured from the design, and its CSV. It knows no prices."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from plangen.layout.fittings import Fitting, count_fittings
from plangen.layout.legs import is_new
from plangen.layout.materials import material_of
from plangen.layout.results import Crossing, Layout, TakeoffLine, Trench
from plangen.layout.takeoff_pipe import joining_lines, measured_lines, riser_legs
from plangen.layout.takeoff_trench import trench_lines
from plangen.layout.tally import Item, counted
from plangen.layout.wire import measure_wire
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS, PART_KINDS
from plangen.model.waterworks import Device
from plangen.quantity.display import number

COLUMNS = ("group", "item", "size", "quantity", "unit", "net", "note", "objects")
GROUPS = (
    "pipe", "sleeve", "fitting", "backflow", "valve", "device", "box", "head", "drip", "control", "wire",
    "joining", "earthwork",
)  # fmt: skip
DEVICE_WORDS = {
    **PART_KINDS,
    "tap": "tap into the service",
    "blow-out": "blow-out connection",
    "drain": "drain valve",
    "injector": "fertiliser injector",
    "pump": "pump",
}


def measure_takeoff(
    design: Design, crossings: Sequence[Crossing], trenches: Sequence[Trench]
) -> tuple[TakeoffLine, ...]:
    """Return the bill of material of what is new, in the order of `GROUPS`."""
    fittings = (*count_fittings(design), *_riser_ells(design))
    lines = (
        *measured_lines(design, crossings, measure_wire(design)),
        *counted(_fitting_items(fittings)),
        *counted(_device_items(design)),
        *counted(_head_items(design)),
        *counted(_control_items(design)),
        *joining_lines(design, fittings),
        *trench_lines(design, trenches),
    )
    return tuple(sorted(lines, key=lambda line: GROUPS.index(line.group)))


def takeoff_csv(layout: Layout, design: Design) -> str:
    """Return the takeoff as CSV with a header row; lengths in the project's units, objects after `; `."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for line in layout.takeoff:
        amounts = (number(line.quantity, 2), line.unit, number(line.net, 2))
        writer.writerow((line.group, line.item, line.size, *amounts, line.note, "; ".join(line.objects)))
    return out.getvalue()


def _riser_ells(design: Design) -> Iterator[Fitting]:
    """Return the ell at the foot of each riser: there the route turns from the ground up to the assembly."""
    for device, pipe, rise in riser_legs(design):
        if rise > 0:
            material = material_of(pipe.size.family)
            sockets = (pipe.nominal.si, pipe.nominal.si)
            words = f"90 degree ell, {material}"
            yield Fitting(words, pipe.nominal.written, material, sockets, (device.name,))


def _fitting_items(fittings: Sequence[Fitting]) -> Iterator[Item]:
    for f in fittings:
        yield Item("fitting", f.item, f.size, 1, f.at)


def _device_items(design: Design) -> Iterator[Item]:
    for device in design.devices:
        if device.kind == "tee" or not is_new(device.state):
            continue
        group = "valve" if device.kind == "valve" else "backflow" if device.kind == "assembly" else "device"
        size = device.size or (device.part.size if device.part else None)
        yield Item(group, _device_words(device), size.written if size else "", 1, (device.name,))
        if device.in_box:
            words = f"valve box, {DEVICE_WORDS.get(device.kind, device.kind)}"
            yield Item("box", words, device.box_size, 1, (device.name,))


def _device_words(device: Device) -> str:
    """Return the part's own label, else the words for the kind."""
    if device.part is not None and device.part.label:
        return device.part.label
    if device.kind == "assembly" and device.assembly_kind in ASSEMBLY_KINDS:
        return ASSEMBLY_KINDS[device.assembly_kind]
    return device.label or DEVICE_WORDS.get(device.kind, device.kind)


def _head_items(design: Design) -> Iterator[Item]:
    swing = {z.name for z in design.zones if z.swing_reach is not None}
    for head in design.heads:
        if not is_new(head.state):
            continue
        yield Item("head", head.part.label or head.part.name, "", 1, (head.name,), f"part {head.part.name}")
        if head.zone in swing:
            yield Item("head", "swing joint", "", 1, (head.name,), "one for each head")


def _control_items(design: Design) -> Iterator[Item]:
    control = design.control
    if control is None:
        return
    size = f"{control.stations} stations" if control.stations is not None else ""
    if is_new(control.state):
        yield Item("control", "controller", size, 1, (control.name,))
    for sensor in (s for s in control.sensors if is_new(s.state)):
        yield Item("control", f"{sensor.kind} sensor", "", 1, (sensor.name,))
