"""Reads quantities, dates, ranges, laws and curves from terms, and what backs them."""

from __future__ import annotations

import datetime
import re

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bound import BROKEN, Broken, Law
from plangen.model.cursor import Cursor, shown
from plangen.model.schema.shape import Slot
from plangen.quantity.dimension import FOOT_M, UNITS, Dimension
from plangen.quantity.quantity import DECLARED, Basis, Provenance, Quantity, to_si
from plangen.syntax.tree import Term, TermKind
from plangen.text.source import Span
from plangen.text.suggest import closest, listed

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
        value = int(feet[2]) * FOOT_M + rest
        return (-value if feet[1] else value), dimension
    parts = _SPLIT.fullmatch(text)
    if parts is None:
        raise ValueError(text)
    value = number_value(parts[1] + parts[2])
    return to_si(value, parts[3]), UNITS[parts[3]].dimension


def _article(dimension: Dimension) -> str:
    return f"{'an' if dimension.value[0] in 'aeiou' else 'a'} {dimension.value}"


# Spellings that people use; the language has one for each unit.
SPELLINGS = {
    "inch": "in", "inches": "in", "feet": "ft", "foot": "ft", "yard": "yd", "yards": "yd", "metre": "m", "metres": "m",
    "meter": "m", "meters": "m", "millimetres": "mm", "millimeters": "mm", "lpm": "L/min", "lps": "L/s", "lph": "L/h",
    "l": "L", "litre": "L", "litres": "L", "liters": "L", "gallon": "gal", "gallons": "gal", "degrees": "deg",
    "degree": "deg", "percent": "%", "hour": "h", "hours": "h", "hr": "h", "hrs": "h", "minutes": "min", "mins": "min",
    "second": "s", "seconds": "s", "sec": "s", "psig": "psi", "pounds": "psi", "volts": "V", "v": "V", "fps": "ft/s",
    "iph": "in/h",
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


class QuantityReader:
    """Reads numbers from a cursor; every fault becomes one message and the value BROKEN."""

    def __init__(self, problems: Problems) -> None:
        self.problems = problems

    def quantity(self, cursor: Cursor, dimension: Dimension, what: str, *, backed: bool = True) -> Quantity | Broken:
        """Read one quantity of a dimension, with the provenance that follows it if `backed`."""
        term = cursor.peek()
        bare = dimension in (Dimension.COUNT, Dimension.RATIO)
        if term is None or term.kind not in (TermKind.QUANTITY, TermKind.NUMBER):
            self._not_a_quantity(cursor, dimension, what)
            return BROKEN
        if term.kind is TermKind.NUMBER and not bare:
            self._no_unit(cursor, dimension, what)
            return BROKEN
        cursor.take()
        try:
            if term.kind is TermKind.NUMBER:
                si, found = number_value(term.text), dimension
            else:
                si, found = quantity_value(term.text)
        except ZeroDivisionError:
            self.problems.error("PG2025", f"`{term.text}` divides by nought", term.span, help="write the size in full")
            return BROKEN
        if found is not dimension:
            self.problems.error(
                "PG2006", f"{what} needs {_article(dimension)}; `{term.text}` is {_article(found)}", term.span,
                expected=f"{_article(dimension)}, such as `{EXAMPLE[dimension]}`",
            )  # fmt: skip
            return BROKEN
        provenance = self.provenance(cursor) if backed else DECLARED
        if isinstance(provenance, Broken):
            return BROKEN
        written = " ".join(term.text.split())
        return Quantity(si, dimension, written, provenance or DECLARED, term.span)

    def _not_a_quantity(self, cursor: Cursor, dimension: Dimension, what: str) -> None:
        self.problems.error(
            "PG2007" if cursor.peek() else "PG2008",
            f"{what} needs {_article(dimension)}, not {shown(cursor.peek())}" if cursor.peek()
            else f"{what} needs {_article(dimension)}",
            cursor.here(), expected=f"{_article(dimension)}, such as `{EXAMPLE[dimension]}`",
        )  # fmt: skip

    def _no_unit(self, cursor: Cursor, dimension: Dimension, what: str) -> None:
        number, unit = cursor.take(), cursor.peek()
        legal = [symbol for symbol, u in UNITS.items() if u.dimension is dimension]
        follows = unit is not None and unit.kind in (TermKind.WORD, TermKind.NAME)
        if follows and unit is not None and unit.text not in _BACKING:
            near = nearest_unit(unit.text, legal)
            self.problems.error(
                "PG2004", f"`{unit.text}` is not a unit", unit.span,
                expected=f"{_article(dimension)} in {listed(legal)}",
                help=f"write `{number.text} {near}`" if near else "",
            )  # fmt: skip
            return
        example = EXAMPLE[dimension].split()[-1]
        self.problems.error(
            "PG2005", f"{what} needs a unit; `{number.text}` has none", number.span,
            expected=f"{_article(dimension)} in {listed(legal)}", help=f"write `{number.text} {example}` if that is meant",
        )  # fmt: skip

    def provenance(self, cursor: Cursor) -> Provenance | Broken | None:
        """Read what backs a number, if it is said."""
        term = cursor.peek()
        if term is None or term.kind is not TermKind.WORD:
            return None
        if term.text in _PLAIN:
            cursor.take()
            return Provenance(_PLAIN[term.text])
        if term.text == "measured":
            cursor.take()
            if not cursor.is_kind(TermKind.DATE):
                return Provenance(Basis.MEASURED)
            date = self.date(cursor.take())
            return date if isinstance(date, Broken) else Provenance(Basis.MEASURED, date)
        if term.text == "from":
            cursor.take()
            return self.document(cursor)
        return None

    def document(self, cursor: Cursor) -> Provenance | Broken:
        """Read what follows `from`: `data sheet "…"`, `standard "…"`, `memory`, `typical values`."""
        if cursor.skip_word("memory"):
            return Provenance(Basis.FROM_MEMORY)
        if cursor.skip_word("typical"):
            cursor.skip_word("values")
            text = cursor.take().text if cursor.is_kind(TermKind.TEXT) else ""
            return Provenance(Basis.TYPICAL, None, text)
        basis = None
        if cursor.matches(("data", "sheet")):
            cursor.index += 2
            basis = Basis.DATA_SHEET
        elif cursor.skip_word("standard"):
            basis = Basis.STANDARD
        if basis is None:
            self.problems.error(
                "PG2007", f"`from` is followed by {shown(cursor.peek())}", cursor.here(),
                expected='`data sheet "…"`, `standard "…"`, `memory` or `typical values`',
            )  # fmt: skip
            return BROKEN
        if not cursor.is_kind(TermKind.TEXT):
            self.problems.error(
                "PG2008", "the document has no title", cursor.here(),
                expected='its title in quotes, such as `from data sheet "R-12"`',
            )  # fmt: skip
            return BROKEN
        return Provenance(basis, None, cursor.take().text)

    def date(self, term: Term) -> datetime.date | Broken:
        """Return the date of a date term."""
        try:
            year, month, day = (int(part) for part in term.text.split("-"))
            return datetime.date(year, month, day)
        except ValueError:
            self.problems.error(
                "PG2020", f"there is no day {term.text}", term.span, expected="a date as year-month-day, such as `2026-05-04`"
            )
            return BROKEN

    def two(self, cursor: Cursor, slot: Slot, joint: str, what: str) -> tuple[Quantity, Quantity] | Broken:
        """Read two quantities with a word between: `20 psi to 70 psi`, `52 psi at 15 gpm`."""
        first = self.quantity(cursor, slot.dimensions[0], what, backed=False)
        if isinstance(first, Broken):
            return BROKEN
        if not cursor.skip_word(joint):
            self.problems.error("PG2008", f"{what} lacks `{joint}` and a second quantity", cursor.here(),
                                expected=f"`{joint} {EXAMPLE[slot.dimensions[-1]]}`")  # fmt: skip
            return BROKEN
        second = self.quantity(cursor, slot.dimensions[-1], what)
        if isinstance(second, Broken):
            return BROKEN
        if second.provenance != DECLARED:
            first = first.with_provenance(second.provenance)
        if joint == "to" and second.si < first.si:
            span = (first.span or cursor.here()).join(second.span or cursor.here())
            self.problems.error("PG2025", f"{what} runs from {first.written} down to {second.written}", span,
                                expected="the lower figure first")  # fmt: skip
            return BROKEN
        return first, second

    def curve(self, cursor: Cursor, slot: Slot, what: str) -> tuple[tuple[Quantity, Quantity], ...] | Broken:
        """Read points `(a, b) (c, d)`; the first of each must rise."""
        points: list[tuple[Quantity, Quantity]] = []
        while cursor.is_kind(TermKind.PAIR):
            inner = cursor.take().items
            pair = [self.quantity(Cursor((t,)), d, what, backed=False) for t, d in zip(inner, slot.dimensions, strict=True)]
            first, second = pair
            if isinstance(first, Broken) or isinstance(second, Broken):
                return BROKEN
            if points and first.si <= points[-1][0].si:
                self.problems.error(
                    "PG2026", f"the point at {first.written} does not come after the one at {points[-1][0].written}",
                    first.span or cursor.here(), expected="points in rising order",
                )  # fmt: skip
                return BROKEN
            points.append((first, second))
        if not points:
            example = f"({EXAMPLE[slot.dimensions[0]]}, {EXAMPLE[slot.dimensions[1]]})"
            self.problems.error("PG2007" if cursor.peek() else "PG2008", f"{what} needs points, not {shown(cursor.peek())}",
                                cursor.here(), expected=f"points such as `{example}`")  # fmt: skip
            return BROKEN
        return self._backed(points, cursor)

    def _backed(self, points: list[tuple[Quantity, Quantity]], cursor: Cursor) -> tuple[tuple[Quantity, Quantity], ...] | Broken:
        provenance = self.provenance(cursor)
        if isinstance(provenance, Broken):
            return BROKEN
        if provenance is None:
            return tuple(points)
        return tuple((a.with_provenance(provenance), b.with_provenance(provenance)) for a, b in points)

    def law(self, cursor: Cursor, slot: Slot, what: str) -> Law | Broken:
        """Read a flow at a pressure, or points of pressure and flow."""
        if cursor.is_kind(TermKind.PAIR):
            points = self.curve(cursor, slot, what)
            return BROKEN if isinstance(points, Broken) else Law(None, None, points)
        flow = self.quantity(cursor, slot.dimensions[1], what)
        if isinstance(flow, Broken):
            return BROKEN
        if not cursor.skip_word("at"):
            return Law(flow, None, ())
        at = self.quantity(cursor, slot.dimensions[0], what)
        return BROKEN if isinstance(at, Broken) else Law(flow, at, ())


_PLAIN = {
    "assumed": Basis.ASSUMED,
    "typical": Basis.TYPICAL,
    "declared": Basis.DECLARED,
}
_BACKING = {*_PLAIN, "measured", "from", "at", "to", "and", "above", "below"}
