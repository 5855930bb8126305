"""Findings as plain data for the report. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.build.report_values import Facts, measure_facts, place_facts
from plangen.checking.finding import Finding, Status
from plangen.text.source import SourceSet


def summary_facts(findings: Iterable[Finding]) -> Facts:
    """Return how many findings have each status; every status is listed, also at nought."""
    held = [f.status for f in findings]
    return {status.value: held.count(status) for status in Status}


def finding_facts(finding: Finding, sources: SourceSet, units: str) -> Facts:
    """Return one finding as JSON-ready data; what it has not is left out."""
    facts: Facts = {
        "id": finding.id,
        "number": finding.number,
        "rule": finding.rule,
        "pack": finding.pack,
        "title": finding.title,
        "status": finding.status.value,
        "severity": finding.severity,
        "subject": {"kind": finding.subject_kind, "name": finding.subject},
        "message": finding.message,
    }
    bounds = {"at_least": finding.at_least, "at_most": finding.at_most}
    limit = {key: measure_facts(m, units) for key, m in bounds.items() if m is not None}
    optional = {
        "measured": measure_facts(finding.measured, units),
        "limit": limit or None,
        "margin": measure_facts(finding.margin, units),
    }
    facts |= {key: value for key, value in optional.items() if value is not None}
    facts["evidence"] = [
        {
            "name": e.name,
            "value": measure_facts(e.value, units),
            "provenance": e.provenance.told(),
            **({"at": place_facts(e.span, sources)} if e.span else {}),
        }
        for e in finding.evidence
    ]
    facts["sources"] = [
        {"title": s.title, "section": s.section, "edition": s.edition, "verified": s.verified}
        for s in finding.sources
    ]
    facts |= {
        "steps": list(finding.steps),
        "missing": list(finding.missing),
        "why": finding.why,
        "remedy": finding.remedy,
        "look_at": finding.look_at,
        "waived_by": finding.waived_by,
        "other_limits": [{"pack": o.pack, "words": o.words} for o in finding.others],
        "at": place_facts(finding.at, sources),
        "rule_at": place_facts(finding.rule_at, sources),
        "drawn_on": [{"sheet": sheet, "zone": zone} for sheet, zone in finding.drawn_on],
    }
    return facts
