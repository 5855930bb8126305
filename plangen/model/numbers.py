"""Numbers and quantities as written to values: `1-1/4`, `12 ft 6 in`; and nearest units."""

from __future__ import annotations

import re
from collections.abc import Sequence

from plangen.quantity.dimension import FOOT_M, UNITS, Dimension
from plangen.quantity.quantity import to_si
from plangen.text.suggest import closest
from plangen.text.trade_words import LONGEST, is_other_unit, unit_meant

_FEET = re.compile(r"(-?)(\d+)[ \t]*ft[ \t]+(.*)")
_SPLIT = re.compile(r"(-?)([\d \-/.]*\d)[ \t]*([A-Za-z%].*)")
# One example of each dimension, for messages.
EXAMPLE: dict[Dimension, str] = {
    Dimension.LENGTH: "12 in",
    Dimension.PRESSURE: "62 psi",
    Dimension.FLOW: "4 gpm",
    Dimension.ANGLE: "90 deg",
    Dimension.RATIO: "2 %",
    Dimension.TIME: "4 h",
    Dimension.RATE: "6.5 in/month",
    Dimension.COUNT: "3",
    Dimension.VELOCITY: "5 ft/s",
    Dimension.AREA: "200 sqft",
    Dimension.VOLUME: "30 gal",
    Dimension.TEMPERATURE: "60 degF",
    Dimension.VOLTAGE: "24 V",
    Dimension.CURRENT: "0.25 A",
}
# The units people write most, of both systems: what to offer for a number that has none.
USUAL_UNITS: dict[Dimension, tuple[str, ...]] = {
    Dimension.LENGTH: ("ft", "in", "m", "mm"),
    Dimension.PRESSURE: ("psi", "bar", "kPa"),
    Dimension.FLOW: ("gpm", "L/min"),
    Dimension.RATE: ("in/h", "in/day", "in/month", "mm/h", "mm/day", "mm/month"),
    Dimension.TIME: ("s", "min", "h", "days"),
    Dimension.VELOCITY: ("ft/s", "m/s"),
    Dimension.AREA: ("sqft", "sqm"),
    Dimension.VOLUME: ("gal", "cuft", "L"),
    Dimension.TEMPERATURE: ("degF", "degC"),
    Dimension.CURRENT: ("A", "mA"),
}


def number_value(text: str) -> float:
    """Return the value of a bare number as written: `12`, `-0.5`, `3/4`, `1-1/4`, `1 1/4`.

    Raises:
        ZeroDivisionError: a fraction over nought.
    """
    sign, body = (-1.0, text[1:]) if text.startswith("-") else (1.0, text)
    whole, _, fraction = body.replace(" ", "-").rpartition("-") if "/" in body else ("", "", body)
    value = float(whole) if whole else 0.0
    top, slash, bottom = fraction.partition("/")
    value += float(top) / float(bottom) if slash else float(top)
    return sign * value


def quantity_value(text: str) -> tuple[float, Dimension]:
    """Return the SI value and dimension of a quantity as written, such as `12 ft 6 in`.

    Raises:
        ZeroDivisionError: a fraction over nought.
    """
    feet = _FEET.fullmatch(text)
    if feet:
        rest, dimension = quantity_value(feet[3])
        value = float(feet[2]) * FOOT_M + rest
        return (-value if feet[1] else value), dimension
    parts = _SPLIT.fullmatch(text)
    if parts is None:
        raise ValueError(text)
    value = number_value(parts[1] + parts[2])
    return to_si(value, parts[3]), UNITS[parts[3]].dimension


def a_dimension(dimension: Dimension) -> str:
    """Return `a pressure`, `an angle`."""
    return f"{'an' if dimension.value[0] in 'aeiou' else 'a'} {dimension.value}"


def nearest_unit(words: Sequence[str], legal: list[str]) -> tuple[str, int] | None:
    """Return the unit that the words most likely begin with, the wanted dimension first, and their count."""
    if is_other_unit(words[0]):
        return None
    # What is per something else is no shorter run of its words: gallons per day are no gallons.
    least = words.index("per") + 2 if "per" in words else 1
    for count in range(min(LONGEST, len(words)), least - 1, -1):
        unit = _unit(" ".join(words[:count]), legal)
        if unit is not None:
            return unit, count
    near = None if least > 1 else closest(words[0], legal) or closest(words[0], UNITS)
    return (near, 1) if near else None


def _unit(word: str, legal: list[str]) -> str | None:
    for symbol in legal:
        if symbol.lower() == word.lower():
            return symbol
    named = unit_meant(word)
    if named in legal:
        return named
    for symbol in legal:
        # Units are too short for a likeness in per cent: one letter off is near enough.
        same = len(symbol) == len(word) > 2 and sum(a != b for a, b in zip(symbol, word, strict=True)) == 1
        if same:
            return symbol
    return named


def split_quantity(text: str) -> tuple[str, str]:
    """Return the number and the unit of a quantity as written: `4` and `gal` of `4 gal`."""
    parts = _SPLIT.fullmatch(text)
    return (parts[1] + parts[2], parts[3]) if parts else (text, "")
