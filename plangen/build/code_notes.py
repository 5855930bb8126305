"""The catalogue of message codes: what each means and what to do, from the handbook's page of codes."""

from __future__ import annotations

import re
from dataclasses import dataclass

from plangen.shipped.folders import shipped_text

PAGE = ("handbook", "codes.md")
_HEAD = re.compile(r"^### (PG\d{4}) ([a-z0-9-]+)$", re.M)


@dataclass(frozen=True, slots=True)
class CodeNote:
    """One code: its readable name, and its explanation as Markdown."""

    code: str
    name: str
    text: str


def code_notes() -> tuple[CodeNote, ...]:
    """Return the catalogue in the order of codes."""
    return parse_notes(shipped_text("site", *PAGE))


def parse_notes(page: str) -> tuple[CodeNote, ...]:
    """Return the entries of a page whose headings read `### PG1001 name`."""
    heads = list(_HEAD.finditer(page))
    ends = [*(h.start() for h in heads[1:]), len(page)][: len(heads)]
    notes = (
        CodeNote(
            head[1], head[2], re.split(r"^## ", page[head.end() : end], maxsplit=1, flags=re.M)[0].strip()
        )
        for head, end in zip(heads, ends, strict=True)
    )
    return tuple(sorted(notes, key=lambda n: n.code))
