"""The display list: what stands on a sheet, in millimetres of paper from the top left corner, y down.

Marks know nothing of designs. A `Group` ties marks to a design object by id (`obj-BF1`), so that the
packet can link both ways. Pens, fills and text heights are named by role; see `pens`.
"""

from __future__ import annotations

from dataclasses import dataclass, field

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """An open polyline drawn with a pen role."""

    points: tuple[XY, ...]
    pen: str


@dataclass(frozen=True, slots=True)
class Area:
    """A closed polygon: outline pen (or none) and fill role (`none`, `white`, `black`, `grey`, `pale`)."""

    points: tuple[XY, ...]
    pen: str = ""
    fill: str = "none"


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    centre: XY
    radius: float
    pen: str = ""
    fill: str = "none"


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc clockwise on paper from one bearing to another (degrees from paper up).

    `closed` draws the two radii as well (a sector).
    """

    centre: XY
    radius: float
    start_deg: float
    end_deg: float
    pen: str = ""
    fill: str = "none"
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Segments:
    """Many separate two-point lines in one mark: hatching."""

    lines: tuple[tuple[XY, XY], ...]
    pen: str


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. `x`, `y` is its anchor on the baseline; `anchor` is start, middle or end.

    `angle` turns it clockwise about the anchor; `halo` lays a white edge under it.
    """

    x: float
    y: float
    text: str
    height: float  # capital height in mm
    anchor: str = "start"
    bold: bool = False
    angle: float = 0.0
    halo: bool = False


Mark = "Line | Area | Circle | Arc | Segments | Text | Group"


@dataclass(frozen=True, slots=True)
class Group:
    """Marks that belong to one thing. `role` is a layer or symbol name; `object` a design object or ''."""

    role: str
    marks: tuple[Line | Area | Circle | Arc | Segments | Text | Group, ...]
    object: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One entry of a sheet's inventory: something that was really drawn, and where.

    `what` is `symbol`, `label`, `north-arrow`, `scale-bar`, `legend`, `legend-entry`, `pipe-size`,
    `detail`, `table`, `note`, `title-block`, `caution` and the like; `kind` the object's kind or symbol;
    `object` the design object's name or ''. `zone` is the border zone (`C4`).
    """

    what: str
    kind: str
    object: str
    zone: str


@dataclass(frozen=True, slots=True)
class CallOut:
    """A link area from a callout or index row to another sheet."""

    x: float
    y: float
    width: float
    height: float
    to_sheet: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its identity, paper size, marks in drawing order, and the inventory of what is on it."""

    id: str
    title: str
    width_mm: float
    height_mm: float
    scale: str
    marks: tuple[Group, ...]
    inventory: tuple[Drawn, ...] = ()
    callouts: tuple[CallOut, ...] = ()
    # where findings may be put later: anchor of each drawn object, and blocks of empty room
    anchors: tuple[tuple[str, float, float], ...] = ()
    rooms: tuple[tuple[str, float, float, float, float], ...] = ()
    paper_per_ground: float = 0.0  # mm of paper per metre of ground for the main view; 0: not to scale


@dataclass(frozen=True, slots=True)
class SheetSet:
    """All sheets in set order."""

    sheets: tuple[Sheet, ...]
    family: str = "ansi-b"
    notes: tuple[str, ...] = field(default=())
