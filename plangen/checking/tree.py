"""Expressions of rule text as written, with spans; names not yet looked up."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.quantity.dimension import Dimension
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Path:
    """A name in an expression: `cover`, `this.cover`, `site.frost_depth`, or a word."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity, or a bare number where `dimension` is None."""

    si: float
    dimension: Dimension | None
    written: str
    span: Span


@dataclass(frozen=True, slots=True)
class Text:
    """A quoted text."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class LimitRef:
    """`limit NAME`."""

    name: str
    span: Span


@dataclass(frozen=True, slots=True)
class Lookup:
    """`table NAME for KEY`."""

    name: str
    key: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """`plus`, `minus`, `times` or `divided` of two values."""

    operator: str
    left: Expr
    right: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Pick:
    """`larger of (…)` or `smaller of (…)`."""

    which: str
    items: tuple[Expr, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Gather:
    """`count`, `sum`, `largest` or `smallest` over the rows of a relation."""

    which: str
    item: Expr | None
    relation: Path
    where: Expr | None
    span: Span


@dataclass(frozen=True, slots=True)
class Comparison:
    """An order test: `at least`, `at most`, `more than`, `less than`."""

    operator: str
    left: Expr
    right: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Within:
    """`X within TOLERANCE of Y`."""

    value: Expr
    tolerance: Expr
    target: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Same:
    """`X is Y`, or `X is not Y`."""

    left: Expr
    right: Expr
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Options:
    """The right side of `is one of`: words, a field that holds words, or a limit that lists them."""

    words: tuple[Path, ...]
    limit: LimitRef | None
    span: Span


@dataclass(frozen=True, slots=True)
class Member:
    """`X is one of …`, or `X is none of …`."""

    value: Expr
    options: Options
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Includes:
    """`X includes any|all|none of …`."""

    value: Expr
    options: Options
    mode: str
    span: Span


@dataclass(frozen=True, slots=True)
class KnownTest:
    """`X is known`, or `X is not known`."""

    value: Expr
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Negation:
    """`not X`."""

    inner: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Junction:
    """`A and B` (`every` true) or `A or B`."""

    every: bool
    parts: tuple[Expr, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Presence:
    """`there is R where (…)`, or `no R where (…)`."""

    relation: Path
    where: Expr | None
    negated: bool
    span: Span


@dataclass(frozen=True, slots=True)
class ForAll:
    """`every R where (…) has (…)`."""

    relation: Path
    where: Expr | None
    has: Expr
    span: Span


Expr = (
    Path
    | Amount
    | Text
    | LimitRef
    | Lookup
    | Arithmetic
    | Pick
    | Gather
    | Comparison
    | Within
    | Same
    | Member
    | Includes
    | KnownTest
    | Negation
    | Junction
    | Presence
    | ForAll
)
