"""Go or no-go on the day, as plain data for the report. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.build.report_values import Facts, pressure_facts, quantity_facts
from plangen.packet.least_supply import CaseNeed, Governing, LeastFlow, LeastSupply
from plangen.quantity.dimension import Dimension


def least_facts(least: LeastSupply | None, units: str) -> Facts | None:
    """Return the least supply at which the required rules meet; None where it was not looked for."""
    if least is None:
        return None
    return {
        "pressure": pressure_facts(least.pressure_m, units),
        "tolerance": pressure_facts(least.tolerance_m, units),
        "gauge_at": least.gauge_at,
        "gauge": pressure_facts(least.gauge_m, units),
        "season": pressure_facts(least.season_m, units),
        "flow": quantity_facts(least.flow_m3s, Dimension.FLOW, units),
        "governing": _governing(least.governing),
        "cases": _cases(least.cases, units),
        "tried": [{"pressure": pressure_facts(p, units), "not_meeting": n} for p, n in least.tried],
        "rules": least.rules,
        "steady": least.steady,
        "missing": least.missing,
        "elsewhere": list(least.elsewhere),
        "least_flow": _flow_facts(least.least_flow, units),
    }


def _flow_facts(flow: LeastFlow | None, units: str) -> Facts | None:
    """Return the least flow of the supply at the design's pressure."""
    if flow is None:
        return None
    return {
        "flow": quantity_facts(flow.flow_m3s, Dimension.FLOW, units),
        "tolerance": quantity_facts(flow.tolerance_m3s, Dimension.FLOW, units),
        "from": pressure_facts(flow.from_m, units),
        "left": pressure_facts(flow.left_m, units),
        "stated": quantity_facts(flow.stated_m3s, Dimension.FLOW, units),
        "cases": _cases(flow.cases, units),
        "governing": _governing(flow.governing),
        "missing": flow.missing,
    }


def _cases(cases: Sequence[CaseNeed], units: str) -> list[Facts]:
    return [
        {
            "case": c.case,
            "flow": quantity_facts(c.flow_m3s, Dimension.FLOW, units),
            "running_pressure": pressure_facts(c.running_m, units),
        }
        for c in cases
    ]


def _governing(governing: Sequence[Governing]) -> list[Facts]:
    return [{"rule": g.rule, "subject": g.subject, "status": g.status.replace(" ", "_")} for g in governing]
