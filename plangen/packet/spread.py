"""How pressures spread over the outlets of each zone: a plot in plain numbers and its table. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.results import CaseResult
from plangen.packet.contents import Contents
from plangen.packet.profile import LEFT, RIGHT, WIDTH, Axis, Dot, Tick
from plangen.packet.tables import NOT_KNOWN, Cell, Table
from plangen.packet.tell import Tell
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY
from plangen.quantity.quantity import si_to

_ROW, _TOP, _FOOT = 44, 16, 44


@dataclass(frozen=True, slots=True)
class SpreadRow:
    """One zone: its line from the least to the greatest pressure, its outlets, and the highest need."""

    zone: str
    y: str
    low: str
    high: str
    dots: tuple[Dot, ...]
    need: str  # where the greatest of the least pressures stands, or empty


@dataclass(frozen=True, slots=True)
class Spread:
    """The plot in drawing units, `words` for who cannot see it, and its table."""

    title: str
    words: str
    rows: tuple[SpreadRow, ...]
    across: tuple[Tick, ...]
    x_name: str
    table: Table
    height: int
    width: int = WIDTH
    left: int = LEFT
    right: int = WIDTH - RIGHT
    top: int = _TOP


def spread(contents: Contents) -> Spread | None:
    """Return the spread of every zone run alone, or None if no zone with outlets is solved."""
    cases = [c for c in contents.hydraulics.cases if len(c.zones) == 1 and c.outlets]
    if not cases:
        return None
    unit = DISPLAY[contents.units][Dimension.PRESSURE][0]
    values = [_shown(o.pressure_m, unit) for c in cases for o in c.outlets]
    needs = [_shown(o.low_m, unit) for c in cases for o in c.outlets if o.low_m is not None]
    axis = Axis.over([*values, *needs], 8, LEFT, WIDTH - RIGHT)
    rows = tuple(_row(c, n, axis, unit, contents.units) for n, c in enumerate(cases))
    widest = max(cases, key=_share)
    tell = Tell(contents.units)
    words = (
        "Each line runs from the least to the greatest pressure at the outlets of a zone run alone."
        f" The widest spread is that of {widest.zones[0]}: {tell.share(_share(widest))} of its mean."
    )
    return Spread(
        title="Spread of pressure in each zone",
        words=words,
        rows=rows,
        across=axis.ticks(),
        x_name=f"pressure at the outlet, {unit}; the cross-line is the least pressure of the data sheets",
        table=_table(cases, tell),
        height=_TOP + _ROW * len(rows) + _FOOT,
    )


def _shown(head_m: float, unit: str) -> float:
    return si_to(head_to_pressure_pa(head_m), Dimension.PRESSURE, unit)


def _share(case: CaseResult) -> float:
    """Return the spread over the mean of the outlets' pressures."""
    heads = [o.pressure_m for o in case.outlets]
    mean = sum(heads) / len(heads)
    return (max(heads) - min(heads)) / mean if mean > 0 else 0.0


def _row(case: CaseResult, n: int, axis: Axis, unit: str, units: str) -> SpreadRow:
    tell = Tell(units)
    y = str(_TOP + _ROW * n + _ROW // 2)
    heads = [o.pressure_m for o in case.outlets]
    lows = [o.low_m for o in case.outlets if o.low_m is not None]
    return SpreadRow(
        zone=case.zones[0],
        y=y,
        low=axis.at(_shown(min(heads), unit)),
        high=axis.at(_shown(max(heads), unit)),
        dots=tuple(
            Dot(axis.at(_shown(o.pressure_m, unit)), y, f"{o.name}: {tell.pressure(o.pressure_m)}")
            for o in case.outlets
        ),
        need=axis.at(_shown(max(lows), unit)) if lows else "",
    )


def _table(cases: list[CaseResult], tell: Tell) -> Table:
    rows = []
    for case in cases:
        low = min(case.outlets, key=lambda o: o.pressure_m)
        high = max(case.outlets, key=lambda o: o.pressure_m)
        needs = [o.low_m for o in case.outlets if o.low_m is not None]
        rows.append(
            (
                Cell(case.zones[0]),
                Cell(f"{tell.pressure(low.pressure_m)} at {low.name}", number=True),
                Cell(f"{tell.pressure(high.pressure_m)} at {high.name}", number=True),
                Cell(tell.share(_share(case)), number=True),
                Cell(tell.pressure(max(needs)) if needs else NOT_KNOWN, number=True),
            )
        )
    columns = ("Zone", "Least", "Greatest", "Spread over mean", "Least of the data sheets")
    return Table("pressure-spread", "Spread of pressure in each zone, run alone", columns, tuple(rows))
