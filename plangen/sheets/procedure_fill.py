"""Volumes, filling flows and flushing flows of each pipe, from the design's own bores and lengths.

Takes a design, returns a `FillPlan` in SI. Decides nothing about when or whether to fill.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from plangen.geometry.point import path_length
from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.quantity.dimension import FOOT_M
from plangen.sheets.connection_path import downstream, irrigation_side
from plangen.sheets.procedure_types import Filling, FillPlan, FillRow

# Filling at no more than about 1 ft/s lets air leave ahead of the water. Sources: Indian River County, FL,
# utility standards (fill below 2 ft/s); engineers' practice (1 to 2 ft/s). The lower one is taken.
FILL_MS = 1.0 * FOOT_M
# A line is scoured at 2.5 ft/s or more. Source: American Fork UT municipal code 15.01.790.
FLUSH_MS = 2.5 * FOOT_M


def speed(velocity_ms: float, system: str) -> str:
    """Return a velocity of filling or flushing in both units, the project's own first."""
    feet, metres = f"{velocity_ms / FOOT_M:g} ft/s", f"{velocity_ms:.2f} m/s"
    return f"{feet} ({metres})" if system == "us" else f"{metres} ({feet})"


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """Return a sort key that puts P2 before P10."""
    return tuple((int(part), "") if part.isdigit() else (-1, part) for part in re.findall(r"\d+|\D+", name))


def fill_plan(design: Design) -> FillPlan:
    """Return filling and flushing figures of every pipe that is filled, and of the main as one volume."""
    roles = ("service", "mainline", "nipple", "lateral")
    filled = sorted(filter(is_filled, design.pipes), key=lambda p: (roles.index(p.role), natural(p.name)))
    rows = tuple(_row(p) for p in filled)
    laterals = math.fsum(r.volume_m3 for r in rows if r.role == "lateral")
    main = [r for r in rows if r.role != "lateral"]
    past = irrigation_side(design)
    before = downstream(design, (d.name for d in design.devices_of("tap"))) - past
    ahead = [r for r in main if r.pipe in before]
    behind = [r for r in main if r.pipe not in before]
    reached = frozenset(r.pipe for r in rows) - before
    return FillPlan(rows, filling(main), filling(ahead), filling(behind), laterals, reached)


def is_filled(pipe: Pipe) -> bool:
    """Return whether a pipe is filled in this work: a new one, or a main that was emptied for it."""
    return pipe.state in ("new", "relocated") or (
        pipe.state == "existing" and pipe.role in ("mainline", "nipple")
    )


def filling(rows: Sequence[FillRow]) -> Filling | None:
    """Return how some pipes are filled as one: None without any.

    The smallest pipe governs: the flow that fills a wide pipe at 1 ft/s would race in a narrow one.
    """
    if not rows:
        return None
    least = min(rows, key=lambda r: (r.bore_m, natural(r.pipe)))
    volume = math.fsum(r.volume_m3 for r in rows)
    return Filling(volume, least.fill_m3s, least.size, volume / least.fill_m3s)


def _row(pipe: Pipe) -> FillRow:
    bore = pipe.size.bore_m
    area = math.pi * bore * bore / 4.0
    length = path_length([stop.point for stop in pipe.route])
    return FillRow(
        pipe.name,
        f"{pipe.nominal.written} {pipe.size.family}",
        pipe.role,
        length,
        bore,
        area * length,
        area * FILL_MS,
        length / FILL_MS,
        area * FLUSH_MS,
    )
