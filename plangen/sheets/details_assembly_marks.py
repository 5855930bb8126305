"""The shapes of an assembly elevation: wall and ground, risers to the buried pipes, the kind's own body."""

from __future__ import annotations

from plangen.model.waterworks import Pipe
from plangen.sheets.details_assembly_figures import AssemblyFigures
from plangen.sheets.details_bodies import ShutOff
from plangen.sheets.details_dimensions import arrow, break_line, earth, hatched
from plangen.sheets.details_section import Section, grade_line
from plangen.sheets.marks import XY, Area, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark

Bounds = tuple[float, float, float, float]  # left, bottom, right, top in metres


def ground_marks(f: AssemblyFigures, s: Section, bounds: Bounds) -> tuple[AnyMark, ...]:
    """Return the wall with its breaks, the grade line and the hatching of the ground."""
    left, bottom, right, top = bounds
    x_wall, x_edge = s.at(0.0, 0)[0], s.at(right, 0)[0]
    y_top, y_bottom = s.at(0, top)[1], s.at(0, bottom)[1]
    wall = Group(
        "wall",
        (
            hatched(x_wall, y_top + 1.0, x_edge, y_bottom - 1.0, 3.2),
            Line(((x_wall, y_top), (x_wall, y_bottom)), "outline"),
            break_line(x_wall, x_edge, y_top + 1.0),
            break_line(x_wall, x_edge, y_bottom - 1.0),
        ),
        f.device.wall,
        f"Wall of {f.device.wall}" if f.device.wall else "Wall",
    )
    risers = tuple(
        (x - 2.0, x + 2.0)
        for x in (s.at(f.axis(f.shape.inlet[0]), 0)[0], s.at(f.axis(f.shape.outlet[0]), 0)[0])
    )
    hatch = earth(s.at(left, 0)[0], x_wall, s.at(0, 0)[1], risers)
    return wall, Group("earth", (hatch,)), grade_line(s, left, 0.0)


def riser_marks(f: AssemblyFigures, s: Section) -> tuple[AnyMark, ...]:
    """Return both risers from the body down to the buried pipes, at the pipes' true outside diameters."""
    marks: list[AnyMark] = []
    for pipe, place, to_wall in ((f.inlet, f.shape.inlet, False), (f.outlet, f.shape.outlet, True)):
        if pipe is not None:
            marks.append(_riser(f, s, pipe, place, to_wall))
    if f.device.supports:
        marks.append(_posts(f, s))
    return tuple(marks)


def _riser(f: AssemblyFigures, s: Section, pipe: Pipe, place: XY, to_wall: bool) -> Group:
    od = pipe.size.od_m
    cover = pipe.cover.si if pipe.cover is not None else 0.3
    axis, head = f.axis(place[0]), f.rise(place[1])
    centre = -cover - od / 2
    reach = min((f.clear if f.clear is not None else 0.3) * 0.55, 0.18) if to_wall else 0.20
    far = axis + reach if to_wall else axis - reach
    half = od / 2
    lower = min(head, centre)
    marks: list[AnyMark] = [
        Area(
            s.path(
                (
                    (axis - half, head),
                    (axis + half, head),
                    (axis + half, lower - half),
                    (axis - half, lower - half),
                )
            ),
            "outline",
            "white",
        ),
        Area(
            s.path(
                ((axis, centre - half), (far, centre - half), (far, centre + half), (axis, centre + half))
            ),
            "outline",
            "white",
        ),
        # the elbow hides the joint of the two barrels
        Area(
            s.path(
                (
                    (axis - half * 1.3, centre - half * 1.3),
                    (axis + half * 1.3, centre - half * 1.3),
                    (axis + half * 1.3, centre + half * 1.3),
                    (axis - half * 1.3, centre + half * 1.3),
                )
            ),
            "outline",
            "white",
        ),
    ]
    x, y = s.at(far, centre)
    tip = (x + (6.0 if to_wall else 0.0), y) if to_wall else (x - 0.5, y)
    marks.append(arrow(tip, 90.0, 5.0))
    if pipe.cover is None:
        marks.append(break_line(s.at(axis - od, 0)[0], s.at(axis + od, 0)[0], s.at(0, -0.12)[1]))
    return Group("riser", tuple(marks), pipe.name, f"Pipe {pipe.name}")


def _posts(f: AssemblyFigures, s: Section) -> Group:
    marks: list[AnyMark] = []
    for x, out in ((f.shape.inlet[0], -0.05), (f.shape.outlet[0], 0.05)):
        place = f.axis(x) + out
        foot, head = s.at(place, -0.15), s.at(place, f.rise(max(f.shape.inlet[1], f.shape.outlet[1])))
        if head[1] < foot[1]:
            marks.append(Line((foot, head), "hidden"))
    return Group("support", tuple(marks), f.device.name, "Supports")


