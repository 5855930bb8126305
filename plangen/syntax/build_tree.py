"""Turns lark's matches into terms, clauses and blocks while it parses, so that no second tree is built."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from plangen.syntax.tree import Block, Clause, Statement, Term, TermKind, Version
from plangen.text.source import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lark import Token

# A quantity may hold blanks, and any of them means the same.
_PLAIN = str.maketrans("\x0c\xa0", "  ")
KIND_OF = {kind.name: kind for kind in TermKind}


class Continuation:
    """Lets a line go on inside parentheses and after a comma, colon or arrow, by dropping that line end."""

    always_accept = ("_NL",)

    def process(self, stream: Iterator[Token]) -> Iterator[Token]:
        """Yield the tokens without the line ends that do not end a statement."""
        depth, last = 0, ""
        for token in stream:
            kind = token.type
            if kind == "_NL" and (depth > 0 or last in ("COMMA", "ARROW", "COLON")):
                continue
            depth += 1 if kind == "LPAR" else -1 if kind == "RPAR" else 0
            last = kind
            yield token


class TreeBuilder:
    """The parser's callbacks. `file` and `offset` say where the text being parsed stands.

    `done` are the blocks and version lines that were whole before the parser stumbled.
    """

    def __init__(self) -> None:
        self.file = ""
        self.offset = 0
        self.done: list[Block | Version] = []

    def begin(self, file: str) -> None:
        """Prepare for the text of a whole file."""
        self.file, self.offset, self.done = file, 0, []

    def term(self, token: Any) -> Term:
        """Return a term from a token; what already is a term stays as it is."""
        if isinstance(token, Term):
            return token
        kind = KIND_OF[token.type]
        start, end = self.offset + token.start_pos, self.offset + token.end_pos
        text = token[1:-1] if kind is TermKind.TEXT else str(token).translate(_PLAIN)
        return Term(kind, text, Span(self.file, start, end))

    def pair(self, children: list[Any]) -> Term:
        """Return a pair term; its span reaches from parenthesis to parenthesis."""
        items = tuple(self.term(c) for c in children[1:-1])
        span = Span(self.file, self.offset + children[0].start_pos, self.offset + children[-1].end_pos)
        return Term(TermKind.PAIR, f"({items[0].text}, {items[1].text})", span, items)

    def run(self, children: list[Any]) -> list[Term]:
        """Return the terms of one step of a chain."""
        return [self.term(c) for c in children]

    def clause(self, children: list[Any]) -> Clause:
        """Return a clause: runs with the arrows between them."""
        terms: list[Term] = []
        for child in children:
            if isinstance(child, list):
                terms.extend(child)
            else:
                terms.append(self.term(child))
        return Clause(tuple(terms))

    def statement(self, children: list[Any]) -> Statement:
        """Return a statement; a colon among its clauses opens a list."""
        clauses = tuple(c for c in children if isinstance(c, Clause))
        for number, child in enumerate(children):
            if not isinstance(child, Clause):
                start, end = self.offset + child.start_pos, self.offset + child.end_pos
                return Statement(clauses, Span(self.file, start, end), number)
        return Statement(clauses)

    def header(self, children: list[Any]) -> tuple[Term, ...]:
        """Return the terms before a block's brace."""
        return tuple(self.term(c) for c in children)

    def block(self, children: list[Any]) -> Block | Version:
        """Return a block."""
        header, statements = children[0], tuple(children[1:])
        end = statements[-1].span if statements else header[-1].span
        self.done.append(Block(header, statements, header[0].span.join(end)))
        return self.done[-1]

    def version(self, children: list[Any]) -> Block | Version:
        """Return the version line."""
        self.done.append(Version(self.term(children[0]), self.term(children[1])))
        return self.done[-1]

    def start(self, children: list[Any]) -> list[Any]:
        """Return the items of the file in order."""
        return list(children)
