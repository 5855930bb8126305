"""Checked expressions: every name looked up, every dimension agreed. What evaluation and wording read."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking.finding import RuleSource
from plangen.facts.values import FactField, FactType
from plangen.quantity.dimension import Dimension
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Replaced:
    """A value an amending pack set anew: what it was, and why it may be another now."""

    pack: str
    written: str
    because: str
    authority: str


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit in force: a number in SI (`dimension` None for a bare one) or a list of words."""

    name: str
    about: str
    pack: str
    span: Span
    written: str
    si: float | None
    dimension: Dimension | None
    words: tuple[str, ...]
    source: RuleSource
    replaced: tuple[Replaced, ...] = ()


@dataclass(frozen=True, slots=True)
class TableEntry:
    """One row of a table: up to a size (None: all the rest), or for a word."""

    up_to_si: float | None
    word: str
    si: float
    key_written: str
    written: str


@dataclass(frozen=True, slots=True)
class Table:
    """A lookup table in force; `key_words` tells a table of words from one of sizes."""

    name: str
    about: str
    pack: str
    span: Span
    entries: tuple[TableEntry, ...]
    key_words: bool
    key_dimension: Dimension | None
    dimension: Dimension | None
    source: RuleSource
    replaced: tuple[Replaced, ...] = ()


@dataclass(frozen=True, slots=True)
class Field:
    """A fact: of the row at depth `scope` (0 is the rule's own), or of the one row of a single relation."""

    scope: int | None
    relation: str
    field: FactField
    span: Span


@dataclass(frozen=True, slots=True)
class Const:
    """A number in SI; `dimension` None is a bare number, a count or a ratio."""

    si: float
    dimension: Dimension | None
    written: str


@dataclass(frozen=True, slots=True)
class Words:
    """A closed set of words or texts."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LimitTerm:
    """A limit where it is used."""

    limit: Limit


@dataclass(frozen=True, slots=True)
class LookupTerm:
    """A table's value for a key."""

    table: Table
    key: Term


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """`plus`, `minus`, `times` or `divided`."""

    operator: str
    left: Term
    right: Term
    dimension: Dimension | None


@dataclass(frozen=True, slots=True)
class Pick:
    """The larger or smaller of several values."""

    larger: bool
    items: tuple[Term, ...]
    dimension: Dimension | None


@dataclass(frozen=True, slots=True)
class Gather:
    """`count`, `sum`, `largest` or `smallest` over the rows of a relation, which stand at depth `scope`."""

    which: str
    relation: str
    scope: int
    item: Term | None
    where: Term | None
    dimension: Dimension | None


@dataclass(frozen=True, slots=True)
class Compare:
    """An order test of two numbers: `at least`, `at most`, `more than`, `less than` or `is`."""

    operator: str
    left: Term
    right: Term
    span: Span


@dataclass(frozen=True, slots=True)
class Member:
    """A word or text is one of a set (or none of it)."""

    value: Term
    options: Term
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Includes:
    """A set of words includes any, all or none of another."""

    value: Term
    options: Term
    mode: str
    span: Span


@dataclass(frozen=True, slots=True)
class Known:
    """A value is known (or is not)."""

    value: Term
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Negation:
    """Not so."""

    inner: Term


@dataclass(frozen=True, slots=True)
class Junction:
    """All of the parts, or any of them."""

    every: bool
    parts: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Presence:
    """There is a row such that, or there is none."""

    relation: str
    scope: int
    where: Term | None
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class ForAll:
    """Every row such that … has …"""

    relation: str
    scope: int
    where: Term | None
    has: Term
    span: Span


Term = (
    Field
    | Const
    | Words
    | LimitTerm
    | LookupTerm
    | Arithmetic
    | Pick
    | Gather
    | Compare
    | Member
    | Includes
    | Known
    | Negation
    | Junction
    | Presence
    | ForAll
)

TRUTH = FactType("truth")


def type_of(term: Term) -> FactType:
    """Return the type of a checked expression."""
    match term:
        case Field(field=field):
            return field.type
        case Const(dimension=dimension) | Arithmetic(dimension=dimension) | Pick(dimension=dimension):
            return FactType("quantity", dimension)
        case Gather(dimension=dimension):
            return FactType("quantity", dimension)
        case LimitTerm(limit=limit):
            return (
                FactType("words", None, limit.words) if limit.words else FactType("quantity", limit.dimension)
            )
        case LookupTerm(table=table):
            return FactType("quantity", table.dimension)
        case Words(words=words):
            return FactType("words", None, words)
        case _:
            return TRUTH


def parts_of(term: Term) -> tuple[Term, ...]:
    """Return the expressions directly inside another, in the order written."""
    match term:
        case Arithmetic(left=left, right=right) | Compare(left=left, right=right):
            return (left, right)
        case Pick(items=items) | Junction(parts=items):
            return items
        case LookupTerm(key=key):
            return (key,)
        case Member(value=value, options=options) | Includes(value=value, options=options):
            return (value, options)
        case Known(value=value) | Negation(inner=value):
            return (value,)
        case Gather(where=where, item=item):
            return tuple(p for p in (where, item) if p is not None)
        case Presence(where=where):
            return () if where is None else (where,)
        case ForAll(where=where, has=has):
            return (has,) if where is None else (where, has)
        case _:
            return ()
