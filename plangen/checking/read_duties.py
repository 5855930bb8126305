"""Duties of rule text, from lark trees: dig notice, ticket, test cycle, report, statement, fee, form."""

from __future__ import annotations

from plangen.checking import pack_text as w
from plangen.checking.duties import Period
from plangen.checking.line_parser import Node
from plangen.checking.messages import Code
from plangen.checking.read_expression import token_span, unquoted
from plangen.checking.read_limits import read_clauses, want_source
from plangen.diagnostics.diagnostic import Problems
from plangen.text.source import Span


def read_duty(file: str, node: Node, problems: Problems) -> w.DutyText | None:
    """Return one duty, or None after reporting a number that makes no sense or words that say nothing."""
    kind = str(node.data).removeprefix("duty_")
    span = token_span(file, node.children[0])
    trees = [c for c in node.children if not isinstance(c, str)]
    periods = [_period(file, c, problems) for c in trees if c.data == "period"]
    clauses = read_clauses([c for c in trees if c.data.startswith("clause_")], "", span, problems)
    words = next(unquoted(c) for c in node.children if getattr(c, "type", "") == "STRING")
    want_source("duty", " ".join(str(node.children[0]).split()), clauses, span, problems, replacing=False)
    if clauses.replaces and not clauses.because:
        problems.error(
            Code.NO_REASON, "this duty replaces others and gives no reason", span, help='add `because "..."`'
        )
    if not words.strip():
        problems.error(
            Code.MISSING_LINE, "the text says nothing", span, help="say when it applies, or what is stated"
        )
        return None
    whole = [p for p in periods if p is not None]
    if len(whole) < len(periods) or not _in_order(whole, span, problems):
        return None
    first = whole[0] if kind == "notice" else None
    last = whole[-1] if whole and not (kind == "notice" and len(whole) == 1) else None
    return w.DutyText(kind, span, first, last, words, clauses.source, clauses.replaces, clauses.because)


def _period(file: str, node: Node, problems: Problems) -> Period | None:
    number, unit = node.children
    if not str(number).isdecimal() or int(number) == 0:
        problems.error(
            Code.SYNTAX,
            f"`{number}` is no number of {unit}",
            token_span(file, number),
            help="write a whole number",
        )
        return None
    words = " ".join(str(unit).split())
    return Period(int(number), words if words.endswith("s") else f"{words}s")


def _in_order(periods: list[Period], span: Span, problems: Problems) -> bool:
    """Return whether the least notice is not longer than the most; other units cannot be compared."""
    if len(periods) == 2 and periods[0].unit == periods[1].unit and periods[0].count > periods[1].count:
        problems.error(Code.BAD_TABLE, "the least notice is longer than the most", span)
        return False
    return True
