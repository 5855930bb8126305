"""Single values of the report: places, quantities, rounded numbers. Pure."""

from __future__ import annotations

from typing import Any

from plangen.checking.finding import Measure
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY, SMALL_LENGTH
from plangen.quantity.quantity import si_to
from plangen.text.source import SourceSet, Span

Facts = dict[str, Any]
# Nine significant digits tell more than any measurement and hide the last, machine-made bits of a float.
DIGITS = 9


def significant(value: float) -> float:
    """Return a number with nine significant digits and without a minus zero."""
    return float(f"{value:.{DIGITS}g}") + 0.0


def place_facts(span: Span, sources: SourceSet) -> Facts:
    """Return where a span starts as file, line and column."""
    place = sources.place(span)
    return {"file": place.file, "line": place.line, "column": place.column}


def quantity_facts(
    si: float | None, dimension: Dimension, units: str, *, small: bool = False
) -> Facts | None:
    """Return an SI value as value and unit in a unit system, or None if it is not known."""
    if si is None:
        return None
    small_length = small and dimension is Dimension.LENGTH
    unit = SMALL_LENGTH[units][0] if small_length else DISPLAY[units][dimension][0]
    return {"value": significant(si_to(si, dimension, unit)), "unit": unit}


def pressure_facts(head_m: float | None, units: str) -> Facts | None:
    """Return a height of water as a pressure in a unit system, or None if it is not known."""
    if head_m is None:
        return None
    return quantity_facts(head_to_pressure_pa(head_m), Dimension.PRESSURE, units)


def measure_facts(measure: Measure | None, units: str) -> Facts | None:
    """Return a shown value: a quantity, or words with an empty unit."""
    if measure is None:
        return None
    if measure.si is None or measure.dimension is None:
        return {"value": measure.words, "unit": ""}
    return quantity_facts(measure.si, measure.dimension, units, small=measure.small)
