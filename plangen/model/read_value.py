"""Reads the value of one slot from the terms of a clause."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bound import BROKEN, Broken, Ref
from plangen.model.cursor import Cursor, leading_words, shown
from plangen.model.read_place import PlaceReader
from plangen.model.read_quantity import QuantityReader
from plangen.model.schema.shape import Slot, Want
from plangen.syntax.tree import HUMAN, Term, TermKind
from plangen.text.suggest import listed, suggestion

K = TermKind
# The form by which an argument that may be left out is known to be there.
FORMS: dict[Want, tuple[TermKind, ...]] = {
    Want.TEXT: (K.TEXT,),
    Want.WORD: (K.WORD,),
    Want.CHOICE: (K.WORD,),
    Want.QUANTITY: (K.QUANTITY, K.NUMBER),
    Want.COUNT: (K.NUMBER,),
    Want.DATE: (K.DATE,),
    Want.PLACE: (K.PAIR, K.CORNER, K.NAME, K.QUANTITY),
    Want.ROUTE: (K.PAIR, K.CORNER, K.NAME, K.QUANTITY),
    Want.REF: (K.NAME,),
    Want.PART: (K.WORD,),
    Want.FAMILY: (K.WORD,),
    Want.SIZE: (K.QUANTITY,),
    Want.ARC: (K.WORD, K.QUANTITY),
    Want.RANGE: (K.QUANTITY,),
    Want.LAW: (K.QUANTITY, K.PAIR),
    Want.AT_FLOW: (K.QUANTITY,),
    Want.STEPS: (K.QUANTITY,),
    Want.ROW: (K.PAIR, K.CORNER, K.NAME, K.QUANTITY),
    Want.CURVE: (K.PAIR,),
    Want.ANSWER: (K.WORD, K.TEXT),
    Want.PROVENANCE: (K.WORD,),
    Want.LABEL: (K.NAME, K.NUMBER, K.WORD, K.TEXT),
    Want.FLAG: (K.WORD,),
}


class ValueReader:
    """Reads slot values; every fault becomes one message and the value BROKEN."""

    def __init__(self, problems: Problems) -> None:
        self.problems = problems
        self.quantities = QuantityReader(problems)
        self.places = PlaceReader(problems, self.quantities)
        simple = {
            Want.TEXT: K.TEXT,
            Want.WORD: K.WORD,
            Want.PART: K.WORD,
            Want.FAMILY: K.WORD,
            Want.REF: K.NAME,
        }
        self.readers: dict[Want, Callable[[Cursor, Slot, str], Any]] = {
            **{want: self._simple(kind, want) for want, kind in simple.items()},
            Want.FLAG: lambda cursor, slot, what: True,
            Want.CHOICE: self._choice,
            Want.QUANTITY: self._quantity,
            Want.SIZE: self._quantity,
            Want.COUNT: self._count,
            Want.DATE: self._date,
            Want.PLACE: lambda cursor, slot, what: self.places.place(cursor, what),
            Want.ROUTE: lambda cursor, slot, what: self.places.route(cursor, what),
            Want.ARC: self._arc,
            Want.RANGE: lambda cursor, slot, what: self.quantities.two(cursor, slot, "to", what),
            Want.AT_FLOW: lambda cursor, slot, what: self.quantities.two(cursor, slot, "at", what),
            Want.STEPS: lambda cursor, slot, what: self.quantities.two(cursor, slot, "every", what),
            Want.ROW: lambda cursor, slot, what: self.places.row(cursor, what),
            Want.LAW: self.quantities_law,
            Want.CURVE: lambda cursor, slot, what: self.quantities.curve(cursor, slot, what),
            Want.ANSWER: self._answer,
            Want.PROVENANCE: lambda cursor, slot, what: self.quantities.backing.document(cursor),
            Want.LABEL: self._label,
        }

    def read(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        """Return the value of a slot that begins at the cursor, or BROKEN after one message."""
        value = self.readers[slot.want](cursor, slot, what)
        if slot.trailing and not isinstance(value, Broken):
            while cursor.skip_word(*slot.trailing):
                pass
        return value

    def _missing(self, cursor: Cursor, what: str, wanted: str, example: str = "") -> Broken:
        term = cursor.peek()
        if term is None:
            self.problems.error("PG2008", f"{what} lacks {wanted}", cursor.here(), expected=example or wanted)
        else:
            self.problems.error(
                "PG2007", f"{what} needs {wanted}, not {shown(term)}", term.span, expected=example or wanted
            )
        return BROKEN

    def _simple(self, kind: TermKind, want: Want) -> Callable[[Cursor, Slot, str], Any]:
        def read(cursor: Cursor, slot: Slot, what: str) -> Any:
            if not cursor.is_kind(kind):
                return self._missing(cursor, what, want.value, HUMAN[kind])
            term = cursor.take()
            if want in (Want.REF, Want.PART, Want.FAMILY) or slot.many:
                first = Ref(term.text, term.span)
                return (first, *self._more(cursor, kind)) if slot.many else first
            return term.text

        return read

    def _more(self, cursor: Cursor, kind: TermKind) -> list[Ref]:
        found = []
        while cursor.is_word("and") and (after := cursor.peek(1)) is not None and after.kind is kind:
            cursor.take()
            term = cursor.take()
            found.append(Ref(term.text, term.span))
        return found

    def _choice(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        expected = listed(f"`{c}`" for c in slot.choices)
        if not cursor.is_kind(K.WORD):
            return self._missing(cursor, what, "one of its words", expected)
        chosen = cursor.choice(slot.choices)
        if chosen is not None:
            cursor.index += len(chosen.split())
            return chosen.replace(" ", "-")
        term = cursor.take()
        rest = cursor.terms[cursor.index - 1 :]
        near = suggestion(leading_words(rest), slot.choices)
        self.problems.error(
            "PG2012",
            f"`{term.text}` is not a choice for {what}",
            term.span,
            expected=expected,
            help=near.help("word") if near else "",
        )
        return BROKEN

    def _quantity(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        value = self.quantities.quantity(cursor, slot.dimensions[0], what)
        if isinstance(value, Broken) or not slot.positive or value.si >= 0:
            return value
        self.problems.error(
            "PG2025",
            f"{what} cannot be negative: `{value.written}`",
            value.span or cursor.here(),
            expected="a quantity of nought or more",
        )
        return BROKEN

    def _count(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        term = cursor.peek()
        if term is None or term.kind is not K.NUMBER or not term.text.isdigit():
            return self._missing(cursor, what, Want.COUNT.value, "a whole number, such as `6`")
        cursor.take()
        return int(term.text) if len(term.text) < 10 else self._huge(term)

    def _huge(self, term: Term) -> Broken:
        self.problems.error("PG2025", f"`{term.text[:20]}` is beyond any count", term.span)
        return BROKEN

    def _date(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        if not cursor.is_kind(K.DATE):
            return self._missing(cursor, what, Want.DATE.value, HUMAN[K.DATE])
        return self.quantities.backing.date(cursor.take())

    def _arc(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        cursor.skip_word("from")
        start = self.places.bearing(cursor, what)
        if isinstance(start, Broken):
            return BROKEN
        if not cursor.skip_word("to"):
            return self._missing(
                cursor, what, "`to` and a second bearing", "two bearings, such as `arc north to east`"
            )
        end = self.places.bearing(cursor, what)
        return BROKEN if isinstance(end, Broken) else (start, end)

    def quantities_law(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        """Read a flow law."""
        return self.quantities.law(cursor, slot, what)

    def _answer(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        if cursor.skip_word("none"):
            return "", True
        if cursor.is_kind(K.TEXT):
            return cursor.take().text, False
        return self._missing(cursor, what, Want.ANSWER.value)

    def _label(self, cursor: Cursor, slot: Slot, what: str) -> Any:
        if cursor.is_kind(*FORMS[Want.LABEL]):
            return cursor.take().text
        return self._missing(cursor, what, Want.LABEL.value)
