"""Design text in its canonical layout, with the proof that nothing but the layout has changed."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Outcome, Problems
from plangen.model.bind_blocks import lookup
from plangen.model.cursor import Cursor
from plangen.model.read import read_design
from plangen.model.same import same_meaning, same_words
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import BlockSpec, Want
from plangen.syntax.comments import marks_of
from plangen.syntax.format import formatted
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import Statement, TermKind
from plangen.text.source import SourceFile, Span

# Lead and name take this many columns, and more only where the language itself has longer leads. What the
# other lines of a design hold does not count: a line added or taken away never moves its neighbours, so that
# a difference between two issues shows what has changed and nothing else.
_LEAST_WIDTH = 14


def key(block: str, statement: Statement) -> tuple[int, int]:
    """Return how many terms at the beginning of a statement are lead words and name, and their columns."""
    spec = BLOCKS.get(block)
    terms = statement.clauses[0].terms
    found = lookup(spec, Cursor(terms)) if spec else None
    if spec is None or found is None:
        return 0, _LEAST_WIDTH
    count = len(found.lead)
    known_by = found.named in ("required", "optional") or any(
        slot.want is Want.LABEL for slot in found.args[:1]
    )
    named = known_by and len(terms) > count and terms[count].kind is TermKind.NAME
    return count + 1 if named else count, max(_LEAST_WIDTH, _longest_lead(spec))


def _longest_lead(spec: BlockSpec) -> int:
    return max((len(s.words) for s in spec.statements if not s.named), default=0)


def format_text(source: SourceFile) -> Outcome[str]:
    """Return the canonical text, or why there is none.

    A text that cannot be parsed is left alone with its syntax messages. The result is read again: if a word,
    a comment or the design itself were not the same, that is reported (`PG0011`) and nothing is returned.
    """
    tree = read_tree(source)
    if tree.value is None or tree.problems:
        return Outcome(None, tree.problems)
    text = formatted(tree.value, source.text, key)
    if text == source.text:
        return Outcome(text)
    problems = Problems()
    fresh = SourceFile.of(source.name, text)
    again = read_tree(fresh)
    kept = (
        again.value is not None
        and not again.problems
        and same_words(tree.value, again.value)
        and _comments(source.text) == _comments(text)
        and formatted(again.value, text, key) == text
    )
    before = read_design(source) if kept else None
    if before is not None and before.value is not None:
        after = read_design(fresh).value
        kept = after is not None and same_meaning(before.value, after)
    if not kept:
        problems.error(
            "PG0011",
            "this text cannot be laid out without a change of its meaning; it is left as it is",
            Span(source.name, 0, 0),
            help="look for numbers that stand side by side with an odd blank between them",
        )
        return Outcome(None, problems.done())
    return Outcome(text)


def _comments(text: str) -> tuple[str, ...]:
    return tuple(comment.text for comment in marks_of(text).comments)
