"""The shape of the language tables: statements, their arguments and clauses. Data only.

One table serves reading, checking, suggestions, the handbook and editors: see plangen.model.schema.blocks.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from plangen.quantity.dimension import Dimension


class Want(StrEnum):
    """What kind of value a slot takes; the words are those told to people."""

    FLAG = "nothing more"
    TEXT = "text in quotes"
    WORD = "a word"
    CHOICE = "one of a few words"
    QUANTITY = "a quantity"
    COUNT = "a whole number"
    DATE = "a date"
    PLACE = "a place"
    ROUTE = "a chain of places"
    REF = "a name"
    PART = "the name of a part"
    FAMILY = "a pipe material"
    SIZE = "a pipe size"
    ARC = "two bearings"
    RANGE = "two quantities"
    LAW = "a flow at a pressure, or points"
    AT_FLOW = "a quantity at another"
    STEPS = "a first distance and a spacing"
    ROW = "two places"
    CURVE = "points"
    ANSWER = "`none` or text in quotes"
    PROVENANCE = "where the figures come from"
    LABEL = "a letter, a name or a word"


@dataclass(frozen=True, slots=True)
class Slot:
    """One value of a statement: an argument (no lead words) or a clause that begins with its lead words.

    `dimensions` are those of a quantity, or of the two of a pair. `choices` are the legal words.
    `refs` are the kinds of objects a name may be of (statement leads), `part_kinds` those of a part.
    `trailing` are words that may follow for the reader's sake (`above grade`).
    """

    field: str
    want: Want
    help: str
    lead: tuple[str, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    choices: tuple[str, ...] = ()
    refs: tuple[str, ...] = ()
    part_kinds: tuple[str, ...] = ()
    required: bool = False
    many: bool = False
    positive: bool = False
    trailing: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """Return the lead words as written."""
        return " ".join(self.lead)


@dataclass(frozen=True, slots=True)
class StatementSpec:
    """One kind of statement.

    `named` is `required`, `optional`, `several` (names in a row) or empty: whether a name follows the lead
    words. `single`: at most once in its block. `required`: must be in its block. `kind` is that of the object
    where the lead words are not (`flow sensor` on a pipe is a `flow-sensor`, one at the controller is not).
    `items` is what each item is of the list that a colon may open at the end of the statement.
    """

    lead: tuple[str, ...]
    help: str
    args: tuple[Slot, ...] = ()
    clauses: tuple[Slot, ...] = ()
    named: str = ""
    single: bool = False
    required: bool = False
    kind: str = ""
    items: StatementSpec | None = None

    @property
    def words(self) -> str:
        """Return the lead words as written."""
        return " ".join(self.lead)

    def slots(self) -> tuple[Slot, ...]:
        """Return arguments and clauses."""
        return self.args + self.clauses


@dataclass(frozen=True, slots=True)
class BlockSpec:
    """One kind of block. `named` is `name`, `part` or empty; `single`: at most one in a design."""

    lead: str
    help: str
    statements: tuple[StatementSpec, ...]
    named: str = ""
    label: bool = False
    single: bool = True
    required: bool = False
