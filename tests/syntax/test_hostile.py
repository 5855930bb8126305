"""Input that nobody writes by hand gets a message, in bounded time and memory."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from plangen.model.formatted import format_text
from plangen.model.read import read_design
from plangen.syntax.read_tree import MOST_NAMES
from plangen.text.source import SourceFile

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "examples" / "residential" / "design.plan").read_text(encoding="utf-8")
DEEP = 20_000
HOSTILE = {
    "nested braces": "site " + "{" * DEEP,
    "nested blocks": "site {\n" * DEEP,
    "nested parentheses": "site {\n  grade " + "(" * DEEP + "\n}\n",
    "closing braces": "}" * DEEP,
    "one long line": "site {\n  street " + "x" * 1_000_000 + "\n}\n",
    "one long text": 'site {\n  street "' + "x" * 1_000_000 + "\n}\n",
    "places within places": "site {\n  grade " + "1 ft east of " * 5_000 + "(0, 0) 1 ft\n}\n",
    "midway of midway": "site {\n  grade " + "midway between " * 5_000 + "(0, 0) 1 ft\n}\n",
    "arrows": "site {\n  lot Lot outline " + "(0, 0) -> " * 3_000 + "(1, 1)\n}\n",
    "commas": "site {\n  lot Lot" + "," * DEEP + "\n}\n",
    "a huge number": f"site {{\n  frost depth {'9' * 5_000} in\n}}\n",
    "a huge fraction": f"site {{\n  frost depth {'9' * 400}/{'9' * 400} in\n}}\n",
    "NUL bytes": "site {\n  street \x00\x00\n}\n",
}


@pytest.mark.parametrize("kind", sorted(HOSTILE))
def test_it_gets_a_message_in_bounded_time(kind: str) -> None:
    begin = time.process_time()
    outcome = read_design(SourceFile.of("design.plan", HOSTILE[kind]))
    assert outcome.value is None and outcome.problems
    # Bounded, with room for a slow machine: it is not a measure of speed.
    assert time.process_time() - begin < 20


def test_many_heads_in_one_row_are_read() -> None:
    names = ", ".join(f"HH{n}" for n in range(500))
    line = "  head H31       rotor-30q, at (5, 83), on L31, arc north to east\n"
    assert TEXT.count(line) == 1
    row = f"  heads {names} rotor-30q, on L32, between (5, 83) and (65, 83)\n"
    outcome = read_design(SourceFile.of("design.plan", TEXT.replace(line, row + line)))
    assert outcome.value is not None and not outcome.problems
    assert len(outcome.value.heads) > 500


@pytest.mark.parametrize("joint", [", ", ",\n    ", ","])
def test_a_row_of_names_without_end_is_told_before_it_is_parsed(joint: str) -> None:
    """One message, at the row, in a fraction of the time that parsing so many names takes."""
    names = joint.join(f"HH{n}" for n in range(MOST_NAMES * 10))
    row = f"  heads {names} rotor-30q, on L32, between (5, 83) and (65, 83)\n"
    line = "  head H31       rotor-30q, at (5, 83), on L31, arc north to east\n"
    source = SourceFile.of("design.plan", TEXT.replace(line, row + line))
    begin = time.process_time()
    (problem,) = read_design(source).problems
    assert (problem.code, problem.message) == ("PG2025", f"{MOST_NAMES * 10} names stand in one row")
    assert source.text[problem.span.start : problem.span.end] == "HH0"
    assert time.process_time() - begin < 4
    assert format_text(source).value is None


def test_a_row_that_may_be_is_read_whatever_stands_before_it() -> None:
    names = ", ".join(f"HH{n}" for n in range(MOST_NAMES))
    text = TEXT + f"# {names}\n"
    assert read_design(SourceFile.of("design.plan", text)).problems == ()
