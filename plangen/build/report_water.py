"""The solved water as plain data: cases with their budgets, failures, and the networks in SI. Pure."""

from __future__ import annotations

from plangen.build.report_studies import studies_facts
from plangen.build.report_values import Facts, pressure_facts, quantity_facts
from plangen.hydraulics.report import networks_json
from plangen.hydraulics.results import Budget, BudgetLine, CaseResult, Hydraulics, OutletResult, PipeCheck
from plangen.quantity.dimension import Dimension


def water_facts(hydraulics: Hydraulics, units: str) -> Facts:
    """Return all of it. `networks` follows the published form, so that another solver can recompute it."""
    return {
        "design_pressure": pressure_facts(hydraulics.design_pressure_m, units),
        "static_pressure": pressure_facts(hydraulics.static_pressure_m, units),
        "pressure_basis": hydraulics.pressure_basis,
        "worst_case": hydraulics.worst,
        "cases": [_case(c, units) for c in hydraulics.cases],
        "failures": [
            {"case": f.case, "code": f.code, "message": f.message, "objects": list(f.objects)}
            for f in hydraulics.failures
        ],
        "pipes": [_pipe(p, units) for p in hydraulics.pipes],
        "notes": list(hydraulics.notes),
        "studies": studies_facts(hydraulics.studies, units),
        "networks": networks_json(hydraulics),
    }


def _case(case: CaseResult, units: str) -> Facts:
    worst = case.budget.outlet if case.budget else None
    return {
        "case": case.case,
        "zones": list(case.zones),
        "flow": quantity_facts(case.total_flow_m3s, Dimension.FLOW, units),
        "source_flow": quantity_facts(case.source_flow_m3s, Dimension.FLOW, units),
        "worst_outlet": worst,
        "budget": _budget(case.budget, units) if case.budget else None,
        "outlets": [_outlet(o, units) for o in case.outlets],
        "notes": list(case.notes),
        "iterations": case.solution.iterations,
    }


def _budget(budget: Budget, units: str) -> Facts:
    return {
        "source_node": budget.source_node,
        "source_pressure": pressure_facts(budget.source_pressure_m, units),
        "outlet": budget.outlet,
        "required": pressure_facts(budget.required_m, units),
        "available": pressure_facts(budget.available_m, units),
        "spare": pressure_facts(budget.spare_m, units),
        "regulator": pressure_facts(budget.regulator_m, units),
        "lines": [_line(line, units) for line in budget.lines],
    }


def _line(line: BudgetLine, units: str) -> Facts:
    return {
        "id": line.id,
        "object": line.object,
        "description": line.description,
        "flow": quantity_facts(line.flow_m3s, Dimension.FLOW, units),
        "nominal": line.nominal,
        "bore": quantity_facts(line.bore_m, Dimension.LENGTH, units, small=True),
        "length": quantity_facts(line.length_m, Dimension.LENGTH, units),
        "fittings": line.fittings,
        "velocity": quantity_facts(line.velocity_ms, Dimension.VELOCITY, units),
        "loss": pressure_facts(line.loss_m, units),
        "rise": quantity_facts(line.rise_m, Dimension.LENGTH, units),
        "pressure_after": pressure_facts(line.pressure_after_m, units),
        "source": line.source,
    }


def _outlet(outlet: OutletResult, units: str) -> Facts:
    return {
        "name": outlet.name,
        "node": outlet.node,
        "pressure": pressure_facts(outlet.pressure_m, units),
        "flow": quantity_facts(outlet.flow_m3s, Dimension.FLOW, units),
        "least": pressure_facts(outlet.low_m, units),
        "most": pressure_facts(outlet.high_m, units),
        "spare": pressure_facts(outlet.spare_m, units),
    }


def _pipe(pipe: PipeCheck, units: str) -> Facts:
    return {
        "pipe": pipe.pipe,
        "case": pipe.case,
        "flow": quantity_facts(pipe.told_flow_m3s, Dimension.FLOW, units),
        "velocity": quantity_facts(pipe.told_velocity_ms, Dimension.VELOCITY, units),
        "static_pressure": pressure_facts(pipe.told_static_m, units),
        "surge": pressure_facts(pipe.told_surge_m, units),
        "wave_speed": quantity_facts(pipe.wave_speed_ms, Dimension.VELOCITY, units),
        "rating": pressure_facts(pipe.rating_m, units),
        "length": quantity_facts(pipe.length_m, Dimension.LENGTH, units),
        "volume": quantity_facts(pipe.volume_m3, Dimension.VOLUME, units),
        "fill_flow": quantity_facts(pipe.fill_flow_m3s, Dimension.FLOW, units),
        "flush_flow": quantity_facts(pipe.flush_flow_m3s, Dimension.FLOW, units),
    }
