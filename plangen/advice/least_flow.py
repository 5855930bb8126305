"""The least flow that a supply must be able to give at the design's own pressure, every required rule met.

A supply is told by two figures, as in a flow test of its main: the pressure with nothing running, and the
flow at which 20 psi are left. Between them the pressure falls with flow^1.852. The flow is halved between one
that meets and one that does not; at each the load cases are solved and the rules judged anew.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from plangen.advice.judged import Fault
from plangen.hydraulics.friction import Curve
from plangen.hydraulics.results import Hydraulics
from plangen.hydraulics.supply import Supply, falling_curve, flow_left_m3s
from plangen.packet.least_supply import CaseNeed, Governing, LeastFlow
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.quantity import to_si

# What a flow test is reckoned to leave in the main (NFPA 291, from memory).
LEFT_M = pressure_to_head_m(to_si(20.0, "psi"))
# How closely the flow is found, as a share of it: finer than a flow test of the trade is read.
TOLERANCE = 0.02
MOST_LOOKS = 9
# A main that may lose no more than this at a case's flow has no flow of its own to name.
_NO_LOSS_M = pressure_to_head_m(to_si(0.5, "psi"))
# The curve goes on past the flow that leaves 20 psi: a case may run lower and still meet.
_REACH = 1.5

Look = tuple[Hydraulics, tuple[Fault, ...]]
LookAt = Callable[[float, Curve], Look]


def least_flow(supply: Supply, from_m: float, needs: Sequence[CaseNeed], look: LookAt) -> LeastFlow:
    """Return the least flow of a supply that stands at `from_m` with nothing running.

    `needs` are flow and running pressure of each case at the least pressure: that they are given is enough,
    so they tell where to begin.
    """
    stated = _stated_m3s(supply)
    guess = enough_m3s(from_m, needs)
    if guess is None:
        words = "with so little to spare the main may lose no pressure at all on the way to the source"
        if from_m <= LEFT_M + _NO_LOSS_M:
            words = "the design counts on no more than 20 psi with nothing running"
        return LeastFlow(None, from_m, LEFT_M, missing=words, stated_m3s=stated)
    seen: dict[float, Look] = {}

    def meets(flow_m3s: float) -> bool:
        if flow_m3s not in seen:
            seen[flow_m3s] = look(from_m, falling_curve(from_m - LEFT_M, flow_m3s, _REACH))
        return not seen[flow_m3s][1]

    low, high = 0.0, guess
    while not meets(high):
        low, high = high, high * 1.5
        if len(seen) >= MOST_LOOKS:
            words = "no flow was found at which every rule meets while the pressure falls with it"
            return LeastFlow(None, from_m, LEFT_M, missing=words, stated_m3s=stated)
    probe = high * (1.0 - TOLERANCE)
    while high - low > TOLERANCE * high * (1 + 1e-9) and len(seen) < MOST_LOOKS:
        low, high = (low, probe) if meets(probe) else (probe, high)
        probe = (low + high) / 2.0 if low > 0.0 else high * 0.8
    return LeastFlow(
        flow_m3s=high,
        from_m=from_m,
        left_m=LEFT_M,
        tolerance_m3s=high - low,
        cases=needs_of(seen[high][0], supply),
        governing=() if low <= 0.0 else governing_of(seen[low][1]),
        tried=tuple((q, len(faults)) for q, (_, faults) in sorted(seen.items())),
        stated_m3s=stated,
    )


def enough_m3s(from_m: float, needs: Sequence[CaseNeed]) -> float | None:
    """Return a flow, 20 psi left, at which every case has its running pressure; None where none can be named.

    The main through flow Q at 20 psi left loses (from - left)(q / Q)^1.852 at a case's flow q, and may lose
    what the pressure with nothing running has over the case's running pressure.
    """
    if from_m <= LEFT_M + _NO_LOSS_M or not needs:
        return None
    losses = [(n.flow_m3s, from_m - n.running_m) for n in needs]
    if any(loss < _NO_LOSS_M for _, loss in losses):
        return None
    return max(flow_left_m3s(flow, loss, from_m - LEFT_M) for flow, loss in losses)


def _stated_m3s(supply: Supply) -> float | None:
    """Return the flow at 20 psi left by the residual test of the design, if it states one."""
    if not supply.curve or supply.static_m is None or supply.static_m <= LEFT_M:
        return None
    flow, drop = supply.curve[-1]
    return flow_left_m3s(flow, drop, supply.static_m - LEFT_M) if drop > 0.0 else None


def needs_of(water: Hydraulics, supply: Supply) -> tuple[CaseNeed, ...]:
    """Return what each case draws, and the pressure that stands at the source meanwhile."""
    return tuple(
        CaseNeed(c.case, c.source_flow_m3s, c.solution.node(supply.node).head_m - supply.ground_m)
        for c in water.cases
    )


def governing_of(faults: Sequence[Fault]) -> tuple[Governing, ...]:
    """Return what stops just below, what lacks most by its own measure first."""
    return tuple(
        Governing(f.rule.name, f.rule.title, f.subject, f.verdict.status.words)
        for f in sorted(faults, key=lambda f: (_lack(f), f.rule.name, f.subject))
    )


def _lack(fault: Fault) -> float:
    """Return how far a fault falls short, in parts of its limit; what is not measured comes last."""
    leaf = fault.verdict.leaf
    bound = leaf.bound if leaf is not None else None
    if bound is None or bound.margin_si is None or not bound.limit_si:
        return 0.0
    return bound.margin_si / abs(bound.limit_si)
