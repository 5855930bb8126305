"""`report.json`: the whole result of a run as plain data, held to the schema in the handbook. Pure.

Quantities are `{"value", "unit"}` in the project's units, except in `hydraulics.networks`, which is in SI.
It holds no product's digest.
"""

from __future__ import annotations

import json

from plangen import __version__
from plangen.build.pipeline import Checked, Run
from plangen.build.report_design import design_facts, packs_facts
from plangen.build.report_findings import finding_facts, summary_facts
from plangen.build.report_layout import coverage_facts, low_head_facts, schedule_facts, takeoff_facts
from plangen.build.report_least import least_facts
from plangen.build.report_studies import wire_facts, year_facts
from plangen.build.report_values import Facts, place_facts
from plangen.build.report_water import water_facts
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.packet.assumptions import assumptions
from plangen.packet.least_supply import LeastSupply
from plangen.text.source import SourceSet

FORMAT = "plangen-report/1"


def report_facts(run: Run, least: LeastSupply | None = None) -> Facts:
    """Return the report of a run as JSON-ready data; a stopped run has its diagnostics and no findings.

    `least` is the least supply, where the command looked for it.
    """
    facts: Facts = {
        "format": FORMAT,
        "tool": {"name": "plangen", "version": __version__},
        "design": design_facts(run),
        "packs": packs_facts(run),
        "diagnostics": [diagnostic_facts(p, run.sources) for p in run.problems],
        "stopped": run.stopped,
    }
    checked = run.checked
    facts |= {"summary": {}, "findings": [], "hydraulics": {"cases": [], "failures": [], "networks": []}}
    facts |= {"coverage": [], "schedule": [], "assumptions": [], "takeoff": []}
    if checked is None:
        return facts
    found = least_facts(least, checked.design.project.units)
    return facts | _checked_facts(checked, run.sources) | {"least_supply": found}


def _checked_facts(checked: Checked, sources: SourceSet) -> Facts:
    units = checked.design.project.units
    return {
        "digest": checked.digest,
        "summary": summary_facts(checked.findings),
        "findings": [finding_facts(f, sources, units) for f in checked.findings],
        "hydraulics": water_facts(checked.hydraulics, units),
        "coverage": coverage_facts(checked.layout, units),
        "schedule": schedule_facts(checked.layout, units),
        "year": year_facts(checked.layout, units),
        "wire": wire_facts(checked.layout, units),
        "low_heads": low_head_facts(checked.layout, units),
        "assumptions": [
            {
                "name": a.name,
                "value": a.written,
                "provenance": a.provenance,
                "at": place_facts(a.span, sources) if a.span else None,
                "used_by": list(a.used_by),
            }
            for a in assumptions(checked.hydraulics, checked.findings)
        ],
        "takeoff": takeoff_facts(checked.layout),
    }


def report_bytes(facts: Facts) -> bytes:
    """Return the report as UTF-8 JSON text that is the same everywhere, one line end at its end."""
    return (json.dumps(facts, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def diagnostic_facts(problem: Diagnostic, sources: SourceSet) -> Facts:
    """Return one diagnostic as JSON-ready data."""
    return {
        "code": problem.code,
        "severity": problem.severity.value,
        "message": problem.message,
        "expected": problem.expected,
        "help": problem.help,
        "at": place_facts(problem.span, sources),
        "labels": [{"text": note.text, "at": place_facts(note.span, sources)} for note in problem.labels],
    }
