"""The canonical layout of a design text, printed from its tree with every comment and blank-line group.

Only blanks and line ends change: terms, their order and the author's digits stay. What is lead and name of a
statement is told by the caller, since the language table is not known here.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

from plangen.syntax.comments import Comment, Marks, marks_of
from plangen.syntax.format_statement import INDENT, statement_lines
from plangen.syntax.format_terms import term_text
from plangen.syntax.tree import Block, DesignTree, Include, Statement, Version

# For a statement in a block of this first word: how many of its terms are lead and name, and their columns.
Key = Callable[[str, Statement], tuple[int, int]]


def formatted(tree: DesignTree, text: str, key: Key) -> str:
    """Return the canonical text of a tree that was read from `text` without a message."""
    return _Printer(marks_of(text), key).file(tree)


def printed(tree: DesignTree, key: Key) -> str:
    """Return the canonical text of a tree alone: no comments, one empty line between blocks."""
    return _Printer(None, key).file(tree)


class _Printer:
    """Writes one file; keeps how far the text is written, and what was written last."""

    def __init__(self, marks: Marks | None, key: Key) -> None:
        self.marks = marks
        self.comments = list(marks.comments) if marks else []
        self.next = 0
        self.key = key
        self.lines: list[str] = []
        self.done = 0
        self.last = ""  # "", comment, version, include, block, open or statement

    def file(self, tree: DesignTree) -> str:
        """Return the whole text, ending with a line end."""
        items: list[tuple[int, Version | Block | Include]] = [(t.span.start, t) for t in tree.versions]
        items += [(include.span.start, include) for include in tree.includes]
        items += [(block.span.start, block) for block in tree.blocks]
        if self.marks is not None:
            items.sort(key=lambda item: item[0])
        for start, item in items:
            if isinstance(item, Block):
                self._block(item)
            elif isinstance(item, Include):
                self._include(item)
            else:
                self._comments_before(start, "")
                self._gap(start, "version")
                self._write(f"{item.word.text} {item.number.text}", item.span.end, "version")
        self._comments_before(None, "")
        return "\n".join(self.lines) + "\n" if self.lines else ""

    def _include(self, include: Include) -> None:
        self._comments_before(include.span.start, "")
        self._gap(include.span.start, "include")
        what = f"library {include.name}" if include.library else f'"{include.name}"'
        self._write(f"include {what}", include.span.end, "include")

    def _block(self, block: Block) -> None:
        start = block.span.start
        self._comments_before(start, "")
        self._gap(start, "block")
        header = " ".join(term_text(term) for term in block.header)
        open_at = self._after(self.marks.opens if self.marks else (), block.header[-1].span.end)
        self._write(f"{header} {{", open_at + 1, "open")
        for statement in block.statements:
            self._statement(block, statement)
        end = self._after(self.marks.closes if self.marks else (), max(block.span.end, self.done))
        self._comments_before(end, INDENT)
        self._write("}", end + 1, "block")

    def _statement(self, block: Block, statement: Statement) -> None:
        span = statement.span
        self._comments_before(span.start, INDENT)
        self._gap(span.start, "statement")
        inside: list[Comment] = []
        while (comment := self._peek()) and (comment.start < span.end or self._behind(comment, span.end)):
            inside.append(comment)
            self.next += 1
        count, width = self.key(block.header[0].text, statement)
        self.lines += statement_lines(statement, count, width, inside)
        self.done, self.last = max([span.end, *(c.end for c in inside)]), "statement"

    def _behind(self, comment: Comment, end: int) -> bool:
        """Return whether a comment stands on the line on which a statement ends."""
        return self.marks is not None and "\n" not in self.marks.text[end : comment.start]

    def _peek(self) -> Comment | None:
        return self.comments[self.next] if self.next < len(self.comments) else None

    def _comments_before(self, offset: int | None, indent: str) -> None:
        """Write the comments that stand before a place in the text, or all that are left."""
        while (comment := self._peek()) and (offset is None or comment.start < offset):
            if not comment.alone and self.last not in ("", "comment"):
                self.lines[-1] += f"  {comment.text}"
                self.done = comment.end
            else:
                self._gap(comment.start, "comment")
                self._write(indent + comment.text, comment.end, "comment")
            self.next += 1

    def _gap(self, start: int, what: str) -> None:
        """Write an empty line where the text has one or more, or where the layout always has one."""
        if self.last in ("", "open"):
            return
        apart = ("version", "block")
        always = self.last in apart or (what in apart and self.last != "comment")
        if always or (self.marks is not None and self.marks.blank_between(self.done, start)):
            self.lines.append("")

    def _write(self, line: str, end: int, what: str) -> None:
        self.lines.append(line)
        self.done, self.last = end, what

    @staticmethod
    def _after(places: tuple[int, ...], offset: int) -> int:
        """Return the first of rising places not before an offset, or the offset if there is none."""
        index = bisect_left(places, offset)
        return places[index] if index < len(places) else offset
