"""Tests on words: `is`, `is one of`, `includes`. A bare word is a word of the field on its left."""

from __future__ import annotations

from typing import Protocol

from plangen.checking import terms as c
from plangen.checking import tree as t
from plangen.checking.dimensions import dimension_words
from plangen.checking.messages import Code
from plangen.checking.scope import Names, Scope, field_named, find_field
from plangen.diagnostics.diagnostic import Problems
from plangen.facts.values import FactType
from plangen.text.source import Span
from plangen.text.suggest import listed, suggestion_help


class Resolving(Protocol):
    """What these tests need of the resolver of expressions, which itself needs them."""

    @property
    def names(self) -> Names:
        """Return the names a rule may use."""
        ...

    @property
    def problems(self) -> Problems:
        """Return where faults are noted."""
        ...

    def term(self, expr: t.Expr, scope: Scope) -> c.Term | None:
        """Resolve an expression of any type."""
        ...

    def number(self, expr: t.Expr, scope: Scope) -> c.Term | None:
        """Resolve an expression that must be a quantity."""
        ...

    def agree(self, left: FactType, right: FactType, span: Span) -> bool:
        """Return whether two types can be compared; if not, report it."""
        ...


def type_words(kind: FactType) -> str:
    """Return a type with its article."""
    if kind.kind == "quantity":
        return dimension_words(kind.dimension)
    return {"truth": "a condition", "word": "a word", "words": "a list of words", "text": "a text"}[kind.kind]


def same(resolver: Resolving, expr: t.Same, scope: Scope) -> c.Term | None:
    """Return `X is Y` for numbers, truths, words or texts."""
    left = resolver.term(expr.left, scope)
    if left is None:
        return None
    kind = c.type_of(left)
    if kind.kind == "quantity":
        right = resolver.number(expr.right, scope)
        if right is None or not resolver.agree(kind, c.type_of(right), expr.span):
            return None
        test = c.Compare("is", left, right, expr.span)
        return c.Negation(test) if expr.negated else test
    if kind.kind == "truth":
        if not isinstance(expr.right, t.Path) or expr.right.text not in ("yes", "no"):
            resolver.problems.error(Code.UNKNOWN_WORD, "a condition `is yes` or `is no`", expr.right.span)
            return None
        return c.Negation(left) if (expr.right.text == "no") != expr.negated else left
    if kind.kind == "words":
        resolver.problems.error(
            Code.VALUE_EXPECTED,
            "this is a list of words: it is not one word",
            expr.left.span,
            help="write `includes` for `is`",
        )
        return None
    options = _option(resolver, expr.right, kind, scope)
    return None if options is None else c.Member(left, options, expr.negated, expr.span)


def member(resolver: Resolving, expr: t.Member, scope: Scope) -> c.Term | None:
    """Return `X is one of …`."""
    value = resolver.term(expr.value, scope)
    if value is None:
        return None
    kind = c.type_of(value)
    if kind.kind not in ("word", "text"):
        resolver.problems.error(
            Code.VALUE_EXPECTED,
            f"`is one of` wants a word before it, and this is {type_words(kind)}",
            expr.value.span,
        )
        return None
    options = _options(resolver, expr.options, kind, scope)
    return None if options is None else c.Member(value, options, expr.negated, expr.span)


def includes(resolver: Resolving, expr: t.Includes, scope: Scope) -> c.Term | None:
    """Return `X includes …`."""
    value = resolver.term(expr.value, scope)
    if value is None:
        return None
    kind = c.type_of(value)
    if kind.kind != "words":
        resolver.problems.error(
            Code.VALUE_EXPECTED,
            f"`includes` wants a list of words before it, and this is {type_words(kind)}",
            expr.value.span,
            help="write `is` or `is one of`",
        )
        return None
    options = _options(resolver, expr.options, kind, scope)
    return None if options is None else c.Includes(value, options, expr.mode, expr.span)


def _options(resolver: Resolving, options: t.Options, kind: FactType, scope: Scope) -> c.Term | None:
    if options.limit is not None:
        limit = resolver.term(options.limit, scope)
        if limit is None:
            return None
        found = c.type_of(limit)
        if found.kind != "words":
            resolver.problems.error(
                Code.VALUE_EXPECTED, f"this limit is {type_words(found)}, not a list of words", options.span
            )
            return None
        wrong = [w for w in found.words if kind.words and w not in kind.words]
        if wrong:
            _unknown_word(wrong[0], kind, options.span, resolver.problems)
            return None
        return limit
    if len(options.words) == 1:
        return _option(resolver, options.words[0], kind, scope)
    words = [_literal(p, kind, resolver.problems) for p in options.words]
    whole = tuple(w for w in words if w is not None)
    return c.Words(whole) if len(whole) == len(words) else None


def _option(resolver: Resolving, expr: t.Expr, kind: FactType, scope: Scope) -> c.Term | None:
    """Return what stands right of `is`: a word of the left side's list, else a field, a text or a limit."""
    if isinstance(expr, t.Path):
        own = "." not in expr.text
        if own and expr.text in kind.words:
            return c.Words((expr.text,))
        is_field = not own or bool(scope and field_named(scope[-1], expr.text))
        if own and kind.kind != "text" and not is_field:
            word = _literal(expr, kind, resolver.problems)
            return None if word is None else c.Words((word,))
        term = find_field(expr, scope, resolver.names, resolver.problems)
    else:
        term = resolver.term(expr, scope)
    if term is None:
        return None
    found = c.type_of(term)
    if found.kind not in ("word", "words", "text"):
        resolver.problems.error(
            Code.VALUE_EXPECTED, f"a word is expected here, and this is {type_words(found)}", expr.span
        )
        return None
    if kind.words and found.words and not set(kind.words) & set(found.words):
        _unknown_word(found.words[0], kind, expr.span, resolver.problems)
        return None
    return term


def _literal(path: t.Path, kind: FactType, problems: Problems) -> str | None:
    if "." in path.text or (kind.words and path.text not in kind.words):
        _unknown_word(path.text, kind, path.span, problems)
        return None
    return path.text


def _unknown_word(word: str, kind: FactType, span: Span, problems: Problems) -> None:
    problems.error(
        Code.UNKNOWN_WORD,
        f"`{word}` is none of the words this can be",
        span,
        expected=listed(f"`{w}`" for w in kind.words),
        help=suggestion_help(word, kind.words, "word"),
    )
