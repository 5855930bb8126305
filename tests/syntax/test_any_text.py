"""Properties: no text raises; no single edit of a good design raises or gives a flood of messages."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.diagnostics.render_text import render_all
from plangen.model.read import read_design
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile, SourceSet
from tests.syntax.single_edit import edited

GOOD = shipped_text("examples", "residential", "design.plan")
_PIECES = st.sampled_from(
    [
        "plangen 1\n",
        "site {\n",
        "}\n",
        "zone Z1 {\n",
        "  valve V1 valve-1, at (1, 2)\n",
        '"',
        "(",
        ")",
        ",",
        "->",
        " ",
        "\n",
        "12 in",
        "3/0 in",
        "V1",
        "House.southwest",
        "#",
        "2026-99-99",
        "coordinates ft",
        "\t",
        "part p {\n",
        "at ",
        "lot L outline (0, 0) -> (1, 1)\n",
        "source W1 at 3 ft east of W1\n",
        "supply {\n",
        'project "x" {\n',
    ]
)


def read_and_render(text: str) -> int:
    """Read a text, render every message, and return how many there were."""
    source = SourceFile.of("d.plan", text)
    outcome = read_design(source)
    assert (outcome.value is None) == outcome.failed
    assert "Traceback" not in render_all(outcome.problems, SourceSet((source,)))
    for problem in outcome.problems:
        assert 0 <= problem.span.start <= problem.span.end <= len(text) + 1
    return len(outcome.problems)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200))
def test_no_text_raises(text: str) -> None:
    read_and_render(text)


@settings(max_examples=80, deadline=None)
@given(st.lists(_PIECES, max_size=30).map("".join))
def test_no_jumble_of_pieces_raises(text: str) -> None:
    read_and_render(text)


@settings(max_examples=15, deadline=None)
@given(st.integers(min_value=0, max_value=10**9))
def test_no_single_edit_raises_or_floods(seed: int) -> None:
    text, _ = edited(GOOD, random.Random(seed))
    assert read_and_render(text) <= 5
