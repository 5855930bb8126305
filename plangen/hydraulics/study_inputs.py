"""The stated values that the studies rest on beside those of the cases: needs, ratings, times, settings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.element_inputs import loss_inputs, outlet_inputs
from plangen.hydraulics.network import Link, Solution
from plangen.hydraulics.studies import Break, Relief, WhatIf
from plangen.quantity.evidence import Input, named
from plangen.quantity.quantity import Quantity


def study_inputs(
    ready: Assembly, asked: Sequence[WhatIf], reliefs: Sequence[Relief], breaks: Sequence[Break]
) -> tuple[Input, ...]:
    """Return them, each once, in the order of the design."""
    found = [named(quantity, name) for name, quantity in _stated(ready) if quantity is not None]
    found += [i for w in asked for i in w.inputs]
    found += [i for r in reliefs for i in r.inputs]
    found += [i for b in breaks for i in b.inputs]
    return tuple(dict.fromkeys(found))


def _stated(ready: Assembly) -> Iterator[tuple[str, Quantity | None]]:
    """Yield what is read of parts and devices: least pressures, capacities, closing times, trips, drains."""
    for tapping in ready.wiring.tappings.values():
        part = tapping.outlet.part
        yield f"least pressure of {part.name}", part.pressure_low
    for device in ready.design.devices:
        if device.state == "removed":
            continue
        if device.part is not None and device.kind == "meter":
            yield f"flow range of {device.part.name}", device.part.flow_high
        if device.part is not None and device.kind == "valve":
            yield f"closing time of {device.part.name}", device.part.closing_time
        if device.kind == "flow-sensor":
            yield f"trip of {device.name}", device.trip
        if device.kind == "assembly" and device.assembly_kind == "rp":
            if device.part is not None:
                yield f"relief pressure of {device.part.name}", device.part.relief_at
            yield f"drain slope of {device.name}", device.drain_slope


def curve_inputs(ready: Assembly, solved: Solution) -> tuple[Input, ...]:
    """Return the points of loss curves and of outlets' tables that another solution stands between."""
    found: list[Input] = []
    for result in solved.links:
        bridge, link = ready.wiring.bridges.get(result.link.id), ready.links.get(result.link.id)
        if bridge is not None and isinstance(link, Link) and link.curve_m3s_m:
            found += loss_inputs(bridge, link, abs(result.flow_m3s), ready.wiring)
    for at in solved.nodes:
        tapping = ready.wiring.tappings.get(at.node.id)
        if tapping is not None and at.node.emitter is not None:
            found += outlet_inputs(tapping, at.pressure_m)[0]
    return tuple(found)
