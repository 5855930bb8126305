"""Puts the changes of a case into a design text: by words, however the text is laid out. Pure."""

from __future__ import annotations

import re

from plangen.build.pack_cases import Case, CaseFault

# Between two words of a statement: spaces, or the end of a line where the statement goes on.
_SPACES = r"(?: *\n {10,}| +)"
_REST = r"[^\n]*(?:\n {10,}[^\n]*)*"


def case_text(base: str, case: Case) -> tuple[str, tuple[CaseFault, ...]]:
    """Return the design text of a case, and the changes whose words do not stand just once in it."""
    text, faults = base, []
    for edit in case.edits:
        found = list(pattern_of(edit.old).finditer(text))
        if len(found) != 1:
            faults.append(CaseFault(edit.line, f"`{edit.old}` stands {len(found)} times in the design"))
            continue
        text = text[: found[0].start()] + edit.new + text[found[0].end() :]
    if case.added:
        text = f"{text.rstrip()}\n\n{case.added}\n"
    return text, tuple(faults)


def pattern_of(words: str) -> re.Pattern[str]:
    """Return the pattern of some words: blanks match any blanks, `...` the rest of the statement."""
    signs = {"...": _REST, "\n": r" *\n *"}
    pieces = re.split(r"(\n| +|\.\.\.)", words)
    parts = [signs.get(p, _SPACES if p.isspace() else re.escape(p)) for p in pieces if p]
    return re.compile("".join(parts))
