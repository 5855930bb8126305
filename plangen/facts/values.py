"""What a rule may see: rows of typed values, each with the inputs it rests on. The narrow waist."""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.quantity.dimension import Dimension
from plangen.quantity.evidence import Input
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class FactType:
    """The type of a fact: quantity (of a dimension), truth, word (one of `words`), words (a set) or text."""

    kind: str  # quantity, truth, word, words, text
    dimension: Dimension | None = None
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FactField:
    """One documented field of a relation. Heights say their datum."""

    name: str
    type: FactType
    help: str
    datum: str = ""
    small: bool = False  # told in inches or millimetres
    tolerance_si: float = 0.0  # how closely a crew can build it
    reach_si: float = math.inf  # rows beyond this are not listed, so no rule may ask for more


@dataclass(frozen=True, slots=True)
class Relation:
    """One kind of thing a rule may be about."""

    name: str
    help: str
    fields: tuple[FactField, ...]
    single: bool = False  # has exactly one row, so that a rule may write `site.frost_depth`

    def field(self, name: str) -> FactField | None:
        """Return the field of that name, or None."""
        return next((f for f in self.fields if f.name == name), None)


@dataclass(frozen=True, slots=True)
class Value:
    """A fact's value in SI (a float), a truth, a word, a tuple of words; None is not known.

    `missing` says what is not known, in words an author understands.
    """

    value: float | bool | str | tuple[str, ...] | None
    inputs: tuple[Input, ...] = ()
    missing: tuple[str, ...] = ()
    how: str = ""  # one line: how it was worked out


@dataclass(frozen=True, slots=True)
class Row:
    """One object of a relation."""

    relation: str
    name: str
    span: Span
    values: tuple[tuple[str, Value], ...]

    def get(self, field: str) -> Value:
        """Return the value of a field; a field nobody set is not known."""
        for name, value in self.values:
            if name == field:
                return value
        return Value(None, missing=(field.replace("_", " "),))


@dataclass(frozen=True, slots=True)
class FactBase:
    """All rows. `complete` names the relations whose lists are known to be whole."""

    version: str
    rows: tuple[Row, ...]
    complete: tuple[str, ...]

    def of(self, relation: str) -> tuple[Row, ...]:
        """Return the rows of a relation in the order of names."""
        return tuple(r for r in self.rows if r.relation == relation)
