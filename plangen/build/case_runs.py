"""Runs the cases of a pack: each changed design through all stages, its findings against what was expected.

In: a checked pack, its cases, the base design's text. Out: which expectations hold, and which rules lack a
case. Reads and writes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from plangen.build.case_edits import case_text
from plangen.build.pack_cases import Case, CaseFault, Expectation, PackCases
from plangen.checking.check import check
from plangen.checking.finding import Finding, Status
from plangen.checking.packs import CheckedPack, Rule
from plangen.facts.collect import collect
from plangen.facts.values import FactBase
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile

DRAWN_RELATIONS = ("sheet_set", "sheet")


@dataclass(frozen=True, slots=True)
class CaseFacts:
    """A case's design as far as its facts; `design` is None where it cannot be read."""

    case: Case
    design: Design | None
    facts: FactBase | None
    faults: tuple[CaseFault, ...] = ()


@dataclass(frozen=True, slots=True)
class Result:
    """One expectation and what was found instead; `found` is empty where it holds."""

    case: Case
    expected: Expectation
    found: str


def facts_of_case(case: Case, base: str, draw: bool) -> CaseFacts:
    """Return the facts of a case's design; `draw` says whether a rule looks at the sheets."""
    text, faults = case_text(base, case)
    outcome = read_design(SourceFile.of("case.plan", text))
    if faults or outcome.value is None or outcome.failed:
        told = [CaseFault(case.line, f'the design of "{case.title}": {p.message}') for p in outcome.problems]
        return CaseFacts(case, None, None, faults or tuple(told))
    design = outcome.value
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    sheets = SheetSet(())
    if draw:
        from plangen.sheets.compose import compose

        whole = compose(design, surface, hydraulics, layout, ("case",), "0" * 12)
        sheets = _undrawn(whole, case)
    return CaseFacts(case, design, collect(design, surface, hydraulics, layout, sheets))


def results_of(pack: CheckedPack, facts: CaseFacts) -> tuple[Result, ...]:
    """Return how each expectation of a case fares under a pack."""
    case = facts.case
    if facts.design is None or facts.facts is None:
        return tuple(Result(case, e, "the design of the case cannot be read") for e in case.expected)
    design = facts.design
    outcome = check(
        (pack,),
        facts.facts,
        design.waivers,
        design.confirmations,
        design.project.issued,
        design.project.units,
    )
    findings = outcome.value or ()
    return tuple(Result(case, e, _found(e, findings)) for e in case.expected)


def lacking(pack: CheckedPack, cases: PackCases) -> tuple[tuple[str, Status], ...]:
    """Return for each of the pack's own rules the statuses that neither a case nor an excuse covers."""
    seen = {(e.rule, e.status) for c in cases.cases for e in c.expected}
    seen |= {(x.rule, x.status) for x in cases.excuses}
    return tuple(
        (rule.name, status)
        for rule in own_rules(pack)
        for status in wanted_statuses(rule)
        if (rule.name, status) not in seen
    )


def own_rules(pack: CheckedPack) -> tuple[Rule, ...]:
    """Return the rules that a pack writes itself; what it takes over is tested where it is written."""
    return tuple(r for r in pack.rules if r.pack == pack.name)


def wanted_statuses(rule: Rule) -> tuple[Status, ...]:
    """Return the statuses a rule's cases must show; what only a person can tell never falls short."""
    if rule.require is None:
        return (Status.NEEDS_PERSON, Status.MEETS)
    return (Status.MEETS, Status.FALLS_SHORT, Status.NOT_KNOWN)


def needs_sheets(pack: CheckedPack, case: Case) -> bool:
    """Return whether a case looks at what is drawn."""
    about = {r.name: r.relation.name for r in pack.rules if r.relation is not None}
    return bool(case.undrawn) or any(about.get(e.rule) in DRAWN_RELATIONS for e in case.expected)


def _found(expected: Expectation, findings: Iterable[Finding]) -> str:
    """Return what was found instead, or nothing where the expectation holds.

    `meets` and `does not apply` must hold for every object; any other status for one.
    """
    chosen = [f for f in findings if f.rule == expected.rule]
    if not chosen:
        return "the pack has no such rule in force"
    of = [f for f in chosen if not expected.subject or f.subject == expected.subject]
    if not of:
        return f"no finding for {expected.subject}; there is one for {_names(chosen)}"
    every = expected.status in (Status.MEETS, Status.NOT_APPLICABLE)
    others = [f for f in of if f.status is not expected.status]
    if (every and not others) or (not every and len(others) < len(of)):
        return ""
    return "; ".join(f"{f.subject or 'the design'}: {f.status.words} ({f.message})" for f in others[:3])


def _names(findings: list[Finding]) -> str:
    return ", ".join(f.subject or "the design" for f in findings[:6])


def _undrawn(sheets: SheetSet, case: Case) -> SheetSet:
    """Return the sheets without the marks a case takes off; `undraw everything` leaves no sheet at all."""
    if ("everything", "") in case.undrawn:
        return SheetSet(())
    if ("lettering", "") in case.undrawn:
        return replace(sheets, sheets=tuple(replace(s, marks=()) for s in sheets.sheets))
    off = set(case.undrawn)
    kept = tuple(
        replace(
            s,
            inventory=tuple(
                d for d in s.inventory if not {(d.what, ""), (d.what, d.object), (d.what, d.kind)} & off
            ),
        )
        for s in sheets.sheets
    )
    return replace(sheets, sheets=kept)
