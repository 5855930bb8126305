"""How high each outlet and the piping lie against the assembly that feeds them. Metres on the site datum.

Outlets are taken at rest: a pop-up head with its stem down. A pipe's height is that of its top, its cover
under finished grade. Not known stays not known: a point off the spot grades has no height.
"""

from __future__ import annotations

from collections.abc import Iterator

from plangen.geometry.point import Point, path_length, point_along
from plangen.hydraulics.results import Input
from plangen.layout.flow_path import Downstream, downstream_of, pipes_in_place, route_points
from plangen.layout.inputs import Ground, merged, stated
from plangen.layout.results import OutletHeight, PipingHeight
from plangen.model.design import Design
from plangen.model.waterworks import Device, DripArea, Head, Pipe

# Ground between the vertices of a route may crest: it is looked at this often.
LOOK_EVERY_M = 1.5
# Places that differ in height by less are equally high.
LEVEL_M = 1e-9


def measure_heights(
    design: Design, ground: Ground
) -> tuple[tuple[OutletHeight, ...], tuple[PipingHeight, ...]]:
    """Return outlet and piping heights for each assembly and what is downstream of it."""
    outlets: list[OutletHeight] = []
    piping: list[PipingHeight] = []
    for assembly in design.devices_of("assembly"):
        if assembly.state == "removed":
            continue
        level, basis = _critical_level(assembly, ground)
        below = downstream_of(design, assembly.name)
        outlets.extend(_outlets(design, below, assembly.name, level, basis, ground))
        piping.extend(
            _pipe_height(pipe, assembly.name, level, basis, ground)
            for pipe in pipes_in_place(design)
            if pipe.name in below.pipes
        )
    return tuple(outlets), tuple(piping)


def _critical_level(assembly: Device, ground: Ground) -> tuple[float | None, tuple[Input, ...]]:
    """Return the elevation of an assembly's critical level or relief port, and what it rests on."""
    grade = ground.elevation_m(assembly.point)
    basis = merged(stated(f"height of {assembly.name}", assembly.height), ground.inputs(assembly.point))
    if grade is None or assembly.height is None:
        return None, basis
    return grade + assembly.height.si, basis


def _outlets(
    design: Design,
    below: Downstream,
    assembly: str,
    level: float | None,
    basis: tuple[Input, ...],
    ground: Ground,
) -> Iterator[OutletHeight]:
    for head in design.heads:
        if head.name in below.outlets:
            top, inputs = _head_elevation(head, ground)
            yield OutletHeight(head.name, top, assembly, _difference(level, top), merged(basis, inputs))
    for drip in design.drips:
        if drip.name in below.outlets:
            top, inputs = _drip_elevation(design, drip, ground)
            yield OutletHeight(drip.name, top, assembly, _difference(level, top), merged(basis, inputs))


def _difference(level: float | None, top: float | None) -> float | None:
    return None if level is None or top is None else level - top


def _head_elevation(head: Head, ground: Ground) -> tuple[float | None, tuple[Input, ...]]:
    """Return a head's outlet elevation at rest: flush with grade unless a riser is stated."""
    grade = ground.elevation_m(head.point)
    inputs = merged(ground.inputs(head.point), stated(f"riser of {head.name}", head.riser))
    return (None if grade is None else grade + (head.riser.si if head.riser else 0.0)), inputs


def _drip_elevation(design: Design, drip: DripArea, ground: Ground) -> tuple[float | None, tuple[Input, ...]]:
    """Return the elevation of the highest emitter: the highest corner of the bed it lies over."""
    area = design.area(drip.area)
    points = (*area.outline, drip.point) if area is not None else (drip.point,)
    return _highest([(p, ground.elevation_m(p)) for p in points], ground)[1:]


def _highest(
    heights: list[tuple[Point, float | None]], ground: Ground
) -> tuple[Point | None, float | None, tuple[Input, ...]]:
    """Return the highest point, its elevation and inputs; no elevation if any point has none."""
    known = [(z, p) for p, z in heights if z is not None]
    if len(known) < len(heights) or not known:
        return None, None, merged(*(ground.inputs(p) for p, _ in heights))
    top, point = max(known)
    return point, top, merged(*(ground.inputs(p) for z, p in known if z >= top - LEVEL_M))


def _pipe_height(
    pipe: Pipe, assembly: str, level: float | None, basis: tuple[Input, ...], ground: Ground
) -> PipingHeight:
    """Return the height of a buried pipe's highest top; the riser at the assembly itself is left out."""
    points = _looked_at(route_points(pipe))
    place, grade, inputs = _highest([(p, ground.elevation_m(p)) for p in points], ground)
    inputs = merged(basis, stated(f"cover of {pipe.name}", pipe.cover), inputs)
    if grade is None or pipe.cover is None or pipe.above_grade:
        return PipingHeight(pipe.name, None, assembly, None, None, inputs)
    top = grade - pipe.cover.si
    return PipingHeight(pipe.name, top, assembly, _difference(level, top), place, inputs)


def _looked_at(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return the vertices of a route and points between them."""
    length = path_length(points)
    steps = int(length / LOOK_EVERY_M)
    between = [point_along(points, length * i / (steps + 1)) for i in range(1, steps + 1)]
    return (*points, *(p for p in between if p is not None))
