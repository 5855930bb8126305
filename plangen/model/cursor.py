"""Walks along the terms of a clause, and tells what stands there when it is not what was wanted."""

from __future__ import annotations

from itertools import takewhile

from plangen.syntax.tree import HUMAN, Term, TermKind
from plangen.text.source import Span
from plangen.text.trade_words import LONGEST


class Cursor:
    """The terms of one clause and how far they are read."""

    __slots__ = ("index", "terms")

    def __init__(self, terms: tuple[Term, ...], index: int = 0) -> None:
        self.terms = terms
        self.index = index

    def peek(self, ahead: int = 0) -> Term | None:
        """Return the term that many places ahead, or None past the end."""
        i = self.index + ahead
        return self.terms[i] if i < len(self.terms) else None

    def take(self) -> Term:
        """Return the next term and step over it."""
        term = self.terms[self.index]
        self.index += 1
        return term

    def is_kind(self, *kinds: TermKind) -> bool:
        """Return whether the next term is of one of the kinds."""
        term = self.peek()
        return term is not None and term.kind in kinds

    def is_word(self, *words: str) -> bool:
        """Return whether the next term is one of the words."""
        term = self.peek()
        return term is not None and term.kind is TermKind.WORD and term.text in words

    def skip_word(self, *words: str) -> bool:
        """Step over the next term if it is one of the words."""
        if self.is_word(*words):
            self.index += 1
            return True
        return False

    def matches(self, lead: tuple[str, ...]) -> bool:
        """Return whether the next terms are these words."""
        for i, word in enumerate(lead):
            term = self.peek(i)
            if term is None or term.kind is not TermKind.WORD or term.text != word:
                return False
        return True

    def choice(self, choices: tuple[str, ...]) -> str | None:
        """Return the choice that stands here, of one word or more; the longest wins."""
        found = [c for c in choices if self.matches(tuple(c.split()))]
        return max(found, key=len) if found else None

    def here(self) -> Span:
        """Return the span of the next term, or a point just past the last one."""
        term = self.peek()
        if term is not None:
            return term.span
        last = self.terms[-1].span
        return Span(last.file, last.end, last.end)

    def before(self) -> Term | None:
        """Return the term last taken."""
        return self.terms[self.index - 1] if self.index else None


def shown(term: Term | None) -> str:
    """Return a term as told in a message."""
    if term is None:
        return "nothing"
    if term.kind is TermKind.TEXT:
        text = term.text if len(term.text) <= 30 else term.text[:29] + "…"
        return f'the text `"{text}"`'
    if term.kind is TermKind.ARROW:
        return HUMAN[TermKind.ARROW]
    return f"`{term.text}`"


def leading_words(terms: tuple[Term, ...]) -> list[str]:
    """Return the words that the terms begin with; a name in front counts as a word with a capital."""
    head = [terms[0].text.lower()] if terms and terms[0].kind is TermKind.NAME else []
    rest = terms[len(head) : LONGEST]
    return head + [t.text for t in takewhile(lambda t: t.kind is TermKind.WORD, rest)]
