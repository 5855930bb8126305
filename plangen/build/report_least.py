"""Go or no-go on the day, as plain data for the report. Pure."""

from __future__ import annotations

from plangen.build.report_values import Facts, pressure_facts, quantity_facts
from plangen.packet.least_supply import LeastSupply
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
        "governing": [
            {"rule": g.rule, "subject": g.subject, "status": g.status.replace(" ", "_")}
            for g in least.governing
        ],
        "cases": [
            {
                "case": c.case,
                "flow": quantity_facts(c.flow_m3s, Dimension.FLOW, units),
                "running_pressure": pressure_facts(c.running_m, units),
            }
            for c in least.cases
        ],
        "tried": [{"pressure": pressure_facts(p, units), "not_meeting": n} for p, n in least.tried],
        "rules": least.rules,
        "steady": least.steady,
        "missing": least.missing,
        "elsewhere": list(least.elsewhere),
    }
