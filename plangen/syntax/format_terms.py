"""Terms as the canonical layout writes them: the author's digits and words, one blank where blanks may be."""

from __future__ import annotations

import re

from plangen.syntax.tree import Term, TermKind

_FEET = re.compile(r"(-?\d+)\s*ft\s+(.*)")
_UNIT = re.compile(r"(-?[\d \-/.]*\d)\s*([A-Za-z%].*)")


def term_text(term: Term) -> str:
    """Return one term as text: `12psi` as `12 psi`, `(3,4)` as `(3, 4)`, everything else as written."""
    if term.kind is TermKind.TEXT:
        return f'"{term.text}"'
    if term.kind is TermKind.PAIR:
        return f"({', '.join(term_text(item) for item in term.items)})"
    if term.kind is TermKind.QUANTITY:
        return quantity_text(term.text)
    if term.kind is TermKind.NUMBER:
        return " ".join(term.text.split())
    return term.text


def quantity_text(written: str) -> str:
    """Return a quantity with one blank between number and unit; its digits stay as they are."""
    text = " ".join(written.split())
    feet = _FEET.fullmatch(text)
    if feet:
        return f"{feet[1]} ft {quantity_text(feet[2])}"
    parts = _UNIT.fullmatch(text)
    return f"{parts[1]} {parts[2]}" if parts else text


def joint(left: Term, right: Term) -> str:
    """Return the blanks between two terms: two where one would make `1` and `3/4 in` into `1 3/4 in`."""
    bare = left.kind is TermKind.NUMBER and left.text.lstrip("-").isdigit()
    number = right.kind in (TermKind.NUMBER, TermKind.QUANTITY) and right.text[:1].isdigit()
    return "  " if bare and number else " "
