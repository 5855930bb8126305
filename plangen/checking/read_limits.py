"""Limits, lookup tables and sources of rule text, from lark trees."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking import pack_text as w
from plangen.checking import tree as t
from plangen.checking.amounts import read_amount
from plangen.checking.finding import RuleSource
from plangen.checking.line_parser import Node
from plangen.checking.messages import Code
from plangen.checking.read_expression import token_span, tree_span, unquoted
from plangen.diagnostics.diagnostic import Label, Problems
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Clauses:
    """What stands after a limit, a table or the word `source`."""

    replaces: bool
    because: str
    authority: str
    source: RuleSource | None


def read_clauses(nodes: list[Node], title: str, span: Span, problems: Problems) -> Clauses:
    """Return the clauses; one said twice, or a source without its kind of reading, is a problem."""
    said: dict[str, str] = {"source": title} if title else {}
    places: dict[str, Span] = {}
    for node in nodes:
        key = node.data.removeprefix("clause_")
        last = node.children[-1]
        if key in said:
            first = (Label(places[key], "first said here"),) if key in places else ()
            place = token_span(span.file, last)
            problems.error(Code.REPEATED_LINE, f"`{key}` is said twice", place, labels=first)
        places.setdefault(key, token_span(span.file, last))
        said[key] = unquoted(last) if last.type == "STRING" else " ".join(str(last).split())
    source = None
    if "source" in said:
        verified = said.get("verified", "")
        source = RuleSource(said["source"], said.get("section", ""), said.get("edition", ""), verified)
        if not verified:
            problems.error(
                Code.MISSING_LINE,
                "the source does not say how it was verified",
                span,
                expected="`read`, `restated`, `from memory` or `common practice` after it",
            )
    return Clauses("replaces" in said, said.get("because", ""), said.get("authority", ""), source)


def read_limit(file: str, node: Node, problems: Problems) -> w.LimitText | None:
    """Return one limit, or None if its number makes no sense."""
    name, value, about = node.children[1:4]
    span = token_span(file, name)
    clauses = read_clauses(node.children[4:], "", span, problems)
    amount: t.Amount | None = None
    words: tuple[str, ...] = ()
    if value.data == "word_list":
        words = tuple(str(c) for c in value.children[1].children)
    else:
        amount = amount_of(file, value, problems)
        if amount is None:
            return None
    want_source("limit", str(name), clauses, span, problems)
    return w.LimitText(
        str(name),
        span,
        unquoted(about),
        amount,
        words,
        clauses.source,
        clauses.replaces,
        clauses.because,
        clauses.authority,
    )


def read_table(file: str, node: Node, problems: Problems) -> w.TableText | None:
    """Return one lookup table, or None if one of its numbers makes no sense."""
    name, about = node.children[1:3]
    span = token_span(file, name)
    trees = node.children[3:]
    rows = [_row(file, r, problems) for r in trees if r.data.startswith("row_")]
    clauses = read_clauses([c for c in trees if c.data.startswith("clause_")], "", span, problems)
    want_source("table", str(name), clauses, span, problems)
    whole = tuple(r for r in rows if r is not None)
    if len(whole) < len(rows):
        return None
    _check_rows(str(name), whole, problems)
    return w.TableText(
        str(name),
        span,
        unquoted(about),
        whole,
        clauses.source,
        clauses.replaces,
        clauses.because,
        clauses.authority,
    )


def amount_of(file: str, node: Node, problems: Problems) -> t.Amount | None:
    """Return the amount of a `quantity` or `number` tree, or None after reporting a fraction over nought."""
    token = node.children[0]
    try:
        return read_amount(str(token), token_span(file, token))
    except ZeroDivisionError:
        problems.error(Code.SYNTAX, f"`{token}` divides by nought", token_span(file, token))
        return None


def _row(file: str, node: Node, problems: Problems) -> w.TableRow | None:
    amounts = [amount_of(file, c, problems) for c in node.children if not isinstance(c, str)]
    value = amounts[-1]
    if value is None or amounts[0] is None:
        return None
    word = str(node.children[0]) if node.data == "row_word" else ""
    limit = amounts[0] if node.data == "row_up_to" else None
    return w.TableRow(limit, word, value, tree_span(file, node))


def _check_rows(name: str, rows: tuple[w.TableRow, ...], problems: Problems) -> None:
    def wrong(row: w.TableRow, message: str) -> None:
        problems.error(Code.BAD_TABLE, f"table `{name}`: {message}", row.span)

    last: t.Amount | None = None
    words: set[str] = set()
    for place, row in enumerate(rows):
        is_default = row.limit is None and not row.word
        if is_default and place < len(rows) - 1:
            wrong(row, "only the last row may hold for all the rest")
        if row.limit is not None and last is not None and row.limit.si <= last.si:
            wrong(row, "`up to` rows stand in rising order")
        if (row.word and last is not None) or (row.limit is not None and words):
            wrong(row, "its rows are all words or all sizes, not both")
        if row.word in words:
            wrong(row, f"`{row.word}` stands twice")
        last = row.limit or last
        words |= {row.word} if row.word else set()
        if row.value.dimension is not rows[0].value.dimension:
            wrong(row, "all its values are of one kind")
        if (
            row.limit is not None
            and rows[0].limit is not None
            and row.limit.dimension is not rows[0].limit.dimension
        ):
            wrong(row, "all its sizes are of one kind")


def want_source(
    kind: str, name: str, clauses: Clauses, span: Span, problems: Problems, replacing: bool = True
) -> None:
    """Report what has no source, and with `replacing` what replaces another without reason and authority."""
    if clauses.source is None:
        problems.error(
            Code.MISSING_LINE,
            f"the {kind} `{name}` has no source",
            span,
            help='add `source "...", section "...", edition "...", read`, or `source "..." common practice`',
        )
    if not replacing:
        return
    if clauses.replaces and not clauses.because:
        problems.error(
            Code.NO_REASON,
            f"the {kind} `{name}` replaces another and gives no reason",
            span,
            help='add `because "..."` and `authority "..."`',
        )
    elif clauses.replaces and not clauses.authority:
        problems.error(
            Code.NO_REASON,
            f"the {kind} `{name}` replaces another and names no authority for it",
            span,
            help='add `authority "..."`',
        )
