"""The order of statements and blocks means nothing, and neither do comments, blanks and line numbers."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.parsing.lines import logical_lines
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile
from tests.model.same_design import meaning

GOOD = shipped_text("examples", "residential", "design.plan")


def design(text: str) -> Design:
    """Return the design of a text that has no faults."""
    outcome = read_design(SourceFile.of("d.plan", text))
    assert outcome.problems == ()
    assert outcome.value is not None
    return outcome.value


MEANT = meaning(design(GOOD))


def shuffled(text: str, rng: random.Random) -> str:
    """Return the text with its blocks, and the statements in each, in another order."""
    blocks: list[list[str]] = []
    for line in logical_lines(text):
        if line.code.endswith("{"):
            blocks.append([line.code])
        elif line.code == "}":
            rng.shuffle(body := blocks[-1][1:])
            blocks[-1][1:] = [*body, "}"]
        elif blocks:
            blocks[-1].append(line.code)
    rng.shuffle(blocks)
    return "plangen 1\n" + "\n".join("\n".join(block) for block in blocks) + "\n"


@settings(max_examples=15, deadline=None)
@given(st.integers(min_value=0, max_value=10**9))
def test_any_order_means_the_same(seed: int) -> None:
    assert meaning(design(shuffled(GOOD, random.Random(seed)))) == MEANT


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("\n", "\n# a note\n\n"),
        (", ", " ,   "),
        (", cover", ",\n    # deep enough\n    cover"),
        (" -> ", " ->\n      "),
        ("\n", "   # note\n"),
    ],
)
def test_layout_means_nothing(old: str, new: str) -> None:
    head, brace, body = GOOD.partition("supply {\n")
    quiet = "\n".join(
        line if '"' in line or line.endswith("{") else line.replace(old.strip("\n") or "\n", new)
        for line in body.split("\n")
    )
    text = head + brace + (body.replace("\n", new) if old == "\n" else quiet)
    assert meaning(design(text)) == MEANT
