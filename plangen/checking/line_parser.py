"""One logical line of rule text to a lark tree, or one message in people's words.

In: cleaned text and the span of a line. Out: a tree whose tokens carry offsets into the whole text. The
grammar is read once; nothing here knows what the words mean.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from plangen.checking.messages import Code
from plangen.diagnostics.diagnostic import Problems
from plangen.parsing.grammar_cache import load_grammar
from plangen.quantity.dimension import UNITS
from plangen.shipped.folders import shipped_text
from plangen.text.source import Span
from plangen.text.suggest import closest, listed
from plangen.text.trade_words import is_other_unit

if TYPE_CHECKING:
    from lark import Lark

# A lark tree or token; which of them stands where is settled by the grammar.
Node = Any
STARTS = ("header", "pack_line", "rule_line")
# More choices than this say nothing to a reader; then only the words that begin a line are named.
MOST_EXPECTED = 8


@cache
def _parser() -> Lark:
    return load_grammar("rules.lark", STARTS, lexer="contextual", positions=True)


@cache
def terminal_names() -> dict[str, str]:
    """Return the human name of each terminal that does not simply stand for its own words."""
    pairs = (
        line.split(" = ", 1)
        for line in shipped_text("grammar", "rules.names").splitlines()
        if line.strip() and not line.startswith("#")
    )
    return {name: words for name, words in pairs}


def told(terminal: str) -> str:
    """Return the human name of a terminal: a phrase stands for its own words."""
    return terminal_names().get(terminal) or f"`{terminal.lower().replace('_', ' ')}`"


def parse_line(text: str, span: Span, start: str, problems: Problems) -> Node | None:
    """Return the tree of the line at `span`, or None after reporting what is wrong with it."""
    from lark import TextSlice, UnexpectedInput

    try:
        return _parser().parse(TextSlice(text, span.start, span.end), start=start)
    except UnexpectedInput as fault:
        _report(text, span, fault, problems)
        return None


def _report(text: str, line: Span, fault: object, problems: Problems) -> None:
    from lark import UnexpectedCharacters, UnexpectedToken

    expected: set[str] = set()
    if isinstance(fault, UnexpectedToken):
        expected = set(fault.accepts or fault.expected)
        at_end = fault.token.type == "$END"
        place = line.end if at_end else int(fault.token.start_pos or line.start)
    else:
        assert isinstance(fault, UnexpectedCharacters)
        expected, place, at_end = set(fault.allowed), int(fault.pos_in_stream or 0), False
    place = min(max(place, line.start), line.end)
    names = sorted(told(t) for t in expected)
    word, near = _nearest(text[place : line.end], _word_at(text, place, line.end), names)
    if at_end or not word:
        message, shown = "the line ends too soon", Span(line.file, max(line.start, line.end - 1), line.end)
    else:
        message, shown = f"`{word}` is not expected here", Span(line.file, place, place + len(word))
    problems.error(
        Code.SYNTAX,
        message,
        shown,
        expected=listed(names) if len(names) <= MOST_EXPECTED else "",
        help=_help(word, near, text[line.start : place]),
    )


def _nearest(rest: str, word: str, names: list[str]) -> tuple[str, str | None]:
    """Return the offending words and the phrase nearest to them: of several words where one is."""
    phrases = [n.strip("`") for n in names if n.startswith("`")]
    for length in (3, 2, 1):
        words = rest.split(" ")[:length]
        several = " ".join(words)
        near = closest(several, [p for p in phrases if p.count(" ") == length - 1])
        if len(words) == length and near is not None:
            return several, near
    return word, None


def _help(word: str, near: str | None, before: str) -> str:
    if near and near != word:
        return f"a similar word exists: `{near}`"
    if word.count('"') == 1:
        return "close the text with a double quote on the same line"
    if before[-1:].isdigit() or before.rstrip()[-1:].isdigit():
        unit = None if is_other_unit(word) else closest(word, UNITS)
        if unit:
            return f"a similar unit exists: `{unit}`"
    if before.split()[-1:] == ["where"]:
        return "write a condition inside another in parentheses: `where (kind is lateral)`"
    if word[:1].isupper():
        return "names are written in lower case"
    return ""


def _word_at(text: str, place: int, end: int) -> str:
    if place < end and text[place] == '"':
        close = text.find('"', place + 1, end)
        return text[place : end if close < 0 else close + 1]
    stop = place
    while stop < end and not text[stop].isspace() and (stop == place or text[stop] not in '(),"'):
        stop += 1
    return text[place:stop]
