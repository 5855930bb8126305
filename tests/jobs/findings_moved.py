"""Which findings of an example cite a value once it is marked assumed, and which move once it is moved.

Oracle: the program itself, run on the value as stated, marked, and moved. Both must name the same findings:

- A finding whose verdict or numbers change when the value is a ten-thousandth more or less must cite it. A
  change below 1e-8 of the number is rounding.
- A finding of a number that cites the value must change when it is moved by one of these or of `GREAT`, up to
  nothing at all and thirty times as much. A value that is cited and changes nothing at any of them is a miss,
  whether its share is below rounding or it stands behind a greatest or least that another value governs. What
  only a great move shows is a whole number (emitters, a step of a size), an overspray that is nought, a
  condition that must hold for the rule to apply, or a share that a thousandth moves by less than rounding.
- A finding of a yes, a no or a word has nothing that moves a little: it may cite what its answer was found
  from, each value that is one side of the comparison behind it, although no move here turns the answer.
- That something holds, such as a regulator at work or a pressure inside the range of a data sheet, is a
  condition: no small move turns it, and what it was found from need not be cited.

The drawing is that of the example throughout: it shows a value moved by a ten-thousandth as it stands.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from unittest.mock import patch

from plangen.build.inputs import Input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Checked, run_stages
from plangen.checking.check import check
from plangen.checking.finding import Finding
from plangen.facts.collect import collect
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.model.design import Design
from plangen.quantity import evidence
from plangen.quantity.evidence import together
from plangen.quantity.quantity import Basis, Provenance, Quantity
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile
from tests.jobs.inputs_marked import ASSUMED, Key, Stated, keys_of, marked, marked_each, moved
from tests.jobs.kept_work import Rules, kept

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SMALL = (1e-4, -1e-4)
# What decides a whole number or a choice moves nothing until it is moved further.
GREAT = (0.5, 0.1, -0.5, 3.0, -0.1, 30.0, -1.0, 0.01, -0.01, 1e-3)  # what shows most comes first


@cache
def _rules_of(_: str) -> Rules:
    return Rules()


@dataclass(frozen=True, slots=True)
class Figures:
    """What is compared of a finding: its verdict, its numbers, and what it cites of what was marked."""

    status: str
    numbers: tuple[float | str | None, ...]
    marked: frozenset[str]

    @property
    def of_words(self) -> bool:
        """Return whether it rests on a yes, a no or a word: a small move of an input need not turn that."""
        return not isinstance(self.numbers[0], float)


@dataclass(frozen=True, slots=True)
class Compared:
    """The findings of one value that moves and cites do not agree on, by id."""

    silent: frozenset[str]  # move and do not cite it
    idle: frozenset[str]  # a number, cites it and never moves
    unturned: frozenset[str]  # an answer in words, cites it and is turned by no move

    @property
    def exact(self) -> bool:
        """Return whether exactly what moves cites the value."""
        return not self.silent and not self.idle


@cache
def example(name: str) -> Checked:
    """Return an example worked out, with its sheets."""
    path = EXAMPLES / name / "design.plan"
    data = path.read_bytes()
    packs = read_packs().value
    assert packs is not None
    run = run_stages(
        Input("design.plan", data, SourceFile.of("design.plan", data.decode())), packs, lambda _: None
    )
    assert run.checked is not None, run.problems
    return run.checked


@cache
def stated(name: str) -> tuple[Stated, ...]:
    """Return every value of an example that carries a provenance, each once, in the order of the design."""
    return keys_of(example(name).design)


def findings_of(name: str, design: Design, *, words: bool = True) -> tuple[Finding, ...]:
    """Return the findings on a changed design; the sheets are those of the example."""
    base = example(name)
    surface = Surface.of(design)
    if words is False:
        before(name)
    with kept(_rules_of(name), words=words):
        hydraulics = analyse(design, surface)
        layout = measure(design, surface, hydraulics)
        facts = collect(design, surface, hydraulics, layout, base.sheets)
        issued, units = design.project.issued, design.project.units
        outcome = check(base.packs, facts, design.waivers, design.confirmations, issued, units)
    return outcome.value or ()


def figures(name: str, design: Design, *, words: bool = True) -> dict[str, Figures]:
    """Return the figures of the findings on a changed design."""
    return {f.id: _figures(f) for f in findings_of(name, design, words=words)}


@cache
def before(name: str) -> dict[str, Figures]:
    """Return the figures of an example as written."""
    return figures(name, example(name).design)


def _figures(finding: Finding) -> Figures:
    cited = frozenset(e.name for e in finding.evidence if e.provenance == ASSUMED)
    return Figures(finding.status.value, numbers_of(finding), cited)


def numbers_of(finding: Finding) -> tuple[float | str | None, ...]:
    """Return what a finding measures and its limits, in SI, or the words for it."""
    sides = (finding.measured, finding.at_least, finding.at_most)
    return tuple(None if m is None else (m.si if m.si is not None else m.words) for m in sides)


def that_cite(name: str, key: Key) -> frozenset[str]:
    """Return the findings that cite a value, or say something else, once it is marked assumed.

    A row that a rule leaves out on an assumed value comes as a finding of its own: it has no figures before.
    """
    base = before(name)
    after = figures(name, marked(example(name).design, key))
    return frozenset(i for i, f in after.items() if i in base and (f.marked or f.status != base[i].status))


def marks_of(name: str) -> dict[Key, Provenance]:
    """Return a provenance for each value of an example, all assumed, each with a mark of its own."""
    return {s.key: Provenance(Basis.ASSUMED, None, f"mark {n};") for n, s in enumerate(stated(name))}


@cache
def that_cite_each(name: str) -> dict[Key, frozenset[str]]:
    """Return the findings that cite each value, from one run in which each bears a mark of its own."""
    marks = marks_of(name)
    with patch("plangen.hydraulics.element_inputs.together", _with_all_marks):
        found = findings_of(name, marked_each(example(name).design, marks))
    cited: dict[str, set[str]] = {m.document: set() for m in marks.values()}
    for finding in found:
        for each in finding.evidence:
            for mark in each.provenance.document.split(" and "):
                cited.get(mark, set()).add(finding.id)
    return {key: frozenset(cited[m.document] & before(name).keys()) for key, m in marks.items()}


def _with_all_marks(name: str, written: str, *quantities: Quantity) -> evidence.Input:
    """Put values that are used together into one input that bears the marks of all."""
    marks = " and ".join(q.provenance.document for q in quantities)
    return replace(together(name, written, *quantities), provenance=Provenance(Basis.ASSUMED, None, marks))


def that_move(name: str, key: Key, shares: Iterable[float], close: float = 1e-8) -> set[str]:
    """Return the findings whose verdict or numbers change when the value is moved by any of some shares."""
    base = before(name)
    found: set[str] = set()
    for share in shares:
        design = moved(example(name).design, key, share)
        if design is example(name).design:
            continue
        after = figures(name, design, words=False)
        found |= {i for i, f in base.items() if i not in after or _differ(f, after[i], close)}
    return found


def _differ(one: Figures, other: Figures, close: float) -> bool:
    if one.status != other.status:
        return True
    return any(_apart(a, b, close) for a, b in zip(one.numbers, other.numbers, strict=True))


def _apart(a: float | str | None, b: float | str | None, close: float) -> bool:
    if isinstance(a, float) and isinstance(b, float):
        return abs(a - b) > close * max(abs(a), abs(b), 1e-6)
    return a != b


def compared(name: str, key: Key, cite: frozenset[str] | None = None) -> Compared:
    """Return the findings on which what moves and what cites a value do not agree.

    `cite` are those that cite it, where that is known; else the value is marked in turn.
    """
    cite = that_cite(name, key) if cite is None else cite
    move = that_move(name, key, SMALL)
    words = {i for i in cite - move if before(name)[i].of_words}
    idle = cite - move - words
    for share in GREAT:
        if not idle:
            break
        idle -= that_move(name, key, (share,))
    return Compared(frozenset(move - cite), frozenset(idle), frozenset(words))
