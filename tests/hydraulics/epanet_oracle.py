"""Solve a `Network` a second time with the public-domain network solver behind the package `owa-epanet`.

It shares nothing with plangen's solver. An outlet that is regulated, compensating or told by a table is
given in the form that solver knows for the stretch of its law the solution claims to stand on; the caller
compares pressures, so a wrong claim shows. It is known to be wrong on falling stretches of loss curves
(it returns the intercept of the stretch), which `falls` finds.
"""

from __future__ import annotations

import os
import warnings
from bisect import bisect_right
from dataclasses import dataclass

from epanet import toolkit as en

from plangen.hydraulics.network import Link, Network, Node, Solution
from plangen.hydraulics.outlets import law_of


@dataclass(frozen=True)
class Resolved:
    """Pressures in metres and outflows in m3/s by node, flows in m3/s by link."""

    pressure_m: dict[str, float]
    outflow_m3s: dict[str, float]
    flow_m3s: dict[str, float]


def falls(solution: Solution) -> bool:
    """Return whether a device stands on a falling stretch of its loss curve."""
    for result in solution.links:
        curve = result.link.curve_m3s_m
        if len(curve) > 1:
            at = bisect_right([q for q, _ in curve], abs(result.flow_m3s))
            i = min(max(at, 1), len(curve) - 1)
            if curve[i][1] < curve[i - 1][1]:
                return True
    return False


def resolve(network: Network, solution: Solution, accuracy: float = 1e-8, backflow: bool = False) -> Resolved:
    """Return the oracle's solution of a network."""
    project = en.createproject()
    try:
        en.init(project, os.devnull, "", en.LPS, en.HW)
        en.setoption(project, en.ACCURACY, accuracy)
        en.setoption(project, en.TRIALS, 500)
        en.setoption(project, en.EMITBACKFLOW, 1 if backflow else 0)
        _build(project, network, solution)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # negative pressures at dry outlets are announced as warnings
            en.openH(project)
            en.initH(project, en.NOSAVE)
            en.runH(project)
        found = _read(project, network, solution)
        en.closeH(project)
        return found
    finally:
        en.deleteproject(project)


def resolve_freely(network: Network) -> Resolved | None:
    """Return the oracle's solution of a network of plain nozzles, told no state; None if unbalanced."""
    project = en.createproject()
    try:
        en.init(project, os.devnull, "", en.LPS, en.HW)
        for option, value in ((en.ACCURACY, 1e-7), (en.TRIALS, 1000), (en.EMITBACKFLOW, 0)):
            en.setoption(project, option, value)
        for node in network.nodes:
            source = next((s for s in network.sources if s.node == node.id), None)
            if source is not None:
                _reservoir(project, node.id, source.head_m)
            else:
                en.setnodevalue(
                    project, en.addnode(project, node.id, en.JUNCTION), en.ELEVATION, node.elevation_m
                )
        for node in (n for n in network.nodes if n.id not in {s.node for s in network.sources}):
            i = en.getnodeindex(project, node.id)
            en.setnodevalue(project, i, en.BASEDEMAND, node.demand_m3s * 1e3)
            if node.emitter is not None and node.emitter.k_m3s_per_m05 is not None:
                en.setnodevalue(project, i, en.EMITTER, node.emitter.k_m3s_per_m05 * 1e3)
        for link in network.links:
            _add_free(project, link)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            en.openH(project)
            en.initH(project, en.NOSAVE)
            en.runH(project)
        balanced = en.getstatistic(project, en.RELATIVEERROR) <= 1e-6
        ids = {n.id: n.elevation_m for n in network.nodes}
        heads = {n: en.getnodevalue(project, en.getnodeindex(project, n), en.HEAD) for n in ids}
        flows = {
            k.id: en.getlinkvalue(project, en.getlinkindex(project, k.id), en.FLOW) / 1e3
            for k in network.links
        }
        en.closeH(project)
    except Exception:  # it reports an unbalanced network by raising a plain Exception
        return None
    finally:
        en.deleteproject(project)
    return Resolved({n: heads[n] - z for n, z in ids.items()}, {}, flows) if balanced else None


