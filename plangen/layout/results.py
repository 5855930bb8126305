"""What follows from where things are: coverage, spacing, distances, takeoff. Frozen values in SI."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.geometry.point import Point
from plangen.hydraulics.results import Input


@dataclass(frozen=True, slots=True)
class AreaCoverage:
    """How one planting area is watered when its zones run for equal times, one after the other.

    An area that no zone waters has no zones and no rate. Rates are None where a zone's hydraulics are
    not solved or a head's throw is not known; `missing` says which. `flow_m3s` is the flow of every
    outlet that wets the area, `landed_m3s` the part of it that falls inside: the rest is overspray.
    """

    area: str
    zones: tuple[str, ...]
    ground_m2: float
    flow_m3s: float
    mean_rate_ms: float | None
    low_quarter: float | None  # DU of the lowest quarter, 0 to 1; None for drip, where it is not computed
    dry_share: float | None  # share of grid cells under a tenth of the mean rate
    cell_m: float  # width of a cell along x
    grid: tuple[tuple[Point, float], ...]  # centre of each cell and its rate in m/s
    cell_y_m: float = 0.0  # height of a cell along y
    landed_m3s: float = 0.0
    missing: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()  # of how evenly
    rate_inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class HeadReach:
    """One head's throw against what it could wet beyond its own planting, and its nearest neighbour."""

    head: str
    zone: str
    radius_m: float | None
    radius_basis: str
    nearest_m: float | None  # to the nearest head of the same zone
    nearest_head: str
    spacing_ratio: float | None  # nearest over radius
    overspray: tuple[tuple[str, float], ...]  # paving or building or neighbour and the wetted depth in m
    hardscape_m: float | None  # distance to the nearest paving or building
    hardscape: str
    inputs: tuple[Input, ...] = ()
    overspray_known: bool = True  # False: the arc, the radius or the lot is not known
    overspray_kinds: tuple[str, ...] = ()  # paving, building or neighbour, one for each overspray
    pressure_m: float | None = None  # where it runs


@dataclass(frozen=True, slots=True)
class OutletHeight:
    """An outlet's elevation and how far the assembly that feeds it stands above. Heads are at rest."""

    outlet: str
    elevation_m: float | None
    assembly: str
    above_m: float | None
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class LowHead:
    """What runs out of a zone's lowest outlets each time it stops. None where a height is not known."""

    zone: str
    difference_m: float | None
    lowest: tuple[str, ...]  # lower than others of the zone, without a check valve
    checked: bool | None  # every outlet that is lower than others has a check valve
    volume_m3: float  # that its piping holds
    drained_m3: float | None  # at most: of its piping, what stands higher than the lowest without a check
    outlet: str = ""  # the lowest without a check valve
    inputs: tuple[Input, ...] = ()  # of what runs out
    missing: str = ""
    held_inputs: tuple[Input, ...] = ()  # of the volume that its piping holds


@dataclass(frozen=True, slots=True)
class PipingHeight:
    """The highest point of one pipe downstream of an assembly: the top of the pipe under its cover."""

    pipe: str
    elevation_m: float | None
    assembly: str
    above_m: float | None
    point: Point | None
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where a pipe passes under paving, a building, a wall or water, or across a utility."""

    pipe: str
    kind: str  # paving, building, wall, water, utility
    name: str
    length_m: float
    sleeve: str  # the sleeve that covers it, or ''
    point: Point
    below_m: float | None = None  # utility: how far its depth is below the pipe's cover


@dataclass(frozen=True, slots=True)
class ScheduleLine:
    """One zone's watering in the peak month. None where an input is missing; `missing` names it."""

    zone: str
    rate_ms: float | None
    depth_per_week_m: float | None
    minutes_per_week: float | None
    cycles: int | None  # on each watering day
    minutes_per_cycle: float | None
    volume_per_week_m3: float | None
    days: float | None = None  # watering days a week
    soak_minutes: float | None = None  # least rest between two cycles
    low_quarter: float | None = None
    efficiency: float | None = None  # what the minutes are divided by: 0.4 + 0.6 DU, or the stated drip value
    intake_ms: float | None = None  # greatest rate the soil takes at this slope
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()  # of its minutes
    rate_inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class WateringWindow:
    """All zones' minutes on a watering day against the hours allowed. None where not known."""

    minutes_per_day: float | None
    window_minutes: float | None
    fits: bool | None
    missing: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class ZoneMonth:
    """One zone's watering in one month. None where an input is missing."""

    zone: str
    month: int
    need_m: float | None  # depth that the plants need beyond the rain credited
    minutes_per_week: float | None
    cycles: int | None
    minutes_per_cycle: float | None
    volume_m3: float | None


@dataclass(frozen=True, slots=True)
class MonthTotal:
    """All zones in one month: minutes on a watering day against the window, and the water of the month."""

    month: int
    minutes_per_day: float | None
    fits: bool | None
    volume_m3: float | None


@dataclass(frozen=True, slots=True)
class WateringYear:
    """The watering of a year, month by month. `missing` names what keeps a figure from being known."""

    zones: tuple[ZoneMonth, ...]
    months: tuple[MonthTotal, ...]
    volume_m3: float | None
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class WireDrop:
    """The voltage that the wire to one valve takes, there and back. None where an input is missing."""

    device: str
    length_m: float  # one way
    area_m2: float | None  # copper of one conductor
    drop_v: float | None  # while the valve is held open
    inrush_v: float | None  # when it opens
    missing: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class TakeoffLine:
    """One line of the bill: counted or measured from the design."""

    group: str
    item: str
    size: str
    quantity: float
    unit: str  # ft, m, each, gal, L
    net: float
    note: str
    objects: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Trench:
    """The trench of one new pipe. Under paving there is no open trench. None: the cover is not stated."""

    pipe: str
    length_m: float  # route length in plan
    under_paving_m: float
    cover_m: float | None
    depth_m: float | None  # to the trench floor: cover and outside diameter
    width_m: float
    volume_m3: float | None  # of the open part


@dataclass(frozen=True, slots=True)
class TieDistance:
    """Where a buried thing is, measured from two corners that can be seen from it. '' and None: none can."""

    object: str
    kind: str
    corner1: str
    distance1_m: float | None
    corner2: str
    distance2_m: float | None


@dataclass(frozen=True, slots=True)
class Layout:
    """All layout facts."""

    coverage: tuple[AreaCoverage, ...]
    reaches: tuple[HeadReach, ...]
    heights: tuple[OutletHeight, ...]
    crossings: tuple[Crossing, ...]
    schedule: tuple[ScheduleLine, ...]
    takeoff: tuple[TakeoffLine, ...]
    notes: tuple[str, ...] = ()
    piping: tuple[PipingHeight, ...] = ()
    window: WateringWindow | None = None
    trenches: tuple[Trench, ...] = ()
    ties: tuple[TieDistance, ...] = ()
    year: WateringYear | None = None  # None: no month's evapotranspiration is stated
    wire_drops: tuple[WireDrop, ...] = ()
    low_heads: tuple[LowHead, ...] = ()
