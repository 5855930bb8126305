"""The backflow assembly against the foundation wall, to scale from its own height, clearance and covers.

The view looks along the wall. A figure that the design does not state is lettered NOT STATED, and what
has to be drawn in its stead is lettered as not to scale. Judges nothing: the rules do.
"""

from __future__ import annotations

from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.waterworks import Device
from plangen.sheets.details_assembly_figures import assembly_figures, view_bounds
from plangen.sheets.details_assembly_labels import body_labels, left_labels, right_labels
from plangen.sheets.details_assembly_levels import clearance_level, level_marks
from plangen.sheets.details_assembly_marks import body_marks, ground_marks, riser_marks
from plangen.sheets.details_section import Drawing, Section, enlarged, scale_text, section_panel
from plangen.sheets.panel import Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.viewport import DETAIL_SCALES, choose_scale
from plangen.terrain.surface import Surface

VIEW_MM = (110.0, 150.0)  # room for the view itself, without labels


def assembly_panel(
    design: Design,
    surface: Surface,
    layout: Layout,
    device: Device,
    system: str,
    letters: Lettering,
) -> Panel | None:
    """Return the elevation of one assembly, or None if its kind is not stated."""
    f = assembly_figures(design, surface, layout, device)
    if f is None:
        return None
    bounds = view_bounds(f)
    scales = DETAIL_SCALES[system]
    room = (VIEW_MM[0] * enlarged(letters.note), VIEW_MM[1] * enlarged(letters.note))
    denominator = choose_scale(bounds[2] - bounds[0], bounds[3] - bounds[1], *room, scales) or scales[-1]
    section = Section(denominator, 0.0, 0.0)
    height = letters.note
    levels, left_edge = level_marks(f, section, bounds, height, system)
    marks = (
        *ground_marks(f, section, bounds),
        *riser_marks(f, section),
        *body_marks(f, section, height),
        *levels,
    )
    top = min(section.at(0, bounds[3])[1], clearance_level(f, section, height) - height * 2.0)
    extent = (left_edge, top, section.at(bounds[2], 0)[0], section.at(0, bounds[1])[1])
    kind = ASSEMBLY_KINDS[device.assembly_kind]
    title = f"{device.name} {kind} at {device.wall or 'wall'}".upper()
    at = section.at(f.axis(f.shape.inlet[0]), f.level)
    widest = height * 19
    at_levels = left_labels(f, section, bounds, left_edge, system)
    at_inlet, at_outlet = body_labels(f, section, at_levels, top, height, widest)
    drawing = Drawing(
        marks,
        extent,
        (*at_levels, *at_inlet),
        (*right_labels(f, section, bounds), *at_outlet),
        (
            Noted("symbol", device.assembly_kind, device.name, *at),
            Noted("grade-line", "grade", device.name, *at),
        ),
        ((device.name, *at),),
    )
    return section_panel(
        drawing, "detail-assembly", device.name, title, scale_text(denominator, system), height, widest
    )
