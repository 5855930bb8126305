"""Everything that the language table lists can be said, reads without a message, and means something.

The design beside this file holds every statement and clause of the table at least once. What a clause says
has to show: without it the design is another one, or a message says what is missing.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import get_args

import pytest

from plangen.diagnostics.diagnostic import Outcome, Problems
from plangen.model import bound as b
from plangen.model.bind_blocks import BlockBinder
from plangen.model.bound import BoundBlock
from plangen.model.design import Design
from plangen.model.merge import merged_trees
from plangen.model.parts import ASSEMBLY_KINDS, PART_KINDS
from plangen.model.read import read_design
from plangen.model.same import meaning
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.ground import QUESTIONS, UTILITIES
from plangen.model.schema.shape import Slot, StatementSpec
from plangen.model.site import STATES
from plangen.shipped.folders import shipped_text
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import DesignTree
from plangen.text.source import SourceFile, SourceSet

BASE = (Path(__file__).parents[1] / "diagnostics" / "base.plan").read_text(encoding="utf-8")
TEXT = Path(__file__).with_name("everything.plan").read_text(encoding="utf-8")
LIBRARY = SourceFile.of("plangen-library/parts.plan", shipped_text("library", "parts.plan"))


def read(text: str) -> Outcome[Design]:
    return read_design(SourceFile.of("yard.plan", text), (LIBRARY,))


@cache
def whole() -> Design:
    outcome = read(TEXT)
    assert outcome.problems == () and outcome.value is not None
    return outcome.value


@cache
def tree() -> DesignTree:
    found = read_tree(SourceFile.of("yard.plan", TEXT)).value
    assert found is not None
    return found


@cache
def blocks() -> tuple[BoundBlock, ...]:
    problems = Problems()
    source = SourceFile.of("yard.plan", TEXT)
    return BlockBinder(SourceSet((source,)), problems).blocks(merged_trees(tree(), (), True, problems).tree)


def table() -> Iterator[tuple[StatementSpec, Slot | None]]:
    """Give every row of the table once, and each of its slots."""
    seen = set()
    for block in BLOCKS.values():
        for spec in block.statements:
            for row in (spec, spec.items):
                if row is not None and id(row) not in seen:
                    seen.add(id(row))
                    yield row, None
                    yield from ((row, slot) for slot in row.slots())


def test_every_statement_and_clause_of_the_table_is_said_and_reads_clean() -> None:
    whole()
    assert {block.spec.lead for block in blocks()} == set(BLOCKS)
    said = {id(s.spec) for block in blocks() for s in block.statements}
    fields = {(id(s.spec), field) for block in blocks() for s in block.statements for field in s.values}
    # Heads in a row and in a list become single heads as they are bound: each clause is one of `head` too.
    rows = [(row, slot) for row, slot in table() if row.lead[0] not in ("head", "heads") or id(row) in said]
    assert [row.words for row, slot in rows if slot is None and id(row) not in said] == []
    # Of a kind of sensor there is none, or there is one.
    sensors = {row.lead for row, _ in rows if row.lead[-1] == "sensor" and row.named == "optional"}
    missing = {
        (row.words if row.lead not in sensors else "a sensor", slot.field)
        for row, slot in rows
        if slot is not None and (id(row), slot.field) not in fields
    }
    assert {slot for words, slot in missing if words == "a sensor"} <= {"none", "place", "state"}
    assert {m for m in missing if m[0] != "a sensor"} == set()


def places() -> Iterator[object]:
    """Give every place that the design says, and those within places."""
    found = [v for block in blocks() for s in block.statements for v in s.values.values()]
    while found:
        value = found.pop()
        if isinstance(value, tuple):
            found += value
        elif isinstance(value, get_args(b.PlaceExpr)):
            yield value
            found += [getattr(value, name) for name in ("base", "start", "end") if hasattr(value, name)]


def test_every_form_of_a_place_is_said() -> None:
    assert {type(p) for p in places()} == set(get_args(b.PlaceExpr))
    assert {len(p.moves) for p in places() if isinstance(p, b.Offset)} == {1, 2}
    assert {p.start is None for p in places() if isinstance(p, b.Along)} == {True, False}
    text = " ".join(TEXT.split())
    for form in (
        "from 1 m every 4 m",
        "between (24, 2) and (10, 2)",
        "arc north to east, riser 1 in above grade:",
    ):
        assert form in text


def test_what_the_design_has_to_be_able_to_say() -> None:
    """The lists of kinds are the language's own; that each of them is in the design is what is held here."""
    design = whole()
    kinds = {d.kind for d in design.devices}
    assert {"pump", "injector", "regulator", "strainer", "master-valve", "flow-sensor"} < kinds
    assert {h.part.kind for h in design.heads} == {"spray", "rotor", "bubbler", "quick-coupler"}
    assert {z.kind for z in design.zones} == {"spray", "rotor", "bubbler", "drip", "mixed"} and design.drips
    assert {u.kind for u in design.site.utilities} == set(UTILITIES)
    assert {a.question for a in design.answers} == set(QUESTIONS)
    assert {x.state for x in (*design.heads, *design.devices)} == set(STATES)
    assert {u.written.split()[-1] for p in design.pipes if (u := p.cover)} == {"mm", "in"}
    assert design.zone("Z3") is not None and design.zone("Z3").runs_with == ("Z4",)  # type: ignore[union-attr]
    ring = {p.name: (p.route[0].node, p.route[-1].node) for p in design.pipes if p.name.startswith("R")}
    assert sorted(n for ends in ring.values() for n in ends) == sorted(["N1", "N2", "N3", "N4"] * 2)
    assert design.records.changes and design.waivers and design.confirmations and design.readings


