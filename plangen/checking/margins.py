"""Findings about margins thinner than a crew can build to."""

from __future__ import annotations

from dataclasses import replace

from plangen.checking.compose_finding import Draft
from plangen.checking.finding import Finding, RuleSource, Status
from plangen.checking.wording import measure

RULE = "build-tolerance"
_OWN = RuleSource("Build tolerances of the fact list", "", "", "common practice")


def thin_margin(draft: Draft, system: str) -> Draft | None:
    """Return an advisory finding where a rule is met by less than the build tolerance of what it measures."""
    bound, finding = draft.bound, draft.finding
    if bound is None or bound.field is None or finding.status not in (Status.MEETS, Status.NEEDS_PERSON):
        return None
    tolerance = bound.field.field.tolerance_si
    if bound.margin_si is None or not 0 <= bound.margin_si < tolerance or bound.limit_si is None:
        return None
    field = bound.field.field
    dimension = field.type.dimension
    safe_si = bound.limit_si - tolerance if bound.downward else bound.limit_si + tolerance
    room, safe = (measure(x, dimension, system, field.small).words for x in (bound.margin_si, safe_si))
    allowed = measure(tolerance, dimension, system, field.small).words
    notice: Finding = replace(
        finding,
        id=f"{RULE}/{finding.id}",
        rule=RULE,
        title=f"Little room to build: {finding.title}",
        status=Status.FALLS_SHORT,
        severity="advisory",
        message=(
            f"{finding.subject or 'the design'}: {finding.rule} is met with {room} to spare, and this is "
            f"built to within {allowed}; build to {safe}."
        ),
        steps=(),
        sources=(_OWN,),
        why="What is drawn right at a limit is easily built beyond it.",
        remedy=f"Draw and build it to {safe}.",
        look_at="",
        others=(),
        weak=(),
    )
    return Draft(notice, None)
