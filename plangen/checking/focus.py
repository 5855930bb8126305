"""Finds the test a verdict turns on, and measures it: value, limit, margin.

In: a requirement, its rows, an evaluator. Out: the leaf that decides, with the rows it was decided on. For a
requirement that holds it is the tightest comparison, for one that does not the first that fails.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.checking import terms as c
from plangen.checking.evaluate import Evaluator, Rows
from plangen.checking.kleene import Number, Truth

_OPPOSITE = {"at least": "less than", "less than": "at least", "at most": "more than", "more than": "at most"}
_SWAPPED = {"at least": "at most", "at most": "at least", "more than": "less than", "less than": "more than"}


@dataclass(frozen=True, slots=True)
class Bound:
    """A comparison turned so that the measured side comes first. SI values; None is not known.

    `margin_si` is what is left to spare, negative where it falls short; `field` is the fact measured.
    """

    operator: str  # at least, at most, more than, less than, is
    measured: c.Term
    limit: c.Term
    measured_si: float | None
    limit_si: float | None
    margin_si: float | None
    field: c.Field | None

    @property
    def downward(self) -> bool:
        """Return whether the limit is a greatest value."""
        return self.operator in ("at most", "less than")


@dataclass(frozen=True, slots=True)
class Leaf:
    """The deciding test: `inverted` where it stands under a `not`; `bound` where it is a comparison.

    The first `own` rows are the rule's subject, the others members of lists it speaks of.
    """

    term: c.Term
    rows: Rows
    truth: Truth
    inverted: bool = False
    bound: Bound | None = None
    own: int = 1


def deciding(
    term: c.Term, rows: Rows, evaluator: Evaluator, inverted: bool = False, own: int | None = None
) -> Leaf:
    """Return the test that a condition's truth turns on."""
    own = len(rows) if own is None else own
    if isinstance(term, c.Negation):
        return deciding(term.inner, rows, evaluator, not inverted, own)
    if isinstance(term, c.Junction):
        leaves = [deciding(p, rows, evaluator, inverted, own) for p in term.parts]
        whole = evaluator.truth(term, rows).value
        return _chosen([x for x in leaves if x.truth.value is whole and not x.truth.vacuous] or leaves)
    if isinstance(term, c.ForAll) and not inverted:
        found = evaluator.truth(term, rows).value
        leaves = [
            deciding(term.has, inner, evaluator, False, own)
            for inner, chosen in evaluator.members(term.relation, term.where, rows)
            if chosen.value or found is None
        ]
        fitting = [x for x in leaves if x.truth.value is found]
        if fitting:
            return _chosen(fitting)
    truth = evaluator.truth(term, rows)
    bound = _bound(term, rows, evaluator, inverted) if isinstance(term, c.Compare) else None
    if inverted and truth.value is not None:
        truth = Truth(not truth.value, truth.missing, truth.vacuous)
    return Leaf(term, rows, truth, inverted, bound, own)


def failing_members(term: c.Term | None, rows: Rows, evaluator: Evaluator) -> tuple[str, ...]:
    """Return the names of the rows on which an `every` fails, if the requirement is one."""
    if not isinstance(term, c.ForAll):
        return ()
    return tuple(
        inner[-1].row.name
        for inner, chosen in evaluator.members(term.relation, term.where, rows)
        if chosen.value and evaluator.truth(term.has, inner).value is False
    )


def _chosen(leaves: list[Leaf]) -> Leaf:
    """Return the comparison with the least margin for its limit, or the first leaf if none is measured."""
    measured = [x for x in leaves if x.bound is not None and x.bound.margin_si is not None]
    return min(measured, key=_tightness) if measured else leaves[0]


def _tightness(leaf: Leaf) -> float:
    bound = leaf.bound
    assert bound is not None and bound.margin_si is not None and bound.limit_si is not None
    scale = max(abs(bound.limit_si), abs(bound.measured_si or 0.0)) or 1.0
    return bound.margin_si / scale


def _bound(term: c.Compare, rows: Rows, evaluator: Evaluator, inverted: bool) -> Bound:
    operator, left, right = term.operator, term.left, term.right
    if inverted:
        operator = _OPPOSITE.get(operator, operator)
    if not _has_fact(left) and _has_fact(right):
        operator, left, right = _SWAPPED.get(operator, operator), right, left
    measured, limit = evaluator.number(left, rows), evaluator.number(right, rows)
    fails = evaluator.truth(term, rows).value is bool(inverted)
    value, against = _shown(measured, operator, fails), limit.low if limit.exact else None
    margin = None
    if value is not None and against is not None and operator != "is":
        margin = against - value if operator in ("at most", "less than") else value - against
    return Bound(operator, left, right, value, against, margin, _field_of(left))


def _shown(number: Number, operator: str, fails: bool) -> float | None:
    """Return the value to show: where only part is known, the end of the range that already fails."""
    if number.vacuous:
        return None
    if number.exact:
        return number.low
    end = number.low if operator in ("at most", "less than") else number.high
    return end if fails and math.isfinite(end) else None


def _has_fact(term: c.Term) -> bool:
    return isinstance(term, c.Field | c.Gather) or any(_has_fact(p) for p in c.parts_of(term))


def _field_of(term: c.Term) -> c.Field | None:
    """Return the fact a measured side is: a field itself, or the field an extreme is taken of."""
    if isinstance(term, c.Field):
        return term
    if (
        isinstance(term, c.Gather)
        and term.which in ("largest", "smallest")
        and isinstance(term.item, c.Field)
    ):
        return term.item
    return None


def extreme_row(term: c.Term, rows: Rows, evaluator: Evaluator) -> str:
    """Return the name of the row that is the largest or smallest, or an empty text."""
    if not isinstance(term, c.Gather) or term.which not in ("largest", "smallest") or term.item is None:
        return ""
    best, name = None, ""
    for inner, chosen in evaluator.members(term.relation, term.where, rows):
        item = evaluator.number(term.item, inner)
        if not chosen.value or not item.exact:
            continue
        if best is None or (item.low > best if term.which == "largest" else item.low < best):
            best, name = item.low, inner[-1].row.name
    return name
