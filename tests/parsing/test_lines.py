"""Logical lines: what goes on to the next physical line and what does not."""

from __future__ import annotations

import pytest

from plangen.parsing.lines import logical_lines


def codes(text: str) -> list[str]:
    """Return the code of each logical line, blanks run together."""
    return [" ".join(line.code.split()) for line in logical_lines(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a 1\nb 2\n", ["a 1", "b 2"]),
        ("a 1,\n  b 2\nc 3", ["a 1, b 2", "c 3"]),
        ("a 1, # why\n\n  # more\n  b 2", ["a 1, # why # more b 2"]),
        ("route A ->\n  B\n", ["route A -> B"]),
        ("at (1,\n 2), x", ["at (1, 2), x"]),
        ("at (1\nvalve V1\n", ["at (1", "valve V1"]),
        ('label "a # b, (" # note', ['label "a # b, ("']),
        ("site {\n  a 1\n}\n", ["site {", "a 1", "}"]),
        ("a 1,\n}\n", ["a 1,", "}"]),
        ("", []),
        ("   \n# only a note\n", []),
    ],
)
def test_lines(text: str, expected: list[str]) -> None:
    assert codes(text) == expected


def test_places_point_into_the_text() -> None:
    text = "site {\n  north 0 deg   # note\n}\n"
    for line in logical_lines(text):
        assert text[line.start : line.end] == line.code
