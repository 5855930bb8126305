"""Takeoff of the trenches: open length and volume by cover, bedding, tape over pipes, wire beside them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from plangen.layout.results import TakeoffLine, Trench
from plangen.model.design import Design
from plangen.quantity.dimension import UNITS, Dimension
from plangen.quantity.display import told

_COMMON = " (common practice, no source)"
# Pipes under pressure at all times: tape and tracer are laid along these.
_UNDER_PRESSURE = ("service", "mainline", "nipple")


def trench_lines(design: Design, trenches: Sequence[Trench]) -> tuple[TakeoffLine, ...]:
    """Return the earthwork of the open part of every trench; trenches are not merged."""
    return (*_dug(design, trenches), *_bedded(design, trenches), *_along(design, trenches))


def _dug(design: Design, trenches: Sequence[Trench]) -> Iterator[TakeoffLine]:
    system = design.project.units
    length_unit, volume_unit = ("ft", "cuft") if system == "us" else ("m", "m3")
    stated = any(name == "trench width" for name, _ in design.procedure_facts)
    by_cover: dict[float, list[Trench]] = defaultdict(list)
    for trench in trenches:
        by_cover[-1.0 if trench.cover_m is None else round(trench.cover_m, 6)].append(trench)
    for cover in sorted(by_cover):
        here = by_cover[cover]
        size = (
            f"cover {told(cover, Dimension.LENGTH, system, small=True)}" if cover >= 0 else "cover not stated"
        )
        names = tuple(sorted(t.pipe for t in here))
        length = round(_open_m(here) / UNITS[length_unit].factor, 6)
        width = told(here[0].width_m, Dimension.LENGTH, system, small=True)
        note = f"{width} wide{'' if stated else _COMMON}; each pipe on its own, paving crossings left out"
        yield TakeoffLine("earthwork", "open trench", size, length, length_unit, length, note, names)
        volumes = [t.volume_m3 for t in here if t.volume_m3 is not None]
        if volumes:
            volume = round(sum(volumes) / UNITS[volume_unit].factor, 6)
            deep = f"{note}; to the trench floor, no swell added"
            yield TakeoffLine("earthwork", "excavation", size, volume, volume_unit, volume, deep, names)


def _bedded(design: Design, trenches: Sequence[Trench]) -> Iterator[TakeoffLine]:
    depth = next((q for name, q in design.procedure_facts if name == "bedding"), None)
    if depth is None or not trenches:
        return
    unit = "cuft" if design.project.units == "us" else "m3"
    volume_m3 = sum((t.length_m - t.under_paving_m) * t.width_m for t in trenches) * depth.si
    volume = round(volume_m3 / UNITS[unit].factor, 6)
    words = dict(design.procedure_words).get("bedding", "")
    item = f"bedding, {words}" if words else "bedding, material not stated"
    note = "width of the trench by depth of the bedding; not compacted, no waste added"
    names = tuple(sorted(t.pipe for t in trenches))
    yield TakeoffLine("earthwork", item, f"{depth.written} deep", volume, unit, volume, note, names)


def _along(design: Design, trenches: Sequence[Trench]) -> Iterator[TakeoffLine]:
    roles = {p.name: p.role for p in design.pipes}
    over = [t for t in trenches if roles.get(t.pipe) in _UNDER_PRESSURE]
    unit = "ft" if design.project.units == "us" else "m"
    length = round(_open_m(over) / UNITS[unit].factor, 6)
    names = tuple(sorted(t.pipe for t in over))
    for what in ("warning tape", "tracer wire"):
        words = dict(design.procedure_words).get(what)
        if words and over:
            note = "along service and mainline trenches; under paving and at ends none is counted"
            yield TakeoffLine("earthwork", f"{what}, {words}", "", length, unit, length, note, names)


def _open_m(trenches: Sequence[Trench]) -> float:
    return sum(t.length_m - t.under_paving_m for t in trenches)
