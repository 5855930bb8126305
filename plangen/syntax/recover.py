"""Reads a file that could not be parsed in one go: line by line, inside blocks that end at column 0.

Each bad line gives one message. A broken block never hides the next one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import Any

from plangen.diagnostics.diagnostic import Label, Outcome, Problems
from plangen.parsing.lines import LogicalLine, logical_lines
from plangen.syntax.build_tree import TreeBuilder
from plangen.syntax.tree import Block, DesignTree, Statement, Term, TermKind, Version
from plangen.syntax.word_error import bad_character, bad_token
from plangen.text.source import SourceFile, Span

_VERSION = re.compile(r"([a-z]+)[ \t\x0c\xa0]+(\d+(?:\.\d+)?)")
_CONFLICT = re.compile(r"^(?:<{7}|={7}|>{7}|\|{7})(?: .*)?$", re.MULTILINE)
_NAME = re.compile(r"[A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*")
_WORD = re.compile(r"[a-z][a-z0-9-]*")
_STRING = re.compile(r'"[^"\n]*"?')


@dataclass(slots=True)
class _Open:
    """A block being read; `header` is None where its first line could not be read."""

    header: tuple[Term, ...] | None
    span: Span
    statements: list[Statement] = field(default_factory=list)
    end: int = 0
    whole: bool = True


class Recovery:
    """Reads one file line by line."""

    def __init__(self, source: SourceFile, parser: Any, builder: TreeBuilder) -> None:
        self.source = source
        self.parser = parser
        self.builder = builder
        self.problems = Problems()
        # What was whole before the parser stumbled is not read again.
        self.versions: list[Version] = [item for item in builder.done if isinstance(item, Version)]
        self.blocks: list[Block] = [item for item in builder.done if isinstance(item, Block)]
        self.done = builder.done[-1] if builder.done else None
        self.broken: set[str] = set()
        self.nameless: list[str] = []
        self.whole = True
        self.block: _Open | None = None
        self.stray = False
        self.braces = False  # the line before was a brace that closes nothing

    def run(self) -> Outcome[DesignTree]:
        """Return what could be read."""
        if self._conflicts():
            return Outcome(DesignTree(self.source.name, (), (), whole=False), self.problems.done())
        lines = list(logical_lines(self.source.text, self._begin()))
        for number, line in enumerate(lines):
            self._line(line, lines[number + 1] if number + 1 < len(lines) else None)
        if self.block is not None:
            self._unclosed(None)
            self._close()
        tree = DesignTree(
            self.source.name,
            tuple(self.versions),
            tuple(self.blocks),
            frozenset(self.broken),
            self.whole,
            tuple(self.nameless),
        )
        return Outcome(tree, self.problems.done())

    def _begin(self) -> int:
        """Return where what was whole ends: behind the brace of the last block, or the version line."""
        if self.done is None:
            return 0
        end = self.done.span.end
        if isinstance(self.done, Version):
            return end
        lines = logical_lines(self.source.text, end)
        return next((line.end for line in lines if line.code.startswith("}")), end)

    def _span(self, line: LogicalLine) -> Span:
        return Span(self.source.name, line.start, line.end)

    def _conflicts(self) -> bool:
        for found in _CONFLICT.finditer(self.source.text):
            if found.group().startswith("<"):
                self.problems.error(
                    "PG1024",
                    "two versions of the text stand here, left by a merge",
                    Span(self.source.name, found.start(), found.end()),
                    help="keep one version and take the lines `<<<<<<<`, `=======` and `>>>>>>>` away",
                )
        return bool(self.problems.items)

    def _line(self, line: LogicalLine, after: LogicalLine | None) -> None:
        if not line.code.startswith("}"):
            self.braces = False
        if line.code.startswith("}") or (line.column == 0 and line.code.endswith("}")):
            self._brace(line)
        elif line.code.endswith("{"):
            if self.block is not None:
                self._unclosed(line)
                self._close()
            self._header(line, line.code[:-1])
        elif self.block is not None:
            self._statement(line)
        elif line.column == 0 and _VERSION.fullmatch(line.code):
            self._version(line)
        elif line.column == 0 and after is not None and (after.column > 0 or after.code == "}"):
            at = Span(self.source.name, line.end, line.end)
            self.problems.error("PG1008", "a block's first line ends with a brace", at, expected="`{`")
            self._header(line, line.code, quiet=True)
        else:
            self._outside(line)

    def _version(self, line: LogicalLine) -> None:
        found = _VERSION.fullmatch(line.code)
        if found is not None:
            word, number = (
                Term(
                    kind,
                    found[i],
                    Span(self.source.name, line.start + found.start(i), line.start + found.end(i)),
                )
                for i, kind in ((1, TermKind.WORD), (2, TermKind.NUMBER))
            )
            self.versions.append(Version(word, number))

    def _brace(self, line: LogicalLine) -> None:
        if line.code != "}":
            self.problems.error(
                "PG1004",
                "something stands beside the closing brace",
                self._span(line),
                expected="`}` on a line of its own",
            )
            if line.code.endswith("{"):
                self._close()
                code = line.code[1:-1]
                self._header(replace(line, start=line.start + 1), code)
                return
            if line.code.startswith("}") and len(line.code) > 3:
                self._note(line)
                return
        elif self.block is None and not self.stray and not self.braces:
            self.problems.error("PG1006", "this brace closes no block", self._span(line), help="take it away")
        self.braces = self.block is None
        self._close()
        self.stray = False

    def _outside(self, line: LogicalLine) -> None:
        self._note(line)
        self.whole = False
        if not self.stray:
            self.problems.error(
                "PG1007",
                "this line stands outside every block",
                self._span(line),
                expected="a block such as `site {` before it",
            )
        self.stray = True

    def _unclosed(self, line: LogicalLine | None) -> None:
        block = self.block
        if block is None:
            return
        if line is not None and not block.statements and self._text(block.span) == line.code:
            self.problems.error(
                "PG1012",
                "this line is written twice",
                self._span(line),
                help="keep one of them",
                labels=(Label(block.span, "the first one"),),
            )
            self.block = None
            return
        labels = [Label(block.span, "the block that is not closed")]
        labels += [Label(self._span(line), "here the next block begins")] if line else []
        self.problems.error(
            "PG1005",
            "a block is not closed after this line",
            Span(self.source.name, block.end, block.end),
            expected="`}` on a line of its own",
            labels=tuple(labels),
        )

    def _text(self, span: Span) -> str:
        return self.source.text[span.start : span.end]

    def _close(self) -> None:
        block = self.block
        self.block = None
        if block is None or block.header is None:
            return
        self.blocks.append(Block(block.header, tuple(block.statements), block.span, block.whole))

    def _header(self, line: LogicalLine, code: str, *, quiet: bool = False) -> None:
        self.stray = False
        header = self._parse(code, line.start, "header", quiet=quiet)
        if header is None:
            self.whole = False
        self.block = _Open(header, self._span(line), end=line.end)

    def _statement(self, line: LogicalLine) -> None:
        if self.block is None:
            return
        self.block.end = line.end
        if self.block.header is None:
            self._note(line)
            return
        if line.unfinished:
            at = line.end - len(line.unfinished)
            what = {",": "comma", ":": "colon"}.get(line.unfinished, "arrow")
            self.problems.error(
                "PG1011",
                f"nothing comes after this {what}",
                Span(self.source.name, at, line.end),
                help=f"take the {what} away, or go on in the next line",
            )
            self._note(line)
            return
        statement = self._parse(line.code, line.start, "statement")
        if statement is None:
            self._note(line)
        else:
            self.block.statements.append(statement)

    def _parse(self, code: str, offset: int, start: str, *, quiet: bool = False) -> Any:
        from lark.exceptions import UnexpectedCharacters, UnexpectedToken

        self.builder.file, self.builder.offset = self.source.name, offset
        sink = Problems() if quiet else self.problems
        try:
            return self.parser.parse(code, start=start)
        except UnexpectedCharacters as error:
            bad_character(error, code, offset, self.source.name, sink)
        except UnexpectedToken as error:
            bad_token(error, code, offset, self.source.name, sink)
        return None

    def _note(self, line: LogicalLine) -> None:
        """Remember the name that a line which cannot be read would have defined."""
        if self.block is not None:
            self.block.whole = False
        found = _NAME.search(_STRING.sub(" ", line.code))
        if found:
            self.broken.add(found.group())
        last = self.problems.items[-1].span.start - line.start if self.problems.items else 0
        word = _WORD.search(line.code)
        if word and last <= (found.end() if found else len(line.code)):
            self.nameless.append(word.group())


def recover(source: SourceFile, parser: Any, builder: TreeBuilder, error: Exception) -> Outcome[DesignTree]:
    """Return what can be read of a text that lark refused, with one message for each bad line."""
    outcome = Recovery(source, parser, builder).run()
    if outcome.problems:
        return outcome
    # The whole and the lines must agree; if ever they do not, the whole file's own error is told.
    problems = Problems()
    at = getattr(error, "pos_in_stream", None) or 0
    problems.error("PG1004", "the text cannot be read from here on", Span(source.name, at, at + 1))
    return Outcome(outcome.value, problems.done())
