"""Three-valued truth against Kleene's tables, and partly known numbers against every way they may turn out.

Source of the tables: S. C. Kleene, Introduction to Metamathematics (1952), section 64, the strong senses of
not, or, and. Source of the interval check: the definition itself, whatever is said must hold for each value
the unknown may have.
"""

from __future__ import annotations

import math
import operator
from itertools import product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from plangen.checking.kleene import (
    ABOUT_NOTHING,
    OF_NOTHING,
    Number,
    Truth,
    arithmetic,
    compared,
    conjunction,
    disjunction,
    exact,
    extreme,
    negation,
    unknown_number,
)

T, F, U = True, False, None
AND = {(T, T): T, (T, F): F, (T, U): U, (F, T): F, (F, F): F, (F, U): F, (U, T): U, (U, F): F, (U, U): U}
OR = {(T, T): T, (T, F): T, (T, U): T, (F, T): T, (F, F): F, (F, U): U, (U, T): T, (U, F): U, (U, U): U}
NOT = {T: F, F: T, U: U}


@pytest.mark.parametrize(("left", "right"), AND)
def test_and_or_follow_kleenes_strong_tables(left: bool | None, right: bool | None) -> None:
    assert conjunction((Truth(left), Truth(right))).value is AND[left, right]
    assert disjunction((Truth(left), Truth(right))).value is OR[left, right]


@pytest.mark.parametrize("value", NOT)
def test_not_follows_kleenes_table(value: bool | None) -> None:
    assert negation(Truth(value)).value is NOT[value]


def test_only_what_is_open_is_named_as_missing() -> None:
    known, a, b = Truth(True, ("never",)), Truth(None, ("a",)), Truth(None, ("b", "a"))
    assert conjunction((known, a, b)).missing == ("a", "b")
    assert conjunction((Truth(False), a)).missing == ()


@pytest.mark.parametrize("value", [T, F, U])
def test_a_statement_about_nothing_is_neutral(value: bool | None) -> None:
    assert conjunction((ABOUT_NOTHING, Truth(value))).value is value
    assert disjunction((ABOUT_NOTHING, Truth(value))).value is value
    assert conjunction((ABOUT_NOTHING, ABOUT_NOTHING)).vacuous
    assert negation(ABOUT_NOTHING).vacuous
    assert compared("at least", OF_NOTHING, exact(1.0)).vacuous


HELD = {
    "at least": operator.ge,
    "at most": operator.le,
    "more than": operator.gt,
    "less than": operator.lt,
    "is": operator.eq,
}
WHOLE = st.integers(-20, 20).map(float)
RANGES = st.tuples(WHOLE, WHOLE).map(lambda p: Number(min(p), max(p), ("x",)))


@given(RANGES, RANGES, st.sampled_from(sorted(HELD)))
def test_a_comparison_said_of_ranges_holds_for_each_value_in_them(a: Number, b: Number, name: str) -> None:
    answers = {HELD[name](x, y) for x, y in product(_inside(a), _inside(b))}
    said = compared(name, a, b).value
    assert said is None or answers == {said}
    if a.exact and b.exact:
        assert answers == {said}


@given(RANGES, RANGES, st.sampled_from(["plus", "minus", "times", "divided"]))
def test_arithmetic_on_ranges_encloses_each_value(a: Number, b: Number, name: str) -> None:
    found = arithmetic(name, a, b)
    work = {"plus": operator.add, "minus": operator.sub, "times": operator.mul, "divided": operator.truediv}
    for x, y in product(_inside(a), _inside(b)):
        assume(name != "divided" or y != 0)
        assert found.low - 1e-9 <= work[name](x, y) <= found.high + 1e-9


@given(st.lists(RANGES, min_size=1, max_size=4), st.booleans())
def test_the_extreme_of_ranges_encloses_each_outcome(items: list[Number], largest: bool) -> None:
    found = extreme(largest, items)
    for values in product(*((n.low, n.high) for n in items)):
        assert found.low <= (max(values) if largest else min(values)) <= found.high


def test_the_largest_can_be_too_large_on_the_known_alone() -> None:
    found = extreme(True, (exact(6.0), unknown_number(("x",))))
    assert compared("at most", found, exact(5.0)).value is False
    assert compared("at most", found, exact(7.0)) == Truth(None, ("x",))
    assert extreme(True, ()).vacuous


def test_nothing_is_said_of_a_quotient_that_may_divide_by_nought() -> None:
    found = arithmetic("divided", exact(1.0), exact(0.0))
    assert math.isinf(found.low) and math.isinf(found.high) and found.missing


def test_rounding_of_converted_inches_does_not_fail_a_limit() -> None:
    # 0.1 + 0.2 is not 0.3 in binary; IEEE 754. A limit met exactly on paper is met.
    assert compared("at least", exact(0.3), exact(0.1 + 0.2)).value is True
    assert compared("more than", exact(0.1 + 0.2), exact(0.3)).value is False
    assert compared("at least", exact(0.2999), exact(0.3)).value is False


def _inside(number: Number) -> tuple[float, ...]:
    return tuple({number.low, (number.low + number.high) / 2, number.high})
