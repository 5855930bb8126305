"""One mistake gives one message, on the right line: a sample of tests/benchmarks/single_edits.py."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from plangen.model.read import read_design
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile
from tests.syntax.mistakes import KINDS, Breaker

EXAMPLE = shipped_text("examples", "residential", "design.plan")
# The aim of the whole run is 90 %; ten edits of a kind may have one that is told twice.
LEAST = 0.9


@pytest.fixture(scope="module")
def breaker() -> Breaker:
    return Breaker(EXAMPLE)


@pytest.mark.parametrize("kind", KINDS)
def test_a_mistake_is_told_once_where_it_is(breaker: Breaker, kind: str) -> None:
    rng, counts, made = random.Random(f"sample {kind}"), Counter[str](), 10
    for _ in range(made):
        mistake = breaker.mistake(kind, rng)
        source = SourceFile.of("design.plan", mistake.text)
        problems = read_design(source).problems
        assert problems, f"nobody noticed {mistake.what}"
        counts["one"] += len(problems) == 1
        counts["placed"] += source.line_column(problems[0].span.start)[0] in mistake.lines
    assert counts["one"] >= LEAST * made and counts["placed"] >= LEAST * made, counts


def test_an_edit_is_told_by_line_and_kind(breaker: Breaker) -> None:
    """The harness itself: the text differs in the lines it names, and nowhere else."""
    rng = random.Random(7)
    for kind in KINDS:
        mistake = breaker.mistake(kind, rng)
        old, new = EXAMPLE.split("\n"), mistake.text.split("\n")
        assert old != new
        first = next(n for n, (a, b) in enumerate(zip(old, new, strict=False), 1) if a != b)
        assert first in mistake.lines, (kind, mistake.what)


def test_a_misspelt_block_hides_no_name_that_dangles_for_certain(breaker: Breaker) -> None:
    """A name that the block does not hold cannot be defined in it; those that it holds stay silent."""
    zone = EXAMPLE.replace("zone Z1 ", "zoen Z1 ", 1)
    assert zone != EXAMPLE
    for text, codes in (
        (zone, ["PG2001"]),
        (zone.replace("waters         Back", "waters         Bakc", 1), ["PG2001", "PG2014"]),
        (zone.replace("rotor-30h,", "rotor-30k,", 1), ["PG2001", "PG2017"]),
    ):
        problems = read_design(SourceFile.of("design.plan", text)).problems
        assert [p.code for p in problems] == codes
    for block in breaker.tree.blocks[::6]:
        word = block.header[0]
        text = f"{EXAMPLE[: word.span.start]}x{EXAMPLE[word.span.start :]}"
        assert [p.code for p in read_design(SourceFile.of("d.plan", text)).problems] == ["PG2001"], word.text
