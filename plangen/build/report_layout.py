"""Coverage, watering schedule and takeoff as plain data for the report. Pure."""

from __future__ import annotations

from plangen.build.report_values import Facts, quantity_facts, significant
from plangen.layout.results import Layout
from plangen.quantity.dimension import Dimension


def coverage_facts(layout: Layout, units: str) -> list[Facts]:
    """Return how each planting area is watered. The grid of cells is left out: only its size is told."""
    return [
        {
            "area": c.area,
            "zones": list(c.zones),
            "ground": quantity_facts(c.ground_m2, Dimension.AREA, units),
            "flow": quantity_facts(c.flow_m3s, Dimension.FLOW, units),
            "mean_rate": quantity_facts(c.mean_rate_ms, Dimension.RATE, units),
            "low_quarter_uniformity": quantity_facts(c.low_quarter, Dimension.RATIO, units),
            "dry_share": quantity_facts(c.dry_share, Dimension.RATIO, units),
            "cell": quantity_facts(c.cell_m, Dimension.LENGTH, units),
            "cells": len(c.grid),
        }
        for c in layout.coverage
    ]


def low_head_facts(layout: Layout, units: str) -> list[Facts]:
    """Return what runs out of each zone's lowest outlets when it stops; null where it is not known."""
    return [
        {
            "zone": x.zone,
            "difference": quantity_facts(x.difference_m, Dimension.LENGTH, units),
            "lowest": list(x.lowest),
            "checked": x.checked,
            "volume": quantity_facts(x.volume_m3, Dimension.VOLUME, units),
            "drained": quantity_facts(x.drained_m3, Dimension.VOLUME, units),
            "outlet": x.outlet,
            "missing": x.missing,
        }
        for x in layout.low_heads
    ]


def schedule_facts(layout: Layout, units: str) -> list[Facts]:
    """Return each zone's watering in the peak month; null where an input is missing."""
    minute = 60.0
    return [
        {
            "zone": s.zone,
            "rate": quantity_facts(s.rate_ms, Dimension.RATE, units),
            "depth_per_week": quantity_facts(s.depth_per_week_m, Dimension.LENGTH, units, small=True),
            "time_per_week": _minutes(s.minutes_per_week, minute, units),
            "cycles": s.cycles,
            "time_per_cycle": _minutes(s.minutes_per_cycle, minute, units),
            "volume_per_week": quantity_facts(s.volume_per_week_m3, Dimension.VOLUME, units),
        }
        for s in layout.schedule
    ]


def _minutes(minutes: float | None, minute_s: float, units: str) -> Facts | None:
    return None if minutes is None else quantity_facts(minutes * minute_s, Dimension.TIME, units)


def takeoff_facts(layout: Layout) -> list[Facts]:
    """Return the bill of materials: quantity to buy and net quantity, in the unit it is counted in."""
    return [
        {
            "group": t.group,
            "item": t.item,
            "size": t.size,
            "quantity": {"value": significant(t.quantity), "unit": t.unit},
            "net": {"value": significant(t.net), "unit": t.unit},
            "note": t.note,
            "objects": list(t.objects),
        }
        for t in layout.takeoff
    ]
