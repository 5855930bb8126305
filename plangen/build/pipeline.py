"""The stages in order, on one screen. Texts in, everything known of the job out; reads and writes nothing
but the user's own cache.

Stop points: errors in the design or in a pack stop before any finding; water that cannot be solved does
not, since most rules need none of it; findings never stop the drawing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from plangen.build.digest import SHORT, inputs_digest
from plangen.build.drawn_on import places_of
from plangen.build.inputs import Input
from plangen.build.pack_cache import cached_packs
from plangen.build.pack_texts import pack_name
from plangen.checking.check import check
from plangen.checking.finding import Finding
from plangen.checking.packs import CheckedPack
from plangen.checking.places import with_places
from plangen.diagnostics.diagnostic import Diagnostic, Outcome
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
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile, SourceSet

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Checked:
    """Everything known after the rules ran. `sheets` are the base sheets, before any finding."""

    design: Design
    surface: Surface
    hydraulics: Hydraulics
    layout: Layout
    packs: tuple[CheckedPack, ...]
    sheets: SheetSet
    facts: FactBase
    findings: tuple[Finding, ...]
    digest: str


@dataclass(frozen=True, slots=True)
class Run:
    """What a run came to. `checked` is None where errors stopped it before any finding."""

    name: str
    sources: SourceSet
    inputs: tuple[Input, ...]
    packs: tuple[Input, ...]
    problems: tuple[Diagnostic, ...]
    design: Design | None = None
    checked: Checked | None = None

    @property
    def stopped(self) -> bool:
        """Return whether the input cannot be used."""
        return self.checked is None


def run_stages(
    design_input: Input,
    packs: tuple[Input, ...],
    step: Callable[[str], None],
    included: tuple[Input, ...] = (),
    not_read: tuple[Diagnostic, ...] = (),
) -> Run:
    """Take one design, with the files it includes, through all stages up to its findings.

    `not_read` are the problems of included files that could not be read; with one there are no findings.
    """
    inputs = (design_input, *included)
    sources = SourceSet((*(i.source for i in inputs), *(p.source for p in packs)))
    problems: list[Diagnostic] = list(not_read)
    run = Run(design_input.name, sources, inputs, (), ())

    step("reading the design")
    texts_in = tuple(i.source for i in included)
    design = _take(read_design(design_input.source, texts_in, all_there=not not_read), problems)
    if design is None or not_read:
        return _stopped(run, problems, None)
    step("reading the rule packs")
    loaded = _take(_load(design, {pack_name(p): p.source for p in packs}), problems)
    if loaded is None:
        return _stopped(run, problems, design)
    used = _used(packs, loaded)
    digest = inputs_digest(tuple(i.source for i in (*inputs, *used)))

    step("solving the water")
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    step("measuring the layout")
    layout = measure(design, surface, hydraulics)
    step("drawing the sheets")
    editions = tuple(f"{p.title}, {p.edition}" if p.edition else p.title for p in loaded)
    sheets = compose(design, surface, hydraulics, layout, editions, digest[:SHORT])
    step("checking the rules")
    facts = collect(design, surface, hydraulics, layout, sheets)
    findings = _take(
        check(
            loaded,
            facts,
            design.waivers,
            design.confirmations,
            design.project.issued,
            design.project.units,
        ),
        problems,
    )
    if findings is None:
        return _stopped(run, problems, design)
    found = with_places(findings, places_of(sheets))
    checked = Checked(design, surface, hydraulics, layout, loaded, sheets, facts, found, digest)
    return Run(run.name, sources, run.inputs, used, tuple(problems), design, checked)


def _used(packs: tuple[Input, ...], loaded: tuple[CheckedPack, ...]) -> tuple[Input, ...]:
    """Return the packs in force and those they amend, as read."""
    chained = {name for pack in loaded for name in pack.chain} | {pack.name for pack in loaded}
    return tuple(p for p in packs if pack_name(p) in chained)


def _stopped(run: Run, problems: list[Diagnostic], design: Design | None) -> Run:
    return replace(run, problems=tuple(problems), design=design)


def _load(design: Design, texts: dict[str, SourceFile]) -> Outcome[tuple[CheckedPack, ...]]:
    names = design.project.jurisdictions
    if names:
        return cached_packs(names, texts, VOCABULARY, VERSION, design.project.span)
    fault = Diagnostic(
        "PG0010",
        "the project names no `jurisdiction`, so no rule would be checked",
        design.project.span,
        help=f"add `jurisdiction NAME`; the packs here are {', '.join(sorted(texts))}",
    )
    return Outcome(None, (fault,))


def _take(outcome: Outcome[T], problems: list[Diagnostic]) -> T | None:
    """Keep a stage's problems; return its value only if no error is among them."""
    problems.extend(outcome.problems)
    return None if outcome.failed else outcome.value
