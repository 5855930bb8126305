"""A finding: what one rule says of one object, with its evidence. Frozen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from plangen.quantity.dimension import Dimension
from plangen.quantity.quantity import Provenance
from plangen.text.source import Span


class Status(StrEnum):
    """The six verdicts. What is not known never reads as `meets`."""

    MEETS = "meets"
    FALLS_SHORT = "falls_short"
    NOT_KNOWN = "not_known"
    NEEDS_PERSON = "needs_person"
    WAIVED = "waived"
    NOT_APPLICABLE = "not_applicable"

    @property
    def words(self) -> str:
        """Return the status as printed."""
        return {"not_applicable": "does not apply", "needs_person": "needs a person"}.get(
            self.value, self.value.replace("_", " ")
        )


@dataclass(frozen=True, slots=True)
class Measure:
    """A value for showing: a quantity (SI and dimension) or plain words."""

    words: str
    si: float | None = None
    dimension: Dimension | None = None
    small: bool = False


@dataclass(frozen=True, slots=True)
class Evidence:
    """One value the verdict rests on."""

    name: str
    value: Measure
    provenance: Provenance
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class RuleSource:
    """Where a requirement comes from; `verified`: `read`, `restated`, `from memory`, `common practice`."""

    title: str
    section: str
    edition: str
    verified: str


@dataclass(frozen=True, slots=True)
class OtherLimit:
    """The same measure's limit in another pack that did not govern."""

    pack: str
    words: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One verdict.

    `id` is made of rule and subject. `at` is the statement the reader should look at; `rule_at` the
    rule's own place in its pack. `steps` show the reasoning where there is more than a comparison.
    """

    id: str
    number: int
    rule: str
    pack: str
    title: str
    status: Status
    severity: str  # required, advisory
    subject_kind: str
    subject: str
    message: str
    at: Span
    rule_at: Span
    measured: Measure | None = None
    at_least: Measure | None = None
    at_most: Measure | None = None
    margin: Measure | None = None
    evidence: tuple[Evidence, ...] = ()
    steps: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    sources: tuple[RuleSource, ...] = ()
    why: str = ""
    remedy: str = ""
    look_at: str = ""
    waived_by: str = ""
    others: tuple[OtherLimit, ...] = ()
    drawn_on: tuple[tuple[str, str], ...] = ()  # (sheet, zone)
    confirmed_by: str = ""
    weak: tuple[str, ...] = ()  # inputs it rests on that cannot decide a required rule, each with its basis
    fact: str = ""  # name of the fact that is measured against the limit, or empty

    @property
    def told(self) -> bool:
        """Return whether what it rests on may decide; else the remedy says what would settle it."""
        open_to = (Status.NOT_KNOWN, Status.NEEDS_PERSON)
        return self.status not in open_to or not (self.missing or self.weak)
