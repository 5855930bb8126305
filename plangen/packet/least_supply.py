"""Go or no-go on the day: the least supply at which every required rule still meets, as values and as words.

The search for it stands above the packet; here is what it found and how a person reads it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.packet.tables import Cell, Table
from plangen.packet.tell import Tell
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY, fixed
from plangen.quantity.quantity import si_to


@dataclass(frozen=True, slots=True)
class CaseNeed:
    """What one load case draws from the source at the least pressure, and the pressure that stands there."""

    case: str
    flow_m3s: float
    running_m: float


@dataclass(frozen=True, slots=True)
class Governing:
    """A rule that falls short or is not known just below the least pressure, and on which object."""

    rule: str
    title: str
    subject: str
    status: str


@dataclass(frozen=True, slots=True)
class LeastSupply:
    """The least static pressure at the source, found to within `tolerance_m`, and what governs it.

    `pressure_m` is None where none was found: `missing` says why. `gauge_m` is what a gauge at ground level
    at `gauge_at` shows then; `season_m` what it must show on a day of ordinary pressure. `flow_m3s` is the
    greatest flow of a case at that pressure: a supply that gives it with `cases` pressures left will do.
    `tried` are the pressures looked at, each with how many rules and objects do not meet. `steady` is False
    where one above fell short or one below met, so that the least pressure is no single figure.
    """

    pressure_m: float | None
    tolerance_m: float
    rules: int
    governing: tuple[Governing, ...] = ()
    gauge_at: str = ""
    gauge_m: float | None = None
    season_m: float | None = None
    flow_m3s: float | None = None
    cases: tuple[CaseNeed, ...] = ()
    tried: tuple[tuple[float, int], ...] = ()
    steady: bool = True
    missing: str = ""
    elsewhere: tuple[str, ...] = ()  # required rules that fall short whatever the pressure


def raised(head_m: float, units: str) -> str:
    """Return a pressure that must be reached, rounded up and never down."""
    unit, places = DISPLAY[units][Dimension.PRESSURE]
    steps = si_to(head_to_pressure_pa(head_m), Dimension.PRESSURE, unit) * 10**places
    return f"{fixed(math.ceil(steps - 1e-6) / 10**places, places)} {unit}"


def governing_words(least: LeastSupply) -> str:
    """Return which rule stops on which object just below the least pressure."""
    if not least.governing:
        return ""
    first = least.governing[0]
    more = len(least.governing) - 1
    others = f", and {more} more" if more else ""
    return f"{first.title} ({first.rule}) on {first.subject or 'the design'}: {first.status}{others}"


def least_words(least: LeastSupply, units: str) -> tuple[str, ...]:
    """Return the sentences for the day, the figure to hold to first."""
    tell = Tell(units)
    if least.pressure_m is None:
        return (f"GO OR NO-GO BY THE RULES: no pressure can be named: {least.missing}.", *_also(least))
    gauge = least.pressure_m if least.gauge_m is None else least.gauge_m
    lines = [
        "GO OR NO-GO BY THE RULES: with nothing running and the house shut, a gauge at ground level at"
        f" {least.gauge_at} must show at least {raised(gauge, units)}. Below it, do not commission."
    ]
    if least.season_m is not None and least.season_m > gauge:
        lines.append(
            f"On a day of ordinary pressure it must show {raised(least.season_m, units)}, since it may still"
            " fall from the stated static to the lowest the design counts on."
        )
    if least.flow_m3s is not None:
        lines.append(
            f"The supply must then give {tell.flow(least.flow_m3s)}, the house included, without the pressure"
            " at the source falling below what the table says. A supply that gives less is a no-go."
        )
    if least.governing:
        lines.append(f"What governs, {tell.pressure(least.tolerance_m)} lower: {governing_words(least)}.")
    lines.append(
        f"Found by solving and judging {least.rules} required rules at {len(least.tried)} pressures, to"
        f" within {tell.pressure(least.tolerance_m)}; still water is judged at the stated static pressure."
    )
    if not least.steady:
        lines.append(
            "NOT STEADY: of the pressures tried, one above this falls short or one below it meets. Hold to"
            " the design pressure instead, and ask the designer."
        )
    return (*lines, *_also(least))


def _also(least: LeastSupply) -> tuple[str, ...]:
    if not least.elsewhere:
        return ()
    names = ", ".join(least.elsewhere[:6])
    more = f" and {len(least.elsewhere) - 6} more" if len(least.elsewhere) > 6 else ""
    words = f"Whatever the pressure, these required rules do not meet: {names}{more}."
    return (f"{words} It is a no-go until they do.",)


def least_table(least: LeastSupply, units: str) -> Table:
    """Return what each load case draws at the least pressure."""
    tell = Tell(units)
    rows = tuple(
        (
            Cell(c.case),
            Cell(tell.flow(c.flow_m3s), number=True),
            Cell(raised(c.running_m, units), number=True),
        )
        for c in least.cases
    )
    return Table(
        "least-supply",
        "The least supply: what each load case draws, and the pressure that must stand at the source then",
        ("Load case", "Flow, house included", "Running pressure at the source"),
        rows,
        "No least supply was found.",
        "Flows are those at the least pressure, where heads without a regulator draw less than by design.",
    )
