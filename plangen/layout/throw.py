"""How far and where each outlet throws when its zone runs: the data sheet's radius and the solved flow.

The radius is the data sheet's, and holds only inside the data sheet's pressure range: outside it, or where
no range is stated, the throw is not known. No radius is scaled with pressure, because no data sheet here says
how it changes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plangen.geometry.arc import Sector
from plangen.hydraulics.results import Hydraulics, Input, OutletResult
from plangen.layout.inputs import stated
from plangen.model.design import Design
from plangen.model.waterworks import Head
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import told

SECTOR_KINDS = ("spray", "rotor")


@dataclass(frozen=True, slots=True)
class Throw:
    """One head's throw. `flow_m3s` and `pressure_m` are None where its zone is not solved."""

    head: Head
    radius_m: float | None
    basis: str
    pressure_m: float | None
    flow_m3s: float | None
    inputs: tuple[Input, ...]

    @property
    def sector(self) -> Sector | None:
        """Return the ground it wets, or None where radius or arc is not known."""
        if self.radius_m is None or not self.head.arc_known or self.head.part.kind not in SECTOR_KINDS:
            return None
        return Sector(self.head.point, self.radius_m, self.head.arc_start_deg, self.head.arc_end_deg)


def outlets_alone(hydraulics: Hydraulics) -> dict[str, OutletResult]:
    """Return what each outlet does when its zone runs alone, by outlet name."""
    return {o.name: o for case in hydraulics.cases if len(case.zones) == 1 for o in case.outlets}


def throws(design: Design, outlets: Mapping[str, OutletResult]) -> tuple[Throw, ...]:
    """Return the throw of every head that is there or will be, in the order of the design."""
    system = design.project.units
    return tuple(
        _throw(head, outlets.get(head.name), system) for head in design.heads if head.state != "removed"
    )


def _throw(head: Head, outlet: OutletResult | None, system: str) -> Throw:
    part = head.part
    # The pressures decide whether it holds at all, not how far it reaches.
    inputs = stated(f"radius of {part.name}", part.radius)
    radius, basis = _radius(head, outlet, system)
    pressure = None if outlet is None else outlet.pressure_m
    flow = None if outlet is None else outlet.flow_m3s
    return Throw(head, radius, basis, pressure, flow, inputs)


def _radius(head: Head, outlet: OutletResult | None, system: str) -> tuple[float | None, str]:
    """Return the radius to reckon with and the words that say why."""
    part = head.part
    if part.radius is None:
        return None, "the data sheet states no radius"
    sheet = f"{told(part.radius.si, Dimension.LENGTH, system)} on its data sheet"
    if part.radius_at is not None:
        sheet += f" at {told(part.radius_at.si, Dimension.PRESSURE, system)}"
    if outlet is None:
        return part.radius.si, f"{sheet}; running pressure not known"
    # a regulating body gives its nozzle no more than its setting
    pressure_pa = head_to_pressure_pa(outlet.pressure_m)
    runs = told(pressure_pa, Dimension.PRESSURE, system)
    if part.pressure_low is None:
        return (
            None,
            f"{sheet}; runs at {runs}, for which pressures is not stated: throw not known",
        )
    if pressure_pa < part.pressure_low.si * (1 - 1e-9):
        return None, f"{sheet}; runs at {runs}, below the data sheet's least pressure: throw not known"
    high = part.pressure_high
    if high is not None and part.regulated is None and pressure_pa > high.si * (1 + 1e-9):
        return None, f"{sheet}; runs at {runs}, over the data sheet's greatest pressure: throw not known"
    kept = f", regulated to {told(part.regulated.si, Dimension.PRESSURE, system)}" if part.regulated else ""
    return part.radius.si, f"{sheet}; runs at {runs}{kept}"
