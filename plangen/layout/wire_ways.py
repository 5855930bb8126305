"""The ways a buried wire may go: in the trench of a pipe, or in one of its own round the buildings.

A graph of places. Along pipes it has the trenches; off them it has straight ways that pass through no
building, by points just off the buildings' corners. Lengths are metres; pure functions on points.
"""

from __future__ import annotations

import heapq
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.geometry.clip import EDGE_M, edges, in_sight, pieces_inside
from plangen.geometry.point import (
    Point,
    at,
    distance,
    distance_to_polygon,
    nearest_on_segment,
    polygon_area,
)

# What a metre counts in the choice of a way, against wire in a trench that is open anyway: a trench of its
# own, and under paving, where it needs a sleeve or a bore. Common practice, no source; they only rank ways.
OWN_TRENCH, UNDER_PAVING = 4.0, 20.0
# A wire runs at least this far off a wall, and turns a corner that far off.
_CLEAR_M, OFF_WALL_M = 0.2, 0.3
# A controller nearer to the outside of a wall than this hangs on it.
_AT_WALL_M = 1.0
# Of a place off the pipes, so many of the nearest places on pipes in sight are tried.
_TRIED, _LOOKED_AT = 6, 200
# Once a trench of its own is open, all wires may lie in it: so many times the ways are weighed anew.
_ROUNDS = 8

Edge = tuple[Point, Point]
Outline = Sequence[Point]


@dataclass(frozen=True, slots=True)
class Trench:
    """A stretch of a pipe's trench."""

    pipe: str
    a: Point
    b: Point


Way = tuple[tuple[Point, Point, str], ...]  # stretches in order, each with its pipe, or '' off the pipes
_Step = tuple[Point, Point, float, str]


def best_ways(
    start: Point,
    ends: Sequence[Point],
    trenches: Sequence[Trench],
    buildings: Sequence[Outline],
    paving: Sequence[Outline],
) -> dict[Point, Way]:
    """Return the ways from a start to the ends that can be reached, off the pipes as little as may be."""
    feet: dict[int, set[Point]] = defaultdict(set)  # by the number of their trench
    ground = tuple(_ground(start, trenches, buildings, paving, feet))
    along = tuple(_along(trenches, feet))
    opened: set[Edge] = set()
    settled: dict[Point, Way] = {}
    for _ in range(_ROUNDS):
        costs, before = _shortest(start, (*along, *(_opened(step, opened) for step in ground)))
        found = {end: _way(end, before) for end in ends if end in before}
        for end in sorted(found, key=lambda p: (round(costs[p], 6), p)):
            new = {(a, b) for a, b, pipe in found[end] if not pipe} - opened
            if end not in settled and new:
                settled[end] = found[end]
                opened |= new
                break
        else:
            return found
    return found


def _opened(step: _Step, opened: set[Edge]) -> _Step:
    a, b, _, pipe = step
    return (a, b, distance(a, b), pipe) if (a, b) in opened or (b, a) in opened else step


def _ground(
    start: Point,
    trenches: Sequence[Trench],
    buildings: Sequence[Outline],
    paving: Sequence[Outline],
    feet: dict[int, set[Point]],
) -> Iterator[_Step]:
    """The straight ways off the pipes: out of the start, by corners, and to pipes in sight (into `feet`)."""
    walls = tuple(grown(outline, _CLEAR_M) for outline in buildings)
    corners = tuple(
        place
        for outline in buildings
        for place in grown(outline, OFF_WALL_M)
        if not any(_inside(place, wall) for wall in walls)
    )
    exits = tuple(_exits(start, buildings, walls))
    for place in exits:
        yield start, place, OWN_TRENCH * distance(start, place), ""
    off = (*(exits or (start,)), *corners)
    for place in off:
        for number, foot in _feet(place, trenches, walls):
            feet[number].add(foot)
            yield place, foot, _ground_cost(place, foot, paving), ""
    for i, a in enumerate(off):
        for b in off[i + 1 :]:
            if a != b and in_sight(a, b, walls):
                yield a, b, _ground_cost(a, b, paving), ""


def _ground_cost(a: Point, b: Point, paving: Sequence[Outline]) -> float:
    paved = sum(piece.length_m for outline in paving for piece in pieces_inside((a, b), outline))
    return OWN_TRENCH * distance(a, b) + (UNDER_PAVING - OWN_TRENCH) * paved


