"""Loss coefficients of fittings, from the table `fittings.csv`, and which fitting a turn or a tee calls for.

K refers to the velocity in the bore the fitting is charged to. Published values for one fitting differ by
a factor of two; the table names the source of each, and a user may edit it.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from plangen.geometry.point import Point, bearing_deg
from plangen.shipped.folders import shipped_text

# A leg that leaves a tee within this angle of the way the water came is the run, else the side outlet.
RUN_WITHIN_DEG = 45.0


@dataclass(frozen=True, slots=True)
class Fitting:
    """One row: a fitting, its loss coefficient and where the value is from."""

    name: str
    k: float
    label: str
    basis: str
    source: str
    from_deg: float | None = None


@lru_cache(maxsize=1)
def fitting_table() -> dict[str, Fitting]:
    """Return the rows of the shipped table by name."""
    rows = csv.DictReader(io.StringIO(shipped_text("library", "fittings.csv")))
    return {
        row["fitting"]: Fitting(
            row["fitting"],
            float(row["k"]),
            row["label"],
            row["basis"],
            row["source"],
            float(row["from_deg"]) if row["from_deg"] else None,
        )
        for row in rows
    }


def deflection_deg(a: Point, b: Point, c: Point) -> float:
    """Return by how much a path a-b-c turns at b, 0 to 180 degrees."""
    turn = (bearing_deg(b, c) - bearing_deg(a, b)) % 360.0
    return min(turn, 360.0 - turn)


def bend(angle_deg: float) -> str:
    """Return the bend a turn calls for; a slight one is sprung in the trench and needs none ('')."""
    bends = sorted((f.from_deg, f.name) for f in fitting_table().values() if f.from_deg is not None)
    fit = [name for least, name in bends if angle_deg >= least]
    return fit[-1] if fit else ""


def total_k(fittings: Iterable[str]) -> float:
    """Return the sum of the loss coefficients."""
    table = fitting_table()
    return sum(table[name].k for name in fittings)


def counted(fittings: Iterable[str]) -> tuple[str, ...]:
    """Return the fittings in words with their count and K, in the order of names."""
    names = list(fittings)
    table = fitting_table()
    return tuple(
        f"{names.count(name)} x {table[name].label} (K {table[name].k:g})" for name in sorted(set(names))
    )
