"""Text to logical lines: a physical line, and those it goes on to. Knows strings and comments, no grammar.

Used only where a file could not be parsed in one go, so that each mistake stays inside its own line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

_CODE = re.compile(r'(?:[^"#\n]|"[^"\n]*"?)*')
# What may begin a line inside parentheses; anything else means that the parenthesis was never closed.
_INSIDE = re.compile(r"\s*[-.\d(),]")
BLANKS = " \t\x0c\xa0\r"


@dataclass(frozen=True, slots=True)
class LogicalLine:
    """A stretch of the text that holds one statement, header or brace, comments at its end left out."""

    start: int
    end: int
    code: str
    column: int
    unfinished: str = ""  # `,`, `:` or `->` after which nothing came


def logical_lines(text: str, position: int = 0) -> Iterator[LogicalLine]:
    """Yield the lines that hold code, in order, from a place in the text on."""
    length = len(text)
    while position < length:
        code_end, line_end = _line(text, position)
        code = text[position:code_end].rstrip(BLANKS)
        if not code.strip(BLANKS):
            position = line_end + 1
            continue
        start = position + len(code) - len(code.lstrip(BLANKS))
        end, unfinished = position + len(code), ""
        position_after = line_end + 1
        while True:
            mark = _open(code)
            if not mark or (mark == ":" and start == position):
                break  # a colon at the left margin stands where a brace was meant
            following = _next_code(text, position_after)
            if following is None or not _continues(text, following, mark):
                unfinished = mark if mark != "(" else ""
                break
            begin, code_end, line_end = following
            code = text[begin:code_end].rstrip(BLANKS)
            end, position_after = begin + len(code), line_end + 1
        yield LogicalLine(start, end, text[start:end], start - position, unfinished)
        position = position_after


def _line(text: str, position: int) -> tuple[int, int]:
    """Return where the code of a physical line ends and where the line ends."""
    line_end = text.find("\n", position)
    line_end = len(text) if line_end < 0 else line_end
    match = _CODE.match(text, position, line_end)
    return (match.end() if match else position), line_end


def _open(code: str) -> str:
    """Return the mark after which a line goes on: comma, colon, arrow, open parenthesis, or nothing."""
    mark = next((mark for mark in (",", "->", ":") if code.endswith(mark)), "")
    if mark:
        return mark
    bare = re.sub(r'"[^"\n]*"?', "", code)
    return "(" if bare.count("(") > bare.count(")") else ""


def _next_code(text: str, position: int) -> tuple[int, int, int] | None:
    """Return (start, end of code, end of line) of the next physical line that holds code."""
    while position < len(text):
        code_end, line_end = _line(text, position)
        if text[position:code_end].strip(BLANKS):
            return position, code_end, line_end
        position = line_end + 1
    return None


def _continues(text: str, following: tuple[int, int, int], mark: str) -> bool:
    begin, code_end, _ = following
    code = text[begin:code_end].strip(BLANKS)
    if code.startswith("}") or code.endswith("{"):
        return False
    return mark != "(" or _INSIDE.match(code) is not None
