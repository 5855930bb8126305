"""One statement as lines: lead and name, then the rest from one column on, broken after commas and arrows."""

from __future__ import annotations

from dataclasses import dataclass, field

from plangen.syntax.comments import Comment
from plangen.syntax.format_terms import joint, term_text
from plangen.syntax.tree import Statement, Term, TermKind

INDENT = "  "
WIDTH = 110


@dataclass(slots=True)
class _Piece:
    """A stretch that is never broken, where it begins, whether the line may break after it, its comments."""

    text: str
    start: int
    breaks: bool = False
    fresh: bool = False  # an item of a list: it begins a line of its own
    comments: list[Comment] = field(default_factory=list)


def statement_lines(statement: Statement, key: int, width: int, comments: list[Comment]) -> list[str]:
    """Return a statement as lines.

    `key` terms are its lead and name, which take `width` columns or more; `comments` are those in it and the
    one behind it.
    """
    head = " ".join(term_text(t) for t in statement.clauses[0].terms[:key])
    clauses = _clauses(statement, key)
    pieces = [piece for clause in clauses for piece in clause]
    if pieces and pieces[0].text in (",", ":"):
        head, pieces[0].text = head + pieces[0].text, ""
    for comment in comments:
        before = [piece for piece in pieces if piece.start <= comment.start]
        if before:
            before[-1].comments.append(comment)
    lines = [INDENT + (head.ljust(width) + " " if pieces and key else head)]
    hang, fresh = " " * (len(INDENT) + width + 1), True
    for clause in clauses:
        fresh = _add_clause(lines, clause, hang, fresh)
    last = pieces[-1].comments if pieces else comments
    if last:
        lines[-1] = f"{lines[-1].rstrip()}  {last[0].text}"
    return [*(line.rstrip() for line in lines), *(INDENT + c.text for c in last[1:])]


def _add_clause(lines: list[str], clause: list[_Piece], hang: str, fresh: bool) -> bool:
    """Put a clause on the line if it fits whole, on the next one if it fits there, else broken at arrows."""
    whole = " ".join(piece.text for piece in clause)
    wide = not _fits(lines[-1], whole) and len(hang) + len(whole) <= WIDTH
    if not fresh and (clause[0].fresh or wide):
        lines.append(hang)
        fresh = True
    for piece in clause:
        if not fresh and not _fits(lines[-1], piece.text):
            lines.append(hang)
            fresh = True
        if piece.text:
            lines[-1] += ("" if fresh else " ") + piece.text
            fresh = False
        if piece.comments and piece.breaks:
            for number, comment in enumerate(piece.comments):
                if number == 0 and not comment.alone:
                    lines[-1] = f"{lines[-1].rstrip()}  {comment.text}"
                else:
                    lines.append(hang + comment.text)
            lines.append(hang)
            fresh = True
    return fresh


def _fits(line: str, text: str) -> bool:
    return len(line) + 1 + len(text) <= WIDTH


def _clauses(statement: Statement, key: int) -> list[list[_Piece]]:
    """Return the clauses behind lead and name as pieces; each but the last ends where the line may break."""
    found = []
    for number, clause in enumerate(statement.clauses):
        pieces: list[_Piece] = []
        before: Term | None = None
        for term in clause.terms[key if number == 0 else 0 :]:
            if before is None or before.kind is TermKind.ARROW:
                pieces.append(_Piece(term_text(term), term.span.start))
            else:
                pieces[-1].text += joint(before, term) + term_text(term)
            pieces[-1].breaks = term.kind is TermKind.ARROW
            before = term
        if number < len(statement.clauses) - 1:
            if not pieces:
                pieces.append(_Piece("", clause.terms[-1].span.start))
            pieces[-1].text += ":" if number + 1 == statement.listed else ","
            pieces[-1].breaks = True
        if pieces:
            listed = 0 < statement.listed <= number
            pieces[0].fresh = listed and clause.terms[0].kind is TermKind.NAME
            found.append(pieces)
    return found
