"""Three-valued truth and partly known numbers.

The tables are Kleene's strong ones (S. C. Kleene, Introduction to Metamathematics, 1952, section 64): an
unknown part leaves the whole unknown unless the known parts settle it. Beside them stands `vacuous`: a
statement about nothing, which is neutral in `and` and `or`. A number that is not known is an interval, so
that the largest of several may be too large on the known members alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

# Far below anything built or measured, far above the rounding of sums of converted feet and inches.
RELATIVE_SLACK = 1e-9
ABSOLUTE_SLACK = 1e-9

Missing = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Truth:
    """True, False, or None for not known; `missing` says what is not known."""

    value: bool | None
    missing: Missing = ()
    vacuous: bool = False


@dataclass(frozen=True, slots=True)
class Number:
    """A number known to lie from `low` to `high`, in SI; `vacuous` is the largest of nothing."""

    low: float
    high: float
    missing: Missing = ()
    vacuous: bool = False

    @property
    def exact(self) -> bool:
        """Return whether the number is known."""
        return self.low == self.high and not self.vacuous


@dataclass(frozen=True, slots=True)
class Symbols:
    """A word, a text or a set of words; None is not known."""

    value: frozenset[str] | None
    missing: Missing = ()


YES = Truth(True)
NO = Truth(False)
ABOUT_NOTHING = Truth(True, (), True)
OF_NOTHING = Number(math.nan, math.nan, (), True)


def unknown_number(missing: Missing) -> Number:
    """Return a number of which nothing is known."""
    return Number(-math.inf, math.inf, missing)


def exact(value: float) -> Number:
    """Return a known number."""
    return Number(value, value)


def union(parts: Iterable[Missing]) -> Missing:
    """Return all missing words once, in order."""
    return tuple(dict.fromkeys(word for part in parts for word in part))


def negation(truth: Truth) -> Truth:
    """Return `not`."""
    if truth.value is None or truth.vacuous:
        return truth
    return NO if truth.value else YES


def conjunction(parts: Iterable[Truth]) -> Truth:
    """Return `and` of the parts: false if any is, else unknown if any is."""
    return _junction(tuple(parts), decisive=False)


def disjunction(parts: Iterable[Truth]) -> Truth:
    """Return `or` of the parts: true if any is, else unknown if any is."""
    return _junction(tuple(parts), decisive=True)


def _junction(parts: tuple[Truth, ...], decisive: bool) -> Truth:
    real = [p for p in parts if not p.vacuous]
    if not real:
        return ABOUT_NOTHING
    if any(p.value is decisive for p in real):
        return YES if decisive else NO
    if any(p.value is None for p in real):
        return Truth(None, union(p.missing for p in real if p.value is None))
    return NO if decisive else YES


def slack(left: float, right: float) -> float:
    """Return how far two numbers may differ and still count as equal."""
    if math.isinf(left) or math.isinf(right):
        return 0.0
    return RELATIVE_SLACK * max(abs(left), abs(right)) + ABSOLUTE_SLACK * min(1.0, max(abs(left), abs(right)))


def compared(operator: str, left: Number, right: Number) -> Truth:
    """Return `left OPERATOR right`; equality within rounding counts as equal."""
    if left.vacuous or right.vacuous:
        return ABOUT_NOTHING
    if operator == "at most":
        return _at_least(right, left)
    if operator == "at least":
        return _at_least(left, right)
    if operator == "more than":
        return negation(_at_least(right, left))
    if operator == "less than":
        return negation(_at_least(left, right))
    return conjunction((_at_least(left, right), _at_least(right, left)))


def _at_least(left: Number, right: Number) -> Truth:
    if left.low >= right.high - slack(left.low, right.high):
        return YES
    if left.high < right.low - slack(left.high, right.low):
        return NO
    return Truth(None, union((left.missing, right.missing)))


def arithmetic(operator: str, left: Number, right: Number) -> Number:
    """Return the sum, difference, product or quotient of two partly known numbers."""
    if left.vacuous or right.vacuous:
        return OF_NOTHING
    missing = union((left.missing, right.missing))
    if operator == "plus":
        return Number(left.low + right.low, left.high + right.high, missing)
    if operator == "minus":
        return Number(left.low - right.high, left.high - right.low, missing)
    if operator == "times":
        corners = [_times(a, b) for a in (left.low, left.high) for b in (right.low, right.high)]
        return Number(min(corners), max(corners), missing)
    if right.low <= 0 <= right.high:
        return unknown_number(missing or ("a quotient with nought below the line",))
    ends = (1 / right.low, 1 / right.high)
    inverse = Number(min(ends), max(ends))
    return arithmetic("times", Number(left.low, left.high, missing), inverse)


def _times(left: float, right: float) -> float:
    return 0.0 if 0.0 in (left, right) else left * right


def extreme(largest: bool, items: Iterable[Number]) -> Number:
    """Return the largest or smallest of partly known numbers; of none it is vacuous."""
    real = [n for n in items if not n.vacuous]
    if not real:
        return OF_NOTHING
    choose = max if largest else min
    low, high = choose(n.low for n in real), choose(n.high for n in real)
    missing = () if low == high else union(n.missing for n in real)
    return Number(low, high, missing)


def extreme_of(
    largest: bool, sure: list[Number], maybe: list[Number], open_list: bool, missing: Missing
) -> Number:
    """The extreme of the sure members, which the uncertain and the unlisted ones can only push further."""
    settled, reach = extreme(largest, sure), extreme(largest, [*sure, *maybe])
    if settled.vacuous:
        # Whether there is anything to measure is itself open, unless nothing can be meant at all.
        return unknown_number(missing) if maybe or open_list else settled
    if largest:
        low, high = settled.low, math.inf if open_list else reach.high
    else:
        low, high = -math.inf if open_list else reach.low, settled.high
    return Number(low, high, missing if low != high else ())
