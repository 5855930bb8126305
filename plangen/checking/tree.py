"""The rule text as written: expressions and blocks with spans, names not yet looked up."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from plangen.checking.finding import RuleSource
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


@dataclass(frozen=True, slots=True)
class StepText:
    """A line of reasoning, shown when its condition holds."""

    text: str
    when: Expr | None
    span: Span


@dataclass(frozen=True, slots=True)
class RuleText:
    """One rule as written. `how` is `for_each`, `for_the` or `once`; `because` is set on a replacement."""

    name: str
    title: str
    span: Span
    how: str = ""
    relation: Path | None = None
    where: Expr | None = None
    when: tuple[Expr, ...] = ()
    require: Expr | None = None
    ask: str = ""
    severity: str = ""
    why: str = ""
    fix: str = ""
    sources: tuple[RuleSource, ...] = ()
    waivable: bool = True
    steps: tuple[StepText, ...] = ()
    replaces: bool = False
    because: str = ""


@dataclass(frozen=True, slots=True)
class LimitText:
    """One limit: `value` an amount, or `words` a list."""

    name: str
    span: Span
    about: str
    value: Amount | None
    words: tuple[str, ...]
    source: RuleSource | None
    replaces: bool
    because: str
    authority: str


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: applies up to `limit` (None in the last row), or to `word`."""

    limit: Amount | None
    word: str
    value: Amount
    span: Span


@dataclass(frozen=True, slots=True)
class TableText:
    """One lookup table."""

    name: str
    span: Span
    about: str
    rows: tuple[TableRow, ...]
    source: RuleSource | None
    replaces: bool
    because: str
    authority: str


@dataclass(frozen=True, slots=True)
class SwitchOff:
    """A parent's rule taken out, with its reason."""

    name: str
    because: str
    span: Span


@dataclass(frozen=True, slots=True)
class PackText:
    """One pack as written."""

    name: str
    span: Span
    parent: str = ""
    title: str = ""
    authority: str = ""
    edition: str = ""
    effective: datetime.date | None = None
    contact: str = ""
    facts: str = ""
    banner: str = ""
    invented: bool = False
    limits: tuple[LimitText, ...] = ()
    tables: tuple[TableText, ...] = ()
    rules: tuple[RuleText, ...] = ()
    switched_off: tuple[SwitchOff, ...] = ()
