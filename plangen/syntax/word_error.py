"""What lark stumbled on, in people's words: one message for one line."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from plangen.diagnostics.diagnostic import Problems
from plangen.quantity.dimension import UNITS
from plangen.text.source import Span
from plangen.text.trade_words import unit_meant

if TYPE_CHECKING:
    from lark.exceptions import UnexpectedCharacters, UnexpectedToken

COLON_HELP = "a value follows its word directly: `cover 12 in`; only `heads` lists its heads after a colon"
_CHARACTERS = {
    ";": "a statement ends where its line ends; clauses are parted by commas",
    "“": 'write straight quotes: `"`',
    "”": 'write straight quotes: `"`',
    "„": 'write straight quotes: `"`',
    "'": 'text stands in double quotes: `"Front lawn"`; feet and inches are `ft` and `in`',
    "’": "feet and inches are written `ft` and `in`",
    "′": "feet and inches are written `ft` and `in`",
    "″": "feet and inches are written `ft` and `in`",
    "½": "write the fraction with a slash: `1/2`",
    "¼": "write the fraction with a slash: `1/4`",
    "¾": "write the fraction with a slash: `3/4`",
    "=": "a value follows its word directly: `cover 12 in`",
    ":": COLON_HELP,
    "_": "names and words are joined with hyphens: `north-side`",
    "→": "an arrow is written `->`",
    "°": "angles are written `90 deg`",
    "[": "coordinates stand in parentheses: `(12, 14)`",
    "]": "coordinates stand in parentheses: `(12, 14)`",
    ">": "an arrow is written `->`",
    "–": "write a plain hyphen `-`",
    "−": "write a plain hyphen `-`",
    "<": "an arrow is written `->`, from the water to the outlet",
    "*": "nothing is reckoned here; write the result",
    "+": "nothing is reckoned here; write the result",
    "$": "only text in quotes may hold this sign",
}
_NUMBER_BEFORE = re.compile(r"(?<![\w.])(?:\d+[ -])?\d+(?:[/.]\d+)?$")
# So far around a bad sign is looked for what it belongs to: a line may be very long.
_WINDOW = 40
_FOOT_MARKS = "'’′"
_INCHES_AFTER = re.compile(r"[ \t-]*((?:\d+[ -])?\d+(?:/\d+)?)[ \t]*(?:\"|”|″|''|in\b)")
_DAY = re.compile(r"\d+/\d+/\d+")
_STROKE = re.compile(r"(\d+(?:[ -]\d+/\d+|[./]\d+)?)[ \t]*([A-Za-z][A-Za-z0-9]*/[A-Za-z]+)")
_CLOSED_LATER = re.compile(r"[^()\n]*\)")
_TERMS = "a word, a name, a quantity, a place or text"


def bad_character(error: UnexpectedCharacters, text: str, offset: int, file: str, problems: Problems) -> None:
    """Report a character that no term begins with."""
    place = error.pos_in_stream or 0
    at = offset + place
    char = text[place] if place < len(text) else ""
    if char == '"':
        mark = _inch_mark(text, place)
        if mark is not None:
            where, number = mark
            span = Span(file, offset + where, offset + where + 1)
            problems.error("PG1001", '`"` means nothing here', span, help=inch_mark_help(number))
            return
        end = text.find("\n", place)
        end = len(text) if end < 0 else end
        problems.error(
            "PG1002",
            "the text is not closed",
            Span(file, at, offset + len(text[:end].rstrip())),
            expected='a second `"` on the same line',
        )
        return
    start = max(text.rfind("\n", 0, place) + 1, place - _WINDOW)
    around = text[start : place + _WINDOW].split("\n", 1)[0]
    help = unit_help(around, place - start) or _CHARACTERS.get(char, "")
    shown = f"`{char}`" if char.isprintable() else f"the control character U+{ord(char):04X}"
    problems.error("PG1001", f"{shown} means nothing here", Span(file, at, at + 1), help=help)


def inch_mark_help(number: str) -> str:
    """Return what to write in place of a number and an inch mark."""
    return f"inches are `in`: write `{number} in`"


def unit_help(line: str, place: int) -> str:
    """Return what to write for a foot mark, a unit or a date with strokes where it stands, or nothing."""
    number = _NUMBER_BEFORE.search(line[:place])
    if line[place] in _FOOT_MARKS and number:
        inches = _INCHES_AFTER.match(line[place + 1 :])
        more = f" {inches[1]} in" if inches else ""
        return f"feet and inches are `ft` and `in`: write `{number[0]} ft{more}`"
    if line[place] == "/" and any(d.start() < place < d.end() for d in _DAY.finditer(line)):
        return "a date is written year-month-day: `2026-05-04`"
    for found in _STROKE.finditer(line) if line[place] == "/" else ():
        unit = next((u for u in UNITS if u.lower() == found[2].lower()), None) or unit_meant(found[2])
        if unit and found.start() < place < found.end():
            return f"write `{found[1]} {unit}`"
    return ""


def _inch_mark(text: str, place: int) -> tuple[int, str] | None:
    """Return where in the line of an open quote text begins right after a number, and that number."""
    start = text.rfind("\n", 0, place) + 1
    quotes = [start + i for i, c in enumerate(text[start : place + 1]) if c == '"']
    for opening in quotes[::2]:
        number = _NUMBER_BEFORE.search(text[start:opening])
        if number:
            return opening, number[0]
    return None


def bad_token(error: UnexpectedToken, text: str, offset: int, file: str, problems: Problems) -> None:
    """Report a term that cannot stand where it stands."""
    token = error.token
    kind = token.type
    start = token.start_pos if token.start_pos is not None and kind != "$END" else len(text)
    span = Span(file, offset + start, offset + start + (len(token) if kind != "$END" else 0))
    before = text[:start].rstrip()
    last = before[-1:]
    bare = _outside_strings(before)
    if kind == "COLON":
        problems.error("PG1001", "`:` means nothing here", span, help=COLON_HELP)
    elif bare.count("(") > bare.count(")"):
        closed = _CLOSED_LATER.match(_outside_strings(text[start:])) is not None
        _in_pair(kind, before, closed, span, str(token), problems)
    elif kind == "COMMA":
        after = "another comma" if last == "," else "an arrow" if before.endswith("->") else "nothing"
        problems.error(
            "PG1004",
            f"a comma after {after}",
            span,
            expected=f"{_TERMS} before the comma",
            help="take the comma away",
        )
    elif kind == "ARROW":
        problems.error("PG1004", "an arrow that nothing leads to", span, expected="a place before `->`")
    elif kind == "RPAR":
        problems.error(
            "PG1003", "this parenthesis closes none", span, help="take it away, or write the first one"
        )
    elif kind == "LPAR":
        problems.error(
            "PG1004", "a parenthesis cannot stand here", span, expected="coordinates such as `(12, 14)`"
        )
    elif kind in ("LBRACE", "RBRACE"):
        problems.error(
            "PG1004",
            f"`{token}` cannot stand inside a line",
            span,
            expected="`{` at the end of a block's first line and `}` on a line of its own",
        )
    elif kind == "$END":
        problems.error("PG1011", "the line is not finished", span, expected=_TERMS)
    else:
        problems.error("PG1004", f"`{token}` cannot stand here", span, expected=_TERMS)


def _in_pair(kind: str, before: str, closed: bool, span: Span, token: str, problems: Problems) -> None:
    inside = _outside_strings(before)
    inside = inside[inside.rindex("(") + 1 :]
    if kind == "$END":
        problems.error("PG1003", "the parenthesis is not closed", span, expected="`)`")
    elif kind in ("NUMBER", "QUANTITY") and "," not in inside and inside.strip():
        problems.error(
            "PG1004", f"a comma is missing before `{token}`", span, expected="a pair such as `(12, 14)`"
        )
    elif kind == "COMMA" and inside.count(",") == 1:
        if closed:
            problems.error("PG1004", "a pair has two values", span, expected="`)` after the second value")
        else:
            problems.error(
                "PG1003", "a `)` is missing after the second value", span, expected="`)` before this comma"
            )
    elif kind == "ARROW":
        problems.error("PG1003", "the parenthesis is not closed before the arrow", span, expected="`)`")
    else:
        problems.error(
            "PG1004", f"`{token}` cannot stand in a pair", span, expected="a pair such as `(12, 14)`"
        )


def _outside_strings(text: str) -> str:
    return "".join(text.split('"')[::2])
