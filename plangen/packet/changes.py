"""What differs between two designs, object by object and field by field, in words. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass

from plangen.model.design import Design
from plangen.model.parts import Part
from plangen.model.waterworks import Stop
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import number
from plangen.quantity.quantity import DECLARED, Quantity, si_to
from plangen.text.source import Span

# What has no meaning of its own: where a thing was said, and what follows from other fields.
_UNSAID = ("span", "along_m", "reach_m", "hazards_span")
# Revisions are the answers themselves; names head their object.
_LEFT_OUT = ("revisions", "name")
_NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Change:
    """One field of one object: what it read and what it reads. A new or removed object has one empty side."""

    object: str
    kind: str
    field: str
    before: str
    after: str


def changes(before: Design, after: Design) -> tuple[Change, ...]:
    """Return every change, in the order of kinds and names."""
    old, new = _objects(before), _objects(after)
    found: list[Change] = []
    for key in sorted(old.keys() | new.keys()):
        kind, name = key
        was, now = old.get(key), new.get(key)
        if was is None or now is None:
            found.append(
                Change(name, kind, "", "" if was is None else "stood", "" if now is None else "stands")
            )
            continue
        for field in sorted(was.keys() | now.keys()):
            a, b = was.get(field, _NOTHING), now.get(field, _NOTHING)
            if a != b:
                found.append(Change(name, kind, field.replace("_", " "), a, b))
    return tuple(found)


def _objects(design: Design) -> dict[tuple[str, str], dict[str, str]]:
    """Return every object of a design by kind and name, each with its fields in words."""
    units = design.project.units
    found: dict[tuple[str, str], dict[str, str]] = {}
    parts: dict[str, Part] = {}
    for kind, name, value in _named(design):
        key, n = (kind, name), 2
        while key in found:
            key, n = (kind, f"{name} ({n})"), n + 1
        found[key] = dict(_words(value, units))
        part = getattr(value, "part", None)
        if isinstance(part, Part):
            parts[part.name] = part
    for name, part in sorted(parts.items()):
        found["part", name] = dict(_words(part, units))
    return found


def _named(design: Design) -> Iterator[tuple[str, str, object]]:
    yield "project", "project", design.project
    for field in fields(design):
        value = getattr(design, field.name)
        if field.name in ("project", *_UNSAID):
            continue
        if field.name == "site":
            yield from _site(value)
        elif field.name in ("procedure_facts", "procedure_words"):
            yield from (("fact", name, said) for name, said in value)
        else:
            yield from _each(field.name, value)


def _site(site: object) -> Iterator[tuple[str, str, object]]:
    """Return the things of the ground, and what is said of the site itself."""
    for field in fields(site):  # type: ignore[arg-type]
        value = getattr(site, field.name)
        listed = isinstance(value, tuple) and value and is_dataclass(value[0])
        if listed or (is_dataclass(value) and not isinstance(value, (Quantity, Span))):
            yield from _each(field.name, value)
        elif field.name not in _UNSAID:
            yield "site", field.name.replace("_", " "), value


def _each(role: str, value: object) -> Iterator[tuple[str, str, object]]:
    things = value if isinstance(value, tuple) else () if value is None else (value,)
    for n, thing in enumerate(things, start=1):
        kind = str(getattr(thing, "kind", "") or role.rstrip("s")).replace("-", " ").replace("_", " ")
        names = [getattr(thing, f, "") for f in ("name", "question", "rule", "label")]
        point = getattr(thing, "point", None)
        place = f"{kind} at ({point[0]:.3f}, {point[1]:.3f})" if point is not None else f"{role} {n}"
        name = next((str(x) for x in names if x), place)
        subject = getattr(thing, "subject", "")
        yield kind, f"{name} {subject}".strip(), thing


def _words(value: object, units: str, lead: str = "") -> Iterator[tuple[str, str]]:
    """Return the fields of a value in words; a value within a value is told with its own fields."""
    if isinstance(value, Quantity) or not is_dataclass(value):
        yield lead or "value", _word(value, units)
        return
    for field in fields(value):
        inner = getattr(value, field.name)
        if field.name in (*_UNSAID, *_LEFT_OUT) or isinstance(inner, Span):
            continue
        name = f"{lead} {field.name}".strip()
        if isinstance(inner, Part):
            yield name, inner.name
        elif is_dataclass(inner) and not isinstance(inner, (Quantity, Stop, type)):
            yield from _words(inner, units, name)
        else:
            yield name, _word(inner, units)


def _word(value: object, units: str) -> str:
    """Return one value in words."""
    if value is None or value == "" or value == ():
        return _NOTHING
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Quantity):
        basis = "" if value.provenance == DECLARED else f" {value.provenance.told()}"
        return f"{value.written}{basis}"
    if isinstance(value, Stop):
        return value.node or _word(value.point, units)
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, float):
        return number(value, 3)
    if isinstance(value, tuple):
        if len(value) == 2 and all(isinstance(v, float) for v in value):
            unit = "ft" if units == "us" else "m"
            x, y = (number(si_to(v, Dimension.LENGTH, unit), 2) for v in value)
            return f"({x}, {y}) {unit}"
        return ", ".join(_word(v, units) for v in value)
    if is_dataclass(value):
        return ", ".join(f"{k} {w}" for k, w in _words(value, units) if w != _NOTHING)
    return str(value)
