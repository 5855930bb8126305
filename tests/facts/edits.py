"""Changing a design text in a test: by words, however many spaces the text has between them."""

from __future__ import annotations

import re

SPACES = r"(?: *\n {10,}| +)"
REST = r"[^\n]*(?:\n {10,}[^\n]*)*"


def changed(text: str, *changes: tuple[str, str]) -> str:
    """Return the text with each `old` replaced by its `new`; each must stand just once.

    A run of spaces in `old` matches any run of spaces, and the line end where a statement goes on in the next
    line. `...` in `old` matches the rest of a line and the lines in which its statement goes on.
    """
    for old, new in changes:
        parts = [re.escape(p) for p in re.split(r" +|\.\.\.", old)]
        joints = re.findall(r" +|\.\.\.", old)
        pattern = parts[0]
        for joint, part in zip(joints, parts[1:], strict=True):
            pattern += (REST if joint == "..." else SPACES) + part
        found = re.findall(pattern, text)
        assert len(found) == 1, f"{old!r} stands {len(found)} times in the text"
        text = re.sub(pattern, lambda _, new=new: new, text)  # type: ignore[misc]
    return text
