"""Numbers and quantities as written to values: `1-1/4`, `12 ft 6 in`; and nearest units."""

from __future__ import annotations

import re

from plangen.quantity.dimension import FOOT_M, UNITS, Dimension
from plangen.quantity.quantity import to_si
from plangen.text.suggest import closest

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


# Spellings that people use; the language has one for each unit.
SPELLINGS = {
    "inch": "in", "inches": "in", "feet": "ft", "foot": "ft", "yard": "yd", "yards": "yd",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "millimetres": "mm",
    "millimeters": "mm", "lpm": "L/min", "lps": "L/s", "lph": "L/h", "l": "L", "litre": "L",
    "litres": "L", "liters": "L", "gallon": "gal", "gallons": "gal", "degrees": "deg",
    "degree": "deg", "percent": "%", "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
    "minutes": "min", "mins": "min", "second": "s", "seconds": "s", "sec": "s", "psig": "psi",
    "pounds": "psi", "volts": "V", "v": "V", "fps": "ft/s", "iph": "in/h",
}  # fmt: skip


def nearest_unit(word: str, legal: list[str]) -> str | None:
    """Return the unit that a word most likely means, those of the wanted dimension first."""
    for symbol in legal:
        if symbol.lower() == word.lower():
            return symbol
    if SPELLINGS.get(word.lower()) in legal:
        return SPELLINGS[word.lower()]
    for symbol in legal:
        # Units are too short for a likeness in per cent: one letter off is near enough.
        same = len(symbol) == len(word) > 1 and sum(a != b for a, b in zip(symbol, word, strict=True)) == 1
        if same and len(symbol) > 2:
            return symbol
    return closest(word, legal) or SPELLINGS.get(word.lower()) or closest(word, UNITS)
