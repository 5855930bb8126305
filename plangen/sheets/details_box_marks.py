"""The plain shapes that boxes, taps and drip sets share: a box in the ground, pipe barrels, a zone valve.

Sizes are millimetres of paper and stand for nothing: the panels that use them are lettered NOT TO SCALE.
"""

from __future__ import annotations

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_dimensions import earth
from plangen.sheets.details_section import NOT_STATED, stated
from plangen.sheets.marks import Area, Circle, Group, Line, Segments
from plangen.sheets.panel import AnyMark

HALF_BARREL = 1.6  # half the drawn barrel, mm


def box_in_ground(x0: float, x1: float, depth: float, floor: float) -> tuple[AnyMark, ...]:
    """Return a box in the ground: grade, lid, walls, gravel sump below the pipe."""
    stones = tuple(
        ((x, y), (x + 0.9, y - 0.5))
        for row in range(3)
        for x, y in (
            (x0 + 1.5 + i * 3.0 + row % 2 * 1.5, depth + 5.0 + row * 1.8)
            for i in range(int((x1 - x0 - 4) / 3))
        )
    )
    return (
        Group("earth", (earth(x0 - 16, x0 + 2.0, 0.0), earth(x1 - 1.0, x1 + 15.0, 0.0))),
        Group("grade-line", (Line(((x0 - 16, 0.0), (x1 + 16, 0.0)), "earth"),), title="Finished grade"),
        Group(
            "box",
            (
                Area(
                    ((x0 - 1.0, -1.2), (x1 + 1.0, -1.2), (x1 + 1.0, 0.8), (x0 - 1.0, 0.8)), "outline", "white"
                ),
                Line(((x0, 0.8), (x0 - 1.5, depth + 3.5)), "outline"),
                Line(((x1, 0.8), (x1 + 1.5, depth + 3.5)), "outline"),
            ),
        ),
        Group(
            "gravel", (Segments(stones, "hatch-dark"), Line(((x0 - 1.5, floor), (x1 + 1.5, floor)), "thin"))
        ),
    )


def barrel(x0: float, x1: float, y: float, name: str) -> Group:
    """Return a level length of pipe."""
    return Group(
        "pipe",
        (
            Line(((x0, y - HALF_BARREL), (x1, y - HALF_BARREL)), "outline"),
            Line(((x0, y + HALF_BARREL), (x1, y + HALF_BARREL)), "outline"),
        ),
        name,
    )


def pipe_ends(design: Design, name: str) -> tuple[Pipe | None, Pipe | None]:
    """Return the pipe that ends at a device and the one that begins there."""
    before = next((p for p in design.pipes if p.route[-1].node == name), None)
    after = next((p for p in design.pipes if p.route[0].node == name), None)
    return before, after


def pipe_words(pipe: Pipe | None, where: str) -> str:
    """Return what a pipe is and where it leads."""
    if pipe is None:
        return f"{where} PIPE {NOT_STATED}"
    return f"{where} {pipe.name} {pipe.nominal.written} {pipe.size.family}, COVER {stated(pipe.cover)}"


def zone_valve(x: float, y: float, d: Device) -> Group:
    """Return a zone valve with its coil of wire and union; the body is its first three marks."""
    coil = tuple(Circle((x + 8.0, y - 13.0), r, "thin") for r in (1.2, 1.9))
    return Group(
        "valve-body",
        (
            Area(
                ((x - 5, y - 2.2), (x + 5, y - 2.2), (x + 5, y + 2.2), (x - 5, y + 2.2)), "outline", "white"
            ),
            Area(
                ((x - 4, y - 2.2), (x - 3, y - 5.0), (x + 3, y - 5.0), (x + 4, y - 2.2)), "outline", "white"
            ),
            Area(
                ((x - 1.3, y - 5.0), (x - 1.3, y - 9.5), (x + 1.3, y - 9.5), (x + 1.3, y - 5.0)),
                "outline",
                "grey",
            ),
            Line(((x + 1.3, y - 9.0), (x + 4.5, y - 11.0), (x + 6.2, y - 12.6)), "thin"),
            *coil,
            Area(
                ((x + 6, y - 2.6), (x + 9, y - 2.6), (x + 9, y + 2.6), (x + 6, y + 2.6)), "outline", "white"
            ),
        ),
        d.name,
        f"Zone valve {d.name}",
    )
