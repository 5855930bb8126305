"""The stated values behind each element of a network at its operating point: a pipe, a device, an outlet.

A curve is known by the two points about the flow, a regulated nozzle by its setting: what lies elsewhere on
a data sheet moves nothing here. Names no value that does not move the element's loss or flow.
"""

from __future__ import annotations

from bisect import bisect_right

from plangen.hydraulics.fittings import fitting_table
from plangen.hydraulics.junctions import upright
from plangen.hydraulics.network import CLOSED, REGULATING, Link, LinkResult
from plangen.hydraulics.temperature import METAL_C, temperature_factor
from plangen.hydraulics.wiring import Bridge, Leg, Place, Tapping, Wiring
from plangen.model.design import Design
from plangen.model.parts import CurvePoint, Part, PipeSize
from plangen.model.waterworks import Device, DripArea, Head, Pipe
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.evidence import Input, named, together
from plangen.quantity.quantity import Basis, Provenance, Quantity

# Flows below this lose nothing to speak of: what shapes the loss does not matter.
IDLE_M3S = 1e-11
_SAME_M = 1e-9
WARMEST = "highest temperature"
# Tap water that stands in pipe on hot ground gets no warmer (common practice, no source).
_HOT_C = METAL_C


def bore_inputs(pipe: Pipe) -> tuple[Input, ...]:
    """Return what a pipe's bore rests on: the size written, and the row of the pipe table."""
    size = pipe.size
    row = Input(f"pipe {size.family} {size.nominal}", f"bore {size.bore_m * 1000:.2f} mm", size.provenance)
    return named(pipe.nominal, f"size of {pipe.name}"), row


def roughness_input(size: PipeSize) -> Input:
    """Return the Hazen-Williams C of a pipe's family as an input of its own, with its own source."""
    return Input(f"Hazen-Williams C of {size.family}", f"{size.hazen_williams_c:g}", size.c_provenance)


def stiffness_input(size: PipeSize) -> Input:
    """Return the modulus of a pipe's wall as an input: a surge rests on it."""
    words = f"{(size.modulus_pa or 0.0) / 1e9:g} GPa"
    return Input(f"modulus of {size.family}", words, size.modulus_provenance)


def fittings_input() -> Input:
    """Return the table of fittings as one input; a row from anything but a standard makes it typical."""
    rows = fitting_table().values()
    words = ", ".join(f"{r.label} K {r.k:g}" for r in rows)
    sources = "; ".join(dict.fromkeys(r.source.split(":")[0] for r in rows))
    standard = all(r.basis == Basis.STANDARD.value for r in rows)
    return Input("fittings", words, Provenance(Basis.STANDARD if standard else Basis.TYPICAL, None, sources))


def leg_inputs(leg: Leg, wiring: Wiring, *, fittings: bool) -> tuple[Input, ...]:
    """Return what the loss of a leg rests on; its cover only where it rises to a device.

    A level pipe loses the same at any depth, and a depth between two others moves no pressure at an outlet.
    """
    pipe = leg.pipe
    found = [*bore_inputs(pipe), roughness_input(pipe.size)]
    if fittings:
        found.append(fittings_input())
    return tuple(dict.fromkeys((*found, *upright_inputs(leg, wiring))))


def upright_inputs(leg: Leg, wiring: Wiring) -> tuple[Input, ...]:
    """Return what the upright pieces at the ends of a leg rest on: its cover and the heights of devices."""
    found: list[Input] = []
    for node in (leg.start, leg.end):
        device, ends = wiring.places[node].device, upright(wiring, leg, node)
        if device is not None and ends is not None:
            found += [named(ends[0], f"cover of {leg.pipe.name}"), height_input(device, ends[1])]
    return tuple(found)


def height_input(device: Device, height: Quantity) -> Input:
    """Return the height of a device above grade as an input."""
    return named(height, f"height of {device.name}")


def house_inputs(design: Design) -> tuple[Input, ...]:
    """Return what the house draws meanwhile, where one is drawn that says so: else no case is solved."""
    house = design.house
    if house is None or house.demand is None:
        return ()
    return (named(house.demand, f"house demand at {house.name}"),)


