"""Schedules of what is planted and what is fitted: hydrozones; devices with their ratings and listings."""

from __future__ import annotations

import math

from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.site import Tree
from plangen.model.waterworks import Device, Zone
from plangen.quantity.dimension import Dimension
from plangen.sheets.schedule_words import UNKNOWN, natural, say, say_si
from plangen.sheets.tables import Column, Row, Table

_D = Dimension
_NOT_GIVEN = "not given"
# Joints and fittings that are no product to be submitted.
_FITTINGS = ("tee", "tap")


def _tree_row(zone: Zone, tree: Tree, units: str) -> Row:
    """Return what is said of a tree that has outlets of its own; its ground is that under the canopy."""
    ground = math.pi * tree.canopy.si**2 / 4.0 if tree.canopy else None
    factor = say(tree.plant_factor, units) if tree.plant_factor else UNKNOWN
    plant = f"tree, {tree.label}" if tree.label else "tree"
    canopy = say_si(ground, _D.AREA, units)
    return Row((zone.name, tree.name, plant, factor, _NOT_GIVEN, _NOT_GIVEN, UNKNOWN, canopy), zone.name)


def hydrozone_table(design: Design, layout: Layout) -> Table:
    """Return what each zone waters: plants, sun, soil, slope and area, as the design states them."""
    units = design.project.units
    ground = {c.area: c.ground_m2 for c in layout.coverage}
    rows = []
    for zone in design.zones:
        for name in zone.areas:
            area = design.area(name)
            if area is None:
                continue
            rows.append(
                Row(
                    (
                        zone.name,
                        area.label or area.name,
                        area.plant or _NOT_GIVEN,
                        say(area.plant_factor, units) if area.plant_factor else UNKNOWN,
                        area.exposure or _NOT_GIVEN,
                        area.soil or _NOT_GIVEN,
                        say(area.slope, units) if area.slope else UNKNOWN,
                        say_si(ground.get(name), _D.AREA, units),
                    ),
                    zone.name,
                )
            )
        rows += [_tree_row(zone, tree, units) for tree in design.site.trees if tree.name in zone.trees]
    columns = (
        Column("Zone"),
        Column("Area", widest=34.0),
        Column("Plants", widest=34.0),
        Column("Plant factor", "end"),
        Column("Sun", widest=24.0),
        Column("Soil", widest=24.0),
        Column("Slope", "end"),
        Column("Ground", "end"),
    )
    note = "Ground is the whole of the area; several zones may share it."
    return Table("Hydrozones", "hydrozones", columns, tuple(rows), note, "No zone names what it waters.")


def equipment_table(design: Design) -> Table:
    """Return the devices by tag: what each is, size, height at its place, rating, listing, product to submit.

    Devices that agree in all of that share a row.
    """
    alike: dict[tuple[str, ...], list[str]] = {}
    devices = [d for d in design.devices if d.kind not in _FITTINGS and d.state != "removed"]
    for d in sorted(devices, key=lambda d: (d.kind, natural(d.name))):
        alike.setdefault(_told(d, design.project.units), []).append(d.name)
    rows = tuple(
        Row((", ".join(names), *told), names[0] if len(names) == 1 else "") for told, names in alike.items()
    )
    columns = (
        Column("Tag", widest=24.0),
        Column("What", widest=52.0),
        Column("Size"),
        Column("Over grade", "end"),
        Column("Rated", "end"),
        Column("Listing", widest=24.0),
        Column("Product submitted, by the installer"),
    )
    note = "Over grade: of its axis, critical level or relief port at its place; a negative height is below."
    return Table("Equipment schedule", "equipment", columns, rows, note)


def _told(d: Device, units: str) -> tuple[str, ...]:
    rating = d.part.pressure_rating if d.part else None
    return (
        _what(d),
        d.size.written if d.size else UNKNOWN,
        say(d.height, units, small=True) if d.height else UNKNOWN,
        say(rating, units) if rating else UNKNOWN,
        d.listing or (d.part.listing if d.part else "") or "-",
        d.state if d.state == "existing" else "",
    )


def _what(device: Device) -> str:
    if device.part is not None and device.part.label:
        return device.part.label
    kind = ASSEMBLY_KINDS.get(device.assembly_kind, "") if device.kind == "assembly" else ""
    return device.label or kind or device.kind.replace("-", " ")
