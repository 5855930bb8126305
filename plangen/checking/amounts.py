"""Quantities of rule text: the token's own text to a value in SI."""

from __future__ import annotations

import re
from fractions import Fraction

from plangen.checking.tree import Amount
from plangen.quantity.dimension import UNITS
from plangen.text.source import Span

_NUMBER = r"\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?"
_PART = re.compile(rf"(-?)({_NUMBER})\s*(\S*)")


def plain_number(text: str) -> float:
    """Return the value of `3`, `2.5`, `3/4` or `1-1/4`, with or without a minus before it.

    Raises:
        ZeroDivisionError: the fraction is over nought.
    """
    sign = -1 if text.startswith("-") else 1
    whole, _, fraction = text.removeprefix("-").rpartition("-")
    return sign * float(Fraction(fraction) + (Fraction(whole) if whole else 0))


def read_amount(text: str, span: Span) -> Amount:
    """Return the amount that a QUANTITY or NUMBER token says; `12 ft 6 in` adds up.

    Raises:
        ZeroDivisionError: a fraction is over nought.
    """
    total, dimension, offset, sign = 0.0, None, 0.0, 1.0
    for minus, number, symbol in _PART.findall(text):
        sign = -1.0 if minus else sign
        if not symbol:
            return Amount(plain_number(minus + number), None, text, span)
        unit = UNITS[symbol]
        total += plain_number(number) * unit.factor
        dimension, offset = unit.dimension, unit.offset
    return Amount(sign * total + offset, dimension, " ".join(text.split()), span)
