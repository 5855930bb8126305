"""How schedules say values: in the project's units, with fixed decimals, or that they are not known."""

from __future__ import annotations

from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY, feet_inches, fixed, told
from plangen.quantity.quantity import Quantity, si_to

UNKNOWN = "not known"
_D = Dimension


def say(value: Quantity | None, units: str, small: bool = False) -> str:
    """Return a stated quantity in the project's units, or that it is not known."""
    return told(value.si, value.dimension, units, small=small) if value is not None else UNKNOWN


def say_si(value: float | None, dimension: Dimension, units: str, small: bool = False) -> str:
    """Return a computed value in the project's units, or that it is not known."""
    if value is None:
        return UNKNOWN
    if small and dimension is _D.LENGTH:
        return told(value, dimension, units, small=True)
    unit, decimals = DISPLAY[units][dimension]
    text = fixed(si_to(value, dimension, unit), decimals)
    return f"{text}{unit}" if unit == "%" else f"{text} {unit}".strip()


_SHORT = {"southwest": "SW", "southeast": "SE", "northeast": "NE", "northwest": "NW"}


def corner_words(name: str) -> str:
    """Return a named corner as a crew writes it: `House.southwest` is `House SW`."""
    thing, _, corner = name.rpartition(".")
    return f"{thing} {_SHORT[corner]}" if corner in _SHORT else name


def taped(length_m: float, units: str) -> str:
    """Return a distance as a tape reads it: feet and inches, or metres."""
    return feet_inches(length_m) if units == "us" else told(length_m, _D.LENGTH, units)


def bore(value_m: float, units: str) -> str:
    """Return an inside diameter to a thousandth of an inch or a tenth of a millimetre."""
    unit, decimals = ("in", 3) if units == "us" else ("mm", 1)
    return f"{fixed(si_to(value_m, _D.LENGTH, unit), decimals)} {unit}"


def head_pressure(value_m: float | None, units: str) -> str:
    """Return a pressure head in metres of water as a pressure, or that it is not known."""
    return say_si(head_to_pressure_pa(value_m) if value_m is not None else None, _D.PRESSURE, units)


def natural(name: str) -> tuple[str, int, str]:
    """Return the key that sorts P2 before P10."""
    head = name.rstrip("0123456789")
    return head, int(name[len(head) :] or 0), name
