"""Which dimensions may be added, multiplied and compared in a rule, and what comes out."""

from __future__ import annotations

from plangen.quantity.dimension import Dimension

_D = Dimension
# Bare numbers are counts or ratios; they scale anything.
_PLAIN = (None, _D.COUNT, _D.RATIO)
_PRODUCTS: dict[tuple[Dimension, Dimension], Dimension] = {
    (_D.LENGTH, _D.LENGTH): _D.AREA,
    (_D.AREA, _D.LENGTH): _D.VOLUME,
    (_D.FLOW, _D.TIME): _D.VOLUME,
    (_D.VELOCITY, _D.TIME): _D.LENGTH,
    (_D.RATE, _D.TIME): _D.LENGTH,
    (_D.VELOCITY, _D.AREA): _D.FLOW,
    (_D.RATE, _D.AREA): _D.FLOW,
}


_EXAMPLES: dict[Dimension, str] = {
    _D.LENGTH: "`12 in` or `300 mm`",
    _D.AREA: "`500 sqft` or `50 sqm`",
    _D.VOLUME: "`10 gal` or `40 L`",
    _D.PRESSURE: "`60 psi` or `4 bar`",
    _D.FLOW: "`10 gpm` or `40 L/min`",
    _D.VELOCITY: "`5 ft/s` or `1.5 m/s`",
    _D.RATE: "`1.5 in/h` or `40 mm/h`",
    _D.ANGLE: "`90 deg`",
    _D.RATIO: "`75 %`",
    _D.TIME: "`30 min` or `2 days`",
    _D.TEMPERATURE: "`77 degF` or `25 degC`",
    _D.VOLTAGE: "`24 V`",
    _D.CURRENT: "`0.2 A`",
    _D.COUNT: "`3`",
}


class Mismatch(Exception):
    """Two dimensions that do not go together. Caught where the message is made; never leaves the checker."""


def comparable(left: Dimension | None, right: Dimension | None) -> bool:
    """Return whether two values may be compared: a bare number goes with a count or a ratio."""
    return left is right or (None in (left, right) and left in _PLAIN and right in _PLAIN)


def combined(operator: str, left: Dimension | None, right: Dimension | None) -> Dimension | None:
    """Return the dimension of `left OPERATOR right`.

    Raises:
        Mismatch: they do not go together.
    """
    # A temperature has an offset: sums and multiples of degrees mean nothing without saying of what.
    if _D.TEMPERATURE in (left, right):
        raise Mismatch
    if operator in ("plus", "minus"):
        if not comparable(left, right):
            raise Mismatch
        return left or right
    if operator == "times":
        return _product(left, right)
    return _quotient(left, right)


def _product(left: Dimension | None, right: Dimension | None) -> Dimension | None:
    if left in _PLAIN and right in _PLAIN:
        return right if left in (None, _D.RATIO) else left
    if left in _PLAIN:
        return right
    if right in _PLAIN:
        return left
    assert left is not None and right is not None
    found = _PRODUCTS.get((left, right)) or _PRODUCTS.get((right, left))
    if found is None:
        raise Mismatch
    return found


def _quotient(left: Dimension | None, right: Dimension | None) -> Dimension | None:
    if left is right or (left in _PLAIN and right in _PLAIN):
        return _D.RATIO
    if right in _PLAIN:
        return left
    assert right is not None
    for (first, second), product in _PRODUCTS.items():
        if product is left and right in (first, second):
            return second if right is first else first
    raise Mismatch


def dimension_words(dimension: Dimension | None) -> str:
    """Return the dimension with its article: `a length`, `a plain number`."""
    if dimension is None:
        return "a plain number"
    return f"{'an' if dimension.value[0] in 'aeiou' else 'a'} {dimension.value}"


def example_of(dimension: Dimension | None) -> str:
    """Return values of a dimension as an author would write them."""
    return "`3`" if dimension is None else _EXAMPLES[dimension]
