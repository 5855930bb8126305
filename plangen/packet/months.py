"""Minutes of watering on a day, month by month, as a plot in plain numbers. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.packet.contents import Contents
from plangen.packet.profile import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Axis, Tick
from plangen.packet.season_cards import MONTHS
from plangen.packet.tables import NOT_KNOWN, Cell, Table
from plangen.packet.tell import Tell


@dataclass(frozen=True, slots=True)
class Bar:
    """One month: where its bar stands and what it reads. A month that is not known has no height."""

    x: str
    y: str
    width: str
    height: str
    middle: str
    month: str
    title: str


@dataclass(frozen=True, slots=True)
class MonthsPlot:
    """The plot in drawing units, `words` for who cannot see it, and its table."""

    title: str
    words: str
    bars: tuple[Bar, ...]
    up: tuple[Tick, ...]
    limit: str  # height of the time allowed on a day, or empty
    limit_words: str
    table: Table
    y_name: str = "minutes of watering on a watering day"
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = WIDTH - RIGHT
    bottom: int = HEIGHT - BOTTOM


def months_plot(contents: Contents) -> MonthsPlot | None:
    """Return the plot, or None if the design states no month's evapotranspiration."""
    year, window = contents.layout.year, contents.layout.window
    if year is None:
        return None
    totals = {m.month: m for m in year.months}
    minutes = {n: m.minutes_per_day for n, m in totals.items() if m.minutes_per_day is not None}
    allowed = window.window_minutes if window else None
    axis = Axis.over([*minutes.values(), *([allowed] if allowed else [])], 6, HEIGHT - BOTTOM, TOP)
    step = (WIDTH - LEFT - RIGHT) / 12
    bars = tuple(_bar(n, minutes.get(n), axis, step) for n in range(1, 13))
    tell = Tell(contents.units)
    most = max(minutes, key=lambda n: minutes[n]) if minutes else 0
    words = (
        f"The longest day is in {MONTHS[most - 1]}: {tell.minutes(minutes[most])}." if most else "Not known."
    )
    rows = tuple(
        (
            Cell(MONTHS[n - 1]),
            Cell(tell.minutes(minutes.get(n)), number=True),
            Cell(tell.volume(totals[n].volume_m3 if n in totals else None), number=True),
            Cell(_fits(totals[n].fits if n in totals else None)),
        )
        for n in range(1, 13)
    )
    columns = ("Month", "Watering on a day", "Water of the month", "In the time allowed")
    return MonthsPlot(
        title="Watering on a day, month by month",
        words=words,
        bars=bars,
        up=axis.ticks(),
        limit=axis.at(allowed) if allowed else "",
        limit_words=f"allowed: {tell.minutes(allowed)}" if allowed else "",
        table=Table("months", "Watering month by month", columns, rows),
    )


def _fits(fits: bool | None) -> str:
    return NOT_KNOWN if fits is None else "yes" if fits else "NO"


def _bar(month: int, minutes: float | None, axis: Axis, step: float) -> Bar:
    left = LEFT + (month - 1) * step
    foot = float(axis.at(0.0))
    top = float(axis.at(minutes)) if minutes is not None else foot
    told = NOT_KNOWN if minutes is None else f"{minutes:.0f} min"
    return Bar(
        x=f"{left + step * 0.15:.1f}",
        y=f"{top:.1f}",
        width=f"{step * 0.7:.1f}",
        height=f"{max(foot - top, 0.0):.1f}",
        middle=f"{left + step / 2:.1f}",
        month=MONTHS[month - 1],
        title=f"{MONTHS[month - 1]}: {told}",
    )
