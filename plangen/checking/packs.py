"""A pack that has been read, linked with what it extends, and checked against the fact vocabulary.

What the packet prints of a pack beside its findings (the notice before digging, how long a ticket holds, the
test cycle, when a report is due, what a statement of compliance says) are its `duties`: see
`duties_of(packs, kind)` here, and print `duties.NOT_KNOWN` where that is empty.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from plangen.checking.duties import Duty
from plangen.checking.finding import RuleSource
from plangen.checking.terms import Limit, Table, Term
from plangen.facts.values import Relation
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Step:
    """A line of reasoning; without a condition it is always shown."""

    text: str
    when: Term | None


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule in force. `pack` is where it is written; `because` is set where it replaced another."""

    name: str
    title: str
    pack: str
    span: Span
    how: str  # for_each, for_the, once
    relation: Relation | None
    where: Term | None
    when: tuple[Term, ...]
    require: Term | None
    ask: str
    severity: str  # required, advisory
    why: str
    fix: str
    sources: tuple[RuleSource, ...]
    waivable: bool
    steps: tuple[Step, ...] = ()
    because: str = ""
    instead_of: str = ""  # the pack whose rule it replaced


@dataclass(frozen=True, slots=True)
class RuleOff:
    """A parent's rule that a pack switched off, with its reason."""

    rule: str
    title: str
    pack: str
    because: str
    span: Span


@dataclass(frozen=True, slots=True)
class CheckedPack:
    """One pack in force: its own text over those it extends, oldest ancestor first in `chain`."""

    name: str
    chain: tuple[str, ...]
    title: str
    authority: str
    edition: str
    effective: datetime.date
    contact: str
    banner: str
    invented: bool
    facts: str
    limits: tuple[Limit, ...]
    tables: tuple[Table, ...]
    rules: tuple[Rule, ...]
    switched_off: tuple[RuleOff, ...]
    span: Span
    duties: tuple[Duty, ...] = ()

    def limit(self, name: str) -> Limit | None:
        """Return the limit of that name, or None."""
        return next((x for x in self.limits if x.name == name), None)

    def table(self, name: str) -> Table | None:
        """Return the table of that name, or None."""
        return next((x for x in self.tables if x.name == name), None)

    def rule(self, name: str) -> Rule | None:
        """Return the rule of that name, or None."""
        return next((x for x in self.rules if x.name == name), None)


def duties_of(packs: Iterable[CheckedPack], kind: str) -> tuple[Duty, ...]:
    """Return what the packs in force say of one kind of duty, in their order; empty where none says it."""
    return tuple(dict.fromkeys(d for pack in packs for d in pack.duties if d.kind == kind))
