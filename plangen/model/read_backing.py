"""Reads dates, and what backs a number: measured, assumed, from a data sheet, from a standard."""

from __future__ import annotations

import datetime

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bound import BROKEN, Broken
from plangen.model.cursor import Cursor, shown
from plangen.quantity.quantity import Basis, Provenance
from plangen.syntax.tree import Term, TermKind
from plangen.text.source import Span

_PLAIN = {
    "assumed": Basis.ASSUMED,
    "typical": Basis.TYPICAL,
    "declared": Basis.DECLARED,
}
# Words that may follow a bare number without being a unit.
DATE_FORM = "a date as year-month-day, such as `2026-05-04`"
FOLLOWERS = {*_PLAIN, "measured", "from", "at", "to", "and", "above", "below"}


class BackingReader:
    """Reads dates and provenance from a cursor; every fault becomes one message and the value BROKEN."""

    def __init__(self, problems: Problems) -> None:
        self.problems = problems
        self.measured: list[tuple[datetime.date, Span]] = []  # each day of measurement and where it is said

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
            if cursor.is_kind(TermKind.NUMBER):
                self.problems.error(
                    "PG2007",
                    f"`measured` is followed by a day, not by {shown(cursor.peek())}",
                    cursor.here(),
                    expected=DATE_FORM,
                )
                return BROKEN
            if not cursor.is_kind(TermKind.DATE):
                return Provenance(Basis.MEASURED)
            day = cursor.take()
            date = self.date(day)
            if isinstance(date, Broken):
                return BROKEN
            self.measured.append((date, day.span))
            return Provenance(Basis.MEASURED, date)
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
                "PG2007",
                f"`from` is followed by {shown(cursor.peek())}",
                cursor.here(),
                expected='`data sheet "…"`, `standard "…"`, `memory` or `typical values`',
            )
            return BROKEN
        if not cursor.is_kind(TermKind.TEXT):
            self.problems.error(
                "PG2008",
                "the document has no title",
                cursor.here(),
                expected='its title in quotes, such as `from data sheet "R-12"`',
            )
            return BROKEN
        return Provenance(basis, None, cursor.take().text)

    def date(self, term: Term) -> datetime.date | Broken:
        """Return the date of a date term."""
        try:
            year, month, day = (int(part) for part in term.text.split("-"))
            return datetime.date(year, month, day)
        except ValueError:
            self.problems.error(
                "PG2020",
                f"there is no day {term.text}",
                term.span,
                expected=DATE_FORM,
            )
            return BROKEN
