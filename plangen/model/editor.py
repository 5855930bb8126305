"""Files for editors, made from the grammar's terminals and the language tables: one source for colours.

A TextMate grammar (read by most editors) and a Pygments lexer (read by documentation tools). Both hold words
and patterns only, so that they work without plangen.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import Any

from plangen.model.read_backing import FOLLOWERS
from plangen.model.read_place import BEARINGS, CORNERS
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.slots import STATE
from plangen.shipped.folders import shipped_text

# Terminals of the grammar in the order in which an editor tries them: scope for TextMate, token for Pygments.
# The words are split further by what they are in the language; the blanks and line ends need no colour.
TERMINALS: dict[str, tuple[str, str]] = {
    "COMMENT": ("comment.line.number-sign", "Comment.Single"),
    "TEXT": ("string.quoted.double", "String.Double"),
    "DATE": ("constant.other.date", "Literal.Date"),
    "QUANTITY": ("constant.numeric.quantity", "Number"),
    "NUMBER": ("constant.numeric", "Number"),
    "CORNER": ("variable.other.corner", "Name.Variable"),
    "NAME": ("entity.name.object", "Name.Entity"),
    "ARROW": ("keyword.operator.arrow", "Operator"),
    "COLON": ("punctuation.separator.list", "Punctuation"),
    "LPAR": ("punctuation.section.pair", "Punctuation"),
    "RPAR": ("punctuation.section.pair", "Punctuation"),
    "WORD": ("variable.other.word", "Name"),
}
BLANKS = ("_NL",)
# Marks that the grammar writes out where it uses them.
MARKS = ("{", "}", ",")
_TERMINAL = re.compile(r"^(_?[A-Z]+)(?:\.\d+)?: (?:/(.+)/|\"(.+)\")$", re.MULTILINE)
_END = r"(?![-.]?[A-Za-z0-9])"
# A line that goes on stands further in, so that a clause at its beginning is not taken for a statement.
_INDENT = r"^(\t| {1,8})"
_STATEMENT = "bygroups(Whitespace, Keyword)"


@dataclass(frozen=True, slots=True)
class Words:
    """The words of the language by what they are, the longest first so that none hides a longer one."""

    blocks: tuple[str, ...]
    statements: tuple[str, ...]
    clauses: tuple[str, ...]
    choices: tuple[str, ...]
    joints: tuple[str, ...]


def language_words() -> Words:
    """Return every word that the language knows."""
    statements, clauses, choices, joints = set(), set(), {*STATE.choices, "none"}, set(FOLLOWERS)
    for block in BLOCKS.values():
        for spec in block.statements:
            statements.add(spec.words)
            for slot in spec.slots():
                choices.update(slot.choices)
                clauses.update({slot.words} - {""})
                joints.update(slot.trailing)
    joints.update(
        ("of", "along", "data sheet", "standard", "memory", "typical values", "library", "replaces"),
        BEARINGS,
        CORNERS,
    )
    return Words(
        _longest_first(BLOCKS),
        _longest_first(statements),
        _longest_first(clauses),
        _longest_first(choices - clauses),
        _longest_first(joints - clauses - choices),
    )


def _longest_first(words: Any) -> tuple[str, ...]:
    return tuple(sorted(words, key=lambda word: (-len(word), word)))


def terminals() -> dict[str, str]:
    """Return the pattern of each terminal of the design grammar, as written there."""
    found = _TERMINAL.findall(shipped_text("grammar", "design.lark"))
    return {name: pattern.replace("\\/", "/") or re.escape(literal) for name, pattern, literal in found}


def _any(words: tuple[str, ...]) -> str:
    return "(?:" + "|".join(word.replace(" ", r"[ \t]+") for word in words) + ")" + _END


def patterns() -> list[tuple[str, str, str]]:
    """Return (pattern, TextMate scope, Pygments token) in the order in which they are tried."""
    words, known = language_words(), terminals()
    rows = [(known[name], *TERMINALS[name]) for name in TERMINALS if name != "WORD"]
    rows += [
        (f"^{_any(('include', 'plangen', *words.blocks))}", "keyword.control.block", "Keyword.Declaration"),
        (f"{_INDENT}({_any(words.statements)})", "keyword.other.statement", _STATEMENT),
        (_any(words.clauses), "entity.other.attribute-name.clause", "Name.Attribute"),
        (_any(words.choices), "constant.language.choice", "Keyword.Constant"),
        (_any(words.joints), "keyword.operator.word", "Operator.Word"),
        (known["WORD"], *TERMINALS["WORD"]),
        ("[" + "".join(re.escape(mark) for mark in MARKS) + "]", "punctuation.separator", "Punctuation"),
    ]
    return rows


def textmate_grammar() -> str:
    """Return the TextMate grammar as JSON."""
    grammar = {
        "$comment": "generated from the grammar and the language tables of plangen; do not edit",
        "name": "plangen design",
        "scopeName": "source.plangen",
        "fileTypes": ["plan"],
        "patterns": [_textmate_rule(*row) for row in patterns()],
    }
    return json.dumps(grammar, ensure_ascii=False, indent=2) + "\n"


def _textmate_rule(match: str, scope: str, token: str) -> dict[str, Any]:
    if token == _STATEMENT:
        return {"match": match, "captures": {"2": {"name": f"{scope}.plangen"}}}
    return {"match": match, "name": f"{scope}.plangen"}


_LEXER = '''"""A Pygments lexer for plangen designs. Generated from grammar and language tables; do not edit.

Use: `pygmentize -x -l plangen_lexer.py:DesignLexer design.plan`
"""
# ruff: noqa

import re

from pygments.lexer import RegexLexer, bygroups
from pygments.token import (
    Comment, Keyword, Literal, Name, Number, Operator, Punctuation, String, Whitespace,
)


class DesignLexer(RegexLexer):
    """Design texts of plangen."""

    name = "plangen design"
    aliases = ["plangen"]
    filenames = ["*.plan"]
    flags = re.MULTILINE
    tokens = {
        "root": [
@ROWS@
            (r"\\n", Whitespace),
            (r"[ \\t\\r\\x0c\\xa0]+", Whitespace),
        ]
    }
'''


def pygments_lexer() -> str:
    """Return the lexer as the text of a Python module."""
    rows = [f"            ({match!r}, {token})," for match, _, token in patterns()]
    return _LEXER.replace("@ROWS@", "\n".join(rows))
