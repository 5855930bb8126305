"""A design with its water solved anew, judged by some of the rules: only the rows of facts those rules read
are collected again, and the sheets stay those of the design as it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from plangen.advice.mentions import facts_of
from plangen.checking.evaluate import Evaluator
from plangen.checking.finding import Finding, Status
from plangen.checking.judge import Readings, Verdict, judge
from plangen.checking.packs import CheckedPack, Rule
from plangen.checking.rows import FactRows
from plangen.facts.assembly_rows import assembly_rows, isolation_rows
from plangen.facts.control_rows import controller_rows
from plangen.facts.head_rows import drip_rows, head_rows
from plangen.facts.pipe_rows import pipe_rows, sleeve_rows
from plangen.facts.supply_rows import meter_rows, supply_rows
from plangen.facts.survey import Survey
from plangen.facts.values import FactBase, Row
from plangen.facts.zone_rows import coverage_rows, valve_rows, zone_rows
from plangen.hydraulics.results import Hydraulics
from plangen.layout.crossings import measure_crossings
from plangen.layout.heights import measure_heights
from plangen.layout.low_heads import measure_low_heads
from plangen.layout.measure import measure
from plangen.layout.reach import measure_reaches
from plangen.layout.results import Layout
from plangen.layout.throw import outlets_alone, throws
from plangen.model.design import Design
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface

_COLLECTORS: Mapping[str, Callable[[Survey], Sequence[Row]]] = {
    "supply": supply_rows,
    "meter": meter_rows,
    "assembly": assembly_rows,
    "isolation": isolation_rows,
    "pipe": pipe_rows,
    "sleeve": sleeve_rows,
    "valve": valve_rows,
    "zone": zone_rows,
    "head": head_rows,
    "drip": drip_rows,
    "controller": controller_rows,
    "coverage": coverage_rows,
}
# Facts that need the rain map or the watering times, which take longest to work out.
_NEEDS_RAIN = {("zone", "application_rate"), ("controller", "fits_window")}
_BAD = (Status.FALLS_SHORT, Status.NOT_KNOWN)


@dataclass(frozen=True, slots=True)
class Standing:
    """A design as it stands: every stage's result that judging it again can lean on."""

    design: Design
    surface: Surface
    hydraulics: Hydraulics
    layout: Layout
    sheets: SheetSet
    facts: FactBase
    packs: tuple[CheckedPack, ...]
    findings: tuple[Finding, ...]

    @property
    def waived(self) -> frozenset[tuple[str, str]]:
        """Return rule and subject of what falls short and is waived."""
        return frozenset((f.rule, f.subject) for f in self.findings if f.status is Status.WAIVED)


@dataclass(frozen=True, slots=True)
class Fault:
    """A required rule that falls short or is not known on one object, with the verdict that says so."""

    rule: Rule
    subject: str
    verdict: Verdict

    @property
    def name(self) -> str:
        """Return rule and object."""
        return f"{self.rule.name} {self.subject}".strip()


class Judge:
    """Judges variants of one standing design by a choice of rules."""

    def __init__(self, standing: Standing, packs: Sequence[CheckedPack]) -> None:
        """Find out once what the rules read."""
        self.standing = standing
        self.rules = tuple(rule for pack in packs for rule in pack.rules)
        reads = frozenset(fact for rule in self.rules for fact in facts_of(rule))
        self._relations = {relation for relation, _ in reads} | {
            r.relation.name for r in self.rules if r.relation is not None
        }
        self._rain = bool(reads & _NEEDS_RAIN) or "coverage" in self._relations
        self._waived = standing.waived

    def facts(self, hydraulics: Hydraulics, design: Design | None = None) -> FactBase:
        """Return the facts with the rows that the rules read collected again; others stay as they stand."""
        standing = self.standing
        of = standing.design if design is None else design
        survey = Survey.of(of, standing.surface, hydraulics, self._layout(of, hydraulics), standing.sheets)
        fresh = [n for n in _COLLECTORS if n in self._relations]
        kept = [row for row in standing.facts.rows if row.relation not in fresh]
        rows = [row for name in fresh for row in _COLLECTORS[name](survey)]
        ordered = tuple(sorted((*kept, *rows), key=lambda r: (r.relation, r.name)))
        return replace(standing.facts, rows=ordered)

    def faults(self, hydraulics: Hydraulics, design: Design | None = None) -> tuple[Fault, ...]:
        """Return what of the rules falls short or is not known, in the order of rules; waived is left out."""
        rows = FactRows(self.facts(hydraulics, design))
        readings = Readings(Evaluator(rows, strict=False), Evaluator(rows, strict=True))
        found = []
        for rule in self.rules:
            for verdict in judge(rule, readings):
                subject = verdict.rows[0].row.name if verdict.rows else ""
                if verdict.status in _BAD and (rule.name, subject) not in self._waived:
                    found.append(Fault(rule, subject, verdict))
        return tuple(found)

    def _layout(self, design: Design, hydraulics: Hydraulics) -> Layout:
        """Return the layout with what these rules may read of it measured again."""
        standing = self.standing
        if self._rain:
            return measure(design, standing.surface, hydraulics)
        reaches = measure_reaches(design, throws(design, outlets_alone(hydraulics)))
        if design is standing.design:
            return replace(standing.layout, reaches=reaches)
        heights, piping = measure_heights(design, standing.surface)
        return replace(
            standing.layout,
            reaches=reaches,
            heights=heights,
            piping=piping,
            crossings=measure_crossings(design),
            low_heads=measure_low_heads(design, standing.surface),
        )
