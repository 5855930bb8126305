"""What warmth leaves of a pipe's rating, from the table `pvc_temperature.csv`. Pure functions."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from plangen.model.parts import PipeSize
from plangen.quantity.quantity import to_si
from plangen.shipped.folders import shipped_text

# Metal pipe keeps its rating up to here (from memory: ratings of copper tube are tabled at 100 F first).
METAL_C = to_si(100.0, "degF")
_METALS = ("copper", "steel")


@dataclass(frozen=True, slots=True)
class TemperatureFactor:
    """One row: at this temperature the rating is taken times the factor."""

    celsius: float
    factor: float
    basis: str
    source: str


@lru_cache(maxsize=1)
def temperature_factors() -> tuple[TemperatureFactor, ...]:
    """Return the rows of the shipped table for PVC, coolest first."""
    rows = csv.DictReader(io.StringIO(shipped_text("library", "pvc_temperature.csv")))
    return tuple(
        TemperatureFactor(
            to_si(float(r["temperature"]), r["unit"]), float(r["factor"]), r["basis"], r["source"]
        )
        for r in rows
    )


def temperature_factor(size: PipeSize, celsius: float) -> float | None:
    """Return what is left of a pipe's rating at a temperature, or None where no table says.

    PVC between the rows of the table by straight lines; metal whole up to 100 F; others whole up to 73 F.
    """
    rows = temperature_factors()
    whole_to = METAL_C if size.family.startswith(_METALS) else rows[0].celsius
    if celsius <= whole_to + 1e-9:
        return 1.0
    if not size.family.startswith("pvc"):
        return None
    found = rows_about(celsius)
    if len(found) == 1:
        return found[0].factor
    if not found:
        return None
    cool, warm = found
    share = (celsius - cool.celsius) / (warm.celsius - cool.celsius)
    return cool.factor + share * (warm.factor - cool.factor)


def rows_about(celsius: float) -> tuple[TemperatureFactor, ...]:
    """Return the rows that a temperature lies between, or the one it is at; none above the last."""
    rows = temperature_factors()
    if celsius <= rows[0].celsius + 1e-9:
        return (rows[0],)
    for cool, warm in pairwise(rows):
        if abs(celsius - warm.celsius) <= 1e-9:
            return (warm,)
        if celsius < warm.celsius:
            return (cool, warm)
    return ()