@pytest.mark.parametrize("kind", sorted(ASSEMBLY_KINDS))
def test_each_kind_of_assembly_is_said(kind: str) -> None:
    words = kind.replace("-", " ")
    height = {"rp": "relief port", "pvb": "critical level", "svb": "critical level", "avb": "critical level"}
    new = f"assembly BF1   {words}, at (8, 38), {height.get(kind, 'height')} 300 mm above grade"
    text, count = re.subn("assembly BF1 .*", new, BASE)
    outcome = read_design(SourceFile.of("d.plan", text))
    assert count == 1 and outcome.problems == () and outcome.value is not None
    device = outcome.value.device("BF1")
    assert device is not None and device.assembly_kind == kind
    assert device.height is not None and device.height.si == pytest.approx(0.3)


@pytest.mark.parametrize("kind", sorted(PART_KINDS))
def test_each_kind_of_part_is_said(kind: str) -> None:
    part = f'\npart new-part {{\n  kind           {kind.replace("-", " ")}\n  label          "New"\n}}\n'
    source = SourceFile.of("d.plan", part)
    problems = Problems()
    found = read_tree(source).value
    assert found is not None
    (block,) = BlockBinder(SourceSet((source,)), problems).blocks(found)
    assert {p.code for p in problems.items} <= {"PG2028"} and block.value("kind", "value") == kind


def cuts() -> Iterator[tuple[int, int]]:
    """Give the stretch of every statement, and of every clause with the comma before it."""
    for block in tree().blocks:
        for statement in block.statements:
            yield statement.span.start, statement.span.end
            for clause in statement.clauses[1:]:
                mark = max(TEXT.rfind(",", 0, clause.span.start), TEXT.rfind(":", 0, clause.span.start))
                yield mark, clause.span.end


def _counts(start: int, end: int) -> bool:
    outcome = read(TEXT[:start] + TEXT[end:])
    return outcome.value is None or meaning(outcome.value) != meaning(whole())


# What holds anyway need not be said: what is there stands, what is added is new; a box of some size is a box;
# an assembly is of its part's kind, and a head throws its part's arc.
_ANYWAY = re.compile(r",\s+(new|existing|in box|rp|full circle)$")


@pytest.mark.long
def test_whatever_is_said_means_something() -> None:
    idle = [TEXT[a:e] for a, e in cuts() if not _counts(a, e)]
    assert [words for words in idle if not _ANYWAY.match(words)] == []


def test_some_of_what_is_said_means_something() -> None:
    told = [(start, end) for start, end in cuts() if not _ANYWAY.match(TEXT[start:end])]
    for start, end in random.Random(3).sample(told, 2):
        assert _counts(start, end), TEXT[start:end]


def test_a_part_misspelt_where_it_is_defined_is_told_by_what_replaces_it_alone() -> None:
    library = SourceFile.of(LIBRARY.name, LIBRARY.text.replace("part rp-2 {", "part rp-22 {"))
    outcome = read_design(SourceFile.of("yard.plan", TEXT), (library,))
    assert [p.code for p in outcome.problems] == ["PG2032"]
