"""Building values: a number with its inputs, or the words for what is missing. No fact is chosen here."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.facts.values import Row, Value
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span

# Numbers that differ by less come from sums that differ in the last bits only.
_EQUAL = 1e-9


def given(name: str, quantity: Quantity | None) -> Input | None:
    """Return a stated quantity as an input, or None."""
    if quantity is None:
        return None
    return Input(name, quantity.written, quantity.provenance, quantity.span)


def inputs(*items: Input | None) -> tuple[Input, ...]:
    """Return the inputs that exist, each once, in order."""
    return tuple(dict.fromkeys(i for i in items if i is not None))


def stated(name: str, quantity: Quantity | None, missing: str) -> Value:
    """Return a stated quantity as a value; without it, not known for the reason given."""
    if quantity is None:
        return Value(None, missing=(missing,))
    return Value(quantity.si, inputs(given(name, quantity)))


def unknown(*missing: str) -> Value:
    """Return a value that is not known."""
    return Value(None, missing=tuple(dict.fromkeys(missing)))


def known(value: float | bool | str | tuple[str, ...], how: str = "", *sources: Input | None) -> Value:
    """Return a known value."""
    return Value(value, inputs(*sources), how=how)


def worked(value: float, how: str, sources: Iterable[Input]) -> Value:
    """Return a worked-out number with all it rests on."""
    return Value(value, tuple(sources), how=how)


def said(text: str) -> Value:
    """Return whether a text was stated: yes or no, since an empty text is seen to be empty."""
    return Value(bool(text), how=text)


def extreme(items: Iterable[tuple[float, str, tuple[Input, ...]]], *, largest: bool) -> Value:
    """Return the largest or smallest of some numbers, each with words and inputs; there is at least one.

    Those as great as it to the last bits count with it: moving any of them moves what is told of all.
    """
    listed = list(items)
    value, how, _ = (max if largest else min)(listed, key=lambda i: i[0])
    near = abs(value) * _EQUAL
    basis = (i for number, _, found in listed if abs(number - value) <= near for i in found)
    return Value(value, tuple(dict.fromkeys(basis)), how=how)


def row(relation: str, name: str, span: Span, values: dict[str, Value]) -> Row:
    """Return a row with its values in the order given."""
    return Row(relation, name, span, tuple(values.items()))
