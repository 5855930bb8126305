"""Small designs built by hand for the layout tests: feet and gpm, unless a name says else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.geometry.point import Point, at
from plangen.hydraulics.network import Network, Solution
from plangen.hydraulics.results import CaseResult, Hydraulics, Input, OutletResult
from plangen.model.design import Control, Design, Project
from plangen.model.parts import Part, PipeSize
from plangen.model.site import Area, Site, Utility
from plangen.model.waterworks import Device, DripArea, Head, Pipe, Sleeve, Stop, Zone
from plangen.quantity.dimension import FOOT_M, INCH_M, UNITS, Dimension, pressure_to_head_m
from plangen.quantity.quantity import DECLARED, Quantity, to_si
from plangen.text.source import Span

SPAN = Span("hand.plan", 0, 0)


def q(value: float, unit: str) -> Quantity:
    """Return a quantity, its text as the design language writes it."""
    return Quantity(to_si(value, unit), UNITS[unit].dimension, f"{value:g} {unit}")


def ratio(value: float) -> Quantity:
    """Return a bare ratio, such as a plant factor."""
    return Quantity(value, Dimension.RATIO, f"{value:g}")


def ft(x: float, y: float) -> Point:
    """Return a place told in feet."""
    return at(x * FOOT_M, y * FOOT_M)


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
    """Return a rectangle told in feet."""
    return (ft(x0, y0), ft(x1, y0), ft(x1, y1), ft(x0, y1))


def area(kind: str, name: str, outline: tuple[Point, ...], **more: object) -> Area:
    """Return an area of the site."""
    return Area(kind, name, name, outline, SPAN, **more)  # type: ignore[arg-type]


def spray(name: str, radius_ft: float, gpm: float) -> Part:
    """Return a spray head that throws so far and gives so much at 30 psi."""
    return Part(
        name, "spray", f"Spray {name}", SPAN, flow=q(gpm, "gpm"), flow_at=q(30, "psi"),
        radius=q(radius_ft, "ft"), radius_at=q(30, "psi"),
        pressure_low=q(20, "psi"), pressure_high=q(70, "psi"),
    )  # fmt: skip


def head(
    name: str, part: Part, place: Point, arc: tuple[float, float], zone: str = "Z1", pipe: str = "L1",
    along_m: float = 0.0, **more: object,
) -> Head:  # fmt: skip
    """Return a head with its arc, clockwise from and to."""
    return Head(name, part, place, pipe, along_m, SPAN, zone, "new", *arc, **more)  # type: ignore[arg-type]


def zone(name: str, areas: Sequence[str], kind: str = "spray", swing: bool = False) -> Zone:
    """Return a zone over planting areas."""
    return Zone(name, name, kind, "V1", tuple(areas), SPAN, swing_reach=q(18, "in") if swing else None)


def size(nominal: str, od_in: float, bore_in: float, family: str = "pvc-sch40") -> PipeSize:
    """Return a row of a pipe table."""
    wall = (od_in - bore_in) / 2 * INCH_M
    return PipeSize(
        family, f"{nominal} in", od_in * INCH_M, wall, bore_in * INCH_M, None, 150.0, None, "test", DECLARED
    )


# ASTM D1785, schedule 40: outside diameters 1.050, 1.315 and 1.660 in.
SIZES = {
    "3/4": (size("3/4", 1.050, 0.824), 0.75),
    "1": (size("1", 1.315, 1.049), 1.0),
    "1-1/4": (size("1-1/4", 1.660, 1.380), 1.25),
}


def pipe(
    name: str, nominal: str, stops: Sequence[tuple[Point, str]], cover_in: float | None = 12,
    role: str = "lateral", **more: object,
) -> Pipe:  # fmt: skip
    """Return a pipe through places, each with the name of what it meets there or ''."""
    row, inches = SIZES[nominal]
    words = Quantity(inches * INCH_M, Dimension.LENGTH, f"{nominal} in")
    route = tuple(Stop(p, node, SPAN) for p, node in stops)
    cover = None if cover_in is None else q(cover_in, "in")
    return Pipe(name, role, row, words, route, SPAN, cover=cover, **more)  # type: ignore[arg-type]


def device(kind: str, name: str, place: Point, size_in: float | None = 1, **more: object) -> Device:
    """Return a device."""
    nominal = q(size_in, "in") if size_in else None
    return Device(kind, name, "", place, SPAN, size=nominal, **more)  # type: ignore[arg-type]


def design(
    *,
    lot: tuple[Point, ...] | None = None,
    buildings: Sequence[Area] = (),
    paving: Sequence[Area] = (),
    planting: Sequence[Area] = (),
    utilities: Sequence[Utility] = (),
    devices: Sequence[Device] = (),
    pipes: Sequence[Pipe] = (),
    sleeves: Sequence[Sleeve] = (),
    zones: Sequence[Zone] = (),
    heads: Sequence[Head] = (),
    drips: Sequence[DripArea] = (),
    control: Control | None = None,
    units: str = "us",
) -> Design:
    """Return a design of the given things and nothing else."""
    around = area("lot", "Lot", lot) if lot else None
    site = Site(
        SPAN, "ft", 0.0, "", None, around, tuple(buildings), tuple(paving), tuple(planting), (),
        tuple(utilities), (),
    )  # fmt: skip
    return Design(
        Project("By hand", SPAN, units=units), site, None, None, tuple(devices), tuple(pipes), tuple(sleeves),
        tuple(zones), tuple(heads), tuple(drips), control, (), (), (),
    )  # fmt: skip


def solved(flows: dict[str, dict[str, float]], psi: float = 30.0) -> Hydraulics:
    """Return hydraulics that give each zone's outlets a flow in gpm, all at one pressure."""
    cases = []
    pressure = pressure_to_head_m(to_si(psi, "psi"))
    for name, outlets in sorted(flows.items()):
        results = tuple(
            OutletResult(o, f"{name}.{o}", pressure, to_si(gpm, "gpm"), None, None)
            for o, gpm in outlets.items()
        )
        network = Network(name, (name,), (), (), ())
        total = sum(r.flow_m3s for r in results)
        cases.append(CaseResult(name, (name,), Solution(network, (), (), 1, 0.0), results, None, total, ()))
    return Hydraulics(None, None, "", tuple(cases), (), (), None)


@dataclass(frozen=True)
class Slope:
    """Ground that rises from `base_m` by `per_m` for each metre north; unknown north of `until_m`."""

    base_m: float
    per_m: float = 0.0
    until_m: float = 1e9

    def elevation_m(self, point: Point) -> float | None:
        """Return the grade at a point."""
        return self.base_m + self.per_m * point.y if point.y <= self.until_m else None

    def inputs(self, point: Point) -> tuple[Input, ...]:
        """Return one stated grade."""
        return (Input("grade", f"{self.base_m:g} m", DECLARED, SPAN),)
