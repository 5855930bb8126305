"""Rule text in its one canonical layout: words aligned in blocks, single spaces, no comment lost.

In: the text of a pack. Out: the text laid out, or the faults for which it is left alone. Where lines break is
the author's; what the text means is compared before and after, and a difference is a fault of ours.
"""

from __future__ import annotations

import re

from plangen.checking.lines import blocks, clean
from plangen.checking.read import read_pack
from plangen.diagnostics.diagnostic import Outcome, Problems
from plangen.text.source import SourceFile

# Column at which what a line says begins, counted from the margin.
_PACK_COLUMN, _RULE_COLUMN = 13, 12
_KEYS = re.compile(
    r"(for +each|for +the|once|when|require|or +ask|ask|severity|why|fix|source|cannot +be +waived|step|title"
    r"|authority|edition|effective|contact|facts|banner|invented +place)(?![\w.-]) *(.*)"
)
_QUOTED = re.compile(r'("[^"]*"?)')
_SPAN = re.compile(r"Span\([^()]*\)")


def format_pack(source: SourceFile) -> Outcome[str]:
    """Return a pack's text laid out, or None with its faults."""
    read = read_pack(source)
    if read.value is None or read.problems:
        return Outcome(None, read.problems)
    text = _laid_out(source)
    again = read_pack(SourceFile.of(source.name, text))
    assert _meaning(again) == _meaning(read), "a pack's layout changed its meaning"
    return Outcome(text, ())


def _meaning(outcome: Outcome) -> str:
    return _SPAN.sub("", repr((outcome.value, [p.code for p in outcome.problems])))


def _laid_out(source: SourceFile) -> str:
    lines = source.text.replace("\r\n", "\n").split("\n")
    columns, inside = _roles(source)
    out: list[str] = []
    for number, line in enumerate(lines):
        code, comment = _parted(line)
        if number in columns:
            code = _aligned(code, columns[number])
        elif code != "}":
            comment, code = (comment or code), ""
        indent = "  " if not code and comment and number in inside else ""
        out.append(f"{code}  {comment}".rstrip() if code else f"{indent}{comment}")
    whole = re.sub(r"\n{3,}", "\n\n", "\n".join(out)).strip("\n")
    return f"{whole}\n"


def _roles(source: SourceFile) -> tuple[dict[int, tuple[str, int]], set[int]]:
    """Return what each line with words is, and at which column it goes on; and the lines inside of blocks.

    A line is the `head` of a block, a `line` in one, or `more` of the line before.
    """
    columns: dict[int, tuple[str, int]] = {}
    inside: set[int] = set()
    text = clean(source.text)
    for block in blocks(source, text, Problems()):
        head = text[block.header.start : block.header.end]
        column = _PACK_COLUMN if head.startswith("pack") else _RULE_COLUMN
        pieces = [("head", 2, block.header), *(("line", column, span) for span in block.body)]
        last = 0
        for role, at, span in pieces:
            first, last = (source.line_column(place)[0] - 1 for place in (span.start, span.end))
            columns[first] = (role, at)
            columns |= {n: ("more", at) for n in range(first + 1, last + 1)}
        if head.endswith("{"):
            inside |= set(range(source.line_column(block.header.end)[0], last + 2))
    return columns, inside


def _aligned(code: str, role: tuple[str, int]) -> str:
    what, column = role
    if what == "head":
        return code
    if what == "line" and (match := _KEYS.fullmatch(code)):
        return f"{'  ' + match[1]:<{column}}{match[2]}".rstrip()
    return f"{' ' * column}{code}" if code else ""


def _parted(line: str) -> tuple[str, str]:
    """Return the words of a line with single spaces between them, and its comment."""
    quoted = False
    place = len(line)
    for at, letter in enumerate(line):
        if letter == '"':
            quoted = not quoted
        elif letter == "#" and not quoted:
            place = at
            break
    pieces = _QUOTED.split(line[:place].replace("\t", " "))
    tidy = [p if p.startswith('"') else re.sub(r" +,", ",", re.sub(r" +", " ", p)) for p in pieces]
    return "".join(tidy).strip(), line[place:].rstrip()
