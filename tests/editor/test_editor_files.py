"""The editors' files know every terminal and every word, and colour the examples without a gap."""

from __future__ import annotations

import importlib.util
import json
import re
from typing import Any

import pytest

from plangen.model.editor import BLANKS, MARKS, TERMINALS, language_words, terminals
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import Want
from plangen.shipped.folders import shipped_folder, shipped_text

EXAMPLES = ("residential", "broken", "commercial", "unmeasured")


def texts() -> list[str]:
    """Return the examples and the starter."""
    found = [shipped_text("examples", name, "design.plan") for name in EXAMPLES]
    return [*found, shipped_text("site", "starter", "design.plan")]


def lexer() -> Any:
    """Return the shipped lexer, loaded from its file as an editor or a documentation tool does."""
    pytest.importorskip("pygments")
    path = shipped_folder("site") / "editor" / "plangen_lexer.py"
    spec = importlib.util.spec_from_file_location("plangen_lexer", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.DesignLexer()


def textmate() -> list[tuple[re.Pattern[str], str]]:
    """Return the patterns of the shipped TextMate grammar with their scopes."""
    grammar = json.loads(shipped_text("site", "editor", "plangen.tmLanguage.json"))
    assert grammar["scopeName"] == "source.plangen"
    return [
        (re.compile(rule["match"], re.MULTILINE), rule.get("name") or rule["captures"]["2"]["name"])
        for rule in grammar["patterns"]
    ]


def coloured(text: str) -> list[tuple[str, str]]:
    """Return the pieces of a text with their scopes: of the first match the first pattern wins."""
    rules, place, found = textmate(), 0, []
    while place < len(text):
        hits = [(m.start(), order, m, s) for order, (p, s) in enumerate(rules) if (m := p.match(text, place))]
        if hits:
            _, _, match, scope = min(hits, key=lambda h: (h[0], h[1]))
            found.append((match.group().strip(), scope))
            place = max(match.end(), place + 1)
        else:
            assert text[place].isspace(), repr(text[place : place + 30])
            place += 1
    return found


def test_every_terminal_of_the_grammar_has_a_colour() -> None:
    known = terminals()
    assert set(known) == {*TERMINALS, *BLANKS}
    written_out = set(re.findall(r"^[a-z_?]+:.*$", shipped_text("grammar", "design.lark"), re.MULTILINE))
    marks = {mark for rule in written_out for mark in re.findall(r'"([^"]+)"', rule)}
    assert marks == set(MARKS)


def test_every_word_of_the_tables_is_known() -> None:
    words = language_words()
    everything = {*words.blocks, *words.statements, *words.clauses, *words.choices, *words.joints}
    for block in BLOCKS.values():
        assert block.lead in words.blocks
        for spec in block.statements:
            assert spec.words in words.statements
            for slot in spec.slots():
                assert not slot.lead or slot.words in words.clauses
                assert set(slot.choices) <= everything


def test_the_lexer_colours_every_statement_as_one() -> None:
    found = lexer()
    for block in BLOCKS.values():
        for spec in block.statements:
            tokens = list(found.get_tokens(f"{block.lead} {{\n  {spec.words} X1 3/4 in\n}}\n"))
            assert (str(tokens[0][0]), tokens[0][1]) == ("Token.Keyword.Declaration", block.lead)
            assert ("Token.Keyword", spec.words) in [(str(kind), text) for kind, text in tokens]
            for slot in spec.clauses:
                if slot.lead and slot.want is not Want.FLAG:
                    tokens = list(found.get_tokens(f"  {spec.words} X1, {slot.words} 3/4 in\n"))
                    assert ("Token.Name.Attribute", slot.words) in [(str(k), t) for k, t in tokens], slot


def test_the_examples_lex_without_an_error_and_back_to_their_text() -> None:
    found = lexer()
    for text in texts():
        tokens = list(found.get_tokens_unprocessed(text))
        assert not [t for _, kind, t in tokens if "Error" in str(kind)]
        assert "".join(t for _, _, t in tokens) == text


def test_the_textmate_grammar_colours_the_examples_without_a_gap() -> None:
    for text in texts():
        pieces = coloured(text)
        scopes = {scope for _, scope in pieces}
        assert len(scopes) >= 12
        assert ("source", "keyword.other.statement.plangen") in pieces
        assert ("zone", "keyword.control.block.plangen") in pieces
        assert all(scope.startswith("comment") for piece, scope in pieces if piece.startswith("#"))


def test_a_clause_at_the_beginning_of_a_line_is_not_taken_for_a_statement() -> None:
    goes_on = '  assembly BF1   pvb-1,\n                 drain "to grade"\n'
    text = f"connection {{\n{goes_on}  drain DR1      at (1, 2)\n}}\n"
    kinds = [scope for piece, scope in coloured(text) if piece == "drain"]
    assert kinds == ["entity.other.attribute-name.clause.plangen", "keyword.other.statement.plangen"]
