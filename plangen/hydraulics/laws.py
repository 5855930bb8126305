"""From data sheets to laws: what an outlet lets out, what a device loses.

A value that is not given is told by name, never guessed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from plangen.geometry.point import polygon_area
from plangen.hydraulics.fittings import fitting_table
from plangen.hydraulics.friction import Curve
from plangen.hydraulics.network import Emitter, Link
from plangen.hydraulics.wiring import Bridge
from plangen.model.design import Design
from plangen.model.parts import CurvePoint, Part
from plangen.model.waterworks import Device, DripArea, Head
from plangen.quantity.dimension import pressure_to_head_m

# A pipe that ends in the open loses all its velocity head (pipe exit, K 1.0: Crane TP 410, from memory).
EXIT_K = 1.0


@dataclass(frozen=True, slots=True)
class Missing:
    """Why a law cannot be stated: a failure code and words."""

    code: str
    message: str


def outlet_law(outlet: Head | DripArea, design: Design) -> Emitter | Missing:
    """Return the law of a head or of a whole drip area."""
    if isinstance(outlet, Head):
        return _head_law(outlet.part, outlet.name)
    count = emitter_count(outlet, design)
    return count if isinstance(count, Missing) else _drip_law(outlet.part, outlet.name, count)


def emitter_count(drip: DripArea, design: Design) -> int | Missing:
    """Return the number of emitters: the area's ground over emitter spacing times row spacing, rounded up."""
    area = design.area(drip.area)
    spacing = drip.part.emitter_spacing
    if area is None:
        return Missing("area-missing", f"{drip.name} covers {drip.area}, which has no outline")
    if spacing is None:
        return Missing("flow-law-missing", f"the emitter spacing of {drip.part.name} is not given")
    ground = abs(polygon_area(area.outline))
    return math.ceil(round(ground / (spacing.si * drip.row_spacing.si), 6))


def _head_law(part: Part, name: str) -> Emitter | Missing:
    held = pressure_to_head_m(part.regulated.si) if part.regulated else None
    if part.flow_table:
        table = _points(part.flow_table, pressure_first=True)
        if table is None:
            return _two_values(part)
        return Emitter(table_m_m3s=table, regulated_at_m=held)
    if part.compensating:
        return _constant(part, name, 1)
    if part.flow is None or part.flow_at is None or part.flow_at.si <= 0:
        message = f"the flow of {part.name} at a pressure is not given, so that of {name} is not known"
        return Missing("flow-law-missing", message)
    return Emitter(part.flow.si / math.sqrt(pressure_to_head_m(part.flow_at.si)), regulated_at_m=held)


def _drip_law(part: Part, name: str, count: int) -> Emitter | Missing:
    if part.compensating:
        return _constant(part, name, count)
    single = _head_law(part, name)
    if isinstance(single, Missing):
        return single
    if single.k_m3s_per_m05 is not None:
        return Emitter(single.k_m3s_per_m05 * count, regulated_at_m=single.regulated_at_m)
    table = tuple((p, q * count) for p, q in single.table_m_m3s)
    return Emitter(table_m_m3s=table, regulated_at_m=single.regulated_at_m)


def _constant(part: Part, name: str, count: int) -> Emitter | Missing:
    if part.flow is None or part.pressure_low is None:
        what = "flow" if part.flow is None else "pressure range"
        message = f"the {what} of {part.name} is not given, so the flow of {name} is not known"
        return Missing("flow-law-missing", message)
    high = pressure_to_head_m(part.pressure_high.si) if part.pressure_high else None
    low = pressure_to_head_m(part.pressure_low.si)
    return Emitter(constant_m3s=part.flow.si * count, constant_from_m=low, constant_to_m=high)


def device_link(bridge: Bridge, bore_m: float) -> Link | Missing:
    """Return the link of a device; `bore_m` is that of the pipe at it, for a device that states no size."""
    device, part = bridge.device, bridge.device.part
    if device.kind == "assembly" and device.assembly_kind == "air-gap":
        return _air_gap(bridge, bore_m)
    size = device.size or (part.size if part else None)
    diameter = size.si if size is not None else bore_m
    one_way = device.kind == "assembly" or (part is not None and part.check_valve)
    kind = {"regulator": "regulator", "pump": "pump"}.get(device.kind, "device")
    setting = None
    if kind == "regulator":
        if device.setting is None:
            return Missing("setting-missing", f"the pressure that {device.name} holds is not given")
        setting = pressure_to_head_m(device.setting.si)
    base = Link(device.name, bridge.start, bridge.end, kind, device.name, diameter_m=diameter,
                setting_m=setting, one_way=one_way)  # fmt: skip
    return _with_loss(base, device, part)


def _air_gap(bridge: Bridge, bore_m: float) -> Link:
    """Return the link of an air gap: whatever pressure comes to it ends there.

    What it takes to fill the tank counts upstream only: the loss its part states, else the velocity head
    that is lost where a pipe ends in the open.
    """
    device, part = bridge.device, bridge.device.part
    size = device.size or (part.size if part else None)
    base = Link(
        device.name, bridge.start, bridge.end, "regulator", device.name,
        diameter_m=size.si if size is not None else bore_m, minor_k=EXIT_K, setting_m=0.0, one_way=True,
        free_surface=True, loss_source="water falls free: no pressure passes an air gap",
    )  # fmt: skip
    if part is None or not (part.loss_curve or part.minor_k):
        return base
    told = _with_loss(base, device, part)
    return base if isinstance(told, Missing) else replace(told, loss_source=base.loss_source)


def _with_loss(base: Link, device: Device, part: Part | None) -> Link | Missing:
    pump = base.kind == "pump"
    told = () if part is None else part.gain_curve if pump else part.loss_curve
    if part is not None and told:
        curve = _points(told, pressure_first=False)
        if curve is None:
            return _two_values(part)
        # A curve stands for the whole device: no bore, so no velocity is told for it.
        words = f"{'gain' if pump else 'loss'} curve, {part.provenance.told()}"
        return replace(base, curve_m3s_m=curve, diameter_m=0.0, loss_source=words)
    if part is not None and part.minor_k is not None and not pump:
        source = f"K {part.minor_k.si:g} on its size, {part.provenance.told()}"
        return replace(base, minor_k=part.minor_k.si, loss_source=source)
    if part is None and device.kind == "isolation":
        row = fitting_table()["valve"]
        return replace(base, minor_k=row.k, loss_source=f"K {row.k:g} assumed, {row.source}")
    what = "gain of pressure" if pump else "loss"
    return Missing("flow-law-missing", f"no {what} is given for {device.name}")


def _points(points: tuple[CurvePoint, ...], *, pressure_first: bool) -> Curve | None:
    """Return a curve in metres and m3/s in rising order, or None if one place has two values."""
    if pressure_first:
        found = sorted((pressure_to_head_m(p.at.si), p.value.si) for p in points)
    else:
        found = sorted((p.at.si, pressure_to_head_m(p.value.si)) for p in points)
    return tuple(found) if len({x for x, _ in found}) == len(found) else None


def _two_values(part: Part) -> Missing:
    return Missing("flow-law-missing", f"the curve of {part.name} has two values at one place")
