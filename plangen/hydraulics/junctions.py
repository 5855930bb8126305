"""Which fittings each leg passes: bends at its vertices, bends and tees at its nodes, bends at risers.

A fitting is charged to the leg behind it, in the bore of that leg, by the direction in which the pipes are
written. The turn of a pipe counts from the real course, the tee from what really meets there.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise

from plangen.geometry.point import Point, distance
from plangen.hydraulics.fittings import RUN_WITHIN_DEG, bend, deflection_deg
from plangen.hydraulics.wiring import Leg, Wiring
from plangen.quantity.quantity import Quantity

# A piece of pipe that rises or falls by this much is built with a bend at its foot and one at its head.
RISER_M = 0.15

_Direction = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Fitted:
    """Names of the fittings charged to each leg, and of the one each outlet stands on."""

    legs: dict[str, tuple[str, ...]]
    outlets: dict[str, str]


def fit(wiring: Wiring) -> Fitted:
    """Return the fittings of a wiring."""
    arriving: dict[str, list[Leg]] = defaultdict(list)
    leaving: dict[str, list[Leg]] = defaultdict(list)
    for leg in wiring.legs.values():
        arriving[leg.end].append(leg)
        leaving[leg.start].append(leg)
    tapped: dict[str, int] = defaultdict(int)
    for tapping in wiring.tappings.values():
        tapped[tapping.joint] += 1
    legs: dict[str, tuple[str, ...]] = {}
    for leg in wiring.legs.values():
        node = leg.start
        ends = len(arriving[node]) + len(leaving[node]) + tapped[node]
        turns = [bend(deflection_deg(a, b, c)) for a, b, c in _corners(leg.points)]
        rises = [name for m in verticals_m(wiring, leg) if m >= RISER_M for name in ("bend-90", "bend-90")]
        legs[leg.id] = tuple(name for name in (_entry(leg, arriving[node], ends), *turns, *rises) if name)
    outlets = {
        node: "tee-branch" if leaving[t.joint] or tapped[t.joint] > 1 else "bend-90"
        for node, t in wiring.tappings.items()
    }
    return Fitted(legs, outlets)


def verticals_m(wiring: Wiring, leg: Leg) -> tuple[float, ...]:
    """Return the lengths of the upright pieces at the ends of a leg whose device stands off its depth.

    Zero where a height or cover is not given: the analysis names what is missing before it solves.
    """
    found = []
    for node in (leg.start, leg.end):
        ends = upright(wiring, leg, node)
        found.append(0.0 if ends is None else abs(ends[0].si + ends[1].si))
    return tuple(found)


def upright(wiring: Wiring, leg: Leg, node: str) -> tuple[Quantity, Quantity] | None:
    """Return the cover of a leg and the height of the device at its end, between which it rises or falls.

    Where they say the same depth there is no upright piece yet, but either of them makes one.
    """
    device, cover = wiring.places[node].device, leg.pipe.cover
    if device is None or device.height is None or cover is None or leg.pipe.above_grade:
        return None
    return cover, device.height


def _entry(leg: Leg, arriving: list[Leg], ends: int) -> str:
    """Return the fitting at the start of a leg."""
    out = _first_step(leg.points)
    if ends < 2 or out is None:
        return ""
    steps = [_first_step(other.points[::-1]) for other in arriving if other is not leg]
    turns = [deflection_deg(step[1], step[0], out[1]) for step in steps if step]
    if ends == 2:
        return bend(min(turns)) if turns else ""
    return "tee-run" if turns and min(turns) <= RUN_WITHIN_DEG else "tee-branch"


def _first_step(points: tuple[Point, ...]) -> _Direction | None:
    """Return the first two points of a course that are apart."""
    return next(((a, b) for a, b in pairwise(points) if distance(a, b) > 1e-6), None)


def _corners(points: tuple[Point, ...]) -> list[tuple[Point, Point, Point]]:
    apart = [points[0]]
    for p in points[1:]:
        if distance(apart[-1], p) > 1e-6:
            apart.append(p)
    return [(apart[i - 1], apart[i], apart[i + 1]) for i in range(1, len(apart) - 1)]
