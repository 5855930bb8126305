"""What lies on the ground: lot, buildings, paving, planting, grades, utilities. Frozen values in metres."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.geometry.point import Point
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span

STATES = ("new", "existing", "relocated", "removed")


@dataclass(frozen=True, slots=True)
class Area:
    """A closed outline: the lot, a building, paving, turf or a planting bed.

    `kind` is `lot`, `building`, `paving`, `turf`, `bed`, `wall`, `water`, `septic-field` or `bank`;
    `material` says of what (concrete), `plant` what grows there. Empty text and None mean: not said.
    """

    kind: str
    name: str
    label: str
    outline: tuple[Point, ...]
    span: Span
    state: str = "existing"
    material: str = ""
    plant: str = ""
    soil: str = ""
    exposure: str = ""
    slope: Quantity | None = None
    plant_factor: Quantity | None = None


@dataclass(frozen=True, slots=True)
class SpotGrade:
    """A finished-grade elevation at one place, in the site's own vertical datum."""

    point: Point
    elevation: Quantity
    span: Span


@dataclass(frozen=True, slots=True)
class Utility:
    """An existing buried line: sewer, gas, power, telecom, storm drain, water, septic, reclaimed water."""

    kind: str
    name: str
    route: tuple[Point, ...]
    depth: Quantity | None
    span: Span
    state: str = "existing"


@dataclass(frozen=True, slots=True)
class Tree:
    """A tree with its trunk place, canopy diameter and need of water."""

    name: str
    point: Point
    canopy: Quantity | None
    span: Span
    state: str = "existing"
    label: str = ""
    plant_factor: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Landmark:
    """Other water or waste on the lot, at one place: `kind` is `septic-tank`, `well` or `cistern`."""

    kind: str
    name: str
    label: str
    point: Point
    span: Span
    state: str = "existing"


@dataclass(frozen=True, slots=True)
class Hydrozone:
    """Plants of one water need; what it says holds for areas of its zones that do not say it themselves."""

    name: str
    label: str
    span: Span
    plant: str = ""
    exposure: str = ""
    plant_factor: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """The ground. `north_deg` is the bearing of true north from plan north."""

    span: Span
    coordinate_unit: str
    north_deg: float
    datum: str
    frost_depth: Quantity | None
    lot: Area | None
    buildings: tuple[Area, ...]
    paving: tuple[Area, ...]
    planting: tuple[Area, ...]
    grades: tuple[SpotGrade, ...]
    utilities: tuple[Utility, ...]
    trees: tuple[Tree, ...]
    street: str = ""
    other: tuple[Area, ...] = ()  # free-standing walls, water bodies, septic fields, banks
    landmarks: tuple[Landmark, ...] = ()
    hydrozones: tuple[Hydrozone, ...] = ()
