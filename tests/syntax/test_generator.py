"""The random designs reach the whole language: every statement, clause, choice, unit and form of place.

For each row of the language table a statement that says all of it is drawn, printed, read and bound; and the
strategies of values are asked for every form that a value has.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bind_blocks import BlockBinder
from plangen.model.formatted import key
from plangen.model.same import same_words
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import BlockSpec, StatementSpec, Want
from plangen.quantity.dimension import UNITS, Dimension
from plangen.syntax.format import printed
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import Block, Clause, DesignTree, Statement, TermKind
from plangen.text.source import SourceFile, SourceSet
from tests.syntax.strategies import NAME, NOWHERE, PLACE, VALUES, lists, quantities, slot_terms, term, words

T = TypeVar("T")


def drawn(strategy: st.SearchStrategy[T], count: int = 1) -> list[T]:
    """Return so many values of a strategy."""
    found: list[T] = []

    @settings(
        max_examples=count, deadline=None, database=None, derandomize=True, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(strategy)
    def keep(value: T) -> None:
        found.append(value)

    keep()
    return found


def rows() -> Iterator[tuple[BlockSpec, StatementSpec]]:
    """Give each row of the table once, with a block that has it."""
    seen = set()
    for block in BLOCKS.values():
        for spec in block.statements:
            if id(spec) not in seen:
                seen.add(id(spec))
                yield block, spec


@st.composite
def whole(draw: st.DrawFn, spec: StatementSpec) -> Statement:
    """Draw a statement with all of its arguments and clauses."""
    first = words(spec.words)
    names = draw(st.lists(NAME, min_size=2, max_size=2)) if spec.named == "several" else []
    if names:
        names = [first + names[0], *names[1:]]
        first = names.pop()
    elif spec.named:
        first += draw(NAME)
    for slot in spec.args:
        first += draw(slot_terms(slot))
    clauses = [draw(slot_terms(slot)) for slot in spec.clauses]
    return Statement(tuple(Clause(terms) for terms in (*names, first, *clauses)), NOWHERE)


def bound(block: BlockSpec, statement: Statement) -> set[str]:
    """Return the fields that a statement says, after it was printed and read again without a change."""
    header = words(block.lead) + {"name": (term(TermKind.NAME, "Z1"),), "part": words("a-part")}.get(
        block.named, ()
    )
    tree = DesignTree("d.plan", (), (Block(header, (statement,), NOWHERE),))
    text = printed(tree, key)
    source = SourceFile.of("d.plan", text)
    outcome = read_tree(source)
    assert outcome.value is not None and outcome.problems == (), text
    assert same_words(tree, outcome.value) and printed(outcome.value, key) == text
    problems = Problems()
    (found,) = BlockBinder(SourceSet((source,)), problems).blocks(outcome.value)
    # Of the block itself much is missing, and a row of heads stands at distances or between two places.
    assert {p.code for p in problems.items} <= {"PG2010", "PG2011", "PG2028"}, (text, problems.items)
    return {field for one in found.statements for field in one.values}


@pytest.mark.parametrize("lead", sorted(BLOCKS))
def test_each_row_with_all_it_may_say_comes_back_the_same(lead: str) -> None:
    for block, spec in rows():
        if block.lead == lead:
            said = {field for statement in drawn(whole(spec)) for field in bound(block, statement)}
            in_row = {"steps", "row"} if spec.named == "several" else set()
            assert {slot.field for slot in spec.slots()} - in_row <= said, spec.words


def test_a_list_after_a_colon_says_all_of_its_items() -> None:
    for block, spec in rows():
        if spec.items is not None:
            some = drawn(lists(spec, spec.items), 10)
            said = {field for statement in some for field in bound(block, statement)}
            assert {slot.field for slot in spec.items.slots()} <= said


def test_every_form_of_a_place_and_every_unit_is_drawn() -> None:
    joints = {t.text for terms in drawn(PLACE, 120) for t in terms if t.kind is TermKind.WORD}
    assert {"of", "and", "along", "from", "midway", "between", "opposite", "on", "toward"} <= joints
    for dimension in (Dimension.LENGTH, Dimension.PRESSURE, Dimension.FLOW):
        texts = [terms[0].text for terms in drawn(quantities(dimension), 80)]
        for unit in (s for s, u in UNITS.items() if u.dimension is dimension):
            assert any(text.endswith(unit) for text in texts), unit


def test_every_choice_is_drawn() -> None:
    slots = {s.choices: s for _, spec in rows() for s in spec.slots() if s.want is Want.CHOICE}
    for choices, slot in slots.items():
        texts = {
            " ".join(t.text for t in terms) for terms in drawn(VALUES[Want.CHOICE](slot), 4 * len(choices))
        }
        assert texts == set(choices)
