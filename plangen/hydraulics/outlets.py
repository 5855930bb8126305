"""How much an outlet lets out at a pressure: one law for nozzles, tables, regulated bodies and drip.

Every law is the square root of the pressure up to a first point and straight lines between points after
it. A plain nozzle has no first point, a regulated one is flat behind it, a compensating emitter too.
Below zero pressure nothing comes out and nothing is drawn in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.hydraulics.friction import Curve, curve_value
from plangen.hydraulics.network import Emitter


@dataclass(frozen=True, slots=True)
class OutletLaw:
    """q = k sqrt(p) up to `root_to_m`, then along `points`; known up to `known_to_m`."""

    k: float
    root_to_m: float
    points: Curve
    known_to_m: float

    def flow_m3s(self, pressure_m: float) -> float:
        """Return the flow at a pressure head; beyond the last point the last stretch is carried on."""
        if pressure_m <= 0.0:
            return 0.0
        if pressure_m < self.root_to_m:
            return self.k * math.sqrt(pressure_m)
        return self.line(pressure_m)[0]

    def line(self, pressure_m: float) -> tuple[float, float]:
        """Return flow and slope at a pressure at or above the first point."""
        return curve_value(self.points, pressure_m)


def law_of(emitter: Emitter) -> OutletLaw:
    """Return the law of an emitter."""
    held = math.inf if emitter.regulated_at_m is None else emitter.regulated_at_m
    k = emitter.k_m3s_per_m05
    if k is not None:
        points = () if held == math.inf else ((held, k * math.sqrt(held)),)
        return OutletLaw(k, held, points, math.inf)
    if emitter.constant_m3s is not None:
        low = emitter.constant_from_m
        root = emitter.constant_m3s / math.sqrt(low) if low > 0 else math.inf
        high = math.inf if emitter.constant_to_m is None else emitter.constant_to_m
        return OutletLaw(root, low, ((low, emitter.constant_m3s),), high)
    return _table_law(emitter.table_m_m3s, held)


def _table_law(table: Curve, held: float) -> OutletLaw:
    first, flow = table[0]
    root = flow / math.sqrt(first) if first > 0 else math.inf
    if held <= first:
        return OutletLaw(root, held, ((held, root * math.sqrt(held)),), math.inf)
    if held <= table[-1][0]:
        kept = tuple(p for p in table if p[0] < held)
        at_set = curve_value(table, held)[0]
        # Two points at one flow make the stretch behind the set pressure flat.
        return OutletLaw(root, first, (*kept, (held, at_set), (held + 1.0, at_set)), math.inf)
    return OutletLaw(root, first, table, table[-1][0])
