"""The detail drawings: assembly elevations, boxes, tap, heads, trench sections. Parametric throughout."""

from __future__ import annotations

from dataclasses import replace

from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.sheets.details_assembly import assembly_panel
from plangen.sheets.details_boxes import box_panels
from plangen.sheets.details_head import head_panels
from plangen.sheets.details_trench import trench_panels
from plangen.sheets.details_wire import drip_row_panels, wire_panels
from plangen.sheets.panel import Panel
from plangen.sheets.pens import lettering
from plangen.sheets.procedure_fill import natural
from plangen.terrain.surface import Surface


def details_panels(
    design: Design,
    surface: Surface,
    layout: Layout,
    system: str,
    family: str,
    note: float = 0.0,
) -> tuple[Panel, ...]:
    """Return every detail of a design, the assemblies first.

    `system` is `us` or `metric`, `family` the sheet family, `note` the height of the lettering (0: the
    family's own). What is required stands beside what is provided
    only once rules have been asked: the assemblies keep room for it.
    """
    letters = lettering(family)
    letters = replace(letters, note=note or letters.note)
    devices = sorted(design.devices_of("assembly"), key=lambda d: natural(d.name))
    assemblies = [
        assembly_panel(design, surface, layout, d, system, letters) for d in devices if d.state != "removed"
    ]
    return (
        *(p for p in assemblies if p is not None),
        *box_panels(design, system, letters),
        *head_panels(design, system, letters),
        *drip_row_panels(design, system, letters),
        *wire_panels(design, system, letters),
        *trench_panels(design, system, letters),
    )
