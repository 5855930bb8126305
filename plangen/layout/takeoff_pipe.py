"""Takeoff of what is laid: pipe, risers, sleeves, dripline, wire, cement. Lengths are in plan."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from plangen.geometry.point import polygon_area
from plangen.layout.fittings import Fitting
from plangen.layout.flow_path import route_length_m
from plangen.layout.legs import is_new
from plangen.layout.materials import (
    PRIMER_SHARE,
    STICK_M,
    STICK_MATERIALS,
    joints_per_quart,
    material_of,
)
from plangen.layout.results import Crossing, TakeoffLine
from plangen.layout.tally import Item, measured
from plangen.layout.wire import Wiring
from plangen.model.design import Design
from plangen.model.pipe_table import family_label
from plangen.model.waterworks import Device, Pipe
from plangen.quantity.dimension import GALLON_M3, INCH_M, Dimension
from plangen.quantity.display import told

GROUND_NOTE = "plan length; slopes are not added"


def pipe_items(design: Design) -> Iterator[Item]:
    """Return every new pipe by material, use and size."""
    for pipe in design.pipes:
        if is_new(pipe.state):
            item = f"{family_label(pipe.size.family)} pipe, {pipe.role}"
            length = route_length_m(pipe)
            yield Item("pipe", item, pipe.nominal.written, length, (pipe.name,), GROUND_NOTE)


def riser_legs(design: Design) -> tuple[tuple[Device, Pipe, float], ...]:
    """Return the upright lengths at each assembly: from a pipe's top in the ground to the critical level."""
    found = []
    for device in design.devices_of("assembly"):
        for pipe in design.pipes:
            ends = {s.node for s in (*pipe.route[:1], *pipe.route[-1:])}
            if device.name not in ends or not is_new(pipe.state) or pipe.above_grade:
                continue
            if device.height is not None and pipe.cover is not None:
                found.append((device, pipe, max(0.0, device.height.si + pipe.cover.si)))
    return tuple(found)


def riser_items(design: Design) -> Iterator[Item]:
    """Return the upright pipe at each assembly."""
    for device, pipe, rise in riser_legs(design):
        if rise > 0:
            item = f"{family_label(pipe.size.family)} riser at assembly"
            note = "from the pipe's cover to the assembly's critical level"
            yield Item("pipe", item, pipe.nominal.written, rise, (device.name, pipe.name), note)


def sleeve_items(design: Design, crossings: Sequence[Crossing]) -> Iterator[Item]:
    """Return each sleeve: the length of its pipe under the paving and what it stands out on both sides."""
    for sleeve in design.sleeves:
        under = [c.length_m for c in crossings if c.sleeve == sleeve.name]
        extra = 2 * sleeve.extends.si * len(under) if sleeve.extends else 0.0
        note = "" if sleeve.extends else "how far it stands out is not stated: 0 taken"
        item = f"{family_label(sleeve.size.family)} sleeve"
        yield Item("sleeve", item, sleeve.size.nominal, sum(under) + extra, (sleeve.name,), note)


def drip_items(design: Design) -> Iterator[Item]:
    """Return dripline by part: bed area over row spacing."""
    for drip in design.drips:
        area = design.area(drip.area)
        if not is_new(drip.state) or area is None or drip.row_spacing.si <= 0:
            continue
        length = abs(polygon_area(area.outline)) / drip.row_spacing.si
        note = "bed area over row spacing; headers and staples are not counted"
        yield Item("drip", drip.part.label or drip.part.name, "", length, (drip.name,), note)


def wire_items(design: Design, wiring: Wiring | None) -> Iterator[Item]:
    """Return valve wire: one conductor for each valve, a common, and a spare if the design says so."""
    control = design.control
    if control is None or wiring is None:
        return
    system = design.project.units
    size = control.wire.split(",")[0].strip()
    note = "in the trenches of pipes where they run"
    off = max((r.off_m for r in wiring.runs if r.found), default=0.0)
    if off > 0:
        note += f", with {told(off, Dimension.LENGTH, system)} in a trench of its own from {control.name}"
    if wiring.paved:
        passed = ", ".join(f"{told(m, Dimension.LENGTH, system)} under {name}" for name, m in wiring.paved)
        note += f"; of it {passed}, sleeved or bored"
    lost = ", ".join(r.device for r in wiring.runs if not r.found)
    if lost:
        note += f"; to {lost} a straight line: measure the real way"
    sensors = {d.name for d in design.devices_of("flow-sensor")}
    valves = [r for r in wiring.runs if r.device not in sensors]
    for run in valves:
        yield Item("wire", "valve wire, one conductor", size, run.length_m, (run.device,), note)
    names = tuple(r.device for r in valves)
    if valves:
        yield Item("wire", "common wire", size, wiring.common_m, names, note)
    words = control.wire.lower()
    spares = 2 if "two spare" in words else 1 if "spare" in words else 0
    if valves and spares:
        yield Item("wire", "spare wire", size, spares * wiring.common_m, names, note)
    for run in wiring.runs:
        if run.device in sensors:
            yield Item("wire", "flow sensor cable", "", run.length_m, (run.device,), note)


def joining_lines(design: Design, fittings: Sequence[Fitting]) -> tuple[TakeoffLine, ...]:
    """Return solvent cement and primer from the count of cemented joints, fittings and belled lengths."""
    sizes: list[float] = [s for f in fittings if f.material in STICK_MATERIALS for s in f.sockets_m]
    names = {n for f in fittings if f.material in STICK_MATERIALS for n in f.at}
    for pipe in design.pipes:
        if is_new(pipe.state) and material_of(pipe.size.family) in STICK_MATERIALS:
            bells = max(0, math.ceil(route_length_m(pipe) / STICK_M - 1e-9) - 1)
            sizes.extend([pipe.nominal.si] * bells)
            names.add(pipe.name)
    if not sizes:
        return ()
    quarts = sum(1.0 / joints_per_quart(size / INCH_M) for size in sizes)
    unit, factor = ("gal", 1.0) if design.project.units == "us" else ("L", GALLON_M3 * 1000.0)
    note = f"{len(sizes)} joints by size; joints for each quart from memory of a trade table; buy whole cans"
    objects = tuple(sorted(names))
    lines = []
    for item, share in (("solvent cement", 1.0), ("primer", PRIMER_SHARE)):
        amount = round(quarts / 4 * factor * share, 6)
        lines.append(TakeoffLine("joining", item, "", amount, unit, amount, note, objects))
    return tuple(lines)


def measured_lines(
    design: Design, crossings: Sequence[Crossing], wiring: Wiring | None
) -> tuple[TakeoffLine, ...]:
    """Return everything bought by length."""
    system = design.project.units
    return (
        *measured((*pipe_items(design), *riser_items(design)), system),
        *measured(sleeve_items(design, crossings), system),
        *measured(drip_items(design), system),
        *measured(wire_items(design, wiring), system),
    )
