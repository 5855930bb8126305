"""What opens and closes while a network is solved: check valves, regulators, outlets. Works on `Work`.

Each function looks at the heads and flows just computed and returns how many things changed their state.
"""

from __future__ import annotations

from math import sqrt

from plangen.hydraulics.network import CLOSED, OPEN, REGULATING
from plangen.hydraulics.work import DRY, LINE, ROOT, Outlet, Regulator, Work

_HEAD_SLACK_M = 1e-7
_FLOW_SLACK_M3S = 1e-10
# What a closed link passes on to the nodes it shuts in, so that their heads have a value.
_SEEP_M2S = 1e-10


def switch(work: Work) -> int:
    """Bring every check valve, regulator and outlet to the state its heads and flows ask for."""
    changed = sum(_regulate(work, r) for r in work.regulators)
    if True in work.one_way:
        changed += _check_valves(work)
    if changed:
        work.switched = any(now != OPEN for now in work.state)
    return changed + _outlets(work)


def anchor_islands(work: Work) -> None:
    """Let closed links seep into nodes that nothing else joins to a known head.

    An island takes the head before its closed link less the spring's; at rest nothing seeps.
    """
    group = list(range(len(work.head)))

    def root(node: int) -> int:
        while group[node] != node:
            group[node] = group[group[node]]
            node = group[node]
        return node

    for k, now in enumerate(work.state):
        if now == OPEN:
            group[root(work.starts[k])] = root(work.ends[k])
    known = {root(node) for node, fixed in enumerate(work.held) if fixed}
    springs = _springs(work)
    for k, now in enumerate(work.state):
        if now == CLOSED and not (root(work.starts[k]) in known and root(work.ends[k]) in known):
            work.conductance[k], work.offset[k] = _SEEP_M2S, -_SEEP_M2S * springs.get(k, 0.0)


def _springs(work: Work) -> dict[int, float]:
    return {c.link: c.spring_m for c in work.curved if c.spring_m > 0}


def _check_valves(work: Work) -> int:
    springs = _springs(work)
    regulated = {r.link for r in work.regulators}
    changed = 0
    for k, one_way in enumerate(work.one_way):
        if not one_way or k in regulated:
            continue
        drop = work.head[work.starts[k]] - work.head[work.ends[k]]
        if work.state[k] == OPEN and work.flow[k] < -_FLOW_SLACK_M3S:
            work.state[k], work.flow[k] = CLOSED, 0.0
            changed += 1
        elif work.state[k] == CLOSED and drop > springs.get(k, 0.0) + _HEAD_SLACK_M:
            work.state[k], work.flow[k] = OPEN, 1e-6
            changed += 1
    return changed


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
