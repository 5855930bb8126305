"""Heads listed after a colon: `heads spray-15h, on L11: H1 at (2, 3), H2 at (17, 3), full circle`.

What stands before the colon holds for all of them; what one says itself stands in place of it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from plangen.model.bind import Binder
from plangen.model.bound import Bound
from plangen.model.cursor import shown
from plangen.model.schema.shape import StatementSpec
from plangen.model.schema.zone import HEAD, ITEM, LIST
from plangen.syntax.tree import Clause, Statement, Term, TermKind
from plangen.syntax.word_error import COLON_HELP
from plangen.text.source import Span
from plangen.text.suggest import listed

# Of two that say one thing in two ways, an item's own one puts the other out of force.
_INSTEAD = {"arc": "full", "full": "arc"}


def stray_colon(binder: Binder, spec: StatementSpec, statement: Statement, leads: frozenset[str]) -> Bound:
    """Report a colon in a statement that takes no list; nothing more is said of the statement."""
    told = len(binder.problems.items)
    bound = binder.bind(spec, Statement(statement.clauses), leads)
    del binder.problems.items[told:]
    for clause in statement.clauses[statement.listed :]:
        binder.drawn_in.update(t.text for t in clause.terms if t.kind is TermKind.NAME)
    if statement.colon is not None:
        binder.problems.error("PG1001", "`:` means nothing here", statement.colon, help=COLON_HELP)
    return replace(bound, broken=True)


def listed_heads(
    binder: Binder, statement: Statement, leads: frozenset[str]
) -> tuple[tuple[Bound, ...], bool]:
    """Return a head for each item of a list, and whether each has its name."""
    before, after = statement.clauses[: statement.listed], statement.clauses[statement.listed :]
    front = binder.bind(LIST, Statement(before), leads)
    items: list[list[Clause]] = []
    for clause in after:
        if clause.terms[0].kind is TermKind.NAME:
            items.append([clause])
        elif items:
            items[-1].append(clause)
        else:
            _nameless(binder, clause)
            return (), False
    heads = [_head(binder, front, tuple(item), leads) for item in items]
    lacking = [head for head in heads if "pipe" not in head.values and not head.broken]
    if lacking:
        where = lacking[0].head if len(lacking) == 1 else front.head
        binder.problems.error(
            "PG2010",
            f"`heads` lacks `on` for {listed((f'`{head.name}`' for head in lacking), 'and')}",
            where,
            expected="`on …`: the lateral that feeds it, here or before the colon for all of the list",
        )
    return tuple(replace(head, broken=head.broken or head in lacking) for head in heads), True


def _nameless(binder: Binder, clause: Clause) -> None:
    first = clause.terms[0]
    binder.problems.error(
        "PG2027",
        f"a list of heads begins with a name, not {shown(first)}",
        first.span,
        expected="a name that begins with a capital letter and a place, such as `H1 at (2, 3)`",
    )


def _head(binder: Binder, front: Bound, item: tuple[Clause, ...], leads: frozenset[str]) -> Bound:
    start = item[0].terms[0].span
    lead = Term(TermKind.WORD, HEAD.lead[0], Span(start.file, start.start, start.start))
    own = binder.bind(ITEM, Statement((Clause((lead, *item[0].terms)), *item[1:])), leads)
    values: dict[str, Any] = {k: v for k, v in front.values.items() if _INSTEAD.get(k) not in own.values}
    values.update(own.values)
    return replace(own, spec=HEAD, values=values, broken=front.broken or own.broken)
