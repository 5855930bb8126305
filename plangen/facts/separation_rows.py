"""Facts of neighbours in the ground: which pipe runs near or across which buried line."""

from __future__ import annotations

import math
from itertools import pairwise

from plangen.facts.assembly_rows import protected
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.water_relations import SEPARATION_REACH_M
from plangen.facts.worth import given, inputs, known, row, unknown, worked
from plangen.geometry.point import Point, bounds, nearest_on_segment
from plangen.hydraulics.element_inputs import bore_inputs
from plangen.model.site import Utility
from plangen.model.waterworks import Pipe

_KINDS = {"sewer", "gas", "power", "telecom", "storm", "water", "septic", "reclaimed"}


def separation_rows(survey: Survey) -> list[Row]:
    """Return one row for each pair of buried pipe and buried line nearer than 10 ft in plan."""
    rows = []
    for utility in survey.design.site.utilities:
        if len(utility.route) < 2:
            continue
        left, low, right, high = bounds(utility.route)
        for pipe in survey.path.pipes.values():
            points = [s.point for s in pipe.route]
            x0, y0, x1, y1 = bounds(points)
            apart = max(left - x1, x0 - right, low - y1, y0 - high)
            if pipe.above_grade or apart > SEPARATION_REACH_M:
                continue
            gap = path_distance(points, list(utility.route))
            if gap <= SEPARATION_REACH_M:
                rows.append(_row(survey, pipe, utility, gap))
    return rows


def path_distance(one: list[Point], other: list[Point]) -> float:
    """Return the least distance between two polylines, nothing where they cross or touch."""
    best = math.inf
    for a, b in pairwise(one):
        for c, d in pairwise(other):
            if _cross(a, b, c, d):
                return 0.0
            ends = ((a, c, d), (b, c, d), (c, a, b), (d, a, b))
            best = min(best, *(math.dist(p, nearest_on_segment(p, q, r)[1]) for p, q, r in ends))
    return best


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _row(survey: Survey, pipe: Pipe, utility: Utility, gap: float) -> Row:
    start = survey.path.pipe_start(pipe)
    device = survey.path.devices.get(start)
    from_assembly = device is not None and device.kind == "assembly"
    return row(
        "separation",
        f"{pipe.name} at {utility.name}",
        pipe.span,
        {
            "utility": known(utility.kind if utility.kind in _KINDS else "other"),
            "pipe_role": known(pipe.role),
            "pipe_state": known(pipe.state),
            "downstream_of_assembly": known(True) if from_assembly else protected(survey, start),
            "crosses": known(gap == 0.0),
            "horizontal_distance": known(gap, "in plan, from the stated routes"),
            "height_above": _height_above(pipe, utility),
        },
    )


def _height_above(pipe: Pipe, utility: Utility) -> Value:
    missing = []
    if utility.depth is None:
        missing.append(f"the depth of {utility.kind} {utility.name} is not stated")
    if pipe.cover is None:
        missing.append(f"the cover of {pipe.name} is not stated")
    if utility.depth is None or pipe.cover is None:
        return unknown(*missing)
    # Both are depths below the same finished grade, so the grade itself drops out.
    return worked(
        utility.depth.si - pipe.cover.si - pipe.size.od_m,
        "depth of the line less cover and outside diameter of the pipe",
        inputs(
            given(f"depth of {utility.name}", utility.depth),
            given(f"cover of {pipe.name}", pipe.cover),
            *bore_inputs(pipe),
        ),
    )
