"""Reads places from terms: coordinates, corners, offsets, distances along a pipe, and chains of them."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bound import (
    BROKEN,
    Along,
    AtObject,
    Between,
    Broken,
    Coordinates,
    CornerOf,
    Offset,
    Opposite,
    PlaceExpr,
    Ref,
    Toward,
)
from plangen.model.cursor import Cursor, shown
from plangen.model.numbers import number_value
from plangen.model.read_quantity import QuantityReader
from plangen.quantity.dimension import Dimension
from plangen.syntax.tree import Term, TermKind
from plangen.text.suggest import listed, suggestion, suggestion_help

BEARINGS = {
    "north": 0.0,
    "north-northeast": 22.5,
    "northeast": 45.0,
    "east-northeast": 67.5,
    "east": 90.0,
    "east-southeast": 112.5,
    "southeast": 135.0,
    "south-southeast": 157.5,
    "south": 180.0,
    "south-southwest": 202.5,
    "southwest": 225.0,
    "west-southwest": 247.5,
    "west": 270.0,
    "west-northwest": 292.5,
    "northwest": 315.0,
    "north-northwest": 337.5,
}
CORNERS = ("northeast", "northwest", "southeast", "southwest")
# Places measured from places in one statement; a crew measures from one, seldom from two.
DEEPEST = 8
_EXPECTED = (
    "coordinates `(12, 14)`, a corner `House.southwest`, an offset `4 ft east of House.southwest` or a name"
)


class PlaceReader:
    """Reads places from a cursor; every fault becomes one message and the value BROKEN."""

    def __init__(self, problems: Problems, quantities: QuantityReader) -> None:
        self.problems = problems
        self.quantities = quantities
        self._depth = 0  # places within places

    def place(self, cursor: Cursor, what: str) -> PlaceExpr | Broken:
        """Read one place."""
        if self._depth >= DEEPEST:
            self.problems.error(
                "PG3006",
                f"{what} is measured from place to place more than {DEEPEST} times",
                cursor.here(),
                help="give coordinates, or measure from a corner",
            )
            return BROKEN
        self._depth += 1
        found = self._place(cursor, what)
        self._depth -= 1
        return found

    def _place(self, cursor: Cursor, what: str) -> PlaceExpr | Broken:
        term = cursor.peek()
        if term is None:
            self.problems.error("PG2008", f"{what} lacks a place", cursor.here(), expected=_EXPECTED)
            return BROKEN
        if term.kind is TermKind.PAIR:
            return self._coordinates(cursor.take())
        if term.kind is TermKind.CORNER:
            return self._corner(cursor.take())
        if term.kind is TermKind.NAME:
            cursor.take()
            return AtObject(term.text, term.span)
        if term.kind is TermKind.QUANTITY:
            return self._measured(cursor, what)
        if term.kind is TermKind.WORD and term.text == "midway":
            return self._midway(cursor, what)
        if term.kind is TermKind.WORD and term.text == "opposite":
            return self._opposite(cursor, what)
        self.problems.error(
            "PG2007", f"{what} needs a place, not {shown(term)}", term.span, expected=_EXPECTED
        )
        return BROKEN

    def route(self, cursor: Cursor, what: str) -> tuple[PlaceExpr, ...] | Broken:
        """Read places with arrows between."""
        stops: list[PlaceExpr] = []
        while True:
            stop = self.place(cursor, what)
            if isinstance(stop, Broken):
                return BROKEN
            stops.append(stop)
            if not cursor.is_kind(TermKind.ARROW):
                return tuple(stops)
            cursor.take()

    def row(self, cursor: Cursor, what: str) -> tuple[PlaceExpr, PlaceExpr] | Broken:
        """Read two places with `and` between."""
        ends = self._two(cursor, "and", what)
        return ends if isinstance(ends, Broken) else (ends[0], ends[1])

    def _two(self, cursor: Cursor, joint: str, what: str) -> tuple[PlaceExpr, PlaceExpr] | Broken:
        first = self.place(cursor, what)
        if isinstance(first, Broken):
            return BROKEN
        if not cursor.skip_word(joint):
            self._lacks(cursor, what, f"`{joint}` and a second place")
            return BROKEN
        second = self.place(cursor, what)
        return BROKEN if isinstance(second, Broken) else (first, second)

    def _lacks(self, cursor: Cursor, what: str, wanted: str) -> None:
        found = cursor.peek()
        told = f"{what} needs {wanted}, not {shown(found)}" if found else f"{what} lacks {wanted}"
        self.problems.error("PG2007" if found else "PG2008", told, cursor.here(), expected=wanted)

    def _midway(self, cursor: Cursor, what: str) -> PlaceExpr | Broken:
        """Read `midway between A and B`."""
        start = cursor.take().span
        if not cursor.skip_word("between"):
            self._lacks(cursor, "`midway`", "`between` and two places")
            return BROKEN
        ends = self._two(cursor, "and", "`midway between`")
        return BROKEN if isinstance(ends, Broken) else Between(*ends, 0.5, start.join(ends[1].span))

    def _opposite(self, cursor: Cursor, what: str) -> PlaceExpr | Broken:
        """Read `opposite House.southwest on L1`."""
        start = cursor.take().span
        base = self.place(cursor, "`opposite`")
        if isinstance(base, Broken):
            return BROKEN
        if not cursor.skip_word("on"):
            self._lacks(cursor, "`opposite`", "`on` and a pipe, a buried line or an area")
            return BROKEN
        line = self._name(cursor, "the line on which the place lies")
        return BROKEN if line is None else Opposite(base, line, start.join(line.span))

    def bearing(self, cursor: Cursor, what: str) -> float | Broken:
        """Read a bearing: a compass word or an angle."""
        term = cursor.peek()
        if term is not None and term.kind in (TermKind.WORD, TermKind.NAME):
            if term.text in BEARINGS:
                cursor.take()
                return BEARINGS[term.text]
            self._unknown_direction(term)
            return BROKEN
        angle = self.quantities.quantity(cursor, Dimension.ANGLE, what, backed=False)
        return BROKEN if isinstance(angle, Broken) else angle.si % 360.0

    def _unknown_direction(self, term: Term) -> None:
        self.problems.error(
            "PG2012",
            f"`{term.text}` is not a compass direction",
            term.span,
            expected="a direction such as `north` or `southwest`, or an angle such as `90 deg`",
            help=suggestion_help(term.text, BEARINGS, "direction"),
        )

    def _coordinates(self, pair: Term) -> Coordinates | Broken:
        values, metres = [], []
        for item in pair.items:
            if item.kind is TermKind.QUANTITY:
                length = self.quantities.quantity(
                    Cursor((item,)), Dimension.LENGTH, "a coordinate", backed=False
                )
                if isinstance(length, Broken):
                    return BROKEN
                values.append(length.si)
                metres.append(True)
                continue
            try:
                values.append(number_value(item.text))
            except ZeroDivisionError:
                self.problems.error("PG2025", f"`{item.text}` divides by nought", item.span)
                return BROKEN
            metres.append(False)
        return Coordinates(values[0], values[1], (metres[0], metres[1]), pair.span)

    def _corner(self, term: Term) -> CornerOf | Broken:
        area, _, corner = term.text.partition(".")
        if corner not in CORNERS:
            near = suggestion((corner,), CORNERS)
            self.problems.error(
                "PG2012",
                f"`{corner}` is not a corner",
                term.span,
                expected=listed(f"`{c}`" for c in CORNERS),
                help=f"write `{area}.{near.names[0]}` if that is meant" if near else "",
            )
            return BROKEN
        return CornerOf(area, corner, term.span)

    def _measured(self, cursor: Cursor, what: str) -> PlaceExpr | Broken:
        """Read `10 ft east and 1 ft south of PLACE` or `3 ft along S2 from M1`."""
        start = cursor.here()
        length = self.quantities.quantity(cursor, Dimension.LENGTH, what, backed=False)
        if isinstance(length, Broken):
            return BROKEN
        if cursor.skip_word("along"):
            pipe = self._name(cursor, "the pipe to measure along")
            if pipe is None:
                return BROKEN
            origin = None
            if cursor.skip_word("from"):
                origin = self._name(cursor, "the object to measure from")
                if origin is None:
                    return BROKEN
            return Along(length, pipe, origin, start.join((origin or pipe).span))
        if cursor.skip_word("from"):
            ends = self._two(cursor, "toward", what)
            return BROKEN if isinstance(ends, Broken) else Toward(length, *ends, start.join(ends[1].span))
        moves = []
        while True:
            bearing = self.bearing(cursor, "an offset") if cursor.is_kind(TermKind.WORD) else None
            if bearing is None:
                self.problems.error(
                    "PG2007" if cursor.peek() else "PG2008",
                    f"an offset needs a direction, not {shown(cursor.peek())}",
                    cursor.here(),
                    expected="a direction such as `east`, `along` a pipe, or `from` a place `toward` another",
                )
                return BROKEN
            if isinstance(bearing, Broken):
                return BROKEN
            moves.append((length.si, bearing))
            if not cursor.skip_word("and"):
                break
            length = self.quantities.quantity(cursor, Dimension.LENGTH, what, backed=False)
            if isinstance(length, Broken):
                return BROKEN
        if not cursor.skip_word("of"):
            self.problems.error(
                "PG2007" if cursor.peek() else "PG2008",
                "an offset lacks what it is measured from",
                cursor.here(),
                expected="`of` and a corner or a name, such as `of House.southwest`",
            )
            return BROKEN
        base = self.place(cursor, what)
        return BROKEN if isinstance(base, Broken) else Offset(tuple(moves), base, start.join(base.span))

    def _name(self, cursor: Cursor, what: str) -> Ref | None:
        if cursor.is_kind(TermKind.NAME):
            term = cursor.take()
            return Ref(term.text, term.span)
        self.problems.error(
            "PG2007" if cursor.peek() else "PG2008",
            f"{what} is missing",
            cursor.here(),
            expected="a name, such as `S2`",
        )
        return None
