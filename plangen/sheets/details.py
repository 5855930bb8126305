"""The detail drawings: assembly elevations, boxes, tap, heads, trench sections. Parametric throughout."""

from __future__ import annotations

from collections.abc import Mapping

from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.sheets.details_assembly import assembly_panel
from plangen.sheets.details_boxes import box_panels
from plangen.sheets.details_head import head_panels
from plangen.sheets.details_trench import trench_panels
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
    required_m: Mapping[str, float] | None = None,
) -> tuple[Panel, ...]:
    """Return every detail of a design, the assemblies first.

    `system` is `us` or `metric`, `family` the sheet family. `required_m` gives, by assembly name, the
    height over the highest outlet that a rule asks for; without it only what is provided is lettered.
    """
    letters = lettering(family)
    need = required_m or {}
    devices = sorted(design.devices_of("assembly"), key=lambda d: natural(d.name))
    assemblies = [
        assembly_panel(design, surface, layout, d, system, letters, need.get(d.name))
        for d in devices
        if d.state != "removed"
    ]
    return (
        *(p for p in assemblies if p is not None),
        *box_panels(design, letters),
        *head_panels(design, system, letters),
        *trench_panels(design, system, letters),
    )
