"""What happens when things are not as designed, and the year's water, as plain data for the report. Pure.

A field keeps its name without its unit; null is not known, and `missing` says why.
"""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from plangen.build.report_values import Facts, pressure_facts, quantity_facts, significant
from plangen.hydraulics.studies import Studies
from plangen.layout.results import Layout
from plangen.quantity.dimension import Dimension

# Fields in metres that are lengths; all others in metres are pressure heads.
_LENGTHS = ("above_source_m", "above_house_m", "above_assembly_m", "difference_m", "length_m")
_SUFFIXES = (("_m3s", Dimension.FLOW), ("_m3", Dimension.VOLUME))


def studies_facts(studies: Studies | None, units: str) -> Facts | None:
    """Return the studies of a solved design, or None where the source itself is not known."""
    if studies is None:
        return None
    facts: Facts = {}
    for field in fields(studies):
        if field.name == "inputs":
            continue
        value = getattr(studies, field.name)
        if isinstance(value, str):
            facts[field.name] = value
        elif isinstance(value, tuple):
            facts[field.name] = [v if isinstance(v, str) else _row(v, units) for v in value]
        else:
            facts[field.name] = _row(value, units)
    return facts


def _row(thing: Any, units: str) -> Facts:
    """Return one result with its figures in the project's units."""
    row: Facts = {}
    for field in fields(thing):
        if field.name == "inputs":
            continue
        name, value = _figure(field.name, getattr(thing, field.name), units)
        row[name] = value
    return row


def _figure(name: str, value: Any, units: str) -> tuple[str, Any]:
    if isinstance(value, tuple):
        return name, list(value)
    for suffix, dimension in _SUFFIXES:
        if name.endswith(suffix):
            return name.removesuffix(suffix), quantity_facts(value, dimension, units)
    if name in _LENGTHS:
        return name.removesuffix("_m"), quantity_facts(value, Dimension.LENGTH, units)
    if name.endswith("_m"):
        return name.removesuffix("_m"), pressure_facts(value, units)
    if name.endswith("_s"):
        seconds = None if value is None else {"value": significant(value), "unit": "s"}
        return name.removesuffix("_s"), seconds
    return name, value


def year_facts(layout: Layout, units: str) -> Facts | None:
    """Return the water of the year by zone and month, or None where no month is stated."""
    year = layout.year
    if year is None:
        return None
    minute = 60.0

    def time(minutes: float | None) -> Facts | None:
        return None if minutes is None else quantity_facts(minutes * minute, Dimension.TIME, units)

    return {
        "zones": [
            {
                "zone": z.zone,
                "month": z.month,
                "need": quantity_facts(z.need_m, Dimension.LENGTH, units, small=True),
                "time_per_week": time(z.minutes_per_week),
                "cycles": z.cycles,
                "time_per_cycle": time(z.minutes_per_cycle),
                "volume": quantity_facts(z.volume_m3, Dimension.VOLUME, units),
            }
            for z in year.zones
        ],
        "months": [
            {
                "month": m.month,
                "time_per_day": time(m.minutes_per_day),
                "fits_window": m.fits,
                "volume": quantity_facts(m.volume_m3, Dimension.VOLUME, units),
            }
            for m in year.months
        ],
        "volume": quantity_facts(year.volume_m3, Dimension.VOLUME, units),
        "missing": list(year.missing),
        "notes": list(year.notes),
    }


def wire_facts(layout: Layout, units: str) -> list[Facts]:
    """Return the voltage that the wire to each valve takes."""
    return [
        {
            "device": w.device,
            "length": quantity_facts(w.length_m, Dimension.LENGTH, units),
            "copper_mm2": None if w.area_m2 is None else significant(w.area_m2 * 1e6),
            "drop": quantity_facts(w.drop_v, Dimension.VOLTAGE, units),
            "inrush_drop": quantity_facts(w.inrush_v, Dimension.VOLTAGE, units),
            "missing": list(w.missing),
        }
        for w in layout.wire_drops
    ]
