"""The body of each kind of backflow assembly as plain shapes in a unit box, flow from left to right.

x runs 0 (inlet side) to 1 (outlet side) over the body's length, z 0 (bottom) to 1 (top) over its height.
The shapes show the working parts of a kind; they are no maker's outline.
"""

from __future__ import annotations

from dataclasses import dataclass

UnitPath = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class ShutOff:
    """A shut-off on the body: centre, its number, and whether the water rises through it."""

    x: float
    z: float
    number: int
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Body:
    """One kind's shape. `level_z` is where its critical level or relief port lies in the box.

    `inlet` and `outlet` are where the risers meet it; `cocks` are (x, z) in the order of their numbers;
    `checks` are (x, z, upright). `vent` is the air inlet's (x, z), `relief` the port's.
    """

    outlines: tuple[UnitPath, ...]
    lines: tuple[UnitPath, ...]
    shutoffs: tuple[ShutOff, ...]
    cocks: tuple[tuple[float, float], ...]
    checks: tuple[tuple[float, float, bool], ...]
    inlet: tuple[float, float]
    outlet: tuple[float, float]
    level_z: float
    vent: tuple[float, float] | None = None
    relief: tuple[float, float] | None = None


def _box(left: float, bottom: float, right: float, top: float) -> UnitPath:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _vacuum_breaker(cocks: tuple[tuple[float, float], ...], hood: UnitPath) -> Body:
    """PVB and SVB: water rises through No. 1, over the check, and leaves sideways through No. 2."""
    return Body(
        (
            _box(0.14, 0.0, 0.26, 0.40),
            ((0.08, 0.40), (0.32, 0.40), (0.36, 0.52), (0.36, 0.78), (0.04, 0.78), (0.04, 0.52)),
            hood,
            _box(0.36, 0.53, 0.86, 0.67),
            ((0.84, 0.67), (0.84, 0.53), (0.86, 0.49), (0.86, 0.30), (1.0, 0.30), (1.0, 0.67)),
        ),
        (((0.36, 0.49), (0.36, 0.71)),),
        (ShutOff(0.20, 0.20, 1, True), ShutOff(0.60, 0.60, 2)),
        cocks,
        ((0.20, 0.46, True),),
        (0.20, 0.0),
        (0.93, 0.30),
        0.40,
        vent=(0.20, 0.90),
    )


_PVB_HOOD: UnitPath = ((0.02, 0.80), (0.38, 0.80), (0.36, 0.92), (0.28, 1.0), (0.12, 1.0), (0.04, 0.92))
_SVB_HOOD: UnitPath = (
    (0.04, 0.80),
    (0.36, 0.80),
    (0.36, 0.90),
    (0.26, 0.90),
    (0.26, 1.0),
    (0.14, 1.0),
    (0.14, 0.90),
    (0.04, 0.90),
)


def _line_body(relief: bool) -> Body:
    """RP and DC: level body between two shut-offs, two checks; the RP's relief port hangs between them."""
    base = 0.30 if relief else 0.12
    outlines: list[UnitPath] = [
        ((0.0, 0.30), (0.07, 0.30), (0.07, 0.55), (0.09, 0.58), (0.09, 0.76), (0.0, 0.76)),
        _box(0.09, 0.58, 0.25, 0.76),
        (
            (0.25, 0.52),
            (0.33, base),
            (0.67, base),
            (0.75, 0.52),
            (0.75, 0.84),
            (0.67, 0.94),
            (0.33, 0.94),
            (0.25, 0.84),
        ),
        _box(0.75, 0.58, 0.91, 0.76),
        ((1.0, 0.30), (0.93, 0.30), (0.93, 0.55), (0.91, 0.58), (0.91, 0.76), (1.0, 0.76)),
    ]
    if relief:
        outlines.append(
            (
                (0.42, 0.30),
                (0.42, 0.16),
                (0.46, 0.10),
                (0.46, 0.0),
                (0.54, 0.0),
                (0.54, 0.10),
                (0.58, 0.16),
                (0.58, 0.30),
            )
        )
    return Body(
        tuple(outlines),
        (((0.50, 0.94), (0.50, base)),),
        (ShutOff(0.17, 0.67, 1), ShutOff(0.83, 0.67, 2)),
        ((0.11, 0.78), (0.30, 0.90), (0.50, 0.96), (0.70, 0.90)),
        ((0.38, 0.67, False), (0.62, 0.67, False)),
        (0.035, 0.30),
        (0.965, 0.30),
        0.0 if relief else 0.12,
        relief=(0.50, 0.0) if relief else None,
    )


BODIES: dict[str, Body] = {
    "pvb": _vacuum_breaker(((0.02, 0.60), (0.40, 0.74)), _PVB_HOOD),
    "svb": _vacuum_breaker(((0.02, 0.60),), _SVB_HOOD),
    "rp": _line_body(True),
    "dc": _line_body(False),
    # An inverted U: the float chamber over the inlet, the outlet down the other side; no shut-off, no cock.
    "avb": Body(
        (
            _box(0.12, 0.0, 0.36, 0.45),
            ((0.04, 0.45), (0.44, 0.45), (0.50, 0.55), (0.50, 0.80), (0.0, 0.80), (0.0, 0.55)),
            ((0.08, 0.82), (0.40, 0.82), (0.34, 1.0), (0.14, 1.0)),
            ((0.50, 0.75), (0.50, 0.57), (0.74, 0.57), (0.74, 0.25), (1.0, 0.25), (1.0, 0.68), (0.94, 0.75)),
        ),
        (((0.12, 0.70), (0.36, 0.70)),),
        (),
        (),
        (),
        (0.24, 0.0),
        (0.87, 0.25),
        0.45,
        vent=(0.24, 0.91),
    ),
    # The pipe turns over and comes down through it: vents at the sides, a moving element; no shut-off.
    "db": Body(
        (
            (
                (0.08, 0.0),
                (0.20, 0.0),
                (0.20, 0.86),
                (0.62, 0.86),
                (0.62, 0.78),
                (0.74, 0.78),
                (0.74, 1.0),
                (0.08, 1.0),
            ),
            _box(0.52, 0.34, 0.84, 0.78),
            ((0.62, 0.34), (0.62, 0.10), (0.74, 0.10), (0.74, 0.34)),
        ),
        (((0.52, 0.62), (0.84, 0.62)), ((0.52, 0.46), (0.58, 0.46)), ((0.78, 0.46), (0.84, 0.46))),
        (),
        (),
        (),
        (0.14, 0.0),
        (0.68, 0.10),
        0.46,
        vent=(0.84, 0.46),
    ),
    # A supply pipe that ends above the rim of an open tank; level_z is the pipe's end.
    "air-gap": Body(
        (
            (
                (0.0, 0.0),
                (0.10, 0.0),
                (0.10, 0.86),
                (0.52, 0.86),
                (0.52, 0.62),
                (0.62, 0.62),
                (0.62, 1.0),
                (0.0, 1.0),
            ),
            (
                (0.34, 0.42),
                (0.38, 0.42),
                (0.38, 0.04),
                (0.88, 0.04),
                (0.88, 0.42),
                (0.92, 0.42),
                (0.92, 0.0),
                (0.34, 0.0),
            ),
        ),
        (((0.38, 0.34), (0.88, 0.34)),),
        (),
        (),
        (),
        (0.05, 0.0),
        (0.80, 0.0),
        0.62,
    ),
}


def body(kind: str) -> Body | None:
    """Return the shape of an assembly kind, or None for a kind that is not known."""
    return BODIES.get(kind)
