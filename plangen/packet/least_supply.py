"""Go or no-go on the day: the least supply at which every required rule still meets, as values and as words.

The search for it stands above the packet; here is what it found and how a person reads it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
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
class LeastFlow:
    """The least flow a supply must be able to give with `left_m` left, from `from_m` with nothing running.

    `flow_m3s` is None where none can be named: `missing` says why. `cases` are what runs at it. `stated_m3s`
    is what the design's own residual test comes to.
    """

    flow_m3s: float | None
    from_m: float
    left_m: float
    tolerance_m3s: float = 0.0
    cases: tuple[CaseNeed, ...] = ()
    governing: tuple[Governing, ...] = ()
    tried: tuple[tuple[float, int], ...] = ()
    stated_m3s: float | None = None
    missing: str = ""


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
    least_flow: LeastFlow | None = None  # None: no least pressure was found
    elsewhere: tuple[str, ...] = ()  # required rules that fall short whatever the pressure


def raised(head_m: float, units: str) -> str:
    """Return a pressure that must be reached, rounded up and never down."""
    return _up(head_to_pressure_pa(head_m), Dimension.PRESSURE, units)


def _up(si: float, dimension: Dimension, units: str) -> str:
    unit, places = DISPLAY[units][dimension]
    steps = si_to(si, dimension, unit) * 10**places
    return f"{fixed(math.ceil(steps - 1e-6) / 10**places, places)} {unit}"


def governing_words(governing: Sequence[Governing]) -> str:
    """Return which rule stops on which object just below a least figure."""
    if not governing:
        return ""
    first = governing[0]
    more = len(governing) - 1
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
        lines.append(
            f"What governs, {tell.pressure(least.tolerance_m)} lower: {governing_words(least.governing)}."
        )
    lines.append(
        f"Found by solving and judging {least.rules} required rules at {len(least.tried)} pressures, to"
        f" within {tell.pressure(least.tolerance_m)}; still water is judged at the stated static pressure."
    )
    if not least.steady:
        lines.append(
            "NOT STEADY: of the pressures tried, one above this falls short or one below it meets. Hold to"
            " the design pressure instead, and ask the designer."
        )
    if least.least_flow is not None:
        lines += flow_words(least.least_flow, units)
    return (*lines, *_also(least))


def flow_words(flow: LeastFlow, units: str) -> tuple[str, ...]:
    """Return what the main must be able to give at the pressure the design counts on."""
    tell = Tell(units)
    if flow.flow_m3s is None:
        return (f"LEAST FLOW BY THE RULES: no flow can be named: {flow.missing}.",)
    given = (
        f"LEAST FLOW BY THE RULES: a main that stands at {tell.pressure(flow.from_m)} with nothing running"
        f" must be able to give at least {_up(flow.flow_m3s, Dimension.FLOW, units)} with"
        f" {tell.pressure(flow.left_m)} left, the house included. Below it, do not commission."
    )
    how = (
        f"Found to within {tell.flow(flow.tolerance_m3s)} at {len(flow.tried)} flows; the pressure is taken"
        " to fall with flow^1.852, as in a flow test (NFPA 291, from memory)."
    )
    if flow.governing:
        how += f" What governs below it: {governing_words(flow.governing)}."
    if flow.stated_m3s is None:
        said = "The design states no residual test: what the main gives is NOT KNOWN until one is made."
    else:
        said = f"The residual test of the design comes to {tell.flow(flow.stated_m3s)} with as much left."
    return given, how, said


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
    flow = least.least_flow
    weak = {c.case: c for c in flow.cases} if flow is not None else {}
    rows = tuple(
        (
            Cell(c.case),
            Cell(tell.flow(c.flow_m3s), number=True),
            Cell(raised(c.running_m, units), number=True),
            *_weak_cells(weak.get(c.case), units),
        )
        for c in least.cases
    )
    return Table(
        "least-supply",
        "The least supply: what each load case draws",
        (
            "Load case",
            "Flow, least pressure",
            "At the source then",
            "Flow, least flow",
            "At the source then",
        ),
        rows,
        "No least supply was found.",
        "Flows have the house in them; at the source stands what must be left there while the case runs."
        " Heads without a regulator draw less at the least pressure or flow than by design.",
    )


def _weak_cells(need: CaseNeed | None, units: str) -> tuple[Cell, Cell]:
    """Return what a case draws at the least flow of the main; a dash where no such flow is named."""
    if need is None:
        return Cell("-", number=True), Cell("-", number=True)
    return Cell(Tell(units).flow(need.flow_m3s), number=True), Cell(
        raised(need.running_m, units), number=True
    )
