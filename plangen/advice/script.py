"""The texts of a design as trees to point into, and edits of them that leave everything else as written."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from plangen.model.formatted import key
from plangen.syntax.comments import marks_of
from plangen.syntax.format import formatted
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import Block, Clause, DesignTree, Statement, Term, TermKind
from plangen.text.source import SourceFile


@dataclass(frozen=True, slots=True)
class Edit:
    """A stretch of one file put in other words; an empty stretch inserts."""

    file: str
    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class Found:
    """A statement that names an object, in its block and file."""

    source: SourceFile
    block: Block
    statement: Statement
    lead: int  # how many terms are lead words and name

    @property
    def first(self) -> tuple[Term, ...]:
        """Return the terms of its first clause behind its lead and name."""
        return self.statement.clauses[0].terms[self.lead :]

    @property
    def name(self) -> Term:
        """Return the term of its name."""
        return self.statement.clauses[0].terms[self.lead - 1]

    def clause(self, word: str) -> Clause | None:
        """Return the clause that begins with a word, or None."""
        return next((c for c in self.statement.clauses[1:] if c.terms[0].text == word), None)


class Script:
    """All files of a design, read as trees. The first is the root."""

    def __init__(self, sources: Iterable[SourceFile]) -> None:
        """Read the trees; the texts are known to parse."""
        self.sources = tuple(sources)
        self.trees: tuple[tuple[SourceFile, DesignTree], ...] = tuple(
            (s, tree) for s in self.sources if (tree := read_tree(s).value) is not None
        )

    def statements(self) -> Iterator[Found]:
        """Yield every statement that names one object."""
        for source, tree in self.trees:
            for block in tree.blocks:
                for statement in block.statements:
                    lead, _ = key(block.header[0].text, statement)
                    terms = statement.clauses[0].terms
                    if lead and terms[lead - 1].kind is TermKind.NAME:
                        yield Found(source, block, statement, lead)

    def find(self, name: str) -> Found | None:
        """Return the statement that names an object, or None: of a list or a row no one does."""
        return next((f for f in self.statements() if f.name.text == name), None)

    def block_named(self, lead: str, name: str) -> tuple[SourceFile, Block] | None:
        """Return a block by its first word and name."""
        for source, tree in self.trees:
            for block in tree.blocks:
                if [t.text for t in block.header[:2]] == [lead, name]:
                    return source, block
        return None

    def edited(self, edits: Iterable[Edit]) -> tuple[SourceFile, ...]:
        """Return the files with edits made and nothing else changed."""
        by_file: dict[str, list[Edit]] = {}
        for edit in edits:
            by_file.setdefault(edit.file, []).append(edit)
        return tuple(_changed(s, by_file[s.name]) if s.name in by_file else s for s in self.sources)


def _changed(source: SourceFile, edits: list[Edit]) -> SourceFile:
    text = source.text
    for edit in sorted(edits, key=lambda e: (e.start, e.end), reverse=True):
        text = text[: edit.start] + edit.text + text[edit.end :]
    return SourceFile.of(source.name, text)


def tidied(before: Sequence[SourceFile], after: Sequence[SourceFile]) -> tuple[SourceFile, ...]:
    """Return edited files; those that stood in the canonical layout before stand in it again."""
    out = []
    for old, new in zip(before, after, strict=True):
        tidy = laid_out(new) if new.text != old.text and laid_out(old) == old.text else None
        out.append(new if tidy is None else SourceFile.of(new.name, tidy))
    return tuple(out)


def laid_out(source: SourceFile) -> str | None:
    """Return a text in its canonical layout, or None where it does not parse."""
    tree = read_tree(source)
    return None if tree.value is None or tree.problems else formatted(tree.value, source.text, key)


def whole_lines(source: SourceFile, statement: Statement) -> tuple[int, int]:
    """Return where the lines of a statement begin and end, comments on them and right above them included."""
    text, span = source.text, statement.span
    start = text.rfind("\n", 0, span.start) + 1
    while start > 0:
        above = text.rfind("\n", 0, start - 1) + 1
        if not text[above:start].lstrip().startswith("#"):
            break
        start = above
    end = text.find("\n", span.end)
    return start, len(text) if end < 0 else end + 1


def block_end(source: SourceFile, block: Block) -> int:
    """Return where the line after the closing brace of a block begins."""
    after = max((s.span.end for s in block.statements), default=block.header[-1].span.end)
    close = next(c for c in marks_of(source.text).closes if c >= after)
    end = source.text.find("\n", close)
    return len(source.text) if end < 0 else end + 1


def written(source: SourceFile, statement: Statement, swaps: Mapping[tuple[int, int], str]) -> str:
    """Return a statement as written, on a line of its own, with stretches of it put in other words."""
    span = statement.span
    out, at = [], span.start
    for (start, end), words in sorted(swaps.items()):
        out.append(source.text[at:start] + words)
        at = end
    out.append(source.text[at : span.end])
    return f"  {''.join(out)}\n"


def difference(before: Iterable[SourceFile], after: Iterable[SourceFile]) -> str:
    """Return the changes of the files as one unified difference with line numbers."""
    lines: list[str] = []
    for old, new in zip(before, after, strict=True):
        if old.text != new.text:
            pair = (old.text.splitlines(keepends=True), new.text.splitlines(keepends=True))
            lines += difflib.unified_diff(*pair, old.name, new.name, n=1)
    return "".join(line if line.endswith("\n") else f"{line}\n\\ no line end here\n" for line in lines)
