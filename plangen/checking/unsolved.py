"""Findings on zones whose water could not be worked out, where no pack asks. Pure.

In: drafts, rows. Out: one draft for each zone that has no figures and that nothing required stops already;
one on the source if every zone has its figures and another load case has none. A pack may be silent about
hydraulics; what is not known must still not read as a pass.
"""

from __future__ import annotations

from collections.abc import Iterable

from plangen.checking.compose_finding import Draft
from plangen.checking.finding import Finding, RuleSource, Status
from plangen.checking.rows import FactRow, FactRows

RULE = "water-unsolved"
_OWN = RuleSource("Handbook of this tool: pressure and flow worked out", "", "", "common practice")
_STOPPED = (Status.FALLS_SHORT, Status.NOT_KNOWN)


def unsolved(drafts: Iterable[Draft], rows: FactRows) -> list[Draft]:
    """Return a draft for each zone, or for the source, whose water is not solved and that no rule stops."""
    stopped = {
        (d.finding.subject_kind, d.finding.subject)
        for d in drafts
        if d.finding.severity == "required" and d.finding.status in _STOPPED
    }
    zones = [r for r in rows.of("zone") if _is_unsolved(r)]
    dry = zones or [r for r in rows.of("source") if _is_unsolved(r)]
    return [_draft(r) for r in dry if (r.row.relation, r.row.name) not in stopped]


def _is_unsolved(row: FactRow) -> bool:
    return row.get("solved").value is False


def _draft(row: FactRow) -> Draft:
    why = "; ".join(row.get("solved").missing) or row.get("solved").how or "its water was not worked out"
    finding = Finding(
        f"{RULE}/{row.row.name}",
        0,
        RULE,
        "",
        "Pressure and flow not worked out",
        Status.NOT_KNOWN,
        "required",
        row.row.relation,
        row.row.name,
        f"{row.row.name}: {why}. No rule pack in force asks for it; no outlet has a known pressure.",
        row.row.span,
        row.row.span,
        missing=(why,),
        sources=(_OWN,),
        why="A plan without the numbers cannot show that an outlet has its pressure.",
        remedy="Give the value that is named, or let every part work within its stated range.",
    )
    return Draft(finding, None)
