"""Parts: what a data sheet says about a head, a valve, a meter or an assembly. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.quantity.quantity import DECLARED, Basis, Provenance, Quantity
from plangen.text.source import Span

_UNSOURCED = Provenance(Basis.FROM_MEMORY)


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One point of a loss or flow curve: `at` is the flow (loss curves) or pressure (flow tables)."""

    at: Quantity
    value: Quantity


@dataclass(frozen=True, slots=True)
class Part:
    """A part as defined in the design or in the shipped library.

    `kind` is one of the part kinds of `PART_KINDS`. Fields that the data sheet does not give are None:
    not given is not known.
    """

    name: str
    kind: str
    label: str
    span: Span
    provenance: Provenance = DECLARED
    size: Quantity | None = None
    # heads: square-root law through one point, or a table of pressure and flow
    flow: Quantity | None = None
    flow_at: Quantity | None = None
    flow_table: tuple[CurvePoint, ...] = ()
    radius: Quantity | None = None
    radius_at: Quantity | None = None
    arc: Quantity | None = None
    pressure_low: Quantity | None = None
    pressure_high: Quantity | None = None
    pressure_best: Quantity | None = None
    regulated: Quantity | None = None
    check_valve: bool = False
    # dripline: one emitter's flow (with flow_at: square-root law; compensating: constant in its range)
    compensating: bool = False
    emitter_spacing: Quantity | None = None
    # inline devices: loss against flow, exact between points, allowed to fall
    loss_curve: tuple[CurvePoint, ...] = ()
    minor_k: Quantity | None = None
    flow_low: Quantity | None = None
    flow_high: Quantity | None = None
    pressure_rating: Quantity | None = None
    assembly_kind: str = ""
    listing: str = ""
    # dimensions needed for drawing
    height: Quantity | None = None
    length: Quantity | None = None
    pop_up: Quantity | None = None
    # pumps: pressure gained against flow
    gain_curve: tuple[CurvePoint, ...] = ()
    relief_flow: Quantity | None = None
    relief_at: Quantity | None = None
    closing_time: Quantity | None = None
    current: Quantity | None = None
    inrush: Quantity | None = None


PART_KINDS: dict[str, str] = {
    "spray": "spray head",
    "rotor": "rotor head",
    "bubbler": "bubbler",
    "dripline": "dripline",
    "quick-coupler": "quick coupler",
    "meter": "water meter",
    "assembly": "backflow prevention assembly",
    "valve": "zone valve",
    "master-valve": "master valve",
    "isolation": "isolation valve",
    "strainer": "strainer",
    "regulator": "pressure regulator",
    "flow-sensor": "flow sensor",
    "injector": "chemical injector",
    "pump": "pump",
}

ASSEMBLY_KINDS: dict[str, str] = {
    "pvb": "pressure vacuum breaker assembly",
    "svb": "spill-resistant vacuum breaker assembly",
    "rp": "reduced-pressure principle assembly",
    "dc": "double check valve assembly",
    "avb": "atmospheric vacuum breaker",
    "db": "type DB pipe interrupter",
    "air-gap": "air gap",
}


@dataclass(frozen=True, slots=True)
class PipeSize:
    """One row of the pipe table: a material and class in one nominal size, all lengths in metres."""

    family: str
    nominal: str
    od_m: float
    wall_m: float
    bore_m: float
    rating_pa: float | None
    hazen_williams_c: float
    modulus_pa: float | None
    source: str
    provenance: Provenance  # of the dimensions and the rating
    c_provenance: Provenance = _UNSOURCED
    modulus_provenance: Provenance = _UNSOURCED
    worn_c: float | None = None  # what C may come down to with age
    worn_provenance: Provenance = _UNSOURCED