def body_marks(f: AssemblyFigures, s: Section, height: float) -> tuple[AnyMark, ...]:
    """Return the kind's own body with shut-offs, numbered test cocks, checks, air inlet or relief port."""
    b = f.shape

    def on(x: float, z: float) -> XY:
        return s.at(f.axis(x), f.rise(z))

    marks: list[AnyMark] = [Area(tuple(on(x, z) for x, z in path), "outline", "white") for path in b.outlines]
    marks += [Line(tuple(on(x, z) for x, z in path), "thin") for path in b.lines]
    marks += [_check(on(x, z), upright) for x, z, upright in b.checks]
    marks += [_shutoff(on(v.x, v.z), v, height) for v in b.shutoffs]
    for number, (x, z) in enumerate(b.cocks, start=1):
        marks.append(_cock(on(x, z), on(*(b.vent or (0.5, 0.6))), number, height, b.vent is None))
    if b.vent is not None:
        x, y = on(*b.vent)
        marks.append(arrow((x, y - 9.0), 0.0, 6.0))
    if b.relief is not None:
        x, y = on(*b.relief)
        marks.append(arrow((x, y + 7.0), 180.0, 5.5))
    body = Group(f"body-{f.device.assembly_kind}", tuple(marks), f.device.name, f"Assembly {f.device.name}")
    return (*_covering(f, s), body)


def _covering(f: AssemblyFigures, s: Section) -> tuple[AnyMark, ...]:
    """Return the outline of the insulation or enclosure, where one is stated; open at the vent or port."""
    out: list[AnyMark] = []
    left, right = f.axis(-0.06), f.axis(1.06)
    low, high = f.rise(0.0) - 0.02, f.rise(1.0) + 0.03
    if f.device.insulation:
        gap = f.axis(f.shape.vent[0]) if f.shape.vent else (left + right) / 2
        path = (
            (gap + 0.05, high),
            (right, high),
            (right, low),
            (left, low),
            (left, high),
            (gap - 0.05, high),
        )
        out.append(Group("insulation", (Line(s.path(path), "hidden"),), f.device.name, "Insulation"))
    if f.device.enclosure:
        box = (
            (left - 0.06, 0.0),
            (left - 0.06, high + 0.05),
            (right + 0.03, high + 0.05),
            (right + 0.03, 0.0),
        )
        out.append(Group("enclosure", (Line(s.path(box), "medium-dash"),), f.device.name, "Enclosure"))
    if f.device.in_box:
        box = ((left - 0.04, 0.0), (left - 0.04, low - 0.08), (right + 0.02, low - 0.08), (right + 0.02, 0.0))
        lid = ((box[0][0], 0.0), (box[3][0], 0.0), (box[3][0], 0.02), (box[0][0], 0.02))
        marks = (Line(s.path(box), "outline"), Area(s.path(lid), "outline", "white"))
        out.append(Group("box", marks, f.device.name, "Box"))
    return tuple(out)


def _check(at: XY, upright: bool) -> Area:
    x, y = at
    if upright:
        return Area(((x - 1.3, y + 1.0), (x + 1.3, y + 1.0), (x, y - 1.0)), "symbol-thin", "grey")
    return Area(((x - 1.0, y - 1.3), (x - 1.0, y + 1.3), (x + 1.0, y)), "symbol-thin", "grey")


def _shutoff(at: XY, valve: ShutOff, height: float) -> Group:
    x, y = at
    marks: list[AnyMark] = [Circle(at, 1.5, "outline", "white")]
    if valve.upright:
        marks += [
            Line(((x, y), (x - 4.2, y)), "medium"),
            Line(((x - 4.2, y - 1.6), (x - 4.2, y + 1.6)), "medium"),
        ]
    else:
        marks += [
            Line(((x, y), (x, y + 3.6)), "medium"),
            Line(((x - 1.6, y + 3.6), (x + 1.6, y + 3.6)), "medium"),
        ]
    return Group("shut-off", tuple(marks), title=f"Shut-off No. {valve.number}")


def _cock(at: XY, centre: XY, number: int, height: float, upward: bool) -> Group:
    x, y = at
    if upward:
        stub, text = Line((at, (x, y - 2.2)), "medium"), Text(x, y - 3.2, str(number), height, "middle")
    else:
        sign = -1.0 if x < centre[0] else 1.0
        stub = Line((at, (x + sign * 2.2, y)), "medium")
        text = Text(x + sign * 1.6, y - 1.4, str(number), height, "end" if sign < 0 else "start")
    return Group("test-cock", (Circle(at, 0.8, "outline", "white"), stub, text), title=f"Test cock {number}")
