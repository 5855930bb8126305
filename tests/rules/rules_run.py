"""A design taken through all stages to its findings, with the packs as shipped."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from plangen.checking.check import check
from plangen.checking.finding import Finding, Status
from plangen.checking.load import load_packs
from plangen.checking.packs import CheckedPack
from plangen.facts.collect import collect
from plangen.facts.values import FactBase
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.hydraulics.analyse import analyse
from plangen.hydraulics.results import Hydraulics
from plangen.layout.measure import measure
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.compose import compose
from plangen.sheets.marks import Sheet, SheetSet
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile

ROOT = Path(__file__).resolve().parents[2]
PACKS = ("model-us", "quillmoor")


def pack_text(name: str) -> SourceFile:
    """Return the text of a shipped pack."""
    path = ROOT / "rules" / name / "pack.rules"
    return SourceFile.of(f"rules/{name}/pack.rules", path.read_text(encoding="utf-8"))


@cache
def loaded(name: str) -> CheckedPack:
    """Return a shipped pack, checked."""
    return load(name, {n: pack_text(n) for n in PACKS})


def load(name: str, texts: Mapping[str, SourceFile]) -> CheckedPack:
    """Return a pack of some texts, checked."""
    outcome = load_packs((name,), texts, VOCABULARY, VERSION)
    assert outcome.value is not None, outcome.problems
    return outcome.value[0]


@dataclass(frozen=True)
class RuleRun:
    """A design's text and its findings."""

    source: SourceFile
    findings: tuple[Finding, ...]

    def line(self, finding: Finding) -> int:
        """Return the line a finding points at."""
        return self.source.line_column(finding.at.start)[0]

    def of(self, rule: str, subject: str) -> Finding:
        """Return the finding of a rule for an object."""
        return next(f for f in self.findings if f.rule == rule and f.subject == subject)

    def statuses(self, rule: str) -> set[Status]:
        """Return the statuses of all findings of a rule."""
        return {f.status for f in self.findings if f.rule == rule}


@dataclass(frozen=True)
class Gathered:
    """A design that has been taken as far as its facts."""

    source: SourceFile
    design: Design
    facts: FactBase

    def under(self, pack: CheckedPack) -> RuleRun:
        """Return the findings of a pack."""
        design = self.design
        found = check((pack,), self.facts, design.waivers, design.confirmations, design.project.issued)
        assert found.value is not None, found.problems
        return RuleRun(self.source, found.value)


def example_text(name: str) -> str:
    """Return the text of a shipped example."""
    return (ROOT / "examples" / name / "design.plan").read_text(encoding="utf-8")


@cache
def worked_out(text: str, draw: bool) -> tuple[SourceFile, Design, Surface, Hydraulics, Layout, SheetSet]:
    """Return everything before the facts; a text that several tests share is worked out once."""
    source = SourceFile.of("design.plan", text)
    outcome = read_design(source)
    assert outcome.value is not None and not outcome.failed, outcome.problems
    design = outcome.value
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    sheets = SheetSet(())
    if draw:
        sheets = compose(design, surface, hydraulics, layout, ("Edition",), "0" * 12)
    return source, design, surface, hydraulics, layout, sheets


def gathered(
    text: str, draw: bool = False, sheets_changed: Callable[[Sheet], Sheet] | None = None
) -> Gathered:
    """Return the facts of a text; without sheets, what is drawn is not known.

    `sheets_changed` alters each sheet before its facts are read.
    """
    source, design, surface, hydraulics, layout, sheets = worked_out(text, draw)
    if sheets_changed is not None:
        sheets = replace(sheets, sheets=tuple(sheets_changed(s) for s in sheets.sheets))
    return Gathered(source, design, collect(design, surface, hydraulics, layout, sheets))


def findings_of(text: str, pack: str = "quillmoor", draw: bool = False) -> RuleRun:
    """Return the findings of one shipped pack for a text."""
    return gathered(text, draw).under(loaded(pack))
