"""Matches one statement with its line of the language table: arguments, clauses, values."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bound import BROKEN, Bound, Broken
from plangen.model.clause_words import legal, nearest_clause, out_of_place, several_names
from plangen.model.cursor import Cursor, leading_words, shown
from plangen.model.read_value import FORMS, ValueReader
from plangen.model.schema.shape import Slot, StatementSpec, Want
from plangen.syntax.tree import Clause, Statement, TermKind
from plangen.text.source import Span
from plangen.text.suggest import listed, suggestion


class Binder:
    """Binds statements; every fault becomes one message, and what depends on it stays silent."""

    def __init__(self, problems: Problems, line_of: Any) -> None:
        self.problems = problems
        self.values = ValueReader(problems)
        self.line_of = line_of
        self.nameless: list[str] = []  # kinds of statements whose name is missing
        self.drawn_in: set[str] = set()  # names of statements that a stray comma has drawn into another

    def bind(self, spec: StatementSpec, statement: Statement, leads: frozenset[str]) -> Bound:
        """Return the statement with its values; `leads` are the first words of the block's statements."""
        before = len(self.problems.items)
        values: dict[str, Any] = {}
        spans: dict[str, Span] = {}
        if spec.named == "several":
            statement, values["names"] = several_names(statement, len(spec.lead))
        cursor = Cursor(statement.clauses[0].terms, len(spec.lead))
        head = statement.clauses[0].terms[0].span
        name, name_span, ok = self._name(cursor, spec)
        if ok:
            self._first(cursor, spec, values, spans)
        many = next((s for s in spec.args if s.many and len(values) == 1), None)
        told = len(self.problems.items) > before
        for previous, clause in zip(statement.clauses, statement.clauses[1:], strict=False):
            if many is not None and self._goes_on(clause, spec, many):
                self._append(clause, spec, many, values)
                continue
            known = len(self.problems.items)
            if self._clause(clause, spec, values, spans):
                many = self._find(Cursor(clause.terms), spec.clauses)
                many = many if many is not None and many.many else None
                told = len(self.problems.items) > known
                continue
            if self._ran_on(previous, clause, leads):
                break
            # A comma that cut something in two makes both halves strange: the first one tells it.
            if not told:
                self._unknown_clause(clause, spec, values)
            told = not told
        broken = len(self.problems.items) > before
        whole = head.join(name_span) if name_span else head
        bound = Bound(spec, statement.span, whole, name, name_span, values, broken, spans)
        return bound if broken or self._required(bound) else replace(bound, broken=True)

    def _name(self, cursor: Cursor, spec: StatementSpec) -> tuple[str, Span | None, bool]:
        if not spec.named:
            return "", None, True
        if cursor.is_kind(TermKind.NAME):
            term = cursor.take()
            return term.text, term.span, True
        if spec.named == "optional":
            return "", None, True
        term_found = cursor.peek()
        self.nameless.append(spec.kind or spec.words)
        wrote = term_found.text if term_found is not None and term_found.kind is TermKind.WORD else ""
        after = cursor.peek(1)
        if after is not None and after.kind is TermKind.NAME:
            help = f"take `{wrote}` away" if wrote else ""
        else:
            help = f"write `{wrote[:1].upper()}{wrote[1:]}` if that is its name" if wrote else ""
        self.problems.error(
            "PG2027",
            f"`{spec.words}` needs a name, not {shown(term_found)}"
            if term_found
            else f"`{spec.words}` needs a name",
            cursor.here(),
            expected="a name that begins with a capital letter, such as `V1`",
            help=help,
        )
        return "", None, False

    def _first(
        self, cursor: Cursor, spec: StatementSpec, values: dict[str, Any], spans: dict[str, Span]
    ) -> None:
        """Read the arguments; one clause may follow without a comma."""
        for slot in spec.args:
            at_clause = self._find(cursor, spec.clauses) is not None
            lead_here = bool(slot.lead) and cursor.matches(slot.lead)
            there = lead_here or (not slot.lead and cursor.is_kind(*FORMS[slot.want]) and not at_clause)
            if not there and not slot.required:
                continue
            if slot.lead and not lead_here:
                self._lacks(cursor, spec, slot)
                return
            cursor.index += len(slot.lead)
            if not slot.lead and at_clause:
                self._lacks(cursor, spec, slot)
                return
            if self._store(cursor, slot, values, spans, spec) is BROKEN:
                return
        if cursor.peek() is None:
            return
        if not self._clause(Clause(cursor.terms[cursor.index :]), spec, values, spans):
            self._left_over(cursor, spec)

    def _lacks(self, cursor: Cursor, spec: StatementSpec, slot: Slot) -> None:
        wanted = f"`{slot.words}` and {slot.want.value}" if slot.lead else slot.want.value
        self.problems.error("PG2008", f"`{spec.words}` lacks its {slot.help}", cursor.here(), expected=wanted)

    def _store(
        self, cursor: Cursor, slot: Slot, values: dict[str, Any], spans: dict[str, Span], spec: StatementSpec
    ) -> Any:
        begin = cursor.here()
        value = self.values.read(cursor, slot, f"`{slot.words or spec.words}`")
        last = cursor.before()
        spans[slot.field] = begin.join(last.span) if last else begin
        values[slot.field] = value
        return value

    def _find(self, cursor: Cursor, slots: tuple[Slot, ...]) -> Slot | None:
        """Return the clause that begins at the cursor: the longest lead words win."""
        best: Slot | None = None
        for slot in slots:
            if slot.lead and cursor.matches(slot.lead) and (best is None or len(slot.lead) > len(best.lead)):
                best = slot
        if best is not None:
            return best
        term = cursor.peek()
        if term is not None and term.kind is TermKind.WORD:
            return next((s for s in slots if not s.lead and cursor.choice(s.choices)), None)
        return None

    def _clause(
        self, clause: Clause, spec: StatementSpec, values: dict[str, Any], spans: dict[str, Span]
    ) -> bool:
        """Read a clause; return False if nothing in the table begins like it."""
        cursor = Cursor(clause.terms)
        slot = self._find(cursor, spec.clauses)
        if slot is None:
            return False
        if slot.field in values:
            self._repeated(clause, slot, spans)
            return True
        cursor.index += len(slot.lead)
        if self._store(cursor, slot, values, spans, spec) is BROKEN:
            return True
        if cursor.peek() is not None:
            self._left_over(cursor, spec, slot)
            values[slot.field] = BROKEN
        return True

    def _repeated(self, clause: Clause, slot: Slot, spans: dict[str, Span]) -> None:
        first = spans.get(slot.field)
        labels = (Label(first, "first said here"),) if first else ()
        what = slot.words or clause.terms[0].text
        self.problems.error("PG2011", f"`{what}` is said twice in one statement", clause.span, labels=labels)

    def _left_over(self, cursor: Cursor, spec: StatementSpec, reading: Slot | None = None) -> None:
        term = cursor.peek()
        last = cursor.before()
        if term is None:
            return
        if reading is not None and reading.want is Want.ROUTE:
            told = "" if term.kind not in FORMS[Want.ROUTE] else f"an arrow is missing before {shown(term)}"
            told = "an arrow stands between places, not `to`" if cursor.is_word("to") else told
            if told:
                self.problems.error("PG2024", told, term.span, expected="`->`")
                return
        slot = self._find(cursor, spec.clauses)
        if slot is not None and last is not None:
            self.problems.error(
                "PG2024",
                f"a comma is missing before `{slot.words or term.text}`",
                term.span,
                help=f"write `{last.text}, {slot.words or term.text}`"
                if last.kind is not TermKind.TEXT
                else "",
            )
            return
        after = f" after {shown(last)}" if last else ""
        near = suggestion(leading_words(cursor.terms[cursor.index :]), self._leads(spec))
        self.problems.error(
            "PG2009",
            f"{shown(term)}{after} is one too many",
            term.span,
            expected="a comma and a clause, or the end of the statement",
            help=f"a clause stands behind a comma; {near.help('clause')}" if near else "",
        )

    @staticmethod
    def _leads(spec: StatementSpec) -> list[str]:
        words: list[str] = []
        for slot in spec.clauses:
            words.extend([slot.words] if slot.lead else slot.choices)
        return words

    def _goes_on(self, clause: Clause, spec: StatementSpec, many: Slot) -> bool:
        term = clause.terms[0]
        if many.choices and any(t.kind is not TermKind.WORD for t in clause.terms):
            return False
        return term.kind in FORMS[many.want] and self._find(Cursor(clause.terms), spec.clauses) is None

    def _append(self, clause: Clause, spec: StatementSpec, many: Slot, values: dict[str, Any]) -> None:
        cursor = Cursor(clause.terms)
        more = self.values.read(cursor, many, f"`{spec.words}`")
        if isinstance(more, Broken) or values[many.field] is BROKEN:
            values[many.field] = BROKEN
        else:
            values[many.field] = values[many.field] + more
            if cursor.peek() is not None:
                self._left_over(cursor, spec)

    def _ran_on(self, previous: Clause, clause: Clause, leads: frozenset[str]) -> bool:
        """Report a comma at the end of a line that has drawn the next statement into this one."""
        first = clause.terms[0]
        end = previous.terms[-1].span
        if first.text not in leads or first.kind is not TermKind.WORD:
            return False
        if self.line_of(first.span) == self.line_of(Span(end.file, end.end, end.end)):
            return False
        self.drawn_in.update(t.text for t in clause.terms if t.kind is TermKind.NAME)
        comma = Span(end.file, end.end, end.end + 1)
        self.problems.error(
            "PG1011",
            f"the line goes on after this comma, but `{first.text}` begins a statement",
            comma,
            help="take the comma away",
            labels=(Label(first.span, "the statement that it draws in"),),
        )
        return True

    def _unknown_clause(self, clause: Clause, spec: StatementSpec, values: dict[str, Any]) -> None:
        term = clause.terms[0]
        belongs = out_of_place(term, spec, values)
        words = self._leads(spec)
        near, span = nearest_clause(clause.terms, words)
        if term.kind is not TermKind.WORD:
            self.problems.error(
                "PG2003",
                f"a clause of `{spec.words}` cannot begin with {shown(term)}",
                term.span,
                expected="" if near or belongs else legal(words),
                help=near.help("clause") if near else belongs,
            )
            return
        said = " ".join(t.text for t in clause.terms if t.span.end <= span.end) if near else term.text
        self.problems.error(
            "PG2003",
            f"`{spec.words}` has no clause `{said}`",
            span if near else term.span,
            expected="" if near or belongs else legal(words),
            help=near.help("clause") if near else belongs,
        )

    def _required(self, bound: Bound) -> bool:
        """Return whether a statement says all that it must; report what it lacks."""
        missing = [s for s in bound.spec.clauses if s.required and s.field not in bound.values]
        if missing:
            names = listed((f"`{s.words}`" for s in missing), "and")
            self.problems.error(
                "PG2010",
                f"`{bound.spec.words}{' ' + bound.name if bound.name else ''}` lacks {names}",
                bound.head,
                expected="; ".join(f"`{s.words} …`: {s.help}" for s in missing),
            )
        return not missing
