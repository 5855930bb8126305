"""The water path: source, devices, pipes, junctions, outlets, zones. Frozen values in metres.

A device is a node that water passes through: a pipe that ends at it enters, a pipe that begins at it
leaves. Connectivity is by name only; `Route` stops without a name are geometry.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.geometry.point import Point
from plangen.model.parts import Part, PipeSize
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Stop:
    """One vertex of a pipe's route; `node` names what the pipe meets there, or is empty."""

    point: Point
    node: str
    span: Span


@dataclass(frozen=True, slots=True)
class Source:
    """Where the pressure is known. `lowest` is the seasonal low; `allowance` is taken off the static."""

    name: str
    point: Point
    span: Span
    static: Quantity | None
    lowest: Quantity | None
    allowance: Quantity | None
    depth: Quantity | None
    residual: tuple[Quantity, Quantity] | None = None  # (pressure, at flow)
    state: str = "existing"
    temperature: Quantity | None = None  # highest, of the water and the ground
    label: str = ""


@dataclass(frozen=True, slots=True)
class HouseDemand:
    """The house as a draw on the service."""

    name: str
    point: Point
    demand: Quantity | None
    span: Span
    state: str = "existing"
    label: str = ""


@dataclass(frozen=True, slots=True)
class Device:
    """Something water passes through at one place.

    `kind` is `meter`, `tap`, `isolation`, `assembly`, `strainer`, `regulator`, `master-valve`,
    `flow-sensor`, `blow-out`, `drain`, `injector`, `pump`, `tee` or `valve` (a zone valve).
    `height` is above finished grade at the place (negative: buried); for an assembly it is that of the
    critical level or relief port.
    """

    kind: str
    name: str
    label: str
    point: Point
    span: Span
    state: str = "new"
    part: Part | None = None
    size: Quantity | None = None
    height: Quantity | None = None
    in_box: bool = False
    closed: bool = False
    # assemblies
    assembly_kind: str = ""
    wall: str = ""
    wall_clearance: Quantity | None = None
    insulation: str = ""
    enclosure: str = ""
    drain: str = ""
    serial: str = ""
    listing: str = ""
    supports: str = ""
    detail: str = ""
    setting: Quantity | None = None
    zone: str = ""
    drain_size: Quantity | None = None
    drain_slope: Quantity | None = None
    trip: Quantity | None = None  # flow sensors: the flow at which the water is shut off
    box_size: str = ""  # as boxes are sold: 14 x 19 in


@dataclass(frozen=True, slots=True)
class Pipe:
    """A pipe from its first named stop to its last, through named stops between.

    `role` is `service`, `mainline`, `lateral` or `nipple`. `cover` is earth over the top of the pipe;
    a pipe with `above_grade` stands in the air (the riser at an assembly).
    """

    name: str
    role: str
    size: PipeSize
    nominal: Quantity
    route: tuple[Stop, ...]
    span: Span
    state: str = "new"
    cover: Quantity | None = None
    zone: str = ""
    joints: str = ""
    insulation: str = ""
    above_grade: bool = False


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A sleeve around a pipe where it passes under paving."""

    name: str
    pipe: str
    under: str
    size: PipeSize
    span: Span
    extends: Quantity | None = None
    cover: Quantity | None = None
    nominal: Quantity | None = None  # the size as written
    state: str = "new"


@dataclass(frozen=True, slots=True)
class Head:
    """A sprinkler, bubbler or quick coupler. Arc runs clockwise from start to end (equal: full circle).

    `along_m` is where it stands on its lateral. `riser` is its outlet's height above grade at rest.
    """

    name: str
    part: Part
    point: Point
    pipe: str
    along_m: float
    span: Span
    zone: str
    state: str = "new"
    arc_start_deg: float = 0.0
    arc_end_deg: float = 0.0
    arc_known: bool = True
    riser: Quantity | None = None
    reach_m: float = 0.0


@dataclass(frozen=True, slots=True)
class DripArea:
    """Dripline over a planting bed, fed at one named node or place along a lateral."""

    name: str
    part: Part
    area: str
    row_spacing: Quantity
    pipe: str
    along_m: float
    point: Point
    span: Span
    zone: str
    state: str = "new"


@dataclass(frozen=True, slots=True)
class Zone:
    """A zone: its valve and what it waters, planting areas and single trees."""

    name: str
    label: str
    kind: str  # spray, rotor, bubbler, drip, mixed
    valve: str
    areas: tuple[str, ...]
    span: Span
    hydrozone: str = ""  # what it is called on the sheets
    hydrozone_name: str = ""  # that of the site, where the zone names one
    swing_reach: Quantity | None = None
    runs_with: tuple[str, ...] = ()
    trees: tuple[str, ...] = ()
