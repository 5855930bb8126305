"""From a solution to what its outlets do, and which of them is the worst. Solves nothing."""

from __future__ import annotations

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.budget import held_back_to
from plangen.hydraulics.network import Solution
from plangen.hydraulics.results import OutletResult
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.quantity import Quantity


def outlet_results(ready: Assembly, solution: Solution) -> tuple[OutletResult, ...]:
    """Return the outlets of a solution in the order of its nodes; nodes not of the design are left out."""
    tapped = ready.wiring.tappings
    running = [n for n in solution.nodes if n.node.emitter is not None and n.node.id in tapped]
    held = held_back_to(solution, ready.supply.node, [n.node.id for n in running])
    found = []
    for n in running:
        outlet = tapped[n.node.id].outlet
        low, high = head_of(outlet.part.pressure_low), head_of(outlet.part.pressure_high)
        taken = held.get(n.node.id, 0.0)
        found.append(OutletResult(outlet.name, n.node.id, n.pressure_m, n.outflow_m3s, low, high, taken))
    return tuple(found)


def head_of(pressure: Quantity | None) -> float | None:
    """Return a stated pressure as metres of water."""
    return None if pressure is None else pressure_to_head_m(pressure.si)


def worst_outlet(outlets: tuple[OutletResult, ...]) -> OutletResult | None:
    """Return the outlet with the least spare over its need; those whose need is not known come last."""
    return min(outlets, key=_spare_order, default=None)


def _spare_order(outlet: OutletResult) -> tuple[bool, float, str]:
    spare = outlet.spare_m
    return spare is None, outlet.pressure_m if spare is None else spare, outlet.node
