"""Reads quantities, ranges, laws and curves from terms."""

from __future__ import annotations

import math

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bound import BROKEN, Broken, Law
from plangen.model.cursor import Cursor, leading_words, shown
from plangen.model.numbers import (
    EXAMPLE,
    USUAL_UNITS,
    a_dimension,
    nearest_unit,
    number_value,
    quantity_value,
    split_quantity,
)
from plangen.model.read_backing import FOLLOWERS, BackingReader
from plangen.model.schema.shape import Slot
from plangen.quantity.dimension import UNITS, Dimension
from plangen.quantity.quantity import DECLARED, Quantity
from plangen.syntax.tree import TermKind
from plangen.syntax.word_error import inch_mark_help
from plangen.text.suggest import listed
from plangen.text.trade_words import LONGEST, unit_meant


class QuantityReader:
    """Reads numbers from a cursor; every fault becomes one message and the value BROKEN."""

    def __init__(self, problems: Problems) -> None:
        self.problems = problems
        self.backing = BackingReader(problems)

    def quantity(
        self, cursor: Cursor, dimension: Dimension, what: str, *, backed: bool = True
    ) -> Quantity | Broken:
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
            self.problems.error(
                "PG2025", f"`{term.text}` divides by nought", term.span, help="write the size in full"
            )
            return BROKEN
        if not math.isfinite(si):
            shown_number = f"{term.text[:20]}…"
            self.problems.error("PG2025", f"`{shown_number}` is beyond any quantity", term.span)
            return BROKEN
        if found is not dimension:
            self.problems.error(
                "PG2006",
                f"{what} needs {a_dimension(dimension)}; `{term.text}` is {a_dimension(found)}",
                term.span,
                expected=f"{a_dimension(dimension)}, such as `{EXAMPLE[dimension]}`",
                help=_in_words(term.text, leading_words(cursor.terms[cursor.index :]), dimension),
            )
            return BROKEN
        provenance = self.backing.provenance(cursor) if backed else DECLARED
        if isinstance(provenance, Broken):
            return BROKEN
        written = " ".join(term.text.split())
        return Quantity(si, dimension, written, provenance or DECLARED, term.span)

    def _not_a_quantity(self, cursor: Cursor, dimension: Dimension, what: str) -> None:
        self.problems.error(
            "PG2007" if cursor.peek() else "PG2008",
            f"{what} needs {a_dimension(dimension)}, not {shown(cursor.peek())}"
            if cursor.peek()
            else f"{what} needs {a_dimension(dimension)}",
            cursor.here(),
            expected=f"{a_dimension(dimension)}, such as `{EXAMPLE[dimension]}`",
        )

    def _no_unit(self, cursor: Cursor, dimension: Dimension, what: str) -> None:
        number, unit = cursor.take(), cursor.peek()
        legal = [symbol for symbol, u in UNITS.items() if u.dimension is dimension]
        follows = unit is not None and unit.kind in (TermKind.WORD, TermKind.NAME)
        if follows and unit is not None and unit.text not in FOLLOWERS:
            rest = cursor.terms[cursor.index :]
            near, count = nearest_unit(leading_words(rest), legal) or ("", 1)
            self.problems.error(
                "PG2004",
                f"`{' '.join(t.text for t in rest[:count])}` is not a unit",
                unit.span.join(rest[count - 1].span),
                expected=f"{a_dimension(dimension)} in {listed(legal)}",
                help=f"write `{number.text} {near}`" if near else "",
            )
            return
        # The second of two inch marks turns what lies between them into text.
        inch_mark = unit is not None and unit.kind is TermKind.TEXT and unit.span.start == number.span.end
        self.problems.error(
            "PG2005",
            f"{what} needs a unit; `{number.text}` has none",
            number.span,
            expected=f"{a_dimension(dimension)} in {listed(legal)}",
            help=inch_mark_help(number.text) if inch_mark else _any_unit(number.text, dimension),
        )

    def two(self, cursor: Cursor, slot: Slot, joint: str, what: str) -> tuple[Quantity, Quantity] | Broken:
        """Read two quantities with a word between: `20 psi to 70 psi`, `52 psi at 15 gpm`."""
        first = self.quantity(cursor, slot.dimensions[0], what, backed=False)
        if isinstance(first, Broken):
            return BROKEN
        if not cursor.skip_word(joint):
            self.problems.error(
                "PG2008",
                f"{what} lacks `{joint}` and a second quantity",
                cursor.here(),
                expected=f"`{joint} {EXAMPLE[slot.dimensions[-1]]}`",
            )
            return BROKEN
        second = self.quantity(cursor, slot.dimensions[-1], what)
        if isinstance(second, Broken):
            return BROKEN
        if second.provenance != DECLARED:
            first = first.with_provenance(second.provenance)
        if joint == "to" and second.si < first.si:
            span = (first.span or cursor.here()).join(second.span or cursor.here())
            self.problems.error(
                "PG2025",
                f"{what} runs from {first.written} down to {second.written}",
                span,
                expected="the lower figure first",
            )
            return BROKEN
        return first, second

    def curve(self, cursor: Cursor, slot: Slot, what: str) -> tuple[tuple[Quantity, Quantity], ...] | Broken:
        """Read points `(a, b) (c, d)`; the first of each must rise."""
        points: list[tuple[Quantity, Quantity]] = []
        while cursor.is_kind(TermKind.PAIR):
            inner = cursor.take().items
            pair = [
                self.quantity(Cursor((t,)), d, what, backed=False)
                for t, d in zip(inner, slot.dimensions, strict=True)
            ]
            first, second = pair
            if isinstance(first, Broken) or isinstance(second, Broken):
                return BROKEN
            if points and first.si <= points[-1][0].si:
                self.problems.error(
                    "PG2026",
                    f"the point at {first.written} does not come after the one at {points[-1][0].written}",
                    first.span or cursor.here(),
                    expected="points in rising order",
                )
                return BROKEN
            points.append((first, second))
        if not points:
            example = f"({EXAMPLE[slot.dimensions[0]]}, {EXAMPLE[slot.dimensions[1]]})"
            self.problems.error(
                "PG2007" if cursor.peek() else "PG2008",
                f"{what} needs points, not {shown(cursor.peek())}",
                cursor.here(),
                expected=f"points such as `{example}`",
            )
            return BROKEN
        return self._backed(points, cursor)

    def _backed(
        self, points: list[tuple[Quantity, Quantity]], cursor: Cursor
    ) -> tuple[tuple[Quantity, Quantity], ...] | Broken:
        provenance = self.backing.provenance(cursor)
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


def _any_unit(number: str, dimension: Dimension) -> str:
    """Return the number with each usual unit: which one is meant, only its writer knows."""
    usual = USUAL_UNITS.get(dimension) or (EXAMPLE[dimension].split()[-1],)
    written = listed(f"`{number} {unit}`" for unit in usual)
    return f"write {written}, whichever is meant" if len(usual) > 1 else f"write {written} if that is meant"


def _in_words(written: str, after: list[str], dimension: Dimension) -> str:
    """Return what to write for `4 gal per minute`, where a unit is told in words, or an empty text."""
    number, begun = split_quantity(written)
    for count in range(min(LONGEST, len(after)), 0, -1):
        unit = unit_meant(" ".join((begun, *after[:count])))
        if unit is not None and UNITS[unit].dimension is dimension:
            return f"write `{number} {unit}`"
    return ""