def warmth_inputs(design: Design, size: PipeSize) -> tuple[Input, ...]:
    """Return the temperature that a pipe's rating is taken at, where warmth may lower it at all.

    A rating is tabled for 73 F; that nothing gets warmer is an assumption where no one says how warm.
    """
    source = design.source
    if source is None or source.temperature is None:
        span = source.span if source is not None else design.project.span
        taken = Input(WARMEST, "none stated, taken as 73 degF", Provenance(Basis.ASSUMED), span)
        return (taken,) if temperature_factor(size, _HOT_C) != 1.0 else ()
    lowered = temperature_factor(size, source.temperature.si) != 1.0
    return (named(source.temperature, WARMEST),) if lowered else ()


def joint_inputs(tapping: Tapping) -> tuple[Input, ...]:
    """Return what the loss of the fitting under an outlet rests on."""
    return (*bore_inputs(tapping.pipe), fittings_input())


def bridge_inputs(bridge: Bridge, link: Link, result: LinkResult, wiring: Wiring) -> tuple[Input, ...]:
    """Return what a device does to the water rests on: its setting at work, else its loss."""
    if result.state == CLOSED:
        return ()
    if result.state == REGULATING:
        return setting_inputs(bridge.device)
    return loss_inputs(bridge, link, abs(result.flow_m3s), wiring)


def setting_inputs(device: Device) -> tuple[Input, ...]:
    """Return the pressure that a regulator holds."""
    return () if device.setting is None else (named(device.setting, f"setting of {device.name}"),)


def loss_inputs(bridge: Bridge, link: Link, flow_m3s: float, wiring: Wiring) -> tuple[Input, ...]:
    """Return what the loss of an open device rests on at a flow."""
    device, part = bridge.device, bridge.device.part
    if part is not None and link.curve_m3s_m:
        points = part.gain_curve if link.kind == "pump" else part.loss_curve
        what = "gain" if link.kind == "pump" else "loss"
        return (_bracket(f"{what} of {part.name}", points, flow_m3s, by_pressure=False),)
    if flow_m3s < IDLE_M3S:
        return ()
    return (*_minor_k(device, part), *_bore_of(bridge, wiring))


def _minor_k(device: Device, part: Part | None) -> tuple[Input, ...]:
    if part is not None and part.minor_k is not None:
        return (named(part.minor_k, f"K of {part.name}"),)
    row = fitting_table()["valve"]
    assumed = Provenance(Basis.ASSUMED, None, row.source)
    return (Input(f"loss of {device.name}", f"K {row.k:g}, {row.label}", assumed, device.span),)


def _bore_of(bridge: Bridge, wiring: Wiring) -> tuple[Input, ...]:
    """Return the bore that a K refers to: the size stated, else that of the pipe at it."""
    device = bridge.device
    if device.size is not None:
        return (named(device.size, f"size of {device.name}"),)
    if device.part is not None and device.part.size is not None:
        return (named(device.part.size, f"size of {device.part.name}"),)
    pipes = (p for node in (bridge.start, bridge.end) for p in wiring.places[node].pipes)
    return next((bore_inputs(p) for p in pipes), ())


def outlet_inputs(tapping: Tapping, pressure_m: float) -> tuple[tuple[Input, ...], bool]:
    """Return what an outlet's flow rests on at a pressure, and whether it changes with the pressure."""
    part = tapping.outlet.part
    if pressure_m <= 0.0:
        return (), False
    found, moves = _law_inputs(part, pressure_m)
    outlet = tapping.outlet
    if isinstance(outlet, DripArea):
        found = (*found, named(outlet.row_spacing, f"row spacing of {outlet.name}"))
        if part.emitter_spacing is not None:
            found = (*found, named(part.emitter_spacing, f"emitter spacing of {part.name}"))
    return found, moves


