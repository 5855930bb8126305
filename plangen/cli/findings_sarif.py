"""The result of `check` as SARIF 2.1.0, the form that code-review tools read. One run for each design. Pure.

What a person must look at is `review`, what is not known is `open`: neither is ever a `pass`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any
from urllib.parse import quote

from plangen import __version__
from plangen.build.pack_texts import is_pack_text
from plangen.build.pipeline import Run
from plangen.checking.finding import Finding, RuleSource, Status
from plangen.checking.packs import Rule
from plangen.cli.findings_text import CAUTION, reasons
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.text.source import SourceSet, Span

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"
_KINDS = {
    Status.MEETS: "pass",
    Status.FALLS_SHORT: "fail",
    Status.NOT_KNOWN: "open",
    Status.NEEDS_PERSON: "review",
    Status.WAIVED: "fail",
    Status.NOT_APPLICABLE: "notApplicable",
}
Log = dict[str, Any]


def sarif_text(runs: Iterable[Log]) -> str:
    """Return the SARIF log of some runs, each as `sarif_run` tells it."""
    log = {"$schema": SCHEMA, "version": "2.1.0", "runs": list(runs)}
    return json.dumps(log, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def sarif_run(prefix: str, run: Run) -> Log:
    """Return one design's run; `prefix` is the folder that stands before its file names."""
    findings = run.checked.findings if run.checked else ()
    packs = run.checked.packs if run.checked else ()
    in_force = {(p.name, r.name): r for p in packs for r in p.rules}
    rules: dict[str, Log] = {}
    for finding in findings:
        rules.setdefault(finding.rule, _rule(finding, in_force.get((finding.pack, finding.rule))))
    index = {name: place for place, name in enumerate(rules)}
    return {
        "tool": {
            "driver": {
                "name": "plangen",
                "version": __version__,
                "shortDescription": {"text": CAUTION},
                "rules": list(rules.values()),
            }
        },
        "automationDetails": {"id": f"plangen/{prefix}{run.name}"},
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {
                "executionSuccessful": run.checked is not None,
                "toolConfigurationNotifications": [
                    _notification(p, run.sources, prefix) for p in run.problems
                ],
            }
        ],
        "results": [_result(f, index[f.rule], run.sources, prefix) for f in findings],
    }


def _rule(finding: Finding, rule: Rule | None) -> Log:
    sources = rule.sources if rule is not None else finding.sources
    return {
        "id": finding.rule,
        "shortDescription": {"text": finding.title},
        "fullDescription": {"text": finding.why or finding.title},
        "help": {"text": finding.remedy or finding.title},
        "defaultConfiguration": {"level": _level(finding)},
        "properties": {
            "pack": finding.pack,
            "severity": finding.severity,
            "sources": [_told(s) for s in sources],
        },
    }


def _level(finding: Finding) -> str:
    return "error" if finding.severity == "required" else "warning"


def _told(source: RuleSource) -> str:
    words = ", ".join(x for x in (source.title, source.section, source.edition) if x)
    return f"{words} ({source.verified})"


def _result(finding: Finding, rule_index: int, sources: SourceSet, prefix: str) -> Log:
    kind = _KINDS[finding.status]
    lines = [finding.message or finding.title, *reasons(finding)]
    result: Log = {
        "ruleId": finding.rule,
        "ruleIndex": rule_index,
        "kind": kind,
        # The standard allows a level only for what fails.
        "level": _level(finding) if kind == "fail" else "none",
        "message": {"text": "\n".join(x for x in lines if x)},
        "locations": [_location(finding.at, sources, prefix, finding.subject)],
        "partialFingerprints": {"findingId/v1": finding.id},
        "properties": {"status": finding.status.value, "subject": finding.subject, "pack": finding.pack},
    }
    if finding.status is Status.WAIVED:
        result["suppressions"] = [{"kind": "external", "justification": finding.waived_by}]
    return result


def _location(span: Span, sources: SourceSet, prefix: str, subject: str = "") -> Log:
    place = sources.place(span)
    own = is_pack_text(place.file)
    physical = {
        "artifactLocation": {"uri": quote(place.file if own else f"{prefix}{place.file}")},
        "region": {"startLine": place.line, "startColumn": place.column},
    }
    location: Log = {"physicalLocation": physical}
    if subject:
        location["logicalLocations"] = [{"name": subject}]
    return location


def _notification(problem: Diagnostic, sources: SourceSet, prefix: str) -> Log:
    words = [problem.message, f"expected: {problem.expected}" if problem.expected else "", problem.help]
    return {
        "descriptor": {"id": problem.code},
        "level": problem.severity.value,
        "message": {"text": "\n".join(w for w in words if w)},
        "locations": [_location(problem.span, sources, prefix)],
    }
