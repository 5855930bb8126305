"""The figures one backflow assembly is drawn from: metres above grade and from the wall.

What the design does not state has a stand-in for drawing only and a flag that says so.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.geometry.point import distance_to_polygon
from plangen.layout.results import Layout, OutletHeight
from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.sheets.details_bodies import Body, body
from plangen.sheets.details_section import NOT_STATED
from plangen.terrain.surface import Surface

# Stand-in sizes for bodies whose data sheet gives none (metres, length and height): drawn, never lettered.
_STAND_IN = {"rp": (0.40, 0.22), "dc": (0.36, 0.16), "air-gap": (0.60, 0.60)}
_STAND_IN_OTHER = (0.25, 0.22)
_STAND_IN_RISE = 0.45
_STAND_IN_CLEAR = 0.30


@dataclass(frozen=True, slots=True)
class AssemblyFigures:
    """The figures of one assembly in metres. A `..._known` flag tells a stated figure from a stand-in."""

    device: Device
    shape: Body
    length: float
    height: float
    body_known: bool
    level: float
    level_known: bool
    clear: float | None
    clear_text: str
    inlet: Pipe | None
    outlet: Pipe | None
    highest: OutletHeight | None
    outlet_above_grade: float | None

    def axis(self, x: float) -> float:
        """Return the place of a body x (0 to 1): the outlet side is turned to the wall at x = 0."""
        return -(self.clear if self.clear is not None else _STAND_IN_CLEAR) - (1.0 - x) * self.length

    def rise(self, z: float) -> float:
        """Return the height above grade of a body z (0 to 1)."""
        return self.level + (z - self.shape.level_z) * self.height


def assembly_figures(
    design: Design, surface: Surface, layout: Layout, device: Device
) -> AssemblyFigures | None:
    """Return what the elevation of an assembly is drawn from, or None if its kind is not stated."""
    shape = body(device.assembly_kind)
    if shape is None:
        return None
    part = device.part
    length = part.length if part else None
    height = part.height if part else None
    fallback = _STAND_IN.get(device.assembly_kind, _STAND_IN_OTHER)
    clear, clear_text = _clearance(design, device)
    highest = max(
        (h for h in layout.heights if h.assembly == device.name and h.elevation_m is not None),
        key=lambda h: (h.elevation_m or 0.0, h.outlet),
        default=None,
    )
    grade = surface.elevation_m(device.point)
    above = None
    if highest is not None and highest.elevation_m is not None and grade is not None:
        above = highest.elevation_m - grade
    return AssemblyFigures(
        device,
        shape,
        length.si if length else fallback[0],
        height.si if height else fallback[1],
        length is not None and height is not None,
        device.height.si if device.height else _STAND_IN_RISE,
        device.height is not None,
        clear,
        clear_text,
        next((p for p in design.pipes if p.route[-1].node == device.name), None),
        next((p for p in design.pipes if p.route[0].node == device.name), None),
        highest,
        above,
    )


def _clearance(design: Design, device: Device) -> tuple[float | None, str]:
    if device.wall_clearance is not None:
        return device.wall_clearance.si, f"{device.wall_clearance.written} CLEAR"
    wall = design.area(device.wall) if device.wall else None
    if wall is None:
        return None, f"CLEARANCE {NOT_STATED}"
    plan = told(distance_to_polygon(device.point, wall.outline), Dimension.LENGTH, design.project.units)
    return None, f"CLEARANCE {NOT_STATED} (CENTRE ON PLAN {plan} FROM {device.wall})"


def view_bounds(f: AssemblyFigures) -> tuple[float, float, float, float]:
    """Return (left, bottom, right, top) of the view in metres."""
    covers = [p.cover.si + p.size.od_m for p in (f.inlet, f.outlet) if p is not None and p.cover is not None]
    bottom = -max([*covers, 0.15]) - 0.12
    top = max(f.rise(1.0), 0.0) + 0.15
    if f.outlet_above_grade is not None:
        # A line a little out of the view is taken in; one far off is shown beyond a break.
        if top < f.outlet_above_grade < top + 0.8:
            top = f.outlet_above_grade + 0.1
        if bottom - 0.4 < f.outlet_above_grade < bottom:
            bottom = f.outlet_above_grade - 0.1
    bottom = min(bottom, f.rise(0.0) - 0.15)
    return f.axis(0.0) - 0.22, bottom, 0.10, top
