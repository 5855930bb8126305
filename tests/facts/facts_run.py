"""The residential example, changed line by line, taken through the stages to its facts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from plangen.facts.collect import collect
from plangen.facts.values import FactBase, Row, Value
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile
from tests.facts.edits import changed

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "residential" / "design.plan"


@dataclass(frozen=True)
class FactRun:
    """A design's text, its model and its facts."""

    source: SourceFile
    design: Design
    facts: FactBase

    def row(self, relation: str, name: str) -> Row:
        """Return the row of a name."""
        return next(r for r in self.facts.of(relation) if r.name == name)

    def value(self, relation: str, name: str, field: str) -> Value:
        """Return one value."""
        return self.row(relation, name).get(field)

    def line(self, relation: str, name: str) -> str:
        """Return the line of source text a row points at."""
        number, _ = self.source.line_column(self.row(relation, name).span.start)
        return self.source.line(number)


def run(*changes: tuple[str, str], sheets: SheetSet | None = None) -> FactRun:
    """Return the facts of the example with each `old` text replaced by its `new` one (see `changed`)."""
    text = changed(EXAMPLE.read_text(encoding="utf-8"), *changes)
    source = SourceFile.of("design.plan", text)
    outcome = read_design(source)
    assert outcome.value is not None and not outcome.failed, outcome.problems
    design = outcome.value
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    facts = collect(design, surface, hydraulics, layout, sheets or SheetSet(()))
    return FactRun(source, design, facts)
