"""A number with its unit, its source and its place in the text. Values are kept in SI."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace
from enum import StrEnum

from plangen.quantity.dimension import COUNT_UNIT, RATIO_UNIT, UNITS, Dimension, Unit
from plangen.text.source import Span


class Basis(StrEnum):
    """Where a number comes from. The first four can decide a required rule, the others cannot."""

    MEASURED = "measured"
    DECLARED = "declared by the designer"
    DATA_SHEET = "data sheet"
    STANDARD = "standard"
    TYPICAL = "typical"
    ASSUMED = "assumed"
    FROM_MEMORY = "from memory"

    @property
    def decides(self) -> bool:
        """Return whether a required rule may rest on it."""
        return self in (Basis.MEASURED, Basis.DECLARED, Basis.DATA_SHEET, Basis.STANDARD)


@dataclass(frozen=True, slots=True)
class Provenance:
    """Why a number is believed: its basis, and the date or document that backs it."""

    basis: Basis = Basis.DECLARED
    date: datetime.date | None = None
    document: str = ""

    def told(self) -> str:
        """Return it in words: `measured 2026-04-20`, `data sheet "R-12"`."""
        words: str = self.basis.value
        if self.date is not None:
            words += f" {self.date.isoformat()}"
        if self.document:
            words += f' "{self.document}"'
        return words


DECLARED = Provenance()


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in the SI unit of its dimension, with the text as written (`1-1/4 in`)."""

    si: float
    dimension: Dimension
    written: str
    provenance: Provenance = DECLARED
    span: Span | None = None

    def to(self, unit: str) -> float:
        """Return the value in a named unit of the same dimension.

        Raises:
            ValueError: the unit is of another dimension.
        """
        return si_to(self.si, self.dimension, unit)

    def with_provenance(self, provenance: Provenance) -> Quantity:
        """Return the same quantity with another source."""
        return replace(self, provenance=provenance)


def unit_named(symbol: str, dimension: Dimension) -> Unit:
    """Return the unit of a symbol; the empty symbol is the bare number of a count or ratio."""
    if symbol:
        return UNITS[symbol]
    return COUNT_UNIT if dimension is Dimension.COUNT else RATIO_UNIT


def si_to(si: float, dimension: Dimension, unit: str) -> float:
    """Convert an SI value of a dimension to a named unit."""
    target = unit_named(unit, dimension)
    if target.dimension is not dimension:
        raise ValueError(f"{unit} is a {target.dimension.value}, not a {dimension.value}")
    return (si - target.offset) / target.factor


def to_si(value: float, unit: str) -> float:
    """Convert a value in a named unit to SI."""
    source = UNITS[unit]
    return value * source.factor + source.offset