def _add_free(project: object, link: Link) -> None:
    if link.kind == "regulator":
        i = en.addlink(project, link.id, en.PRV, link.start, link.end)
        for what, value in (
            (en.DIAMETER, link.diameter_m * 1e3), (en.INITSETTING, link.setting_m),
            (en.MINORLOSS, link.minor_k),
        ):  # fmt: skip
            en.setlinkvalue(project, i, what, value)
    else:
        kind = en.CVPIPE if link.one_way else en.PIPE
        i = en.addlink(project, link.id, kind, link.start, link.end)
        bore_mm = link.diameter_m * 1e3
        en.setpipedata(project, i, link.length_m, bore_mm, link.hazen_williams_c, link.minor_k)


def _build(project: object, network: Network, solution: Solution) -> None:
    sources = {s.node: s for s in network.sources}
    pressures = {n.node.id: n.pressure_m for n in solution.nodes}
    states = {r.link.id: r.state for r in solution.links}
    for node in network.nodes:
        source = sources.get(node.id)
        if source is not None and not source.curve_m3s_m:
            _reservoir(project, node.id, source.head_m)
            continue
        i = en.addnode(project, node.id, en.JUNCTION)
        en.setnodevalue(project, i, en.ELEVATION, node.elevation_m)
        demand = node.demand_m3s
        if node.emitter is not None:
            demand += _outlet_demand(node, pressures[node.id])
        en.setnodevalue(project, i, en.BASEDEMAND, demand * 1e3)
    for node in network.nodes:
        source = sources.get(node.id)
        if source is not None and source.curve_m3s_m:
            _reservoir(project, f"{node.id}~", source.head_m)
            _curve_valve(project, f"{node.id}~", f"{node.id}~", node.id, source.curve_m3s_m)
        if node.emitter is not None:
            _outlet(project, node, pressures[node.id])
    for link in network.links:
        add_link(project, link, states[link.id])


def _reservoir(project: object, name: str, head_m: float) -> None:
    en.setnodevalue(project, en.addnode(project, name, en.RESERVOIR), en.ELEVATION, head_m)


def _stretch(node: Node, pressure: float) -> str:
    """Return on which stretch of its law an outlet stands: `root`, `flat` or `table`."""
    assert node.emitter is not None
    law = law_of(node.emitter)
    if pressure < law.root_to_m:
        return "root"
    return "table" if law.line(pressure)[1] > 0 else "flat"


def _outlet_demand(node: Node, pressure: float) -> float:
    assert node.emitter is not None
    return law_of(node.emitter).line(pressure)[0] if _stretch(node, pressure) == "flat" else 0.0


def _outlet(project: object, node: Node, pressure: float) -> None:
    assert node.emitter is not None
    stretch = _stretch(node, pressure)
    if stretch == "root":
        k_lps = law_of(node.emitter).k * 1e3
        en.setnodevalue(project, en.getnodeindex(project, node.id), en.EMITTER, k_lps)
    elif stretch == "table":
        # Flow against pressure, turned round, is the loss curve from the outlet to the open air.
        _reservoir(project, f"{node.id}~air", node.elevation_m)
        # The square root before the first point is given too: without it the first stretch starts below zero
        # and the oracle finds a second, backward answer.
        first_p, first_q = node.emitter.table_m_m3s[0]
        before = tuple((first_q * i / 8, first_p * (i / 8) ** 2) for i in range(8))
        curve = (*before, *((q, p) for p, q in node.emitter.table_m_m3s))
        _curve_valve(project, f"{node.id}~", node.id, f"{node.id}~air", curve)


def _curve_valve(
    project: object, name: str, start: str, end: str, curve: tuple[tuple[float, float], ...]
) -> None:
    index = _curve(project, name, curve)
    valve = en.addlink(project, name, en.GPV, start, end)
    en.setlinkvalue(project, valve, en.GPV_CURVE, index)


