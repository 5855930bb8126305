"""How fast a soil takes water: greatest application rate by soil, slope and cover.

Source: United States Department of Agriculture figures as reproduced in a trade article on soil assessment
(read there); the column over 12 % is from memory.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.quantity.quantity import to_si


@dataclass(frozen=True, slots=True)
class Intake:
    """One soil of the table: in/h for slopes of 0-5, 5-8, 8-12 and over 12 %, under plants and bare."""

    soil: str
    covered: tuple[float, float, float, float]
    bare: tuple[float, float, float, float]


INTAKES = (
    Intake("coarse sand", (2.0, 2.0, 1.5, 1.0), (2.0, 1.5, 1.0, 0.5)),
    Intake("uniform light sandy loam", (1.75, 1.25, 1.0, 0.75), (1.0, 0.8, 0.6, 0.4)),
    Intake("uniform silt loam", (1.0, 0.8, 0.6, 0.4), (0.5, 0.4, 0.3, 0.2)),
    Intake("heavy clay or clay loam", (0.2, 0.15, 0.12, 0.1), (0.15, 0.1, 0.08, 0.06)),
)
SLOPE_LIMITS = (0.05, 0.08, 0.12)
# A soil between two rows of the table takes the slower one: the longer words come first.
SOIL_ROWS: tuple[tuple[str, str], ...] = (
    ("sandy clay", "heavy clay or clay loam"),
    ("silty clay", "heavy clay or clay loam"),
    ("clay loam", "heavy clay or clay loam"),
    ("clay", "heavy clay or clay loam"),
    ("silt loam", "uniform silt loam"),
    ("silt", "uniform silt loam"),
    ("loamy sand", "uniform light sandy loam"),
    ("sandy loam", "uniform light sandy loam"),
    ("loam", "uniform silt loam"),
    ("sand", "coarse sand"),
)


def intake_ms(soil: str, slope: float, covered: bool) -> tuple[float, str] | None:
    """Return the greatest rate in m/s and the table row used, or None for a soil the table does not know.

    `slope` is a ratio (0.02 for 2 %); on a limit between two columns the gentler one counts.
    """
    words = soil.lower()
    row = next((name for key, name in SOIL_ROWS if key in words), None)
    if row is None:
        return None
    intake = next(i for i in INTAKES if i.soil == row)
    column = sum(slope > limit + 1e-9 for limit in SLOPE_LIMITS)
    rates = intake.covered if covered else intake.bare
    return to_si(rates[column], "in/h"), f"{row}, {'under plants' if covered else 'bare'}"
