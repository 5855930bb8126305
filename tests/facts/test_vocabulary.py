"""The vocabulary is whole: every name once, every field told, and collected rows hold just these fields."""

from __future__ import annotations

import re

import pytest

from plangen.facts.values import FactField, Value
from plangen.facts.vocabulary import VERSION, VOCABULARY, relation
from plangen.quantity.dimension import Dimension
from tests.facts.facts_run import FactRun, run


@pytest.fixture(scope="module")
def example() -> FactRun:
    return run()


def test_every_relation_stands_once_and_every_field_once_in_it() -> None:
    names = [r.name for r in VOCABULARY]
    assert len(set(names)) == len(names)
    for found in VOCABULARY:
        fields = [f.name for f in found.fields]
        assert len(set(fields)) == len(fields), found.name
        assert relation(found.name) is found


def test_every_name_is_plain_and_every_help_is_a_phrase() -> None:
    for found in VOCABULARY:
        assert found.help
        for field in found.fields:
            assert re.fullmatch(r"[a-z][a-z_]*", field.name), field.name
            assert field.help and not field.help.endswith("."), (found.name, field.name)


def test_heights_say_their_datum() -> None:
    # Rule texts differ on the datum of a height, so a height without one would be read two ways.
    for found in VOCABULARY:
        for field in found.fields:
            if field.name.startswith("height_") or field.name in ("cover", "cover_below_frost", "wire_cover"):
                assert field.datum, (found.name, field.name)


def test_rows_hold_just_the_fields_of_their_relation(example: FactRun) -> None:
    for row in example.facts.rows:
        found = relation(row.relation)
        assert found is not None, row.relation
        assert {n for n, _ in row.values} == {f.name for f in found.fields}, (row.relation, row.name)


def test_values_are_of_the_type_their_field_says(example: FactRun) -> None:
    for row in example.facts.rows:
        found = relation(row.relation)
        assert found is not None
        for name, value in row.values:
            field = found.field(name)
            assert field is not None
            assert _fits(field, value), (row.relation, row.name, name, value.value)


def test_what_is_not_known_says_what_is_missing(example: FactRun) -> None:
    for row in example.facts.rows:
        for name, value in row.values:
            if value.value is None:
                assert value.missing and all(value.missing), (row.relation, row.name, name)


def test_single_relations_have_one_row(example: FactRun) -> None:
    for found in VOCABULARY:
        if found.single:
            assert len(example.facts.of(found.name)) == 1, found.name


def test_rows_are_in_the_order_of_names_and_names_are_unique(example: FactRun) -> None:
    keys = [(r.relation, r.name) for r in example.facts.rows]
    assert keys == sorted(set(keys))
    assert example.facts.version == VERSION
    assert set(example.facts.complete) <= {r.name for r in VOCABULARY}


def _fits(field: FactField, value: Value) -> bool:
    if value.value is None:
        return True
    match field.type.kind:
        case "quantity":
            whole = field.type.dimension is not Dimension.COUNT or value.value == int(value.value)
            return isinstance(value.value, float) and whole
        case "truth":
            return isinstance(value.value, bool)
        case "word":
            return value.value in field.type.words
        case "words":
            known = field.type.words
            return isinstance(value.value, tuple) and (not known or set(value.value) <= set(known))
        case _:
            return isinstance(value.value, str)
