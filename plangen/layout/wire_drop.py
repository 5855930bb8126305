"""The voltage that valve wire takes: there on the valve's own conductor and back on the common.

Resistance of copper: resistivity 1.7241e-8 ohm m at 20 degrees Celsius, the International Annealed Copper
Standard (National Bureau of Standards, Copper Wire Tables); American wire gauge n has a diameter of
0.005 in x 92^((36 - n) / 39) (ASTM B258, from memory; the tables agree). Each valve is taken alone.
"""

from __future__ import annotations

import math
import re

from plangen.hydraulics.results import Input
from plangen.layout.inputs import stated
from plangen.layout.results import WireDrop
from plangen.layout.wire import measure_wire
from plangen.model.design import Design
from plangen.quantity.dimension import INCH_M

RESISTIVITY_OHM_M = 1.7241e-8
_GAUGE = re.compile(r"\b(\d{1,2})\s*AWG\b", re.IGNORECASE)
_SQUARE_MM = re.compile(r"\b(\d+(?:\.\d+)?)\s*mm2\b", re.IGNORECASE)


def wire_area_m2(words: str) -> float | None:
    """Return the copper of one conductor from its words (`18 AWG`, `0.8 mm2`), or None if no size is said."""
    gauge = _GAUGE.search(words)
    if gauge is not None:
        return gauge_area_m2(int(gauge[1]))
    square = _SQUARE_MM.search(words)
    return float(square[1]) * 1e-6 if square is not None else None


def gauge_area_m2(gauge: int) -> float:
    """Return the area of a solid conductor of an American wire gauge."""
    diameter = 0.005 * INCH_M * 92.0 ** ((36 - gauge) / 39.0)
    return math.pi / 4.0 * diameter**2


def resistance_ohm(length_m: float, area_m2: float) -> float:
    """Return the resistance of a length of copper conductor at 20 degrees Celsius."""
    return RESISTIVITY_OHM_M * length_m / area_m2


def measure_wire_drops(design: Design) -> tuple[WireDrop, ...]:
    """Return the drop to each wired valve; none where the controller's place is not a point."""
    wiring = measure_wire(design)
    control = design.control
    if wiring is None or control is None:
        return ()
    area = wire_area_m2(control.wire)
    found = []
    for run in wiring.runs:
        device = design.device(run.device)
        if device is not None and device.kind == "flow-sensor":
            continue  # a sensor's cable carries a signal, not the current of a coil
        part = device.part if device is not None else None
        current = part.current if part is not None else None
        inrush = part.inrush if part is not None else None
        missing = [] if area is not None else ["the size of the wire"]
        if current is None:
            missing.append(f"the current of {run.device} (`current` of its part)")
        drop = in_rush = None
        if area is not None:
            loop = resistance_ohm(2.0 * run.length_m, area)
            drop = loop * current.si if current is not None else None
            in_rush = loop * inrush.si if inrush is not None else None
        inputs: tuple[Input, ...] = stated(f"current of {run.device}", current)
        found.append(WireDrop(run.device, run.length_m, area, drop, in_rush, tuple(missing), inputs))
    return tuple(found)
