"""The unit table and the reading of quantities, held against pint (PyPI, a general-purpose unit library)."""

from __future__ import annotations

import math

import pint
import pytest

from plangen.model.numbers import nearest_unit, number_value, quantity_value
from plangen.quantity.dimension import UNITS, Dimension
from plangen.text.trade_words import plain, trade_words

_UREG = pint.UnitRegistry()
# Our symbol: pint's name. ftH2O is left to its own test: tables differ in the weight of water they take.
PINT = {
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "sqft": "foot**2",
    "sqm": "meter**2",
    "gal": "gallon",
    "cuft": "foot**3",
    "L": "liter",
    "m3": "meter**3",
    "psi": "psi",
    "bar": "bar",
    "kPa": "kilopascal",
    "Pa": "pascal",
    "gpm": "gallon/minute",
    "gph": "gallon/hour",
    "L/s": "liter/second",
    "L/min": "liter/minute",
    "L/h": "liter/hour",
    "m3/h": "meter**3/hour",
    "m3/s": "meter**3/second",
    "ft/s": "foot/second",
    "m/s": "meter/second",
    "in/h": "inch/hour",
    "in/day": "inch/day",
    "in/month": "inch/month",
    "mm/h": "millimeter/hour",
    "mm/day": "millimeter/day",
    "mm/month": "millimeter/month",
    "deg": "degree",
    "%": "percent",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "day": "day",
    "days": "day",
    "degF": "degF",
    "degC": "degC",
    "V": "volt",
    "A": "ampere",
    "mA": "milliampere",
}
SI = {
    Dimension.LENGTH: "meter",
    Dimension.AREA: "meter**2",
    Dimension.VOLUME: "meter**3",
    Dimension.PRESSURE: "pascal",
    Dimension.FLOW: "meter**3/second",
    Dimension.VELOCITY: "meter/second",
    Dimension.RATE: "meter/second",
    Dimension.ANGLE: "degree",
    Dimension.RATIO: "dimensionless",
    Dimension.TIME: "second",
    Dimension.TEMPERATURE: "degC",
    Dimension.VOLTAGE: "volt",
    Dimension.CURRENT: "ampere",
}


def test_every_unit_is_compared() -> None:
    assert set(PINT) == set(UNITS) - {"ftH2O"}


@pytest.mark.parametrize("symbol", sorted(PINT))
def test_factor_is_pints(symbol: str) -> None:
    si, dimension = quantity_value(f"12.5 {symbol}")
    expected = _UREG.Quantity(12.5, PINT[symbol]).to(SI[dimension]).magnitude
    assert math.isclose(si, expected, rel_tol=1e-12)


def test_foot_of_water_is_that_of_the_epanet_manual() -> None:
    # EPANET 2.2 User Manual, Units of Measurement: 1 psi is 2.31 ft, printed to three figures.
    si, _ = quantity_value("2.31 ftH2O")
    assert math.isclose(si, _UREG.Quantity(1, "psi").to("pascal").magnitude, rel_tol=2e-3)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("3/4 in", 0.75),
        ("1-1/4 in", 1.25),
        ("1 1/4 in", 1.25),
        ("12 ft 6 in", 150.0),
        ("5 ft 3/4 in", 60.75),
        ("5 ft 2-1/2 in", 62.5),
        ("-2 ft 6 in", -30.0),
        ("-1-1/2 in", -1.5),
        (".5 in", 0.5),
    ],
)
def test_fractions_and_feet_with_inches(text: str, inches: float) -> None:
    # Arithmetic: 12 inches to the foot, 25.4 mm to the inch by definition.
    assert math.isclose(quantity_value(text)[0], inches * 0.0254, rel_tol=1e-12)


def test_a_fraction_over_nought_is_named() -> None:
    with pytest.raises(ZeroDivisionError):
        number_value("3/0")


@pytest.mark.parametrize(
    ("wrong", "dimension", "right"),
    [
        ("psy", Dimension.PRESSURE, "psi"),
        ("PSI", Dimension.PRESSURE, "psi"),
        ("inches", Dimension.LENGTH, "in"),
        ("feet", Dimension.LENGTH, "ft"),
        ("gmp", Dimension.FLOW, None),
        ("lpm", Dimension.FLOW, "L/min"),
        ("l/s", Dimension.FLOW, "L/s"),
        ("furlong", Dimension.LENGTH, None),
    ],
)
def test_near_units(wrong: str, dimension: Dimension, right: str | None) -> None:
    legal = [symbol for symbol, unit in UNITS.items() if unit.dimension is dimension]
    assert nearest_unit([wrong], legal) == ((right, 1) if right else None)


@pytest.mark.parametrize(
    ("wrong", "dimension"),
    [
        ("gpd", Dimension.FLOW),  # gallons per day: 1/1440 of gpm
        ("gallons per day", Dimension.FLOW),
        ("hPa", Dimension.PRESSURE),
        ("ksi", Dimension.PRESSURE),
        ("mbar", Dimension.PRESSURE),
        ("mmHg", Dimension.PRESSURE),
        ("sqmi", Dimension.AREA),
        ("ms", Dimension.TIME),
    ],
)
def test_for_a_unit_that_is_one_but_not_ours_nothing_is_offered(wrong: str, dimension: Dimension) -> None:
    """A letter from one of ours, and a thousand times as much: symbols as pint knows them."""
    legal = [symbol for symbol, unit in UNITS.items() if unit.dimension is dimension]
    assert nearest_unit(wrong.split(), legal) is None


def test_no_other_unit_is_one_of_ours_or_a_word_for_it() -> None:
    words = {plain(w) for theirs in trade_words()["units"].values() for w in theirs} | {
        plain(u) for u in UNITS
    }
    assert not words & {plain(w) for w in trade_words()["other"]["units"]}
