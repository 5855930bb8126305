"""What follows from where things are: coverage, spacing, distances, takeoff. Frozen values in SI."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.geometry.point import Point
from plangen.hydraulics.results import Input


@dataclass(frozen=True, slots=True)
class AreaCoverage:
    """How one planting area is watered when its zones run."""

    area: str
    zones: tuple[str, ...]
    ground_m2: float
    flow_m3s: float
    mean_rate_ms: float | None
    low_quarter: float | None  # DU of the lowest quarter, 0 to 1
    dry_share: float  # share of grid cells under a tenth of the mean rate
    cell_m: float
    grid: tuple[tuple[Point, float], ...]  # centre of each cell and its rate in m/s


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


@dataclass(frozen=True, slots=True)
class OutletHeight:
    """An outlet's elevation and how far the assembly that feeds it stands above."""

    outlet: str
    elevation_m: float | None
    assembly: str
    above_m: float | None


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where a pipe passes under paving or across a utility."""

    pipe: str
    kind: str  # paving, utility
    name: str
    length_m: float
    sleeve: str  # the sleeve that covers it, or ''
    point: Point


@dataclass(frozen=True, slots=True)
class ScheduleLine:
    """One zone's watering in the peak month. None where an input is missing."""

    zone: str
    rate_ms: float | None
    depth_per_week_m: float | None
    minutes_per_week: float | None
    cycles: int | None
    minutes_per_cycle: float | None
    volume_per_week_m3: float | None


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
class Layout:
    """All layout facts."""

    coverage: tuple[AreaCoverage, ...]
    reaches: tuple[HeadReach, ...]
    heights: tuple[OutletHeight, ...]
    crossings: tuple[Crossing, ...]
    schedule: tuple[ScheduleLine, ...]
    takeoff: tuple[TakeoffLine, ...]
    notes: tuple[str, ...] = ()
