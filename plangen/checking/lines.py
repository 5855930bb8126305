"""Rule text cut into blocks and logical lines, without touching a character's place.

In: one source text. Out: the headers at column 0, each with the lines of its block. Comments are blanked
and a newline inside an open parenthesis or after a trailing comma, colon, `and` or `or` becomes a space, so
that every offset stays what it was. It does not parse.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from plangen.checking.messages import Code
from plangen.diagnostics.diagnostic import Problems
from plangen.text.source import SourceFile, Span

_GOES_ON = re.compile(r"(,|:|\b(?:and|or))$")
_HEADER = re.compile(r"(pack|limit|table|rule|replace|switch|dig|ticket|test|report|compliance|fee|form)\b")


@dataclass(frozen=True, slots=True)
class Block:
    """A header line and the lines of its body, as spans of the cleaned text."""

    header: Span
    body: tuple[Span, ...]


def clean(text: str) -> str:
    """Return the text with comments blanked and continued lines joined, every character in its place."""
    lines = [_without_comment(line) for line in text.split("\n")]
    out: list[str] = []
    depth = 0
    for number, line in enumerate(lines):
        depth = max(0, depth + _depth(line))
        nothing = not line.strip()
        following = next((later for later in lines[number + 1 :] if later.strip()), "")
        starts_anew = following[:1] == "}" or bool(_HEADER.match(following))
        joined = (
            depth > 0 or bool(_GOES_ON.search(line.rstrip())) or (nothing and _joins(out))
        ) and not starts_anew
        if starts_anew:
            depth = 0
        out.append(line + (" " if joined else "\n"))
    return "".join(out)[: len(text)]


def _joins(out: list[str]) -> bool:
    """Return whether the line before goes on, so that blank lines within it are passed over."""
    return bool(out) and out[-1].endswith(" ")


def _depth(line: str) -> int:
    bare = re.sub(r'"[^"]*"?', "", line)
    return bare.count("(") - bare.count(")")


def _without_comment(line: str) -> str:
    line = line.replace("\r", " ").replace("\t", " ")
    quoted = False
    for place, letter in enumerate(line):
        if letter == '"':
            quoted = not quoted
        elif letter == "#" and not quoted:
            return line[:place] + " " * (len(line) - place)
    return line


def blocks(source: SourceFile, text: str, problems: Problems) -> tuple[Block, ...]:
    """Return the blocks of a cleaned text; stray lines and unclosed blocks are problems."""
    found: list[Block] = []
    header: Span | None = None
    body: list[Span] = []
    astray = False
    for span in _lines(source.name, text):
        line = text[span.start : span.end]
        at_margin = span.start == 0 or text[span.start - 1] == "\n"
        if header is not None and line == "}":
            if not at_margin:
                problems.error(Code.BRACE_PLACE, "a closing brace stands at column 1", span)
            found.append(Block(header, tuple(body)))
            header, body = None, []
        elif header is not None and not (at_margin and _HEADER.match(line)):
            body.append(span)
        else:
            if header is not None:
                _unclosed(header, text, problems)
                found.append(Block(header, tuple(body)))
                header, body = None, []
            if not at_margin or line == "}":
                # Lines in a row that belong to nothing have one cause, and get one message.
                if not astray:
                    problems.error(
                        Code.STRAY_LINE,
                        "this line belongs to no block",
                        span,
                        expected="`pack`, `limit`, `table`, `rule`, `replace rule`, `switch off rule`"
                        " or a duty such as `dig notice`",
                    )
                astray = True
                continue
            astray = False
            if line.endswith("{"):
                header = span
            else:
                found.append(Block(span, ()))
    if header is not None:
        _unclosed(header, text, problems)
        found.append(Block(header, tuple(body)))
    return tuple(found)


def _unclosed(header: Span, text: str, problems: Problems) -> None:
    words = text[header.start : header.end].split()
    problems.error(
        Code.UNCLOSED_BLOCK,
        f"the block `{' '.join(words[:2])}` is not closed",
        header,
        help="write `}` at column 1",
    )


def _lines(name: str, text: str) -> list[Span]:
    spans: list[Span] = []
    start = 0
    for raw in text.split("\n"):
        stripped = raw.strip()
        if stripped:
            begin = start + len(raw) - len(raw.lstrip())
            spans.append(Span(name, begin, begin + len(stripped)))
        start += len(raw) + 1
    return spans
