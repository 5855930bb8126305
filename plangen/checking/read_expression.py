"""Lark trees of expressions to the written form of `tree`. Looks nothing up and reports nothing."""

from __future__ import annotations

from plangen.checking import tree as t
from plangen.checking.amounts import read_amount
from plangen.checking.line_parser import Node
from plangen.quantity.dimension import Dimension
from plangen.text.source import Span

_COMPARISONS = {
    "at_least": "at least",
    "at_most": "at most",
    "more_than": "more than",
    "less_than": "less than",
}
_ARITHMETIC = {"plus": "plus", "minus": "minus", "times": "times", "divided": "divided"}


def token_span(file: str, token: Node) -> Span:
    """Return the place of a token."""
    return Span(file, token.start_pos, token.end_pos)


def tree_span(file: str, tree: Node) -> Span:
    """Return the place of a whole tree."""
    return Span(file, tree.meta.start_pos, tree.meta.end_pos)


def unquoted(token: Node) -> str:
    """Return the text of a STRING token."""
    return str(token)[1:-1]


def expression(file: str, node: Node) -> t.Expr:
    """Return the expression a tree says.

    Raises:
        ZeroDivisionError: a fraction is over nought.
    """
    rule, span = node.data, tree_span(file, node)
    if rule == "group":
        return expression(file, _trees(node)[0])
    if rule in _COMPARISONS:
        left, right = _both(file, node)
        return t.Comparison(_COMPARISONS[rule], left, right, span)
    if rule in _ARITHMETIC:
        left, right = _both(file, node)
        return t.Arithmetic(_ARITHMETIC[rule], left, right, span)
    if rule in ("any_of", "all_of"):
        return t.Junction(rule == "all_of", tuple(expression(file, c) for c in _trees(node)), span)
    if rule in _ATOMS:
        return _atom(file, node, span)
    if rule in ("count_of", "sum_of", "extreme", "there_is", "there_is_no", "every"):
        return _over_rows(file, node, span)
    return _test(file, node, span)


_ATOMS = {
    "quantity",
    "number",
    "text",
    "path",
    "limit",
    "lookup",
    "pick",
    "twice",
    "half",
    "share",
    "limit_share",
}


def _atom(file: str, node: Node, span: Span) -> t.Expr:
    rule, inner = node.data, [expression(file, c) for c in _trees(node)]
    tokens = _tokens(node)
    if rule in ("quantity", "number"):
        return read_amount(str(tokens[0]), span)
    if rule == "text":
        return t.Text(unquoted(tokens[0]), span)
    if rule == "path":
        return t.Path(str(tokens[0]), span)
    if rule == "limit":
        return t.LimitRef(str(tokens[1]), span)
    if rule == "lookup":
        return t.Lookup(str(tokens[1]), inner[0], span)
    if rule == "pick":
        return t.Pick(str(tokens[0]).split()[0], tuple(inner), span)
    if rule == "limit_share":
        factor: t.Expr = t.LimitRef(str(tokens[1]), Span(file, tokens[0].start_pos, tokens[1].end_pos))
    elif rule == "share":
        factor = read_amount(str(tokens[0]), token_span(file, tokens[0]))
    else:
        place = token_span(file, tokens[0])
        value = 2.0 if rule == "twice" else 0.5
        factor = t.Amount(value, Dimension.RATIO, str(tokens[0]), place)
    return t.Arithmetic("times", factor, inner[0], span)


def _over_rows(file: str, node: Node, span: Span) -> t.Expr:
    rule, tokens, trees = node.data, _tokens(node), _trees(node)
    relation = next(_path(file, x) for x in tokens if x.type == "NAME")
    has_where = any(x.type == "WHERE" for x in tokens)
    if rule == "every":
        where = expression(file, trees[0]) if has_where else None
        return t.ForAll(relation, where, expression(file, trees[-1]), span)
    item = None
    if rule in ("sum_of", "extreme"):
        first = trees.pop(0)
        item = expression(file, _trees(first)[0] if first.data == "item" else first)
    where = expression(file, trees[0]) if has_where else None
    if rule in ("there_is", "there_is_no"):
        return t.Presence(relation, where, rule == "there_is_no", span)
    which = {"count_of": "count", "sum_of": "sum"}.get(rule) or str(tokens[0])
    return t.Gather(which, item, relation, where, span)


def _test(file: str, node: Node, span: Span) -> t.Expr:
    rule, tokens = node.data, _tokens(node)
    trees = [c for c in _trees(node) if c.data not in ("word_options", "limit_options")]
    parts = [expression(file, c) for c in trees]
    if rule == "between":
        low = t.Comparison("at least", parts[0], parts[1], span)
        return t.Junction(True, (low, t.Comparison("at most", parts[0], parts[2], span)), span)
    if rule == "within":
        return t.Within(parts[0], parts[1], parts[2], span)
    if rule in ("same", "not_same"):
        return t.Same(parts[0], parts[1], rule == "not_same", span)
    if rule in ("known", "not_known"):
        return t.KnownTest(parts[0], rule == "not_known", span)
    if rule == "negation":
        return t.Negation(parts[0], span)
    if rule == "includes":
        word = _path(file, tokens[-1])
        return t.Includes(parts[0], t.Options((word,), None, word.span), "all", span)
    options = _options(file, next(c for c in _trees(node) if c.data in ("word_options", "limit_options")))
    if rule == "includes_mode":
        mode = str(next(x for x in tokens if x.type == "INCLUDES_MODE")).split()[1]
        return t.Includes(parts[0], options, mode, span)
    return t.Member(parts[0], options, rule == "none_of", span)


def _options(file: str, node: Node) -> t.Options:
    span, tokens = tree_span(file, node), _tokens(node)
    if node.data == "limit_options":
        return t.Options((), t.LimitRef(str(tokens[1]), span), span)
    return t.Options(tuple(_path(file, x) for x in tokens if x.type == "PATH"), None, span)


def _path(file: str, token: Node) -> t.Path:
    return t.Path(str(token), token_span(file, token))


def _both(file: str, node: Node) -> tuple[t.Expr, t.Expr]:
    left, right = _trees(node)
    return expression(file, left), expression(file, right)


def _trees(node: Node) -> list[Node]:
    return [c for c in node.children if not isinstance(c, str)]


def _tokens(node: Node) -> list[Node]:
    return [c for c in node.children if isinstance(c, str)]
