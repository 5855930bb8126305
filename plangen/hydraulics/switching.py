"""What opens and closes while a network is solved: check valves, regulators, outlets. Works on `Work`.

Each function looks at the heads and flows just computed and returns how many things changed their state.
"""

from __future__ import annotations

from math import sqrt

from plangen.hydraulics.network import CLOSED, OPEN, REGULATING
from plangen.hydraulics.work import DRY, LINE, ROOT, Outlet, Regulator, Work

_HEAD_SLACK_M = 1e-7
_FLOW_SLACK_M3S = 1e-10


def switch(work: Work, *, patient: bool = False, due: bool = False) -> int:
    """Bring every check valve, regulator and outlet to the state its heads and flows ask for.

    Several that change at once can send each other to and fro for ever. `patient` lets the first that asks
    change alone, and only when it is `due`.
    """
    changed = 0
    if not patient or due:
        regulators = {r.link: r for r in work.regulators}
        for k in sorted({*regulators, *(k for k, one_way in enumerate(work.one_way) if one_way)}):
            changed += _regulate(work, regulators[k]) if k in regulators else _check_valve(work, k)
            if changed and patient:
                break
    if changed:
        work.switched = any(now != OPEN for now in work.state)
    return changed + _outlets(work)


def _check_valve(work: Work, k: int) -> int:
    drop = work.head[work.starts[k]] - work.head[work.ends[k]]
    if work.state[k] == OPEN and work.flow[k] < -_FLOW_SLACK_M3S:
        work.state[k], work.flow[k] = CLOSED, 0.0
        return 1
    if work.state[k] == CLOSED and drop > work.springs.get(k, 0.0) + _HEAD_SLACK_M:
        work.state[k], work.flow[k] = OPEN, 1e-6
        return 1
    return 0


def _regulate(work: Work, regulator: Regulator) -> int:
    """Move one regulator between open, regulating and closed; regulating holds the head of its far node."""
    k, level = regulator.link, regulator.set_head_m
    before, after = work.head[work.starts[k]], work.head[work.ends[k]]
    now, flow = work.state[k], work.flow[k]
    new = now
    if now == REGULATING:
        if flow < -_FLOW_SLACK_M3S:
            new = CLOSED
        elif before - work.loss[k] < level - _HEAD_SLACK_M:
            new = OPEN
    elif now == OPEN:
        if flow < -_FLOW_SLACK_M3S:
            new = CLOSED
        elif after > level + _HEAD_SLACK_M:
            new = REGULATING
    elif after < min(before, level) - _HEAD_SLACK_M:
        new = OPEN
    if new == now:
        return 0
    work.state[k] = new
    work.held[work.ends[k]] = new == REGULATING
    if new == REGULATING:
        work.head[work.ends[k]] = level
    work.flow[k] = 0.0 if new == CLOSED else max(flow, 1e-6)
    return 1


def _outlets(work: Work) -> int:
    head, changed = work.head, 0
    for outlet in work.outlets:
        pressure = head[outlet.node] - outlet.elevation_m
        if outlet.part == ROOT:
            top = outlet.law.root_to_m
            if outlet.flow <= 0.0:
                outlet.part, outlet.flow = DRY, 0.0
                changed += 1
            elif top < pressure and outlet.flow > outlet.law.k * sqrt(top):
                outlet.part = LINE
                changed += 1
        elif outlet.part == LINE:
            changed += _leave_line(outlet, pressure)
        elif pressure > _HEAD_SLACK_M:
            outlet.part = ROOT if outlet.law.root_to_m > 0 else LINE
            outlet.flow = outlet.law.flow_m3s(min(pressure, outlet.law.root_to_m))
            changed += 1
    return changed


def _leave_line(outlet: Outlet, pressure: float) -> int:
    law = outlet.law
    if pressure >= law.root_to_m - _HEAD_SLACK_M:
        return 0
    if law.root_to_m <= 0.0:
        outlet.part, outlet.flow = DRY, 0.0
        return 1
    # A start well inside the stretch: at zero pressure the square root has no slope to follow.
    outlet.part, outlet.flow = ROOT, law.k * sqrt(max(pressure, 0.01 * law.root_to_m))
    return 1
