"""Broken files: each mistake gives one message, and no broken block hides the next."""

from __future__ import annotations

import re

import pytest

from plangen.model.read import read_design
from plangen.shipped.folders import shipped_text
from plangen.syntax.read_tree import read_tree
from plangen.text.source import SourceFile

GOOD = shipped_text("examples", "residential", "design.plan")


def swapped(text: str, *changes: tuple[str, str]) -> str:
    """Return the text with each first thing replaced by the second, however many blanks it has."""
    for old, new in changes:
        pattern = r"\s+".join(re.escape(word) for word in old.split())
        text, count = re.subn(pattern, lambda _, new=new: new, text, count=1)  # type: ignore[misc]
        assert count == 1, old
    return text


def codes(text: str) -> list[str]:
    """Return the codes of all messages of a design text."""
    return [p.code for p in read_design(SourceFile.of("d.plan", text)).problems]


def test_mistakes_in_several_blocks_are_all_told_in_one_run() -> None:
    text = swapped(
        GOOD,
        ("static 64 psi", "static 64 psy"),
        ("cover 36 in, existing", "cover 36 in;, existing"),
        ("kind rotor", "kind rottor"),
        ('label "Rotor, 30 ft, half-circle nozzle"', 'label "Rotor'),
        ("waters Border", "waters Bordr"),
    )
    assert sorted(codes(text)) == ["PG1001", "PG1002", "PG2004", "PG2012", "PG2014"]


def test_a_broken_block_does_not_hide_the_next() -> None:
    text = swapped(
        GOOD, ('zone Z1 "Front lawn, west" {', 'zone Z1 "Front lawn, west {'), ("kind rotor", "kind rottor")
    )
    assert codes(text) == ["PG1002", "PG2012"]


def test_a_name_whose_line_is_broken_stays_silent_where_it_is_used() -> None:
    text = swapped(GOOD, ("valve V1 valve-1, at (20, 36.5)", "valve V1 valve-1, at (20; 36.5)"))
    assert codes(text) == ["PG1001"]


def test_order_of_messages_is_that_of_the_text() -> None:
    text = swapped(GOOD, ("static 64 psi", "static 64 psy"), ("kind rotor", "kind rottor"))
    starts = [p.span.start for p in read_design(SourceFile.of("d.plan", text)).problems]
    assert starts == sorted(starts)


def test_tabs_and_odd_blanks_are_blanks() -> None:
    assert codes(GOOD.replace("  ", "\t")) == []
    assert codes(GOOD.replace("  valve", "\u00a0 valve")) == []
    assert codes(GOOD.replace("\n", "\r\n")) == []


@pytest.mark.long
def test_very_long_and_very_deep_texts_end() -> None:
    for text in (
        "plangen 1\nsite {\n  " + "(" * 50_000 + "\n}\n",
        "plangen 1\nsite {\n  x " + "1" * 200_000 + "\n}\n",
        "plangen 1\nsite {\n  x " + " " * 200_000 + "y\n}\n",
        "plangen 1\nsite {\n  route " + "(1, 2) -> " * 20_000 + "(1, 2)\n}\n",
        "site {\n" * 3_000,
        "}\n" * 3_000,
        '"' * 5_001,
        "a,\n" * 5_000,
        "x " + "-1" * 20_000,
    ):
        read_tree(SourceFile.of("d.plan", text))


def test_a_file_without_a_last_line_end_and_with_leading_blank_lines_is_read() -> None:
    assert codes("\n\n  \n" + GOOD.rstrip("\n")) == []


def only(*change: tuple[str, str]) -> tuple[str, str, str]:
    """Return code, headline and help of the one message of a changed text."""
    (found,) = read_design(SourceFile.of("d.plan", swapped(GOOD, *change))).problems
    return found.code, found.message, found.help


def test_an_inch_mark_is_told_as_one() -> None:
    help = "inches are `in`: write `3/4 in`"
    assert only(("size 3/4 in, height -12 in", 'size 3/4", height -12 in'))[::2] == ("PG1001", help)
    # two marks on a line are a text in quotes to the reader
    assert only(("size 3/4 in, height -12 in", 'size 3/4", height 12"'))[::2] == ("PG2005", help)


def test_a_number_inside_an_open_text_is_no_inch_mark() -> None:
    assert only(('"manual drain, lowest point of the main"', '"drain 3, size 4'))[0] == "PG1002"


def test_a_missing_parenthesis_is_told_apart_from_a_third_value() -> None:
    code, message, _ = only(("at (10, 2), size 1 in", "at (10, 2, size 1 in"))
    assert (code, message) == ("PG1003", "a `)` is missing after the second value")
    code, message, _ = only(("at (10, 2), size 1 in", "at (10, 2, 3), size 1 in"))
    assert (code, message) == ("PG1004", "a pair has two values")


def test_a_number_without_a_unit_is_offered_units_of_both_systems() -> None:
    told = only(("cover 14 in", "cover 14"))[2]
    assert told == "write `14 ft`, `14 in`, `14 m` or `14 mm`, whichever is meant"


def test_a_short_name_is_like_another_by_its_case_alone() -> None:
    assert only(('tap T1 "tee in the service", at 3 ft along S2 from M1, size 1 in', ""))[2] == ""
    assert only(("route BF1 -> N1", "route Bf1 -> N1"))[2] == "a similar name exists: `BF1`"


def test_a_corner_lot_names_each_of_its_streets() -> None:
    text = swapped(GOOD, ('street "Heron Court"', 'street "Heron Court"\n  street "Oak Way"'))
    found = read_design(SourceFile.of("d.plan", text))
    assert found.problems == () and found.value is not None
    assert found.value.site.street == "Heron Court and Oak Way"