def _along(trenches: Sequence[Trench], feet: Mapping[int, set[Point]]) -> Iterator[_Step]:
    """The stretches of the trenches, cut where a way from off the pipes meets them."""
    for number, trench in enumerate(trenches):
        stops = sorted({trench.a, trench.b, *feet.get(number, ())}, key=lambda p: (distance(trench.a, p), p))
        for a, b in pairwise(stops):
            yield a, b, distance(a, b), trench.pipe


def grown(outline: Outline, by_m: float) -> tuple[Point, ...]:
    """Return an outline with its sides moved outward."""
    way = 1.0 if polygon_area(outline) > 0 else -1.0
    found = []
    for before, corner, after in zip([outline[-1], *outline[:-1]], outline, [*outline[1:], outline[0]],
                                     strict=True):  # fmt: skip
        one, two = _unit(before, corner), _unit(corner, after)
        # the sum of both normals, as long as puts it `by_m` off either side
        reach = way * by_m / max(1.0 + one[0] * two[0] + one[1] * two[1], 0.2)
        found.append(at(corner.x + (one[1] + two[1]) * reach, corner.y - (one[0] + two[0]) * reach))
    return tuple(found)


def _unit(a: Point, b: Point) -> tuple[float, float]:
    length = distance(a, b) or 1.0
    return (b.x - a.x) / length, (b.y - a.y) / length


def _inside(p: Point, outline: Outline) -> bool:
    return distance_to_polygon(p, outline) < -EDGE_M


def _exits(start: Point, buildings: Sequence[Outline], walls: Sequence[Outline]) -> Iterator[Point]:
    """Where a wire that starts in a building or at its wall may leave it: straight out through a wall.

    At a wall that is the one way out; deep in a building each wall may be.
    """
    for outline, wall in zip(buildings, walls, strict=True):
        if _inside(start, wall):
            others = [o for o in buildings if o is not outline]
            sides = [nearest_on_segment(start, a, b)[1] for a, b in edges(grown(outline, OFF_WALL_M))]
            near = min(distance(start, place) for place in sides)
            reach = near + 1e-6 if near < _AT_WALL_M else math.inf
            for place in dict.fromkeys(sides):
                clear = not any(_inside(place, w) for w in walls) and in_sight(start, place, others)
                if distance(start, place) <= reach and clear:
                    yield place


def _feet(place: Point, trenches: Sequence[Trench], walls: Sequence[Outline]) -> Iterator[tuple[int, Point]]:
    """The nearest places on trenches in sight of a place, each with the number of its trench."""
    near = heapq.nsmallest(
        _LOOKED_AT, ((_apart(place, t.a, t.b), number) for number, t in enumerate(trenches))
    )
    found: set[Point] = set()
    for _, number in near:
        foot = nearest_on_segment(place, trenches[number].a, trenches[number].b)[1]
        if foot not in found and in_sight(place, foot, walls):
            yield number, foot
            found.add(foot)
            if len(found) == _TRIED:
                return


def _apart(p: Point, a: Point, b: Point) -> float:
    """The distance from a point to a segment: asked of every pipe, so without a point in between."""
    dx, dy = b.x - a.x, b.y - a.y
    square = dx * dx + dy * dy
    t = max(0.0, min(1.0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square)) if square else 0.0
    return math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy)


def _shortest(
    start: Point, steps: Iterable[_Step]
) -> tuple[dict[Point, float], dict[Point, tuple[Point, str]]]:
    """Dijkstra's way through the steps: the cost of each place, and the place and pipe before it."""
    beside: dict[Point, list[tuple[float, Point, str]]] = defaultdict(list)
    for a, b, cost, pipe in steps:
        beside[a].append((cost, b, pipe))
        beside[b].append((cost, a, pipe))
    costs: dict[Point, float] = {}
    before: dict[Point, tuple[Point, str]] = {}
    waiting = [(0.0, start, start, "")]
    while waiting:
        cost, here, came, pipe = heapq.heappop(waiting)
        if here in costs:
            continue
        costs[here], before[here] = cost, (came, pipe)
        for step, there, by in beside[here]:
            if there not in costs:
                heapq.heappush(waiting, (cost + step, there, here, by))
    return costs, before


def _way(place: Point, before: dict[Point, tuple[Point, str]]) -> Way:
    """The stretches from the start to a place."""
    found: list[tuple[Point, Point, str]] = []
    here = place
    while before[here][0] != here:
        there, pipe = before[here]
        found.append((there, here, pipe))
        here = there
    return tuple(reversed(found))
