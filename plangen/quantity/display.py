"""How quantities are told to people: the unit and the number of decimals for each dimension and system."""

from __future__ import annotations

from fractions import Fraction

from plangen.quantity.dimension import INCH_M, Dimension
from plangen.quantity.quantity import si_to

# (unit, decimals) by unit system. Rounding is for labels and printing only, never for the solution.
DISPLAY: dict[str, dict[Dimension, tuple[str, int]]] = {
    "us": {
        Dimension.LENGTH: ("ft", 1),
        Dimension.AREA: ("sqft", 0),
        Dimension.VOLUME: ("gal", 1),
        Dimension.PRESSURE: ("psi", 1),
        Dimension.FLOW: ("gpm", 2),
        Dimension.VELOCITY: ("ft/s", 2),
        Dimension.RATE: ("in/h", 2),
        Dimension.ANGLE: ("deg", 0),
        Dimension.RATIO: ("%", 0),
        Dimension.TIME: ("min", 0),
        Dimension.TEMPERATURE: ("degF", 0),
        Dimension.VOLTAGE: ("V", 1),
        Dimension.CURRENT: ("A", 2),
        Dimension.COUNT: ("", 0),
    },
    "metric": {
        Dimension.LENGTH: ("m", 2),
        Dimension.AREA: ("sqm", 1),
        Dimension.VOLUME: ("L", 0),
        Dimension.PRESSURE: ("bar", 2),
        Dimension.FLOW: ("L/min", 2),
        Dimension.VELOCITY: ("m/s", 2),
        Dimension.RATE: ("mm/h", 1),
        Dimension.ANGLE: ("deg", 0),
        Dimension.RATIO: ("%", 0),
        Dimension.TIME: ("min", 0),
        Dimension.TEMPERATURE: ("degC", 0),
        Dimension.VOLTAGE: ("V", 1),
        Dimension.CURRENT: ("A", 2),
        Dimension.COUNT: ("", 0),
    },
}
# Heights, covers and clearances are told in the small length unit.
SMALL_LENGTH: dict[str, tuple[str, int]] = {"us": ("in", 1), "metric": ("mm", 0)}


def number(value: float, decimals: int) -> str:
    """Return a value with at most `decimals` decimals, no trailing zeros, no minus zero."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def fixed(value: float, decimals: int) -> str:
    """Return a value with exactly `decimals` decimals, for columns."""
    text = f"{value:.{decimals}f}"
    return text[1:] if float(text) == 0 and text.startswith("-") else text


def told(si: float, dimension: Dimension, system: str, *, small: bool = False) -> str:
    """Return an SI value in words of a unit system (`us` or `metric`), such as `12.4 gpm`."""
    unit, decimals = (
        SMALL_LENGTH[system] if small and dimension is Dimension.LENGTH else DISPLAY[system][dimension]
    )
    text = number(si_to(si, dimension, unit), decimals)
    return f"{text}{unit}" if unit == "%" else f"{text} {unit}".strip()


def told_both(si: float, dimension: Dimension) -> str:
    """Return a quantity in both systems, for messages of stages that know no project units."""
    return f"{told(si, dimension, 'us')} ({told(si, dimension, 'metric')})"


def feet_inches(si_m: float) -> str:
    """Return a length as feet and inches to the nearest eighth, for details: `2'-2 1/2"`."""
    eighths = round(si_m / INCH_M * 8)
    feet, rest = divmod(eighths, 96)
    inches, eighth = divmod(rest, 8)
    part = f" {Fraction(eighth, 8)}" if eighth else ""
    return f"{feet}'-{inches}{part}\"" if feet else f'{inches}{part}"'
