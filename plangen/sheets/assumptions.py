"""Every value of the design that is not measured, declared or documented: what the cover must admit to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from typing import Any

from plangen.model.design import Design
from plangen.model.parts import Part, PipeSize
from plangen.quantity.quantity import Quantity


def assumptions(design: Design) -> tuple[tuple[str, str, str], ...]:
    """Return (what, value as written, why it is believed) for each value that cannot decide a required rule.

    Parts and pipe classes are listed once, however often they are used.
    """
    found: dict[tuple[str, str, str], None] = {}
    for name, thing in _things(design):
        for what, value, why in _weak(name, thing):
            found[(what, value, why)] = None
    return tuple(found)


def _things(design: Design) -> Iterable[tuple[str, Any]]:
    site = design.site
    yield "site", site
    for area in (site.lot, *site.buildings, *site.paving, *site.planting, *site.other):
        if area is not None:
            yield area.name, area
    for i, grade in enumerate(site.grades, 1):
        yield f"grade {i}", grade
    lines: tuple[Any, ...] = (*site.utilities, *site.trees, *design.devices, *design.pipes, *design.sleeves)
    outlets: tuple[Any, ...] = (*design.zones, *design.heads, *design.drips)
    for thing in (*lines, *outlets):
        yield thing.name, thing
    for end in (design.source, design.house, design.control):
        if end is not None:
            yield end.name, end
    yield from design.procedure_facts


def _weak(name: str, thing: Any) -> Iterable[tuple[str, str, str]]:
    """Weak values among a thing's own fields; parts and pipe classes under their own names."""
    if isinstance(thing, Quantity):
        if not thing.provenance.basis.decides:
            yield name, thing.written, thing.provenance.told()
        return
    if isinstance(thing, PipeSize):
        if not thing.provenance.basis.decides:
            yield f"{thing.family} {thing.nominal}", "dimensions and rating", thing.provenance.told()
        yield from _weak_family(thing)
        return
    if isinstance(thing, Part) and not thing.provenance.basis.decides:
        yield f"part {thing.name}", "its whole data", thing.provenance.told()
        return
    if not is_dataclass(thing):
        return
    for field in fields(thing):
        value = getattr(thing, field.name)
        if isinstance(value, Quantity):
            yield from _weak(f"{_own(name, thing)} {field.name.replace('_', ' ')}", value)
        elif isinstance(value, Part | PipeSize):
            yield from _weak(name, value)
        elif isinstance(value, tuple):
            for item in value:
                if isinstance(item, Quantity):
                    yield from _weak(f"{_own(name, thing)} {field.name.replace('_', ' ')}", item)


def _weak_family(size: PipeSize) -> Iterable[tuple[str, str, str]]:
    """Weak values of a pipe's family: its roughness and its stiffness have sources of their own."""
    if not size.c_provenance.basis.decides:
        words = f"{size.hazen_williams_c:g}"
        yield f"Hazen-Williams C of {size.family}", words, size.c_provenance.told()
    if size.modulus_pa is not None and not size.modulus_provenance.basis.decides:
        words = f"{size.modulus_pa / 1e9:g} GPa, for surge"
        yield f"modulus of {size.family}", words, size.modulus_provenance.told()


def _own(name: str, thing: Any) -> str:
    return f"part {thing.name}" if isinstance(thing, Part) else name
