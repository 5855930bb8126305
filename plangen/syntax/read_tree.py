"""Reads design text into a tree. Parsing never fails: what cannot be read becomes a message and a hole.

A whole file is parsed in one go. Where that fails it is parsed again line by line inside blocks that begin
and end at column 0, so that each bad line gives one message and no broken block hides the next.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from plangen.diagnostics.diagnostic import Outcome, Problems
from plangen.parsing.grammar_cache import load_grammar
from plangen.syntax.build_tree import Continuation, TreeBuilder
from plangen.syntax.includes import take_includes
from plangen.syntax.tree import Block, DesignTree, Version
from plangen.text.source import SourceFile, Span

if TYPE_CHECKING:
    from lark import Lark


# More names than any statement may have, and as few as a text of this length can hold.
MOST_NAMES = 10_000
_LONG_TEXT = 2 * MOST_NAMES
_ROW = re.compile(r"(?<![\w.-])(?:[A-Z][A-Za-z0-9-]*+[ \t]*+,\s*+){2,}+")


@lru_cache(maxsize=1)
def design_parser() -> tuple[Lark, TreeBuilder]:
    """Return the parser and the builder it calls; one parser serves a whole process."""
    builder = TreeBuilder()
    starts = ("start", "header", "statement")
    return load_grammar("design.lark", starts, Continuation(), builder), builder


def read_tree(source: SourceFile) -> Outcome[DesignTree]:
    """Return the tree of a design text, always with a value, and what could not be read."""
    problems = Problems()
    if not source.text.strip():
        problems.error(
            "PG0004", "the file is empty", Span(source.name, 0, 0), help="begin with the line `plangen 1`"
        )
        return Outcome(DesignTree(source.name, (), (), whole=False), problems.done())
    short = _without_endless_rows(source, problems)
    bare, includes = take_includes(short, problems)
    read = _parsed(bare)
    if read.value is None or not (includes or problems.items):
        return read
    whole = read.value.whole and not problems.items
    problems.items.extend(read.problems)
    for include in includes:
        if any(b.span.start < include.span.start < b.span.end for b in read.value.blocks):
            problems.error(
                "PG1013", "this line stands inside a block", include.span, help="move it before the block"
            )
    return Outcome(replace(read.value, includes=includes, whole=whole), problems.done())


def _without_endless_rows(source: SourceFile, problems: Problems) -> SourceFile:
    """Return a text in which rows of names too long for any statement are blanks but for first and last.

    Parsing 200,000 names takes ten seconds, after which they are refused all the same.
    """
    text = source.text
    if len(text) < _LONG_TEXT:
        return source
    for row in _ROW.finditer(text):
        count = row[0].count(",") + 1
        if count > MOST_NAMES:
            first = row[0].index(",")
            span = Span(source.name, row.start(), row.start() + first)
            told = f"{count} names stand in one row"
            problems.error("PG2025", told, span, expected=f"{MOST_NAMES} at most")
            begin, end = row.start() + first + 1, row.end()
            text = text[:begin] + re.sub(r"[^\n]", " ", text[begin:end]) + text[end:]
    return source if text is source.text else replace(source, text=text)


def _parsed(source: SourceFile) -> Outcome[DesignTree]:
    """Return the tree of a text without include lines."""
    from lark.exceptions import LarkError

    parser, builder = design_parser()
    builder.begin(source.name)
    try:
        items: Any = parser.parse(source.text + "\n", start="start")
    except (LarkError, RecursionError) as error:
        from plangen.syntax.recover import recover

        return recover(source, parser, builder, error)
    return Outcome(_tree(source, items), ())


def _tree(source: SourceFile, items: list[Any]) -> DesignTree:
    versions: list[Version] = []
    blocks: list[Block] = []
    for item in items:
        if isinstance(item, Block):
            blocks.append(item)
        else:
            versions.append(item)
    return DesignTree(source.name, tuple(versions), tuple(blocks))
