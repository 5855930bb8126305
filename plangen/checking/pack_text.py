"""A pack as written: its limits, tables and rules with spans, names not yet looked up."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from plangen.checking.duties import Period
from plangen.checking.finding import RuleSource
from plangen.checking.tree import Amount, Expr, Path
from plangen.text.source import Span


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
class DutyText:
    """One duty as written; `kind` is one of `duties.KINDS`."""

    kind: str
    span: Span
    at_least: Period | None
    at_most: Period | None
    words: str
    source: RuleSource | None
    replaces: bool
    because: str


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
    duties: tuple[DutyText, ...] = ()
    rules: tuple[RuleText, ...] = ()
    switched_off: tuple[SwitchOff, ...] = ()
