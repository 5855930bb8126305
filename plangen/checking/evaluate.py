"""Works out checked expressions over rows of facts. Pure; no verdicts and no wording of findings.

Two readings exist of one expression. The full one takes every value for what it says. The strict one takes a
value that rests on something typical, assumed or from memory, and a limit stated from memory, for not
known: what is true in the strict reading rests on inputs that may decide a required rule.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from plangen.checking import terms as c
from plangen.checking.kleene import (
    ABOUT_NOTHING,
    NO,
    YES,
    Missing,
    Number,
    Symbols,
    Truth,
    arithmetic,
    compared,
    conjunction,
    disjunction,
    exact,
    extreme,
    extreme_of,
    negation,
    slack,
    union,
    unknown_number,
)
from plangen.checking.rows import FactRow, FactRows
from plangen.facts.values import Value
from plangen.facts.vocabulary import unlisted

FROM_MEMORY = "from memory"
Rows = tuple[FactRow, ...]


def weak_inputs(value: Value) -> Missing:
    """Return the inputs of a value that cannot decide a required rule, each with its basis."""
    return tuple(
        dict.fromkeys(
            f"{i.name} ({i.provenance.told()})" for i in value.inputs if not i.provenance.basis.decides
        )
    )


class Evaluator:
    """Evaluates terms over one fact base, in the full or in the strict reading."""

    __slots__ = ("facts", "strict")

    def __init__(self, facts: FactRows, strict: bool) -> None:
        """Bind the facts and the reading."""
        self.facts = facts
        self.strict = strict

    # -- facts ---------------------------------------------------------------------------------------------

    def value(self, term: c.Field, rows: Rows) -> Value:
        """Return the value of a field; of a single relation without a row it is not known."""
        if term.scope is not None:
            return rows[term.scope].get(term.field.name)
        found = self.facts.of(term.relation)
        if len(found) == 1:
            return found[0].get(term.field.name)
        words = term.relation.replace("_", " ")
        many = f"which {words} is meant" if found else f"{words}: {term.field.name.replace('_', ' ')}"
        return Value(None, missing=(many,))

    def _unknown(self, value: Value, term: c.Field) -> Missing | None:
        """Return what is missing of a value, or None if it may be used in this reading."""
        if value.value is None or value.value != value.value:
            return value.missing or (term.field.name.replace("_", " "),)
        if self.strict:
            return weak_inputs(value) or None
        return None

    # -- truths --------------------------------------------------------------------------------------------

    def truth(self, term: c.Term, rows: Rows) -> Truth:
        """Return the truth of a condition."""
        match term:
            case c.Compare():
                return compared(term.operator, self.number(term.left, rows), self.number(term.right, rows))
            case c.Member():
                return self._member(term, rows)
            case c.Junction():
                parts = (self.truth(p, rows) for p in term.parts)
                return conjunction(parts) if term.every else disjunction(parts)
            case c.Field():
                value = self.value(term, rows)
                missing = self._unknown(value, term)
                return Truth(None, missing) if missing else (YES if value.value else NO)
            case c.Negation():
                return negation(self.truth(term.inner, rows))
            case c.Includes():
                return self._includes(term, rows)
            case c.Known():
                return self._known(term, rows)
            case c.Presence():
                found = self._presence(term, rows)
                return negation(found) if term.negated else found
            case c.ForAll():
                return self._for_all(term, rows)
        raise AssertionError(term)

    def _member(self, term: c.Member, rows: Rows) -> Truth:
        value, options = self.symbols(term.value, rows), self.symbols(term.options, rows)
        if value.value is None or options.value is None:
            return Truth(None, union((value.missing, options.missing)))
        return YES if (value.value <= options.value) != term.negated else NO

    def _includes(self, term: c.Includes, rows: Rows) -> Truth:
        value, options = self.symbols(term.value, rows), self.symbols(term.options, rows)
        if value.value is None or options.value is None:
            return Truth(None, union((value.missing, options.missing)))
        common = value.value & options.value
        holds = {"any": bool(common), "all": common == options.value, "none": not common}[term.mode]
        return YES if holds else NO

    def _known(self, term: c.Known, rows: Rows) -> Truth:
        missing = self._missing_of(term.value, rows)
        if missing is None:
            found = YES
        elif self.strict and Evaluator(self.facts, False)._missing_of(term.value, rows) is None:
            return Truth(None, missing)
        else:
            found = NO
        return negation(found) if term.negated else found

    def _missing_of(self, term: c.Term, rows: Rows) -> Missing | None:
        """Return what is missing of any expression, or None if it is known."""
        kind = c.type_of(term).kind
        if kind == "quantity":
            number = self.number(term, rows)
            return None if number.exact else number.missing
        if kind == "truth":
            truth = self.truth(term, rows)
            return None if truth.value is not None else truth.missing
        symbols = self.symbols(term, rows)
        return None if symbols.value is not None else symbols.missing

    # -- over rows -----------------------------------------------------------------------------------------

    def members(self, relation: str, where: c.Term | None, rows: Rows) -> Iterator[tuple[Rows, Truth]]:
        """Yield each row that is, or may be, selected, with the truth of its selection."""
        for row in self.facts.of(relation):
            inner = (*rows, row)
            chosen = YES if where is None else self.truth(where, inner)
            if chosen.value is not False:
                yield inner, chosen

    def _unlisted(self, relation: str) -> Missing:
        if self.facts.complete(relation):
            return ()
        return (unlisted(relation),)

    def _presence(self, term: c.Presence, rows: Rows) -> Truth:
        open_questions: list[Missing] = []
        for _, chosen in self.members(term.relation, term.where, rows):
            if chosen.value:
                return YES
            open_questions.append(chosen.missing)
        unlisted = self._unlisted(term.relation)
        if open_questions or unlisted:
            return Truth(None, union((*open_questions, unlisted)))
        return NO

    def _for_all(self, term: c.ForAll, rows: Rows) -> Truth:
        """Every selected row has it; of no rows it says nothing."""
        sure: list[Truth] = []
        maybe: list[tuple[Truth, Missing]] = []
        for inner, chosen in self.members(term.relation, term.where, rows):
            has = self.truth(term.has, inner)
            if chosen.value:
                sure.append(has)
            else:
                maybe.append((has, chosen.missing))
        # A row that may not be meant can leave the answer open, but cannot make it false; and where it has
        # what is wanted, it only leaves open whether anything is meant at all.
        open_parts = [Truth(None, missing) for has, missing in maybe if not (has.value and sure)]
        unlisted = self._unlisted(term.relation)
        if unlisted:
            open_parts.append(Truth(None, unlisted))
        return conjunction((*sure, *open_parts)) if sure or open_parts else ABOUT_NOTHING

    # -- numbers and words ---------------------------------------------------------------------------------

    def number(self, term: c.Term, rows: Rows) -> Number:
        """Return the value of a quantity."""
        match term:
            case c.Field():
                value = self.value(term, rows)
                missing = self._unknown(value, term)
                return unknown_number(missing) if missing else exact(float(value.value))  # type: ignore[arg-type]
            case c.Const():
                return exact(term.si)
            case c.LimitTerm(limit=limit):
                assert limit.si is not None
                return self._stated(limit, limit.si)
            case c.Arithmetic():
                return arithmetic(term.operator, self.number(term.left, rows), self.number(term.right, rows))
            case c.Pick():
                return extreme(term.larger, (self.number(x, rows) for x in term.items))
            case c.LookupTerm():
                return self._lookup(term, rows)
            case c.Gather():
                return self._gather(term, rows)
        raise AssertionError(term)

    def _stated(self, limit: c.Limit | c.Table, value: float) -> Number:
        if self.strict and limit.source.verified == FROM_MEMORY:
            return unknown_number(_recalled(limit))
        return exact(value)

    def _lookup(self, term: c.LookupTerm, rows: Rows) -> Number:
        table = term.table
        if table.key_words:
            words = self.symbols(term.key, rows)
            if words.value is None:
                return unknown_number(words.missing)
            found = next((e for e in table.entries if e.word in words.value or not e.word), None)
        else:
            key = self.number(term.key, rows)
            if not key.exact:
                return key if key.vacuous else unknown_number(key.missing)
            found = next(
                (
                    e
                    for e in table.entries
                    if e.up_to_si is None or key.low <= e.up_to_si + slack(key.low, e.up_to_si)
                ),
                None,
            )
        if found is None:
            return unknown_number((f"table `{table.name.replace('_', ' ')}` has no row for this",))
        return self._stated(table, found.si)

    def _gather(self, term: c.Gather, rows: Rows) -> Number:
        sure: list[Number] = []
        maybe: list[tuple[Number, Missing]] = []
        for inner, chosen in self.members(term.relation, term.where, rows):
            item = exact(1.0) if term.item is None else self.number(term.item, inner)
            if chosen.value:
                sure.append(item)
            else:
                maybe.append((item, chosen.missing))
        unlisted = self._unlisted(term.relation)
        missing = union((*(n.missing for n in sure), *(m for _, m in maybe), unlisted))
        if term.which in ("largest", "smallest"):
            return extreme_of(term.which == "largest", sure, [n for n, _ in maybe], bool(unlisted), missing)
        total = exact(0.0)
        for item in sure:
            total = total if item.vacuous else arithmetic("plus", total, item)
        for item, _ in maybe:
            total = arithmetic("plus", total, Number(min(0.0, item.low), max(0.0, item.high)))
        if unlisted:
            # More rows can only add to a count; to a sum they may add anything.
            total = Number(total.low if term.item is None else -math.inf, math.inf)
        return Number(total.low, total.high, missing if total.low != total.high else ())

    def symbols(self, term: c.Term, rows: Rows) -> Symbols:
        """Return a word, a text or a set of words."""
        match term:
            case c.Words(words=words):
                return _one_of(words)
            case c.LimitTerm(limit=limit):
                if self.strict and limit.source.verified == FROM_MEMORY:
                    return Symbols(None, _recalled(limit))
                return _one_of(limit.words)
            case c.Field():
                value = self.value(term, rows)
                missing = self._unknown(value, term)
                if missing:
                    return Symbols(None, missing)
                held = value.value
                return _one_of(held if isinstance(held, tuple) else (str(held),))
        raise AssertionError(term)


def _recalled(limit: c.Limit | c.Table) -> Missing:
    return (f"the limit `{limit.name.replace('_', ' ')}` is stated from memory",)


@lru_cache(maxsize=1024)
def _one_of(words: tuple[str, ...]) -> Symbols:
    return Symbols(frozenset(words))
