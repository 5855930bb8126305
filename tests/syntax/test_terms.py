"""How text falls into terms, and that the grammar's units are those of the unit table."""

from __future__ import annotations

import re

import pytest

from plangen.quantity.dimension import UNITS
from plangen.shipped.folders import shipped_text
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import HUMAN, Term, TermKind
from plangen.text.source import SourceFile


def terms(line: str) -> list[Term]:
    """Return the terms of one line read as a statement."""
    source = SourceFile.of("d.plan", f"plangen 1\nsite {{\n  {line}\n}}\n")
    outcome = read_tree(source)
    assert outcome.problems == ()
    assert outcome.value is not None
    return [t for clause in outcome.value.blocks[0].statements[0].clauses for t in clause.terms]


def test_the_units_of_the_grammar_are_those_of_the_table() -> None:
    pattern = re.search(r"\(\?:(in\\/month[^)]*)\)", shipped_text("grammar", "design.lark"))
    assert pattern is not None
    listed = pattern[1].replace("\\/", "/").split("|")
    assert sorted(listed) == sorted(UNITS)
    for i, unit in enumerate(listed):
        # A unit that begins like a later one must not hide it.
        assert not any(later.startswith(unit) for later in listed[i + 1 :]), unit


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_unit_makes_one_token_with_and_without_a_blank(unit: str) -> None:
    for text in (f"12.5 {unit}", f"12.5{unit}"):
        (term,) = terms(f"x {text}")[1:]
        assert term.kind is TermKind.QUANTITY
        assert term.text == text


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("3/4 in", TermKind.QUANTITY),
        ("1-1/4 in", TermKind.QUANTITY),
        ("1 1/4 in", TermKind.QUANTITY),
        ("12 ft 6 in", TermKind.QUANTITY),
        ("-12 in", TermKind.QUANTITY),
        (".5 psi", TermKind.QUANTITY),
        ("2026-05-04", TermKind.DATE),
        ("42", TermKind.NUMBER),
        ("V1", TermKind.NAME),
        ("MV-2", TermKind.NAME),
        ("ball-valve-1", TermKind.WORD),
        ("pvc-sdr13.5", TermKind.WORD),
        ("House.southwest", TermKind.CORNER),
        ('"Front lawn"', TermKind.TEXT),
        ("(12, -7.5)", TermKind.PAIR),
        ("(0 gpm, 0 psi)", TermKind.PAIR),
    ],
)
def test_forms(text: str, kind: TermKind) -> None:
    (term,) = terms(f"x {text}")[1:]
    assert term.kind is kind


def test_a_unit_that_is_not_one_is_left_beside_its_number() -> None:
    assert [t.kind for t in terms("x 62 psy")[1:]] == [TermKind.NUMBER, TermKind.WORD]


def test_the_spans_of_terms_point_at_their_text() -> None:
    line = 'x 3/4 in, at (12, 14), "note" -> House.southwest'
    source = f"plangen 1\nsite {{\n  {line}\n}}\n"
    for term in terms(line):
        written = source[term.span.start : term.span.end]
        assert written == (f'"{term.text}"' if term.kind is TermKind.TEXT else term.text)


def test_every_kind_of_term_has_a_human_name() -> None:
    assert set(HUMAN) == set(TermKind)
