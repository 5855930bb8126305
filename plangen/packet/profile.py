"""The pressure profile of one load case as a plot in plain numbers: the template draws it as SVG. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.hydraulics.results import Budget
from plangen.packet.tell import Tell
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY, number
from plangen.quantity.quantity import si_to

WIDTH, HEIGHT = 760, 300
LEFT, RIGHT, TOP, BOTTOM = 60, 20, 16, 44
_MOST_NUMBERS = 26  # more numbered points than this would overlap


@dataclass(frozen=True, slots=True)
class Tick:
    """A grid line: where it stands on the drawing and what it reads."""

    at: str
    words: str


@dataclass(frozen=True, slots=True)
class Dot:
    """One component on the line; `label` is its number in the budget table or empty."""

    x: str
    y: str
    label: str
    title: str


@dataclass(frozen=True, slots=True)
class Profile:
    """A plot of pressure along the way, in drawing units; `words` tells it to who cannot see it."""

    id: str
    title: str
    words: str
    line: str
    need: str  # height of the needed pressure, or empty
    need_words: str
    dots: tuple[Dot, ...]
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    x_name: str
    y_name: str
    width: int = WIDTH
    height: int = HEIGHT
    left: int = LEFT
    right: int = WIDTH - RIGHT
    top: int = TOP
    bottom: int = HEIGHT - BOTTOM


def profile(budget: Budget, case: str, units: str) -> Profile | None:
    """Return the plot of a budget, or None if it has no component."""
    if not budget.lines:
        return None
    tell = Tell(units)
    length_unit, pressure_unit = (DISPLAY[units][d][0] for d in (Dimension.LENGTH, Dimension.PRESSURE))
    run, points = 0.0, [(0.0, _pressure(budget.source_pressure_m, pressure_unit))]
    for line in budget.lines:
        run += line.length_m or 0.0
        points.append(
            (si_to(run, Dimension.LENGTH, length_unit), _pressure(line.pressure_after_m, pressure_unit))
        )
    need = None if budget.required_m is None else _pressure(budget.required_m, pressure_unit)
    heights = [p for _, p in points] + ([need] if need is not None else [])
    x_step, y_step = _step(points[-1][0] or 1.0, 8), _step(max(*heights, 1.0), 6)
    x_top = x_step * math.ceil((points[-1][0] or 1.0) / x_step)
    y_top = y_step * math.ceil(max(*heights, 1.0) / y_step)
    y_low = y_step * math.floor(min(*heights, 0.0) / y_step)

    def x(value: float) -> str:
        return _n(LEFT + (WIDTH - LEFT - RIGHT) * value / x_top)

    def y(value: float) -> str:
        return _n(HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * (value - y_low) / (y_top - y_low))

    labelled = len(budget.lines) <= _MOST_NUMBERS
    dots = tuple(
        Dot(
            x(px),
            y(py),
            str(i) if labelled else "",
            f"{line.id}: {tell.pressure(line.pressure_after_m)} after it",
        )
        for i, (line, (px, py)) in enumerate(zip(budget.lines, points[1:], strict=True), start=1)
    )
    words = (
        f"Pressure falls from {tell.pressure(budget.source_pressure_m)} at {budget.source_node} to"
        f" {tell.pressure(budget.available_m)} at {budget.outlet} over {tell.length(run)} of pipe."
        f" The greatest loss is {_greatest(budget, tell)}."
    )
    return Profile(
        id=f"profile-{case}",
        title=f"Pressure from {budget.source_node} to {budget.outlet}, case {case}",
        words=words,
        line=" ".join(f"{x(px)},{y(py)}" for px, py in points),
        need="" if need is None else y(need),
        need_words=f"needed: {tell.pressure(budget.required_m)}" if need is not None else "",
        dots=dots,
        across=tuple(Tick(x(i * x_step), number(i * x_step, 1)) for i in range(round(x_top / x_step) + 1)),
        up=tuple(
            Tick(y(y_low + i * y_step), number(y_low + i * y_step, 2))
            for i in range(round((y_top - y_low) / y_step) + 1)
        ),
        x_name=f"length of pipe from the source, {length_unit}",
        y_name=f"pressure, {pressure_unit}",
    )


def _greatest(budget: Budget, tell: Tell) -> str:
    line = max(budget.lines, key=lambda b: b.loss_m)
    return f"{tell.pressure(line.loss_m)} in {line.id}"


def _pressure(head_m: float, unit: str) -> float:
    return si_to(head_to_pressure_pa(head_m), Dimension.PRESSURE, unit)


def _step(span: float, most: int) -> float:
    """Return the round step (1, 2 or 5 times a power of ten) that cuts a span into at most `most` parts."""
    rough = span / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= rough * (1 - 1e-9))


def _n(value: float) -> str:
    return number(value, 1)
