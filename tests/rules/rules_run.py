"""A design taken through all stages to its findings, with the packs as shipped."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from plangen.checking.check import check
from plangen.checking.finding import Finding
from plangen.checking.load import load_packs
from plangen.checking.packs import CheckedPack
from plangen.facts.collect import collect
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
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
    outcome = load_packs((name,), {n: pack_text(n) for n in PACKS}, VOCABULARY, VERSION)
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


def example_text(name: str) -> str:
    """Return the text of a shipped example."""
    return (ROOT / "examples" / name / "design.plan").read_text(encoding="utf-8")


def findings_of(
    text: str,
    pack: str = "quillmoor",
    draw: bool = False,
    sheets_changed: Callable[[Sheet], Sheet] | None = None,
) -> RuleRun:
    """Return the findings of one pack for a text; without sheets, plan rules are not known.

    `sheets_changed` alters each sheet before its facts are read.
    """
    source = SourceFile.of("design.plan", text)
    outcome = read_design(source)
    assert outcome.value is not None and not outcome.failed, outcome.problems
    design = outcome.value
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    sheets = SheetSet(())
    if draw:
        sheets = compose(design, surface, hydraulics, layout, (loaded(pack).title,), "0" * 12)
    if sheets_changed is not None:
        sheets = replace(sheets, sheets=tuple(sheets_changed(s) for s in sheets.sheets))
    facts = collect(design, surface, hydraulics, layout, sheets)
    found = check((loaded(pack),), facts, design.waivers, design.confirmations, design.project.issued)
    assert found.value is not None, found.problems
    return RuleRun(source, found.value)
