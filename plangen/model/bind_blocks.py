"""Matches blocks and the statements in them with the language table."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bind import Binder
from plangen.model.bound import Bound, BoundBlock
from plangen.model.cursor import Cursor, leading_words, shown
from plangen.model.listed import listed_heads, stray_colon
from plangen.model.rows import in_row
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.part import REPLACES
from plangen.model.schema.shape import BlockSpec, StatementSpec
from plangen.model.schema.zone import HEAD
from plangen.syntax.tree import Block, DesignTree, Statement, TermKind
from plangen.text.source import SourceSet, Span
from plangen.text.suggest import listed, of_trade, suggestion


class BlockBinder:
    """Binds the blocks of a tree and remembers names whose statement nobody could identify."""

    def __init__(self, sources: SourceSet, problems: Problems) -> None:
        self.problems = problems
        self.binder = Binder(problems, lambda span: sources.place(span).line)
        self.broken_names: set[str] = set()
        self.whole = True
        self.parts_known = True  # False: a block that nobody could identify may define a part

    def blocks(self, tree: DesignTree) -> tuple[BoundBlock, ...]:
        """Return the blocks that the table knows; those it does not know give one message each."""
        found = []
        for block in tree.blocks:
            spec = BLOCKS.get(block.header[0].text)
            if spec is None:
                self._unknown_block(block)
                continue
            found.append(self._block(spec, block))
        self._repeated(found)
        if self.whole and tree.whole:
            self._missing(tree, found)
        return tuple(found)

    def _unknown_block(self, block: Block) -> None:
        head = block.header[0]
        near = suggestion(leading_words(block.header), BLOCKS)
        help = near.help("block") if near else ""
        if head.text == REPLACES and len(block.header) > 2:
            help = f"`{REPLACES}` stands last: `{' '.join(t.text for t in block.header[1:])} {REPLACES} {{`"
        self.problems.error(
            "PG2001",
            f"there is no block `{head.text}`",
            head.span,
            expected="" if help else listed(f"`{b}`" for b in BLOCKS),
            help=help,
        )
        self.whole = False
        # Whatever it defines is named in it: a name that it does not hold is defined elsewhere or nowhere.
        terms = [*block.header, *(t for s in block.statements for c in s.clauses for t in c.terms)]
        self.broken_names.update(t.text for t in terms if t.kind is TermKind.NAME)
        self.parts_known = self.parts_known and all(t.kind is not TermKind.WORD for t in block.header[1:])

    def _block(self, spec: BlockSpec, block: Block) -> BoundBlock:
        name, label, ok = self._header(spec, block)
        leads = frozenset(s.lead[0] for s in spec.statements)
        statements: list[Bound] = []
        lost = not block.whole
        for statement in block.statements:
            matched = lookup(spec, Cursor(statement.clauses[0].terms))
            if matched is not None:
                read, all_named = self._statement(matched, statement, leads)
                statements += read
                lost = lost or not all_named
                continue
            lost = True
            if not self._broken_off(statement, statements):
                self._unknown_statement(spec, statement)
            self._note_names(statement)
        before = len(self.problems.items)
        head = block.header[0].span.join(block.header[-1].span)
        self._singles(spec, statements)
        found = BoundBlock(spec, block.span, head, tuple(statements), name, label, lost or not ok)
        if not lost and len(self.problems.items) == before:
            for needed in spec.statements:
                if needed.required and not found.all(needed.words):
                    told = f"`{spec.lead}{' ' + name if name else ''}`"
                    self.problems.error(
                        "PG2010",
                        f"{told} lacks `{needed.words}`",
                        head,
                        expected=f"a line `{needed.words} …`: {needed.help}",
                    )
        return found

    def _statement(
        self, spec: StatementSpec, statement: Statement, leads: frozenset[str]
    ) -> tuple[tuple[Bound, ...], bool]:
        """Return what a statement says, and whether each object in it has its name."""
        if statement.colon is not None:
            if spec.items is not None:
                return listed_heads(self.binder, statement, leads)
            return (stray_colon(self.binder, spec, statement, leads),), True
        bound = self.binder.bind(spec, statement, leads)
        if spec.named != "several":
            return (bound,), True
        return in_row(bound, HEAD, self.problems), bool(bound.values["names"])

    def _header(self, spec: BlockSpec, block: Block) -> tuple[str, str, bool]:
        cursor = Cursor(block.header, 1)
        name = label = ""
        kind = {"name": TermKind.NAME, "part": TermKind.WORD}.get(spec.named)
        if kind is not None:
            if not cursor.is_kind(kind):
                example = "`Z1`" if kind is TermKind.NAME else "`spray-15q`, in lower case"
                self.problems.error(
                    "PG2027",
                    f"`{spec.lead}` needs a name, not {shown(cursor.peek())}",
                    cursor.here(),
                    expected=f"a name such as {example}",
                )
                return "", "", False
            name = cursor.take().text
        if spec.label and cursor.is_kind(TermKind.TEXT):
            label = cursor.take().text
        if cursor.peek() is not None:
            self.problems.error(
                "PG2009",
                f"{shown(cursor.peek())} is one too many before the brace",
                cursor.here(),
                expected="`{`",
            )
            return name, label, False
        return name, label, True

    def _broken_off(self, statement: Statement, before: list[Bound]) -> bool:
        """Report a line that is a clause of the statement before, from which a comma is missing."""
        cursor = Cursor(statement.clauses[0].terms)
        clauses = before[-1].spec.clauses if before else ()
        slot = next((c for c in clauses if c.lead and cursor.matches(c.lead)), None)
        if slot is None:
            return False
        end = Span(before[-1].span.file, before[-1].span.end, before[-1].span.end)
        self.problems.error(
            "PG2024",
            f"a comma is missing at the end of this line, before `{slot.words}`",
            end,
            expected="`,` where a statement goes on in the next line",
            labels=(Label(cursor.here(), "what should go on"),),
        )
        return True

    def _unknown_statement(self, spec: BlockSpec, statement: Statement) -> None:
        terms = statement.clauses[0].terms
        first = terms[0]
        legal = [s.words for s in spec.statements]
        words = leading_words(terms)
        near = suggestion(words, legal)
        help = near.help("statement") if near else called_elsewhere(words, spec)
        expected = "" if help else listed(f"`{w}`" for w in legal)
        if first.kind is not TermKind.WORD:
            told = f"a statement cannot begin with {shown(first)}"
            self.problems.error("PG2002", told, first.span, expected=expected, help=help)
            return
        elsewhere = listed(f"`{b.lead}`" for b in BLOCKS.values() if lookup(b, Cursor(terms)) is not None)
        if elsewhere and (near is None or near.of_trade):
            self.problems.error(
                "PG2023",
                f"`{first.text}` does not belong in `{spec.lead}`",
                first.span,
                help=f"it belongs in {elsewhere}" + (f"; {help}" if near else ""),
            )
            return
        span = first.span.join(terms[near.count - 1].span) if near else first.span
        said = " ".join(t.text for t in terms[: near.count]) if near else first.text
        told = f"`{spec.lead}` has no statement `{said}`"
        self.problems.error("PG2002", told, span, expected=expected, help=help)

    def _note_names(self, statement: Statement) -> None:
        names = [t.text for c in statement.clauses for t in c.terms if t.kind is TermKind.NAME]
        self.broken_names.update(names[:1])

    def _singles(self, spec: BlockSpec, statements: list[Bound]) -> None:
        seen: dict[str, Bound] = {}
        for bound in statements:
            if not bound.spec.single:
                continue
            if bound.kind in seen and (not bound.name or bound.name != seen[bound.kind].name):
                self.problems.error(
                    "PG2022",
                    f"`{bound.kind}` is said twice in `{spec.lead}`",
                    bound.head,
                    help="keep one of them",
                    labels=(Label(seen[bound.kind].head, "first said here"),),
                )
            seen.setdefault(bound.kind, bound)

    def _repeated(self, found: list[BoundBlock]) -> None:
        seen: dict[str, BoundBlock] = {}
        for block in found:
            if block.spec.single and block.spec.lead in seen:
                self.problems.error(
                    "PG2021",
                    f"there are two blocks `{block.spec.lead}`",
                    block.head,
                    help="put their lines into one",
                    labels=(Label(seen[block.spec.lead].head, "the first one"),),
                )
            seen.setdefault(block.spec.lead, block)

    def _missing(self, tree: DesignTree, found: list[BoundBlock]) -> None:
        there = {b.spec.lead for b in found}
        for spec in BLOCKS.values():
            if spec.required and spec.lead not in there:
                self.problems.error(
                    "PG2028",
                    f"the design has no block `{spec.lead}`",
                    Span(tree.file, 0, 0),
                    expected=f"`{spec.lead} {{ … }}`: {spec.help}",
                )


def lookup(spec: BlockSpec, cursor: Cursor) -> StatementSpec | None:
    """Return the statement whose lead words begin here; the longest wins."""
    best: StatementSpec | None = None
    for candidate in spec.statements:
        if cursor.matches(candidate.lead) and (best is None or len(candidate.lead) > len(best.lead)):
            best = candidate
    return best


def called_elsewhere(words: list[str], here: BlockSpec) -> str:
    """Return what the trade's word is called and in which blocks it belongs, or an empty text."""
    blocks: dict[str, list[str]] = {}
    for block in BLOCKS.values():
        found = of_trade(words, [s.words for s in block.statements]) if block is not here else None
        for name in found.names if found else ():
            blocks.setdefault(name, []).append(f"`{block.lead}`")
    return listed(f"it is called `{name}` and belongs in {listed(homes)}" for name, homes in blocks.items())
