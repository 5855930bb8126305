"""The canonical layout: printed and read again it is the same, twice is once, no comment is lost."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bind_blocks import BlockBinder
from plangen.model.formatted import format_text, key
from plangen.model.read import read_design
from plangen.model.same import meaning, same_words
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import Want
from plangen.shipped.folders import shipped_text
from plangen.syntax.comments import marks_of
from plangen.syntax.format import printed
from plangen.syntax.format_statement import WIDTH
from plangen.syntax.format_terms import quantity_text, term_text
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import DesignTree, Statement, TermKind
from plangen.text.source import SourceFile, SourceSet
from tests.syntax.strategies import VALUES, blocks, trees

EXAMPLES = ("residential", "broken", "commercial", "unmeasured")
KINDS = [(lead, s.words) for lead, spec in BLOCKS.items() for s in spec.statements]


def read(text: str) -> DesignTree:
    """Return the tree of a text that parses."""
    outcome = read_tree(SourceFile.of("d.plan", text))
    assert outcome.problems == (), (text, outcome.problems)
    assert outcome.value is not None
    return outcome.value


def laid_out(text: str) -> str:
    """Return a text in its canonical layout, after the checks that hold for every text."""
    outcome = format_text(SourceFile.of("d.plan", text))
    assert outcome.problems == (), text
    assert outcome.value is not None
    assert same_words(read(text), read(outcome.value))
    assert [c.text for c in marks_of(text).comments] == [c.text for c in marks_of(outcome.value).comments]
    again = format_text(SourceFile.of("d.plan", outcome.value))
    assert again.value == outcome.value
    return outcome.value


def test_there_is_a_strategy_for_every_kind_of_value() -> None:
    assert set(VALUES) == set(Want)


@settings(deadline=None)  # as many examples as the profile says: see conftest
@given(trees())
def test_what_is_printed_reads_back_the_same(tree: DesignTree) -> None:
    text = printed(tree, key)
    assert same_words(tree, read(text))
    assert printed(read(text), key) == text
    assert laid_out(text) == text


def _names(statement: Statement) -> int:
    """Return how many statements a statement stands for: `heads` stands for one for each name."""
    if statement.clauses[0].terms[0].text != "heads":
        return 1
    if statement.listed:
        return sum(c.terms[0].kind is TermKind.NAME for c in statement.clauses[statement.listed :])
    rows = [c.terms for c in statement.clauses]
    return 1 + next(i for i, terms in enumerate(rows) if len(terms) > (2 if i == 0 else 1))


@pytest.mark.parametrize("lead", sorted(BLOCKS))
def test_every_block_prints_reads_back_and_binds(lead: str) -> None:
    """The generated statements are of the language: the binder finds nothing to say, printed or not."""

    # Fewer than of whole trees: that every row is reached is held by test_generator.
    @settings(deadline=None, max_examples=settings().max_examples * 2 // 5)
    @given(blocks(BLOCKS[lead]))
    def holds(block) -> None:  # type: ignore[no-untyped-def]
        text = printed(DesignTree("d.plan", (), (block,)), key)
        problems = Problems()
        found = BlockBinder(SourceSet((SourceFile.of("d.plan", text),)), problems).blocks(read(text))
        assert {p.code for p in problems.items} <= {"PG2028"}, (text, problems.items)
        named = [_names(s) if lead == "zone" else 1 for s in block.statements]
        assert len(found) == 1 and len(found[0].statements) == sum(named)

    holds()


@st.composite
def scattered(draw: st.DrawFn) -> str:
    """Draw a text written by a careless hand: odd blanks, comments and line ends wherever they may be."""
    tree = draw(trees())
    blank = st.sampled_from([" ", "  ", "\t", " \t "])
    note = st.sampled_from(["# a note", "#", "#  half {", '# "open', "# }", "#a, b ->"])
    end = st.one_of(
        st.just("\n"), st.just("\n\n\n"), note.map(lambda c: f"  {c} \n"), note.map(lambda c: f"\n\t{c}\n")
    )
    gap = st.one_of(blank, blank, blank, end.map(lambda e: e + "   "))
    lines = ["".join(draw(end)) if draw(st.booleans()) else "", "plangen   1", draw(end)]
    for include in tree.includes:
        named = f"library{draw(blank)}{include.name}" if include.library else f'"{include.name}"'
        lines += ["include", draw(blank), named, draw(end)]
    for block in tree.blocks:
        lines += [draw(blank).join(term_text(t) for t in block.header), draw(blank), "{", draw(end)]
        for statement in block.statements:
            lines.append(draw(st.sampled_from(["", " ", "    ", "\t"])))
            for number, clause in enumerate(statement.clauses):
                mark = ":" if 0 < statement.listed == number else ","
                lines += [draw(st.sampled_from(["", " "])) + mark + draw(gap)] if number else []
                for place, each in enumerate(clause.terms):
                    before = clause.terms[place - 1] if place else None
                    joint = draw(gap if before is not None and before.kind is TermKind.ARROW else blank)
                    lines.append(joint if place else "")
                    text = term_text(each)
                    if each.kind is TermKind.PAIR and draw(st.booleans()):
                        text = "(" + draw(gap) + draw(gap).join(text[1:-1].partition(",")) + draw(gap) + ")"
                    lines.append(text)
            lines.append(draw(end))
        lines += ["}", draw(end)]
    return "".join(lines)


@settings(deadline=None)  # as many examples as the profile says: see conftest
@given(scattered())
def test_a_careless_text_keeps_its_words_and_comments(text: str) -> None:
    made = laid_out(text)
    assert "\n\n\n" not in made and "\t" not in made and not re.search(r"[ \t]$", made, re.MULTILINE)
    assert not made.startswith("\n") and made.endswith("\n") and not made.endswith("\n\n")


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_examples_are_laid_out(name: str) -> None:
    text = shipped_text("examples", name, "design.plan")
    assert laid_out(text) == text


@pytest.mark.parametrize("name", EXAMPLES)
def test_another_layout_comes_back_to_the_same_text_and_design(name: str) -> None:
    text = shipped_text("examples", name, "design.plan")
    rough = re.sub(r"(?m)^ +", "\t", re.sub(r",\n +", ",", text))
    rough = "\n".join(
        line if '"' in line or "#" in line else re.sub(r" +", "   ", line) for line in rough.split("\n")
    )
    assert rough != text
    assert laid_out(rough) == text
    one, other = (read_design(SourceFile.of("d.plan", t)).value for t in (text, rough))
    assert one is not None and meaning(one) == meaning(other)


def test_lines_break_after_commas_and_arrows_only() -> None:
    for name in EXAMPLES:
        lines = shipped_text("examples", name, "design.plan").split("\n")
        for line, following in itertools.pairwise(lines):
            if following.startswith(" " * 10):
                assert line.split("  #")[0].endswith((",", "->"))
            if len(line) > WIDTH:
                # Points of a curve stand in a row without commas between them.
                assert ") (" in line or line.lstrip().startswith("#")


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("12psi", "12 psi"),
        ("3/4in", "3/4 in"),
        ("1-1/4 in", "1-1/4 in"),
        ("1 1/4  in", "1 1/4 in"),
        ("12 ft  6.50in", "12 ft 6.50 in"),
        ("-12 ft 6 in", "-12 ft 6 in"),
        ("0.70L/s", "0.70 L/s"),
        ("4ftH2O", "4 ftH2O"),
        ("2%", "2 %"),
    ],
)
def test_numbers_keep_their_digits(written: str, told: str) -> None:
    assert quantity_text(written) == told


def test_comments_stay_with_what_they_are_about() -> None:
    assert laid_out(_CARELESS) == _CAREFUL


_CARELESS = """# top
plangen 1 # version
#about site
site {# open

# first
north 0deg # here


# group
lot Lot outline (0,0) -> # corner one
 (1,0) ->
# alone
 (1,1), # end of the route
 existing
# last
} # closed
#end"""
_CAREFUL = """# top
plangen 1  # version

#about site
site {  # open
  # first
  north          0 deg  # here

  # group
  lot Lot        outline (0, 0) ->  # corner one
                 (1, 0) ->
                 # alone
                 (1, 1),  # end of the route
                 existing
  # last
}  # closed

#end
"""


def test_a_text_with_syntax_errors_is_left_alone() -> None:
    outcome = format_text(SourceFile.of("d.plan", "plangen 1\nsite {\n  north 0 deg,,\n}\n"))
    assert outcome.value is None
    assert [p.code for p in outcome.problems] == ["PG1011"]


def test_what_would_change_its_meaning_is_left_alone() -> None:
    """A carriage return parts a number and a word; a blank would make them a quantity."""
    outcome = format_text(SourceFile.of("d.plan", "plangen 1\nsite {\n  north 3\rin\n}\n"))
    assert outcome.value is None
    assert [p.code for p in outcome.problems] == ["PG0011"]


def test_a_line_added_moves_no_other_line() -> None:
    text = shipped_text("examples", "residential", "design.plan")
    long = text.replace("  tee N1 ", "  tee N1-a-name-far-longer-than-any-other at (1, 2)\n  tee N1 ", 1)
    assert laid_out(long).replace("  tee N1-a-name-far-longer-than-any-other at (1, 2)\n", "") == text
