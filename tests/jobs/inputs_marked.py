"""Each provenance-carrying value of a design, found, marked assumed, or moved.

Works on the design as read: a stated quantity is found by its place in the text, wherever it was taken up. A
nominal size comes in steps: moved far it is the next one, moved a little its figures go a share of the way
there. The rows and factors of the pipe table are moved too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from plangen.model.design import Design
from plangen.model.parts import PipeSize
from plangen.model.pipe_table import PIPE_TABLE
from plangen.model.waterworks import Pipe, Sleeve
from plangen.quantity.dimension import Dimension
from plangen.quantity.quantity import Basis, Provenance, Quantity
from plangen.text.source import Span

# Told apart from what the design itself assumes.
ASSUMED = Provenance(Basis.ASSUMED, None, "marked to see who cites it")
# An elevation is far from its datum and a temperature from its zero: they move by so much, in SI.
_STEPS = {Dimension.TEMPERATURE: 1.0}
_GRADE_STEP_M = 0.03
# What is nought has no share of itself: it moves by a share of this, in SI.
_FROM_NOUGHT = {Dimension.PRESSURE: 1e5, Dimension.FLOW: 1e-4}
_FIGURES = ("bore_m", "od_m", "wall_m", "rating_pa")
_A_ROW = 0.1

Key = Span | tuple[str, str]  # a place in the text, or a family and what of it: size, C, modulus


@dataclass(frozen=True, slots=True)
class Stated:
    """One value: where in the design it is first met, and how it is told apart."""

    what: str
    key: Key
    dimension: Dimension | None = None


def keys_of(design: Design) -> tuple[Stated, ...]:
    """Return every value of a design that carries a provenance, each once."""
    found: dict[Key, Stated] = {}
    for what, value in _walk("", design):
        for each in _keys(what, value):
            found.setdefault(each.key, each)
    return tuple(found.values())


def _keys(what: str, value: object) -> Iterator[Stated]:
    if isinstance(value, Quantity) and value.span is not None:
        yield Stated(what, value.span, value.dimension)
    elif isinstance(value, PipeSize):
        yield Stated(f"{value.family} {value.nominal}", (value.family, value.nominal))
        yield Stated(f"C of {value.family}", (value.family, "C"))
        yield Stated(f"modulus of {value.family}", (value.family, "modulus"))


def _walk(what: str, value: Any) -> Iterator[tuple[str, object]]:
    yield what, value
    if isinstance(value, tuple):
        for n, item in enumerate(value):
            yield from _walk(f"{what}.{getattr(item, 'name', n)}", item)
    elif is_dataclass(value) and not isinstance(value, Quantity | PipeSize | Span | Provenance):
        for f in fields(value):
            yield from _walk(f"{what}.{f.name}".strip("."), getattr(value, f.name))


def changed(value: Any, change: Callable[[Any], Any], done: dict[int, Any]) -> Any:
    """Return a frozen value with a change made to each quantity and row of the pipe table in it."""
    if id(value) in done:
        return done[id(value)]
    new = value
    if isinstance(value, Quantity | PipeSize):
        new = change(value)
    elif isinstance(value, tuple) and value and type(value) is tuple:
        items = tuple(changed(v, change, done) for v in value)
        new = items if any(a is not b for a, b in zip(items, value, strict=True)) else value
    elif is_dataclass(value) and not isinstance(value, Span | Provenance):
        whole = {f.name: getattr(value, f.name) for f in fields(value)}
        after = {k: changed(v, change, done) for k, v in whole.items()}
        differs = {k: v for k, v in after.items() if v is not whole[k]}
        if isinstance(value, Pipe | Sleeve) and "nominal" in differs and differs["nominal"] is not None:
            differs = _resized(value, differs)
        new = replace(value, **differs) if differs else value
    done[id(value)] = new
    return new


def _resized(pipe: Pipe | Sleeve, differs: dict[str, Any]) -> dict[str, Any]:
    """Return the changes of a pipe whose size moved: the next row of its family, or a share of the way there.

    A row is no small move: on its own it may turn what is a condition elsewhere, as an outlet's range.
    """
    assert pipe.nominal is not None
    share = differs["nominal"].si / pipe.nominal.si - 1.0
    if share == 0.0:
        return differs
    row, back = (next_size(pipe.size, up=up) for up in (share > 0, share < 0))
    if row is not None:
        return {**differs, "size": row if abs(share) >= _A_ROW else _towards(pipe.size, row, abs(share))}
    # Beyond the last row of a family its figures go on as they came, a little.
    return {} if back is None else {**differs, "size": _towards(pipe.size, back, -min(abs(share), _A_ROW))}


def _towards(size: PipeSize, row: PipeSize, share: float) -> PipeSize:
    """Return a row whose figures lie between those of two by a share."""
    pairs = {f: (getattr(size, f), getattr(row, f)) for f in _FIGURES}
    return replace(size, **{f: a + share * (b - a) for f, (a, b) in pairs.items() if a and b})


def next_size(size: PipeSize, *, up: bool) -> PipeSize | None:
    """Return the next row of a family, larger or smaller."""
    rows = sorted((r for (family, _), r in PIPE_TABLE.items() if family == size.family), key=_od)
    at = next(n for n, r in enumerate(rows) if r.nominal == size.nominal) + (1 if up else -1)
    return rows[at] if 0 <= at < len(rows) else None


def _od(row: PipeSize) -> float:
    return row.od_m


def marked(design: Design, key: Key) -> Design:
    """Return the design with one value marked assumed."""
    return marked_each(design, {key: ASSUMED})


def marked_each(design: Design, marks: dict[Key, Provenance]) -> Design:
    """Return the design with each value marked by a provenance of its own."""

    def change(value: Quantity | PipeSize) -> Quantity | PipeSize:
        if isinstance(value, Quantity):
            mark = marks.get(value.span) if value.span is not None else None
            return value if mark is None else value.with_provenance(mark)
        rows = ((_row_field(value, key), mark) for key, mark in marks.items())
        return replace(value, **{field[0]: mark for field, mark in rows if field is not None})

    return changed(design, change, {})  # type: ignore[no-any-return]


def moved(design: Design, key: Key, share: float) -> Design:
    """Return the design with one value moved by a share of itself; nought moves by a share of one."""

    def change(value: Quantity | PipeSize) -> Quantity | PipeSize:
        if isinstance(value, Quantity):
            return replace(value, si=_moved_si(value, share)) if value.span == key else value
        field = _row_field(value, key)
        if field is None:
            return value
        return replace(
            value, **{f: getattr(value, f) * (1 + share) for f in field[1] if getattr(value, f) is not None}
        )

    return changed(design, change, {})  # type: ignore[no-any-return]


def _moved_si(value: Quantity, share: float) -> float:
    if value.dimension in _STEPS:
        return value.si + share * 100 * _STEPS[value.dimension]
    if value.si == 0.0:
        return abs(share) * _FROM_NOUGHT.get(value.dimension, 1.0)
    if value.dimension is Dimension.LENGTH and value.si > 20.0:
        return value.si + share * 100 * _GRADE_STEP_M
    return value.si * (1 + share)


def _row_field(size: PipeSize, key: Key) -> tuple[str, tuple[str, ...]] | None:
    """Return the provenance and the figures of a row that a key stands for, or None."""
    if not isinstance(key, tuple) or key[0] != size.family:
        return None
    if key[1] == "C":
        return "c_provenance", ("hazen_williams_c",)
    if key[1] == "modulus":
        return "modulus_provenance", ("modulus_pa",)
    return ("provenance", _FIGURES) if key[1] == size.nominal else None
