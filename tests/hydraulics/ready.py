"""The residential example made ready for its studies, with pieces of its text replaced."""

from __future__ import annotations

from plangen.hydraulics.assemble import Assembly, assembly_of
from plangen.hydraulics.cases import Branches, branches
from plangen.hydraulics.junctions import fit
from plangen.hydraulics.supply import Supply, supply_of
from plangen.hydraulics.wiring import wire
from plangen.terrain.surface import Surface
from tests.hydraulics.residential import design_with


def ready_with(*changes: tuple[str, str]) -> tuple[Assembly, Branches]:
    """Return the assembled design and its branches."""
    design = design_with(*changes)
    surface = Surface.of(design)
    supply = supply_of(design.source, surface)
    assert isinstance(supply, Supply)
    wiring = wire(design)
    return assembly_of(design, surface, supply, wiring, fit(wiring)), branches(design, wiring, supply.node)