def _law_inputs(part: Part, pressure_m: float) -> tuple[tuple[Input, ...], bool]:
    held = pressure_to_head_m(part.regulated.si) if part.regulated else None
    if part.flow_table:
        return _table_inputs(part, pressure_m, held)
    if part.compensating:
        low = pressure_to_head_m(part.pressure_low.si) if part.pressure_low else 0.0
        constant = _flow_input(part)
        if pressure_m >= low or part.pressure_low is None:
            return constant, False
        return (*constant, named(part.pressure_low, f"least pressure of {part.name}")), True
    if held is not None and pressure_m >= held and part.regulated is not None:
        return (*_flow_input(part), named(part.regulated, f"regulated pressure of {part.name}")), False
    return _flow_input(part), True


def _flow_input(part: Part) -> tuple[Input, ...]:
    if part.flow is None:
        return ()
    if part.flow_at is None or part.compensating:
        return (named(part.flow, f"flow of {part.name}"),)
    written = f"{part.flow.written} at {part.flow_at.written}"
    return (together(f"flow of {part.name}", written, part.flow, part.flow_at),)


def _table_inputs(part: Part, pressure_m: float, held: float | None) -> tuple[tuple[Input, ...], bool]:
    name = f"flow of {part.name}"
    points = sorted(part.flow_table, key=lambda p: p.at.si)
    first = pressure_to_head_m(points[0].at.si)
    at_work = held is not None and held <= pressure_to_head_m(points[-1].at.si) and pressure_m >= held
    reached = held if at_work and held is not None else pressure_m
    if reached < first:
        found: tuple[Input, ...] = (_points_input(name, points[:1]),)
        moves = True
    else:
        found = (_bracket(name, part.flow_table, reached, by_pressure=True),)
        moves = _rises(points, reached)
    if at_work and part.regulated is not None:
        return (*found, named(part.regulated, f"regulated pressure of {part.name}")), False
    return found, moves


def _rises(points: list[CurvePoint], pressure_m: float) -> bool:
    pair = _about([(pressure_to_head_m(p.at.si), p) for p in points], pressure_m)
    return pair[0].value.si != pair[-1].value.si


def _bracket(name: str, points: tuple[CurvePoint, ...], x: float, *, by_pressure: bool) -> Input:
    """Return the points about an operating point as one input."""
    at = [(pressure_to_head_m(p.at.si) if by_pressure else p.at.si, p) for p in points]
    return _points_input(name, _about(sorted(at, key=lambda a: a[0]), x))


def _about(points: list[tuple[float, CurvePoint]], x: float) -> list[CurvePoint]:
    if len(points) == 1:
        return [points[0][1]]
    i = min(max(bisect_right([at for at, _ in points], x) - 1, 0), len(points) - 2)
    low, high = points[i], points[i + 1]
    if abs(low[0] - x) <= _SAME_M * abs(x):
        return [low[1]]
    return [low[1], high[1]]


def _points_input(name: str, points: list[CurvePoint]) -> Input:
    written = " to ".join(f"{p.value.written} at {p.at.written}" for p in points)
    return together(name, written, *(q for p in points for q in (p.value, p.at)))


def elevation_inputs(place: Place, wiring: Wiring, design: Design) -> tuple[Input, ...]:
    """Return what the height of a node over or under the ground rests on; the ground itself is apart."""
    tapping = wiring.tappings.get(place.id)
    if tapping is not None:
        outlet = tapping.outlet
        riser = outlet.riser if isinstance(outlet, Head) else None
        return () if riser is None else (named(riser, f"riser of {outlet.name}"),)
    if place.device is not None and place.device.height is not None:
        return (height_input(place.device, place.device.height),)
    source = design.source
    if source is not None and place.id == source.name and source.depth is not None:
        return (named(source.depth, f"depth of {source.name}"),)
    covers = [(p.cover, p.name) for p in wiring.pipes_at(place) if p.cover is not None and not p.above_grade]
    deepest = max((cover.si for cover, _ in covers), default=0.0)
    return tuple(named(c, f"cover of {name}") for c, name in covers if c.si >= deepest - _SAME_M)
