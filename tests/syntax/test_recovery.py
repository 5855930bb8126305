"""Broken files: each mistake gives one message, and no broken block hides the next."""

from __future__ import annotations

import re

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
