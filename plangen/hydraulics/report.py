"""The solved networks as plain data for `report.json`: SI, 9 significant digits, to be recomputed by others.

Every value is the one the solution stands on: an outlet is told by the law it follows at its pressure.
"""

from __future__ import annotations

import math

from plangen.hydraulics.network import Link, LinkResult, NodeResult, SourceNode
from plangen.hydraulics.outlets import law_of
from plangen.hydraulics.results import Budget, BudgetLine, CaseResult, Hydraulics, OutletResult

Json = dict[str, object]


def networks_json(hydraulics: Hydraulics) -> list[Json]:
    """Return one entry for each load case, in the form `report.json` promises."""
    return [_network(case) for case in hydraulics.cases]


def cases_json(hydraulics: Hydraulics) -> list[Json]:
    """Return each case with its outlets and budget in SI."""
    return [
        {
            "case": c.case,
            "zones": list(c.zones),
            "flow_m3s": nine(c.total_flow_m3s),
            "source_flow_m3s": nine(c.source_flow_m3s),
            "outlets": [_outlet(o) for o in c.outlets],
            "budget": None if c.budget is None else _budget(c.budget),
            "notes": list(c.notes),
        }
        for c in hydraulics.cases
    ]


def _outlet(outlet: OutletResult) -> Json:
    return {
        "name": outlet.name,
        "node": outlet.node,
        "pressure_m": nine(outlet.pressure_m),
        "flow_m3s": nine(outlet.flow_m3s),
    }


def nine(value: float) -> float:
    """Return a value rounded to 9 significant digits, without a minus zero."""
    return float(f"{value:.9g}") + 0.0


def _network(case: CaseResult) -> Json:
    solution = case.solution
    return {
        "case": case.case,
        "zones": list(case.zones),
        "sources": [_source(s) for s in solution.network.sources],
        "nodes": [_node(n) for n in solution.nodes],
        "links": [_link(r) for r in solution.links],
    }


def _source(source: SourceNode) -> Json:
    found: Json = {"node": source.node, "head_m": nine(source.head_m)}
    if source.curve_m3s_m:
        found["curve_m3s_m"] = [[nine(q), nine(h)] for q, h in source.curve_m3s_m]
    return found


def _node(result: NodeResult) -> Json:
    node = result.node
    found: Json = {
        "id": node.id,
        "elevation_m": nine(node.elevation_m),
        "head_m": nine(result.head_m),
        "demand_m3s": nine(node.demand_m3s),
        "outflow_m3s": nine(result.outflow_m3s),
    }
    if node.emitter is None:
        return found
    law, pressure = law_of(node.emitter), result.pressure_m
    if pressure < law.root_to_m and node.emitter.k_m3s_per_m05 is None:
        found["emitter"] = {"k_m3s_per_m05": nine(law.k)}
    elif node.emitter.k_m3s_per_m05 is not None:
        found["emitter"] = {"k_m3s_per_m05": nine(node.emitter.k_m3s_per_m05)}
    elif node.emitter.constant_m3s is not None:
        found["emitter"] = {"constant_m3s": nine(node.emitter.constant_m3s)}
    else:
        found["emitter"] = {"table_m_m3s": [[nine(p), nine(q)] for p, q in node.emitter.table_m_m3s]}
    if node.emitter.regulated_at_m is not None:
        found["regulated_at_m"] = nine(node.emitter.regulated_at_m)
    if pressure <= 0 or math.isclose(result.outflow_m3s, 0.0, abs_tol=1e-15):
        found["dry"] = True
    return found


def _link(result: LinkResult) -> Json:
    link = result.link
    found: Json = {"id": link.id, "from": link.start, "to": link.end, "kind": link.kind}
    found.update(_properties(link))
    found["state"] = result.state
    found["flow_m3s"] = nine(result.flow_m3s)
    found["headloss_m"] = nine(result.headloss_m)
    found["velocity_ms"] = nine(result.velocity_ms)
    return found


def _properties(link: Link) -> Json:
    found: Json = {}
    if link.kind == "pipe":
        found["length_m"] = nine(link.length_m)
    if link.diameter_m > 0:
        found["diameter_m"] = nine(link.diameter_m)
    if link.kind == "pipe":
        found["hazen_williams_c"] = nine(link.hazen_williams_c)
    if link.minor_k:
        found["minor_k"] = nine(link.minor_k)
    if link.curve_m3s_m:
        found["curve_m3s_m"] = [[nine(q), nine(h)] for q, h in link.curve_m3s_m]
    if link.setting_m is not None:
        found["setting_m"] = nine(link.setting_m)
    if link.one_way:
        found["one_way"] = True
    return found


def _budget(budget: Budget) -> Json:
    return {
        "source_node": budget.source_node,
        "source_pressure_m": nine(budget.source_pressure_m),
        "outlet": budget.outlet,
        "required_m": None if budget.required_m is None else nine(budget.required_m),
        "available_m": nine(budget.available_m),
        "spare_m": None if budget.spare_m is None else nine(budget.spare_m),
        "lines": [_line(line) for line in budget.lines],
    }


def _line(line: BudgetLine) -> Json:
    found: Json = {"id": line.id, "object": line.object, "description": line.description}
    found["nominal"] = line.nominal
    for name in ("flow_m3s", "bore_m", "length_m", "velocity_ms", "loss_m", "rise_m", "pressure_after_m"):
        value = getattr(line, name)
        found[name] = None if value is None else nine(value)
    found["fittings"] = line.fittings
    found["source"] = line.source
    return found