def _curve(project: object, name: str, curve: tuple[tuple[float, float], ...]) -> int:
    """Add a curve, metres against m3/s, and return its index; between points it is taken as straight."""
    en.addcurve(project, name)
    index: int = en.getcurveindex(project, name)
    x, y = en.doubleArray(len(curve)), en.doubleArray(len(curve))
    for i, (q, h) in enumerate(curve):
        x[i], y[i] = q * 1e3, h
    en.setcurve(project, index, x, y, len(curve))
    return index


def add_link(project: object, link: Link, state: str = "open") -> None:
    """Add a link in the form the other solver knows for its state."""
    if state == "closed":
        i = en.addlink(project, link.id, en.PIPE, link.start, link.end)
        en.setlinkvalue(project, i, en.INITSTATUS, 0)
    elif link.kind == "pipe":
        i = en.addlink(project, link.id, en.PIPE, link.start, link.end)
        bore_mm = link.diameter_m * 1e3
        en.setpipedata(project, i, link.length_m, bore_mm, link.hazen_williams_c, link.minor_k)
    elif state == "regulating":
        i = en.addlink(project, link.id, en.PRV, link.start, link.end)
        en.setlinkvalue(project, i, en.DIAMETER, 25.0)
        en.setlinkvalue(project, i, en.INITSETTING, link.setting_m)
    elif link.kind == "pump":
        i = en.addlink(project, link.id, en.PUMP, link.start, link.end)
        en.setlinkvalue(project, i, en.PUMP_HCURVE, _curve(project, link.id, link.curve_m3s_m))
    elif link.curve_m3s_m:
        _curve_valve(project, link.id, link.start, link.end, link.curve_m3s_m)
    else:
        i = en.addlink(project, link.id, en.TCV, link.start, link.end)
        en.setlinkvalue(project, i, en.DIAMETER, link.diameter_m * 1e3)
        en.setlinkvalue(project, i, en.INITSETTING, link.minor_k)


def _read(project: object, network: Network, solution: Solution) -> Resolved:
    pressures, outflows, flows = {}, {}, {}
    links = {r.link.id: r for r in solution.links}
    for node in network.nodes:
        i = en.getnodeindex(project, node.id)
        pressures[node.id] = en.getnodevalue(project, i, en.HEAD) - node.elevation_m
        if node.emitter is not None:
            table = f"{node.id}~"
            stretch = _stretch(node, solution.node(node.id).pressure_m)
            if stretch == "table":
                outflows[node.id] = en.getlinkvalue(project, en.getlinkindex(project, table), en.FLOW) / 1e3
            else:
                outflows[node.id] = en.getnodevalue(project, i, en.DEMAND) / 1e3 - node.demand_m3s
    for name in links:
        flows[name] = en.getlinkvalue(project, en.getlinkindex(project, name), en.FLOW) / 1e3
    return Resolved(pressures, outflows, flows)


def differences(solution: Solution, other: Resolved) -> list[str]:
    """Return every value outside the bounds: pressure 0.05 % or 0.005 m, flow 0.1 % or 1e-8 m3/s."""
    found = []
    for n in solution.nodes:
        theirs = other.pressure_m[n.node.id]
        if abs(n.pressure_m - theirs) > max(0.0005 * abs(theirs), 0.005):
            found.append(f"pressure at {n.node.id}: {n.pressure_m} m against {theirs} m")
        if n.node.id in other.outflow_m3s:
            found.extend(_flow(f"outflow at {n.node.id}", n.outflow_m3s, other.outflow_m3s[n.node.id]))
    for r in solution.links:
        found.extend(_flow(f"flow in {r.link.id}", r.flow_m3s, other.flow_m3s[r.link.id]))
    return found


def _flow(what: str, ours: float, theirs: float) -> list[str]:
    if abs(ours - theirs) <= max(0.001 * abs(theirs), 1e-8):
        return []
    return [f"{what}: {ours} m3/s against {theirs} m3/s"]
