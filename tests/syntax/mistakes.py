"""Slips of the hand that are mistakes for certain: of a keyword, a name, a unit, a bracket, a required field.

Each is made where the text's own tree says that the thing stands, so that an edit which happens to mean
something else is not among them. For the tests and for the benchmark.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from plangen.model.bind_blocks import lookup
from plangen.model.cursor import Cursor
from plangen.model.editor import language_words
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import Slot, StatementSpec, Want
from plangen.quantity.dimension import UNITS, Dimension
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import Block, DesignTree, Statement, Term, TermKind
from plangen.text.source import SourceFile

K = TermKind
KINDS = ("keyword", "name", "unit", "bracket", "required field")
_LETTERS = "aeiourstlnx"
# Words that the author is free in: packs, rules, and what a thing is made of.
_FREE = frozenset({"jurisdiction", "waive", "confirm"})


@dataclass(frozen=True, slots=True)
class Mistake:
    """A broken text, what was done, and the lines on which its message would be right."""

    text: str
    kind: str
    what: str
    lines: frozenset[int]


@dataclass(frozen=True, slots=True)
class _Spot:
    """A stretch of the text to be changed, and what else is known of it."""

    start: int
    end: int
    text: str


class Breaker:
    """Makes mistakes in one text that reads without a message."""

    def __init__(self, text: str) -> None:
        self.source = SourceFile.of("design.plan", text)
        self.text = text
        tree = read_tree(self.source).value
        assert tree is not None
        self.tree: DesignTree = tree
        words = language_words()
        known = (*words.blocks, *words.statements, *words.clauses, *words.choices, *words.joints)
        self.words = {word for phrase in known for word in phrase.split()}
        self.parts = {b.header[1].text for b in tree.blocks if b.header[0].text == "part"}
        self.names: dict[str, list[Term]] = {}
        for term in self._terms():
            if term.kind in (K.NAME, K.CORNER):
                self.names.setdefault(term.text.split(".")[0], []).append(term)
            elif term.kind is K.WORD and term.text in self.parts:
                self.names.setdefault(term.text, []).append(term)
        self.makers: dict[str, Callable[[random.Random], Mistake | None]] = {
            "keyword": self.keyword,
            "name": self.name,
            "unit": self.unit,
            "bracket": self.bracket,
            "required field": self.required,
        }

    def mistake(self, kind: str, rng: random.Random) -> Mistake:
        """Return a mistake of a kind."""
        while True:
            found = self.makers[kind](rng)
            if found is not None:
                return found

    def _statements(self) -> Iterator[tuple[Block, Statement]]:
        for block in self.tree.blocks:
            for statement in block.statements:
                yield block, statement

    def _terms(self) -> Iterator[Term]:
        for block in self.tree.blocks:
            yield from block.header
            for statement in block.statements:
                for clause in statement.clauses:
                    yield from clause.terms

    def _line(self, offset: int) -> int:
        return self.source.line_column(offset)[0]

    def _changed(self, kind: str, spot: _Spot, new: str, lines: frozenset[int] = frozenset()) -> Mistake:
        text = self.text[: spot.start] + new + self.text[spot.end :]
        here = frozenset(range(self._line(spot.start), self._line(max(spot.start, spot.end - 1)) + 1))
        return Mistake(text, kind, f"{spot.text!r} -> {new!r} in line {min(here)}", here | lines)

    def keyword(self, rng: random.Random) -> Mistake | None:
        """Misspell a word of the language."""
        block = rng.choice(self.tree.blocks)
        terms = list(block.header[:1])
        for statement in block.statements:
            free = statement.clauses[0].terms[0].text in _FREE
            for number, clause in enumerate(statement.clauses):
                words = clause.terms[: 1 if free and number == 0 else None]
                before = ""
                for term in words:
                    if term.kind is K.WORD and term.text in self.words and before != "material":
                        terms.append(term)
                    before = term.text
        term = rng.choice(terms)
        wrong = _misspelt(term.text, rng)
        if wrong in self.words or wrong in self.parts or wrong == term.text:
            return None
        return self._changed("keyword", _Spot(term.span.start, term.span.end, term.text), wrong)

    def name(self, rng: random.Random) -> Mistake | None:
        """Misspell a name where it is used, or where it is defined if it is used."""
        name = rng.choice([n for n, terms in self.names.items() if len(terms) > 1])
        term = rng.choice(self.names[name])
        wrong = _misspelt(name, rng, first=1)
        if wrong in self.names or wrong in self.words or wrong == name:
            return None
        spot = _Spot(term.span.start, term.span.start + len(name), name)
        defined = term in self._definitions()
        lines = frozenset(self._line(t.span.start) for t in self.names[name]) if defined else frozenset()
        return self._changed("name", spot, wrong, lines)

    def _definitions(self) -> set[Term]:
        found = {b.header[1] for b in self.tree.blocks if len(b.header) > 1}
        for block, statement in self._statements():
            spec = _spec(block, statement)
            if spec is not None and spec.named:
                terms = statement.clauses[0].terms
                found.update(terms[len(spec.lead) : len(spec.lead) + 1])
                if spec.named == "several":
                    found.update(c.terms[0] for c in statement.clauses if c.terms[0].kind is K.NAME)
        return found

    def unit(self, rng: random.Random) -> Mistake | None:
        """Misspell a unit, leave it out, or take one of another dimension."""
        terms = [t for term in self._terms() for t in (term, *term.items) if t.kind is K.QUANTITY]
        term = rng.choice(terms)
        number = term.text.rstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ/%32")
        symbol = term.text[len(number) :]
        while symbol and symbol not in UNITS:
            symbol, number = symbol[1:], number + symbol[0]
        if not symbol:
            return None
        dimension = UNITS[symbol].dimension
        how = rng.choice(("misspelt", "left out", "of another dimension"))
        if how == "misspelt":
            wrong = _misspelt(symbol, rng)
            if wrong in UNITS or wrong == symbol or not wrong:
                return None
        elif how == "left out":
            if dimension in (Dimension.RATIO, Dimension.COUNT):
                return None
            wrong = ""
        else:
            wrong = rng.choice(sorted(s for s, u in UNITS.items() if u.dimension is not dimension))
            if " ft " in f" {number} " or dimension in (Dimension.RATIO, Dimension.COUNT):
                return None
        start = term.span.start + len(number)
        return self._changed("unit", _Spot(start, term.span.end, symbol), wrong)

    def bracket(self, rng: random.Random) -> Mistake | None:
        """Leave out a brace, parenthesis or quote, or write it twice."""
        code = [i for i in self._code() if self.text[i] in '{}()"']
        at = rng.choice(code)
        mark = self.text[at]
        twice = rng.random() < 0.5
        line = self._line(at)
        near = {line}
        if not twice and self.source.line(line).strip() == mark:
            near.add(max(n for n in range(1, line) if self.source.line(n).split("#")[0].strip()))
        return self._changed("bracket", _Spot(at, at + 1, mark), mark * 2 if twice else "", frozenset(near))

    def _code(self) -> Iterator[int]:
        comment = quoted = False
        for i, char in enumerate(self.text):
            if char == "\n":
                comment = quoted = False
            elif not comment and char == '"':
                quoted = not quoted
                yield i
            elif not quoted and char == "#":
                comment = True
            elif not comment and not quoted:
                yield i

    def required(self, rng: random.Random) -> Mistake | None:
        """Leave out what a statement must say, or a statement that its block must have."""
        block = rng.choice(self.tree.blocks)
        statement = rng.choice(block.statements)
        spec = _spec(block, statement)
        if spec is None or statement.listed:
            return None
        if spec.required and rng.random() < 0.5:
            header = self._line(block.span.start)
            return self._cut(statement.span.start, statement.span.end, frozenset({header}))
        spots = [_clause_spot(self.text, statement, i) for i, _ in _required_clauses(spec, statement)]
        argument = _last_required(spec, statement)
        if argument is not None:
            spots.append((argument.span.start, argument.span.end))
        if not spots:
            return None
        return self._cut(*rng.choice(spots))

    def _cut(self, start: int, end: int, lines: frozenset[int] = frozenset()) -> Mistake:
        spot = _Spot(start, end, " ".join(self.text[start:end].split())[:60])
        first = frozenset({self._line(max(self.text.rfind("\n", 0, start), 0))})
        statement = next((s for _, s in self._statements() if s.span.start <= start <= s.span.end), None)
        whole = frozenset({self._line(statement.span.start)}) if statement else first
        return self._changed("required field", spot, "", lines | whole)


def _misspelt(word: str, rng: random.Random, first: int = 0) -> str:
    """Return a word with one letter left out, doubled, put in, changed, or two in the wrong order."""
    at = rng.randrange(min(first, len(word) - 1), len(word))
    how = rng.randrange(5)
    if how == 0 and len(word) > 2:
        return word[:at] + word[at + 1 :]
    if how == 1:
        return word[:at] + word[at] + word[at:]
    if how == 2 and first < at < len(word):
        return word[: at - 1] + word[at] + word[at - 1] + word[at + 1 :]
    if how == 3:
        return word[:at] + rng.choice(_LETTERS) + word[at + 1 :]
    return word[: at + 1] + rng.choice(_LETTERS) + word[at + 1 :]


def _spec(block: Block, statement: Statement) -> StatementSpec | None:
    found = BLOCKS.get(block.header[0].text)
    return lookup(found, Cursor(statement.clauses[0].terms)) if found else None


def _required_clauses(spec: StatementSpec, statement: Statement) -> Iterator[tuple[int, Slot]]:
    for i, clause in enumerate(statement.clauses):
        for slot in spec.clauses:
            if i and slot.required and slot.lead and Cursor(clause.terms).matches(slot.lead):
                yield i, slot


def _clause_spot(text: str, statement: Statement, i: int) -> tuple[int, int]:
    """Return the stretch of a clause with the comma before it."""
    clause = statement.clauses[i].span
    return text.rindex(",", 0, clause.start), clause.end


def _last_required(spec: StatementSpec, statement: Statement) -> Term | None:
    """Return the term of a statement's one required argument, where it is a single term."""
    terms = statement.clauses[0].terms[len(spec.lead) :]
    if spec.named in ("required", "several") and len(spec.args) == 0:
        return None
    slots = [slot for slot in spec.args if slot.required]
    single = (Want.TEXT, Want.WORD, Want.CHOICE, Want.QUANTITY, Want.DATE, Want.PART, Want.FAMILY, Want.REF)
    if len(slots) == 1 and not spec.named and len(terms) == 1 and slots[0].want in single:
        return terms[0]
    return None


def counted(found: Counter[str], whole: Counter[str]) -> str:
    """Return shares by kind as text."""
    return ", ".join(f"{kind} {found[kind] / whole[kind]:.1%}" for kind in KINDS if whole[kind])
