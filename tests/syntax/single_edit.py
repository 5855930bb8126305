"""One edit of a design text, as a slip of the hand makes it: for the tests and for the benchmark."""

from __future__ import annotations

import random

KINDS = ("delete a character", "insert a character", "delete a word", "delete a line", "double a line")
_CHARACTERS = ':{}"%=,()x7'


def edited(text: str, rng: random.Random) -> tuple[str, int]:
    """Return the text with one edit, and the number of the line that was edited."""
    lines = text.split("\n")
    at = rng.choice([n for n, line in enumerate(lines) if line.strip() and not line.startswith("#")])
    line, kind = lines[at], rng.choice(KINDS)
    place = rng.randrange(len(line))
    if kind == "delete a character":
        lines[at] = line[:place] + line[place + 1 :]
    elif kind == "insert a character":
        lines[at] = line[:place] + rng.choice(_CHARACTERS) + line[place:]
    elif kind == "delete a word":
        words = line.split(" ")
        filled = [i for i, word in enumerate(words) if word]
        words.pop(rng.choice(filled))
        lines[at] = " ".join(words)
    elif kind == "delete a line":
        lines.pop(at)
    else:
        lines.insert(at, line)
    return "\n".join(lines), at + 1
