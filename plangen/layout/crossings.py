"""Where pipes pass under paving, buildings or walls and across buried lines: plan geometry, stated depths."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.geometry.clip import boxes_meet, meeting_points, middle_of, pieces_inside
from plangen.geometry.point import Point, bounds
from plangen.layout.flow_path import pipes_in_place, route_points
from plangen.layout.results import Crossing
from plangen.model.design import Design
from plangen.model.site import Area, Utility
from plangen.model.waterworks import Pipe

# Less than this under an edge is a pipe that touches it.
SHORTEST_M = 0.01


def measure_crossings(design: Design) -> tuple[Crossing, ...]:
    """Return every crossing, by pipe in the order of the design and then along it."""
    sleeves = {(s.pipe, s.under): s.name for s in design.sleeves}
    hard = [*((a, "paving") for a in design.site.paving), *((a, "building") for a in design.site.buildings)]
    hard += [(a, a.kind) for a in design.site.other if a.kind in ("wall", "water")]
    boxed_hard = [(area, kind, bounds(area.outline)) for area, kind in hard]
    boxed_utilities = [(u, bounds(u.route)) for u in design.site.utilities]
    found: list[Crossing] = []
    for pipe in pipes_in_place(design):
        path = route_points(pipe)
        here = bounds(path)
        for area, kind, box in boxed_hard:
            if boxes_meet(here, box):
                found.extend(_under(pipe, path, area, kind, sleeves.get((pipe.name, area.name), "")))
        for utility, box in boxed_utilities:
            if boxes_meet(here, box):
                found.extend(_across(pipe, path, utility))
    return tuple(found)


def _under(pipe: Pipe, path: tuple[Point, ...], area: Area, kind: str, sleeve: str) -> Iterator[Crossing]:
    for piece in pieces_inside(path, area.outline):
        if piece.length_m > SHORTEST_M:
            yield Crossing(pipe.name, kind, area.name, piece.length_m, sleeve, middle_of(path, piece))


def _across(pipe: Pipe, path: tuple[Point, ...], utility: Utility) -> Iterator[Crossing]:
    known = utility.depth is not None and pipe.cover is not None and not pipe.above_grade
    below = utility.depth.si - pipe.cover.si if known and utility.depth and pipe.cover else None
    for point in meeting_points(path, utility.route):
        yield Crossing(pipe.name, "utility", utility.name, 0.0, "", point, below)
