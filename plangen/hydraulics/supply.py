"""The pressure the design may count on, and the head of its source. Pure functions of the design.

The seasonal low governs if it is given, else the static pressure less the stated allowance. Where neither is
said, one reading tells what stands in the main on one day and nothing of a dry one: the design then has no
pressure to be solved at. A pressure is what a gauge at ground level shows at the source's place.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.friction import FLOW_EXPONENT, Curve
from plangen.hydraulics.results import Failure, Input
from plangen.model.waterworks import Source
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.evidence import named
from plangen.quantity.quantity import Quantity
from plangen.terrain.surface import Surface

# How finely the curve of a residual test is told in points.
_CURVE_STEPS = 40


@dataclass(frozen=True, slots=True)
class Supply:
    """Source pressure for the load cases (`design_m`) and at its highest (`static_m`), in metres of water.

    At least one of the two is known. Without `design_m`, `basis` says what is not stated.
    """

    node: str
    ground_m: float
    design_m: float | None
    static_m: float | None
    basis: str
    curve: Curve
    inputs: tuple[Input, ...]  # of the head of the source
    static_inputs: tuple[Input, ...]  # of the head of the highest static pressure
    design_inputs: tuple[Input, ...]  # of `design_m` alone

    @property
    def head_m(self) -> float:
        """Return the total head of the design pressure above the site's datum, where it is known."""
        return self.ground_m + self.cases_m

    @property
    def cases_m(self) -> float:
        """Return the design pressure of cases that are solved: where it is not known, none is."""
        assert self.design_m is not None
        return self.design_m

    @property
    def fall_m(self) -> float | None:
        """Return how far the design counts on the static pressure to fall, or None where it is not known."""
        if self.static_m is None or self.design_m is None:
            return None
        return max(self.static_m - self.design_m, 0.0)


def supply_of(source: Source | None, surface: Surface) -> Supply | Failure:
    """Return the supply of a design, or why its pressure is not known."""
    if source is None:
        return Failure("", "no-pressure-given", "the design names no source", ())
    who = (source.name,)
    if source.lowest is None and source.static is None:
        message = f"neither a static nor a lowest pressure is given for {source.name}"
        return Failure("", "no-pressure-given", message, who)
    ground = surface.elevation_m(source.point)
    if ground is None:
        return Failure("", "no-elevation", f"the ground at {source.name} lies outside the spot grades", who)
    pressure_m, basis, inputs = _design_pressure(source)
    design_inputs = inputs
    curve: Curve = ()
    if source.residual is not None:
        if source.static is None:
            message = f"the residual test of {source.name} needs the static pressure beside it"
            return Failure("", "no-pressure-given", message, who)
        curve = residual_curve(source.static, *source.residual)
        inputs += _residual_inputs(source.name, source.static, *source.residual)
        at_flow = f"{source.residual[0].written} at {source.residual[1].written}"
        basis += "" if pressure_m is None else f", falling as in the residual test {at_flow}"
    grades = surface.inputs(source.point)
    static = (named(source.static, f"static pressure of {source.name}"),) if source.static else ()
    static_m = pressure_to_head_m(source.static.si) if source.static else None
    return Supply(
        source.name, ground, pressure_m, static_m, basis, curve,
        tuple(dict.fromkeys((*inputs, *grades))), (*static, *grades), design_inputs,
    )  # fmt: skip


def _residual_inputs(name: str, static: Quantity, residual: Quantity, flow: Quantity) -> tuple[Input, ...]:
    return (
        named(static, f"static pressure of {name}"),
        named(residual, f"residual pressure of {name}"),
        named(flow, f"residual flow of {name}"),
    )


def _design_pressure(source: Source) -> tuple[float | None, str, tuple[Input, ...]]:
    """Return the pressure to design by, how it came about (or what is not stated), and what it rests on."""
    where = f"at {source.name}, by a gauge at ground level"
    if source.lowest is not None:
        stated = named(source.lowest, f"lowest pressure of {source.name}")
        basis = f"lowest pressure of the year {source.lowest.written} {where} ({stated.provenance.told()})"
        return pressure_to_head_m(source.lowest.si), basis, (stated,)
    if source.static is None or source.allowance is None:
        words = (
            "the lowest pressure of the year at {} is not stated, nor an allowance off its static pressure"
        )
        return None, words.format(source.name), ()
    stated = named(source.static, f"static pressure of {source.name}")
    basis = f"static pressure {source.static.written} {where} ({stated.provenance.told()})"
    taken = named(source.allowance, f"pressure allowance of {source.name}")
    left = pressure_to_head_m(source.static.si - source.allowance.si)
    return left, f"{basis} less {source.allowance.written} allowance", (stated, taken)


def residual_curve(static: Quantity, residual: Quantity, flow: Quantity) -> Curve:
    """Return the drop of the main's pressure as points, up to the flow of the test and no further.

    The drop goes with flow^1.852, as in fire-flow tests (NFPA 291, from memory; the exponent is that of
    Hazen-Williams).
    """
    return falling_curve(pressure_to_head_m(static.si - residual.si), flow.si)


def falling_curve(drop_m: float, flow_m3s: float, reach: float = 1.0) -> Curve:
    """Return the drop of a main that loses `drop_m` at a flow, as points up to `reach` times that flow."""
    shares = [reach * i / _CURVE_STEPS for i in range(_CURVE_STEPS + 1)]
    return tuple((flow_m3s * s, drop_m * s**FLOW_EXPONENT) for s in shares)


def flow_left_m3s(flow_m3s: float, drop_m: float, wanted_m: float) -> float:
    """Return the flow at which a main loses `wanted_m`, if it loses `drop_m` at a flow.

    NFPA 291, available flow: Qr = Qf (hr / hf)^0.54 (from memory; 0.54 is 1 / 1.852).
    """
    return flow_m3s * (wanted_m / drop_m) ** (1.0 / FLOW_EXPONENT)
