"""Short constructors for the vocabulary's fields. Builds descriptions only; no fact is worked out here."""

from __future__ import annotations

import math

from plangen.facts.values import FactField, FactType
from plangen.quantity.dimension import INCH_M, Dimension

# How closely a crew sets things, as common practice has it (no source): used to warn of thin margins.
SET_HEIGHT_M = 1.0 * INCH_M
DIG_DEPTH_M = 1.0 * INCH_M
SET_HEAD_M = 0.5 * INCH_M


def length(
    name: str, help: str, datum: str = "", tolerance_m: float = 0.0, reach_m: float = math.inf
) -> FactField:
    """Return a length told in feet or metres."""
    return FactField(name, FactType("quantity", Dimension.LENGTH), help, datum, False, tolerance_m, reach_m)


def small_length(name: str, help: str, datum: str = "", tolerance_m: float = 0.0) -> FactField:
    """Return a length told in inches or millimetres."""
    return FactField(name, FactType("quantity", Dimension.LENGTH), help, datum, True, tolerance_m)


def quantity(name: str, dimension: Dimension, help: str, datum: str = "") -> FactField:
    """Return a field of any other dimension."""
    return FactField(name, FactType("quantity", dimension), help, datum)


def count(name: str, help: str) -> FactField:
    """Return a number of things."""
    return FactField(name, FactType("quantity", Dimension.COUNT), help)


def ratio(name: str, help: str) -> FactField:
    """Return a share, told in per cent."""
    return FactField(name, FactType("quantity", Dimension.RATIO), help)


def truth(name: str, help: str) -> FactField:
    """Return a yes-or-no field."""
    return FactField(name, FactType("truth"), help)


def word(name: str, help: str, *words: str) -> FactField:
    """Return a field that is one of a closed list of words."""
    return FactField(name, FactType("word", None, words), help)


def words(name: str, help: str, *known: str) -> FactField:
    """Return a field that is a set of words; without a list any word may stand in it."""
    return FactField(name, FactType("words", None, known), help)


def text(name: str, help: str) -> FactField:
    """Return a field of free text."""
    return FactField(name, FactType("text"), help)
