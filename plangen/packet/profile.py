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


@dataclass(frozen=True, slots=True)
class Tick:
    """A grid line: where it stands on the drawing and what it reads."""

    at: str
    words: str


@dataclass(frozen=True, slots=True)
class Dot:
    """One component on the line, with its name and pressure."""

    x: str
    y: str
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


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: from `low` to `top` in steps, laid between two places of the drawing."""

    low: float
    top: float
    step: float
    start: float
    end: float

    @staticmethod
    def over(values: list[float], most: int, start: float, end: float) -> Axis:
        """Return an axis in round steps that holds nought and all values."""
        step = _step(max(*values, 1.0) - min(*values, 0.0), most)
        low = step * math.floor(min(*values, 0.0) / step)
        return Axis(low, step * math.ceil(max(*values, 1.0) / step), step, start, end)

    def at(self, value: float) -> str:
        """Return where a value stands on the drawing."""
        return number(self.start + (self.end - self.start) * (value - self.low) / (self.top - self.low), 1)

    def ticks(self) -> tuple[Tick, ...]:
        """Return the grid lines."""
        values = [self.low + i * self.step for i in range(round((self.top - self.low) / self.step) + 1)]
        return tuple(Tick(self.at(v), number(v, 2)) for v in values)


def profile(budget: Budget, case: str, units: str) -> Profile | None:
    """Return the plot of a budget, or None if it has no component."""
    if not budget.lines:
        return None
    tell = Tell(units)
    length_unit, pressure_unit = (DISPLAY[units][d][0] for d in (Dimension.LENGTH, Dimension.PRESSURE))
    run, points = 0.0, [(0.0, _pressure(budget.source_pressure_m, pressure_unit))]
    for line in budget.lines:
        run += line.length_m or 0.0
        after = _pressure(line.pressure_after_m, pressure_unit)
        points.append((si_to(run, Dimension.LENGTH, length_unit), after))
    need = None if budget.required_m is None else _pressure(budget.required_m, pressure_unit)
    across = Axis.over([x for x, _ in points], 8, LEFT, WIDTH - RIGHT)
    heights = [y for _, y in points] + ([need] if need is not None else [])
    up = Axis.over(heights, 6, HEIGHT - BOTTOM, TOP)
    return Profile(
        id=f"profile-{case}",
        title=f"Pressure from {budget.source_node} to {budget.outlet}, case {case}",
        words=_words(budget, run, tell),
        line=" ".join(f"{across.at(x)},{up.at(y)}" for x, y in points),
        need="" if need is None else up.at(need),
        need_words=f"needed: {tell.pressure(budget.required_m)}" if need is not None else "",
        dots=tuple(
            Dot(across.at(x), up.at(y), f"{line.id}: {tell.pressure(line.pressure_after_m)} after it")
            for line, (x, y) in zip(budget.lines, points[1:], strict=True)
        ),
        across=across.ticks(),
        up=up.ticks(),
        x_name=f"length of pipe from the source, {length_unit}",
        y_name=f"pressure, {pressure_unit}",
    )


def _words(budget: Budget, run_m: float, tell: Tell) -> str:
    return (
        f"Pressure goes from {tell.pressure(budget.source_pressure_m)} at {budget.source_node} to"
        f" {tell.pressure(budget.available_m)} at {budget.outlet} over {tell.length(run_m)} of pipe."
        f" The greatest loss is {_greatest(budget, tell)}."
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
