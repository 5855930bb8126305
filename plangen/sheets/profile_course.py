"""Where the water runs between the points of a profile: buried pipe at its cover under the ground, upright
pieces at devices upright. Takes a solved case, returns polylines of (distance, elevation) in metres.

Distances run along the pipe in plan: an upright piece takes none.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from plangen.geometry.point import Point, distance
from plangen.hydraulics.results import CaseResult
from plangen.hydraulics.wiring import Leg, wire
from plangen.model.design import Design
from plangen.sheets.profile_points import ProfilePoint
from plangen.terrain.surface import Surface

Course = tuple[tuple[float, float], ...]
_STEP_M = 1.5  # the ground is looked up at least this often along a pipe


def profile_course(
    design: Design, surface: Surface, case: CaseResult, points: tuple[ProfilePoint, ...]
) -> tuple[Course, Course]:
    """Return the ground over the way and the way itself, from the source to the worst outlet."""
    assert case.budget is not None
    wiring = wire(design)
    ground: list[tuple[float, float]] = []
    way: list[tuple[float, float]] = []

    def add(course: list[tuple[float, float]], at_m: float, level_m: float | None) -> None:
        # rounded to a nanometre: the same place reached by two sums is one place
        place = (round(at_m, 9), round(level_m, 9)) if level_m is not None else None
        if place is not None and course[-1:] != [place]:
            course.append(place)

    for line, (before, after) in zip(case.budget.lines, pairwise(points), strict=True):
        add(ground, before.distance_m, before.ground_m)
        add(way, before.distance_m, before.elevation_m)
        leg = wiring.legs.get(line.id)
        if leg is not None:
            for at_m, over_m, level_m in along_pipe(leg, leg.end == before.node, surface, before.distance_m):
                add(ground, at_m, over_m)
                add(way, at_m, level_m)
        add(way, after.distance_m, after.elevation_m)
        add(ground, after.distance_m, after.ground_m)
    return tuple(ground), tuple(way)


def along_pipe(
    leg: Leg, backward: bool, surface: Surface, start_m: float
) -> Iterator[tuple[float, float | None, float | None]]:
    """Yield (distance, ground, pipe) at each place of a stretch of pipe; the pipe's level None in the air."""
    course = leg.points[::-1] if backward else leg.points
    cover = None if leg.pipe.above_grade or leg.pipe.cover is None else leg.pipe.cover.si
    along = start_m
    last: Point | None = None
    for place in _places(course):
        along += 0.0 if last is None else distance(last, place)
        last = place
        over = surface.elevation_m(place)
        yield along, over, None if over is None or cover is None else over - cover


def _places(course: tuple[Point, ...]) -> Iterator[Point]:
    """Yield the vertices of a course, and places between those that lie far apart."""
    yield course[0]
    for a, b in pairwise(course):
        parts = max(1, int(distance(a, b) // _STEP_M))
        for i in range(1, parts + 1):
            yield b if i == parts else Point(a.x + (b.x - a.x) * i / parts, a.y + (b.y - a.y) * i / parts)
