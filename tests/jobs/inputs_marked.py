"""Each provenance-carrying value of an example marked assumed, or moved: which findings cite it, which move.

Works on the design as read: a stated quantity is found by its place in the text, wherever it was taken up. A
nominal size comes in steps and moves to the next one; the rows and factors of the pipe table are moved too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from plangen.build.inputs import Input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Checked, run_stages
from plangen.checking.check import check
from plangen.checking.finding import Finding
from plangen.facts.collect import collect
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.model.design import Design
from plangen.model.parts import PipeSize
from plangen.model.pipe_table import PIPE_TABLE
from plangen.model.waterworks import Pipe, Sleeve
from plangen.quantity.dimension import Dimension
from plangen.quantity.quantity import Basis, Provenance, Quantity
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile, Span

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
ASSUMED = Provenance(Basis.ASSUMED)
# An elevation is far from its datum and a temperature from its zero: they move by so much, in SI.
_STEPS = {Dimension.TEMPERATURE: 1.0}
_GRADE_STEP_M = 0.03
# What is nought has no share of itself: it moves by a share of this, in SI.
_FROM_NOUGHT = {Dimension.PRESSURE: 1e5, Dimension.FLOW: 1e-4}

Key = Span | tuple[str, str]  # a place in the text, or a family and what of it: size, C, modulus


@dataclass(frozen=True, slots=True)
class Stated:
    """One value: where in the design it is first met, and how it is told apart."""

    what: str
    key: Key
    dimension: Dimension | None = None


@dataclass(frozen=True, slots=True)
class Figures:
    """What is compared of a finding: its verdict, its numbers, and what it cites as assumed."""

    status: str
    numbers: tuple[float | str | None, ...]
    assumed: frozenset[str]

    @property
    def of_words(self) -> bool:
        """Return whether it rests on a yes, a no or a word: a small move of an input need not turn that."""
        return not isinstance(self.numbers[0], float)


@cache
def example(name: str) -> Checked:
    """Return an example worked out, with its sheets."""
    path = EXAMPLES / name / "design.plan"
    data = path.read_bytes()
    packs = read_packs().value
    assert packs is not None
    run = run_stages(
        Input("design.plan", data, SourceFile.of("design.plan", data.decode())), packs, lambda _: None
    )
    assert run.checked is not None, run.problems
    return run.checked


@cache
def stated(name: str) -> tuple[Stated, ...]:
    """Return every value of an example that carries a provenance, each once, in the order of the design."""
    return keys_of(example(name).design)


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
    """Return the changes of a pipe whose nominal size moved: a step up or down its family."""
    assert pipe.nominal is not None
    step = differs["nominal"].si - pipe.nominal.si
    if step == 0.0:
        return differs
    row = next_size(pipe.size, up=step > 0)
    return {**differs, "size": row} if row is not None else {}


def next_size(size: PipeSize, *, up: bool) -> PipeSize | None:
    """Return the next row of a family, larger or smaller."""
    rows = sorted((r for (family, _), r in PIPE_TABLE.items() if family == size.family), key=_od)
    at = next(n for n, r in enumerate(rows) if r.nominal == size.nominal) + (1 if up else -1)
    return rows[at] if 0 <= at < len(rows) else None


def _od(row: PipeSize) -> float:
    return row.od_m


def marked(design: Design, key: Key) -> Design:
    """Return the design with one value marked assumed."""

    def change(value: Quantity | PipeSize) -> Quantity | PipeSize:
        if isinstance(value, Quantity):
            return value.with_provenance(ASSUMED) if value.span == key else value
        field = _row_field(value, key)
        return value if field is None else replace(value, **{field[0]: ASSUMED})

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
    return ("provenance", ("bore_m", "od_m", "wall_m", "rating_pa")) if key[1] == size.nominal else None


def figures(name: str, design: Design) -> dict[str, Figures]:
    """Return the figures of the findings on a changed design; the sheets are those of the example."""
    base = example(name)
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    facts = collect(design, surface, hydraulics, layout, base.sheets)
    project = design.project
    outcome = check(base.packs, facts, design.waivers, design.confirmations, project.issued, project.units)
    return {f.id: _figures(f) for f in outcome.value or ()}


@cache
def before(name: str) -> dict[str, Figures]:
    """Return the figures of an example as written."""
    return figures(name, example(name).design)


def _figures(finding: Finding) -> Figures:
    sides = (finding.measured, finding.at_least, finding.at_most)
    numbers = tuple(None if m is None else (m.si if m.si is not None else m.words) for m in sides)
    weak = frozenset(e.name for e in finding.evidence if e.provenance.basis is Basis.ASSUMED)
    return Figures(finding.status.value, numbers, weak)


def that_cite(name: str, key: Key) -> set[str]:
    """Return the findings that cite more as assumed, or say something else, once the value is marked.

    A row that a rule leaves out on an assumed value comes as a finding of its own: it has no figures before.
    """
    base = before(name)
    after = figures(name, marked(example(name).design, key))
    kept = ((i, f, base[i]) for i, f in after.items() if i in base)
    return {i for i, f, was in kept if f.assumed != was.assumed or f.status != was.status}


def that_move(name: str, key: Key, shares: Iterable[float], close: float = 1e-8) -> set[str]:
    """Return the findings whose verdict or numbers change when the value is moved by any of some shares."""
    base = before(name)
    found: set[str] = set()
    for share in shares:
        design = moved(example(name).design, key, share)
        if design is example(name).design:
            continue
        after = figures(name, design)
        found |= {i for i, f in base.items() if i not in after or _differ(f, after[i], close)}
    return found


def _differ(one: Figures, other: Figures, close: float) -> bool:
    if one.status != other.status:
        return True
    return any(_apart(a, b, close) for a, b in zip(one.numbers, other.numbers, strict=True))


def _apart(a: float | str | None, b: float | str | None, close: float) -> bool:
    if isinstance(a, float) and isinstance(b, float):
        return abs(a - b) > close * max(abs(a), abs(b), 1e-6)
    return a != b


SMALL = (1e-4, -1e-4)
# What decides a whole number or a choice moves nothing until it is moved further.
GREAT = (0.01, -0.01, 0.1, -0.1, 0.5, -0.5, 3.0, -1.0)


def compared(name: str, key: Key) -> tuple[set[str], set[str]]:
    """Return the findings that move and do not cite, and those of a number that cite and never move.

    A finding of a yes, a no or a word may cite what only a great move would turn.
    """
    cite, move = that_cite(name, key), that_move(name, key, SMALL)
    silent, idle = move - cite, cite - move
    idle -= {i for i in idle if before(name)[i].of_words}
    for share in GREAT:
        if not idle:
            break
        idle -= that_move(name, key, (share,))
    return silent, idle
