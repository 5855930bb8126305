"""Whether two texts say the same: trees and designs compared without their places in the text."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from plangen.model.design import Design
from plangen.syntax.tree import DesignTree, Term, TermKind
from plangen.text.source import Span


def same_words(a: DesignTree, b: DesignTree) -> bool:
    """Return whether two trees hold the same terms in the same order; blanks inside a number do not count."""
    return _tree(a) == _tree(b)


def same_meaning(a: Design, b: Design) -> bool:
    """Return whether two designs are equal but for places in the text and blanks inside a written number."""
    return meaning(a) == meaning(b)


def meaning(value: Any) -> Any:
    """Return a value without any place in a text, as nested tuples that can be compared."""
    if isinstance(value, Span):
        return None
    if is_dataclass(value) and not isinstance(value, type):
        parts = []
        for each in fields(value):
            part = getattr(value, each.name)
            parts.append("".join(part.split()) if each.name == "written" else meaning(part))
        return (type(value).__name__, *parts)
    if isinstance(value, dict):
        return tuple((meaning(k), meaning(v)) for k, v in value.items())
    if isinstance(value, (tuple, list)):
        return tuple(meaning(item) for item in value)
    return value


def _tree(tree: DesignTree) -> Any:
    blocks = tuple(
        (
            tuple(_term(t) for t in block.header),
            tuple(
                (statement.listed, *(tuple(_term(t) for t in clause.terms) for clause in statement.clauses))
                for statement in block.statements
            ),
        )
        for block in tree.blocks
    )
    includes = tuple((i.name, i.library) for i in tree.includes)
    return tuple((v.word.text, v.number.text) for v in tree.versions), includes, blocks


def _term(term: Term) -> Any:
    if term.kind is TermKind.PAIR:
        return term.kind, tuple(_term(item) for item in term.items)
    if term.kind in (TermKind.QUANTITY, TermKind.NUMBER):
        return term.kind, "".join(term.text.split())
    return term.kind, term.text
