"""The design text as a tree of terms with spans. Says what was written, not what it means."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from plangen.text.source import Span


class TermKind(StrEnum):
    """What a term is, by its form alone."""

    WORD = "word"
    NAME = "name"
    TEXT = "text"
    DATE = "date"
    NUMBER = "number"
    QUANTITY = "quantity"
    CORNER = "corner"
    PAIR = "pair"
    ARROW = "arrow"


# How each kind is told to people.
HUMAN: dict[TermKind, str] = {
    TermKind.WORD: "a word",
    TermKind.NAME: "a name, such as `V1`",
    TermKind.TEXT: 'text in quotes, such as `"Front lawn"`',
    TermKind.DATE: "a date, such as `2026-05-04`",
    TermKind.NUMBER: "a number",
    TermKind.QUANTITY: "a quantity, such as `3/4 in`",
    TermKind.CORNER: "a corner, such as `House.southwest`",
    TermKind.PAIR: "a pair, such as `(12, 14)`",
    TermKind.ARROW: "an arrow `->`",
}


@dataclass(frozen=True, slots=True)
class Term:
    """One term: its kind, its text as written (without quotes for text) and its place; pairs hold two."""

    kind: TermKind
    text: str
    span: Span
    items: tuple[Term, ...] = ()


@dataclass(frozen=True, slots=True)
class Clause:
    """The terms between two commas; arrows are among them. Never empty."""

    terms: tuple[Term, ...]

    @property
    def span(self) -> Span:
        """Return the stretch of the text it covers."""
        return self.terms[0].span.join(self.terms[-1].span)


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement: its clauses in the order written. Never empty.

    `colon` is where a colon stands that opens a list, `listed` the number of clauses before it; None and 0
    without one.
    """

    clauses: tuple[Clause, ...]
    colon: Span | None = None
    listed: int = 0

    @property
    def span(self) -> Span:
        """Return the stretch of the text it covers."""
        return self.clauses[0].span.join(self.clauses[-1].span)


@dataclass(frozen=True, slots=True)
class Block:
    """A block: the terms before its brace and its statements; not `whole` if one could not be read."""

    header: tuple[Term, ...]
    statements: tuple[Statement, ...]
    span: Span
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Version:
    """One version line: its word, which is to be `plangen`, and its number."""

    word: Term
    number: Term

    @property
    def span(self) -> Span:
        """Return the stretch of the text it covers."""
        return self.word.span.join(self.number.span)


@dataclass(frozen=True, slots=True)
class Include:
    """One include line: the path of a file as written, or the name of a shipped library."""

    name: str
    library: bool
    span: Span


@dataclass(frozen=True, slots=True)
class DesignTree:
    """A whole file.

    `broken_names` are names whose statement could not be read: they exist, but nothing more is known of
    them; `nameless` are the first words of statements whose very name could not be read. `whole` is False
    where a block or its head could not be read, so that anything may be missing.
    """

    file: str
    versions: tuple[Version, ...]
    blocks: tuple[Block, ...]
    broken_names: frozenset[str] = frozenset()
    whole: bool = True
    nameless: tuple[str, ...] = ()
    includes: tuple[Include, ...] = ()
