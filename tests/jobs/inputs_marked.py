"""Each stated quantity of the residential example, marked assumed or moved, and which findings notice."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from plangen.build.pack_cache import cached_packs
from plangen.build.pack_texts import pack_name, read_packs
from plangen.build.pipeline import Checked
from plangen.checking.check import check
from plangen.checking.finding import Finding
from plangen.facts.collect import collect
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.model.read import read_design
from plangen.quantity.quantity import Basis
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import Term, TermKind
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile
from tests.jobs.variants import RESIDENTIAL, job

# Nominal sizes come in steps, and what stands in a place or a part is not one quantity of its own.
_PIPES = ("pipe", "service", "lateral", "nipple", "sleeve")
_NOT_BEFORE = frozenset(
    (
        "at",
        "to",
        "from",
        "of",
        "and",
        "every",
        "along",
        "size",
        "arc",
        "north",
        "route",
        "outline",
        "stations",
    )
)
_BACKING = re.compile(r"\s+(measured \d{4}-\d\d-\d\d|from (?:standard|data sheet)\s+\"[^\"]*\")")


@dataclass(frozen=True, slots=True)
class Stated:
    """One quantity of the text: the words before it, and where it stands."""

    what: str
    start: int
    end: int


@cache
def text() -> str:
    """Return the residential example."""
    return RESIDENTIAL.read_text(encoding="utf-8")


@cache
def stated() -> tuple[Stated, ...]:
    """Return the quantities of the example that a word or a place of grade stands before."""
    tree = read_tree(SourceFile.of("design.plan", text())).value
    assert tree is not None
    found = []
    for block in tree.blocks:
        if block.header[0].text == "part":
            continue
        for statement in block.statements:
            lead = " ".join(t.text for t in statement.clauses[0].terms[:2])
            for n, clause in enumerate(statement.clauses):
                for before, term in zip(clause.terms, clause.terms[1:], strict=False):
                    first = n == 0 and lead.split()[0] in _PIPES
                    if not first and _alone(before, term):
                        found.append(Stated(f"{lead}: {before.text}", term.span.start, term.span.end))
    return tuple(found)


def _alone(before: Term, term: Term) -> bool:
    number = term.kind is TermKind.QUANTITY or (term.kind is TermKind.NUMBER and "." in term.text)
    if not number or term.text[0] == "-":
        return False
    return before.kind is TermKind.PAIR or (before.kind is TermKind.WORD and before.text not in _NOT_BEFORE)


def marked(stated: Stated) -> str:
    """Return the text with one quantity marked assumed, in place of what backed it."""
    rest = (
        _BACKING.sub("", text()[stated.end :], count=1)
        if _BACKING.match(text(), stated.end)
        else text()[stated.end :]
    )
    return f"{text()[: stated.end]} assumed{rest}"


def moved(stated: Stated, factor: float) -> str:
    """Return the text with one quantity larger by a factor."""
    written = text()[stated.start : stated.end]
    digits = re.match(r"(\d+-)?[\d.]+(/\d+)?", written)
    assert digits is not None
    whole, _, part = digits[0].rpartition("-")
    top, _, bottom = part.partition("/")
    value = (float(whole) if whole else 0.0) + float(top) / float(bottom or 1)
    return f"{text()[: stated.start]}{value * factor:.6f}{written[digits.end() :]}{text()[stated.end :]}"


@cache
def findings(design_text: str) -> dict[str, Finding]:
    """Return the findings of a text by id; what is drawn is taken from the example as it stands."""
    base: Checked = job()
    design = read_design(SourceFile.of("design.plan", design_text)).value
    assert design is not None
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    facts = collect(design, surface, hydraulics, layout, base.sheets)
    outcome = check(
        _packs(), facts, design.waivers, design.confirmations, design.project.issued, design.project.units
    )
    return {f.id: f for f in outcome.value or ()}


@cache
def _packs():  # type: ignore[no-untyped-def]
    read = read_packs().value
    assert read is not None
    names = job().design.project.jurisdictions
    loaded = cached_packs(
        names, {pack_name(p): p.source for p in read}, VOCABULARY, VERSION, job().design.project.span
    )
    assert loaded.value is not None
    return loaded.value


def _figures(finding: Finding) -> tuple[object, ...]:
    sides = (finding.measured, finding.at_least, finding.at_most)
    return finding.status, *(
        None if m is None else (round(m.si, 9 if abs(m.si) < 1 else 3) if m.si is not None else m.words)
        for m in sides
    )


def of_words(ids: set[str]) -> set[str]:
    """Return those findings that rest on a yes or no: a small move of an input need not turn them."""
    base = findings(text())
    measured = {i: base[i].measured for i in ids if i in base}
    return {i for i in ids if (m := measured.get(i)) is None or m.si is None}


def that_cite(stated: Stated) -> set[str]:
    """Return the ids of the findings that cite the quantity when it is marked assumed."""
    return {
        f.id
        for f in findings(marked(stated)).values()
        if any(e.provenance.basis is Basis.ASSUMED for e in f.evidence) or any("assumed" in w for w in f.weak)
    }


def that_move(stated: Stated, *factors: float) -> set[str]:
    """Return the ids of the findings whose figures or verdict change when the quantity is moved."""
    base = findings(text())
    found: set[str] = set()
    if stated.what.startswith("grade"):
        # An elevation is far from its datum: a thousandth of it is a tenth of a foot.
        factors = tuple(1 + (f - 1) / 30 for f in factors)
    for factor in factors:
        after = findings(moved(stated, factor))
        # What the sheets show is that of the example as it stands.
        judged = (key for key, f in base.items() if f.subject != "sheets")
        found |= {key for key in judged if key not in after or _figures(after[key]) != _figures(base[key])}
    return found
