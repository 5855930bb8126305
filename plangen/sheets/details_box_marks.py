"""The plain shapes that boxes, taps and drip sets share: a box in the ground, pipe barrels, valve bodies.

Depths and pipe diameters are to scale where the design states them; boxes and bodies are millimetres of
paper that stand for nothing, and are lettered so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.quantity.quantity import Quantity
from plangen.sheets.details_dimensions import earth, upright
from plangen.sheets.details_section import NOT_STATED, NOT_TO_SCALE, enlarged, scale_text, stated
from plangen.sheets.marks import Area, Circle, Group, Line, Segments
from plangen.sheets.panel import AnyMark
from plangen.sheets.viewport import DETAIL_SCALES

HALF_BARREL = 1.6  # half the drawn barrel where its diameter is not known, mm
ROOM_MM = 42.0  # the deepest that a depth is drawn, which fixes its scale
STAND_IN_MM = 26.0  # the depth drawn where none is stated
SHAPES = "BOX AND FITTINGS NOT TO SCALE"


@dataclass(frozen=True, slots=True)
class Depths:
    """How depths are drawn: the scale as lettered and mm of paper per metre, 0 where no depth is stated."""

    scale: str
    per_m: float

    def mm(self, quantity: Quantity | None) -> float:
        """Return how deep a stated height or cover is drawn; a stand-in where none is stated."""
        return abs(quantity.si) * self.per_m if quantity is not None and self.per_m else STAND_IN_MM

    def half(self, pipe: Pipe | None) -> float:
        """Return half the drawn diameter of a pipe."""
        return pipe.size.od_m / 2 * self.per_m if pipe is not None and self.per_m else HALF_BARREL


def depths(stated: Sequence[Quantity | None], system: str, height: float) -> Depths:
    """Return the largest standard scale at which the deepest of some stated depths finds room."""
    deepest = max((abs(q.si) for q in stated if q is not None), default=0.0)
    if deepest <= 0.0:
        return Depths(NOT_TO_SCALE, 0.0)
    scales, room = DETAIL_SCALES[system], ROOM_MM * enlarged(height)
    denominator = next((d for d in scales if deepest * 1000 / d <= room), scales[-1])
    return Depths(scale_text(denominator, system), 1000.0 / denominator)


def box_in_ground(x0: float, x1: float, depth: float, floor: float) -> tuple[AnyMark, ...]:
    """Return a box in the ground: grade, lid, walls, gravel sump below the pipe."""
    return boxes_in_ground(((x0, x1),), depth, floor)


def boxes_in_ground(walls: Sequence[tuple[float, float]], depth: float, floor: float) -> tuple[AnyMark, ...]:
    """Return a row of boxes in the ground, each between its two walls, with one grade line."""
    left, right = walls[0][0], walls[-1][1]
    starts = (left - 16.0, *(x - 1.0 for _, x in walls))
    ends = (*(x + 2.0 for x, _ in walls), right + 15.0)
    return (
        Group("earth", tuple(earth(a, b, 0.0) for a, b in zip(starts, ends, strict=True))),
        Group("grade-line", (Line(((left - 16, 0.0), (right + 16, 0.0)), "earth"),), title="Finished grade"),
        *(mark for x0, x1 in walls for mark in _box(x0, x1, depth, floor)),
    )


def _box(x0: float, x1: float, depth: float, floor: float) -> tuple[AnyMark, ...]:
    stones = tuple(
        ((x, y), (x + 0.9, y - 0.5))
        for row in range(3)
        for x, y in (
            (x0 + 1.5 + i * 3.0 + row % 2 * 1.5, depth + 5.0 + row * 1.8)
            for i in range(int((x1 - x0 - 4) / 3))
        )
    )
    lid = ((x0 - 1.0, -1.2), (x1 + 1.0, -1.2), (x1 + 1.0, 0.8), (x0 - 1.0, 0.8))
    return (
        Group(
            "box",
            (
                Area(lid, "outline", "white"),
                Line(((x0, 0.8), (x0 - 1.5, depth + 3.5)), "outline"),
                Line(((x1, 0.8), (x1 + 1.5, depth + 3.5)), "outline"),
            ),
        ),
        Group(
            "gravel", (Segments(stones, "hatch-dark"), Line(((x0 - 1.5, floor), (x1 + 1.5, floor)), "thin"))
        ),
    )


def barrel(x0: float, x1: float, y: float, name: str, half: float = HALF_BARREL) -> Group:
    """Return a level length of pipe about the level `y`, `half` its drawn radius."""
    return Group(
        "pipe",
        (
            Line(((x0, y - half), (x1, y - half)), "outline"),
            Line(((x0, y + half), (x1, y + half)), "outline"),
        ),
        name,
    )


def depth_dimension(
    x: float, depth: float, quantity: Quantity, ends: tuple[float, float], height: float, name: str
) -> tuple[AnyMark, ...]:
    """Return the dimension of a depth at `x` with its two witness lines, which end where the things begin."""
    return (
        Line(((x - 1.5, depth), (ends[1], depth)), "hair"),
        Line(((x - 1.5, 0.0), (ends[0], 0.0)), "hair"),
        upright(x, 0.0, depth, quantity.written.lstrip("-"), height, "dimension-depth", name),
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
    up = min(13.0, y - 4.0)  # under the lid, however shallow
    coil = tuple(Circle((x + 8.0, y - up), r, "thin") for r in (1.2, 1.9))
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
            Line(((x + 1.3, y - 9.0), (x + 4.5, y - up + 2.0), (x + 6.2, y - up + 0.4)), "thin"),
            *coil,
            Area(
                ((x + 6, y - 2.6), (x + 9, y - 2.6), (x + 9, y + 2.6), (x + 6, y + 2.6)), "outline", "white"
            ),
        ),
        d.name,
        f"Zone valve {d.name}",
    )


def device_body(x: float, y: float, d: Device) -> Group:
    """Return the shape of a device in the line at (x, y), by its kind."""
    if d.kind in ("valve", "master-valve"):
        return zone_valve(x, y, d)
    if d.kind == "isolation":
        return ball_valve(x, y, d)
    return _end_body(x, y, d) if d.kind in ("drain", "blow-out") else _plain_body(x, y, d)


def ball_valve(x: float, y: float, d: Device) -> Group:
    """Return a ball valve with its handle."""
    body = ((x - 5, y - 2.6), (x + 5, y - 2.6), (x + 5, y + 2.6), (x - 5, y + 2.6))
    return Group(
        "valve-body",
        (
            Area(body, "outline", "white"),
            Circle((x, y), 2.2, "outline", "grey"),
            Line(((x, y - 2.6), (x, y - 8.0)), "medium"),
            Line(((x - 8.0, y - 8.0), (x + 1.0, y - 8.0)), "medium"),
        ),
        d.name,
        f"Isolation valve {d.name}",
    )


def _end_body(x: float, y: float, d: Device) -> Group:
    """A fitting at the end of its pipe: a drain opens downward, a blow-out stands up with its cap."""
    body = ((x - 5, y - 2.4), (x + 2, y - 2.4), (x + 2, y + 2.4), (x - 5, y + 2.4))
    sign = 1.0 if d.kind == "drain" else -1.0
    stem = (
        (x - 2.6, y + sign * 2.4),
        (x - 0.4, y + sign * 2.4),
        (x - 0.4, y + sign * 6.0),
        (x - 2.6, y + sign * 6.0),
    )
    cap = Line(((x - 3.6, y + sign * 6.0), (x + 0.6, y + sign * 6.0)), "medium")
    return Group(
        f"{d.kind}-body", (Area(body, "outline", "white"), Area(stem, "outline", "grey"), cap), d.name
    )


def _plain_body(x: float, y: float, d: Device) -> Group:
    body = ((x - 5, y - 2.4), (x + 5, y - 2.4), (x + 5, y + 2.4), (x - 5, y + 2.4))
    return Group(f"{d.kind}-body", (Area(body, "outline", "white"),), d.name)


def sized(quantity: Quantity | None, words: str) -> str:
    """Return a part's size and words; the size only once where the words hold it already."""
    size = stated(quantity)
    return words if f" {size}" in f" {words}" else f"{size} {words}"
