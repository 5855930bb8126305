"""Finds selectors that can never match a row: a rule behind one would never be heard of.

In: a checked condition. Out: whether some row could satisfy it, as far as words, truths and constant bounds
tell. A condition it cannot judge counts as possible.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from plangen.checking import terms as c

# Beyond this many alternatives the question is left open rather than worked out.
MOST_CASES = 256

Key = tuple[int | None, str, str]
Literal = tuple[c.Term, bool]


def can_match(condition: c.Term) -> bool:
    """Return whether some row could meet the condition."""
    cases = _cases(condition, True)
    return cases is None or any(_consistent(case) for case in cases)


def _cases(term: c.Term, wanted: bool) -> list[list[Literal]] | None:
    """Return the alternatives under which a condition has the wanted truth, or None for too many."""
    if isinstance(term, c.Negation):
        return _cases(term.inner, not wanted)
    if not isinstance(term, c.Junction):
        return [[(term, wanted)]]
    parts = [_cases(p, wanted) for p in term.parts]
    whole = [p for p in parts if p is not None]
    if len(whole) < len(parts):
        return None
    if term.every != wanted:
        return [case for part in whole for case in part]
    product: list[list[Literal]] = [[]]
    for part in whole:
        product = [done + case for done in product for case in part]
        if len(product) > MOST_CASES:
            return None
    return product


@dataclass(slots=True)
class _Domain:
    """What is left for one field."""

    words: set[str] | None = None
    low: float = -math.inf
    high: float = math.inf
    low_open: bool = False
    high_open: bool = False
    truths: set[bool] = field(default_factory=lambda: {True, False})
    includes: set[str] = field(default_factory=set)
    lacks: set[str] = field(default_factory=set)

    @property
    def empty(self) -> bool:
        """Return whether nothing is left."""
        closed = self.low == self.high and (self.low_open or self.high_open)
        return (
            self.words == set()
            or not self.truths
            or self.low > self.high
            or closed
            or bool(self.includes & self.lacks)
        )


def _consistent(case: list[Literal]) -> bool:
    domains: dict[Key, _Domain] = {}
    for term, wanted in case:
        key = _subject(term)
        if key is None:
            continue
        domain = domains.setdefault(key, _Domain())
        _narrow(domain, term, wanted)
        if domain.empty:
            return False
    return True


def _subject(term: c.Term) -> Key | None:
    match term:
        case c.Field():
            return term.scope, term.relation, term.field.name
        case c.Compare(left=c.Field() as of) if constant(term.right) is not None:
            return of.scope, of.relation, of.field.name
        case c.Member(value=c.Field() as of) | c.Includes(value=c.Field() as of) if (
            _words(term.options) is not None
        ):
            return of.scope, of.relation, of.field.name
    return None


def _narrow(domain: _Domain, term: c.Term, wanted: bool) -> None:
    match term:
        case c.Field():
            domain.truths &= {wanted}
        case c.Member(value=c.Field() as of):
            given = set(_words(term.options) or ())
            kept = wanted != term.negated
            before = domain.words if domain.words is not None else set(of.field.type.words) or None
            if kept:
                domain.words = given if before is None else before & given
            elif before is not None:
                domain.words = before - given
        case c.Includes():
            given = set(_words(term.options) or ())
            if wanted and term.mode == "all":
                domain.includes |= given
            elif (wanted and term.mode == "none") or (not wanted and term.mode == "any"):
                domain.lacks |= given
        case c.Compare():
            bound = constant(term.right)
            assert bound is not None
            _bound(domain, term.operator, bound, wanted)


_OPPOSITE = {"at least": "less than", "less than": "at least", "at most": "more than", "more than": "at most"}


def _bound(domain: _Domain, operator: str, value: float, wanted: bool) -> None:
    if operator == "is":
        if wanted:
            _bound(domain, "at least", value, True)
            _bound(domain, "at most", value, True)
        return
    if not wanted:
        operator = _OPPOSITE[operator]
    is_open = operator in ("more than", "less than")
    if operator in ("at least", "more than"):
        if value > domain.low or (value == domain.low and is_open):
            domain.low, domain.low_open = value, is_open
    elif value < domain.high or (value == domain.high and is_open):
        domain.high, domain.high_open = value, is_open


def constant(term: c.Term) -> float | None:
    """Return the value of a number or limit as written, None of anything else."""
    if isinstance(term, c.Const):
        return term.si
    return term.limit.si if isinstance(term, c.LimitTerm) else None


def _words(term: c.Term) -> tuple[str, ...] | None:
    if isinstance(term, c.Words):
        return term.words
    return term.limit.words or None if isinstance(term, c.LimitTerm) else None
