"""Looks names up and agrees dimensions: written expressions to checked ones.

In: an expression, the relations in scope, the limits and tables in force, the fact vocabulary. Out: a term,
or None after a message. A part that failed is passed over in silence, so that one fault gives one message.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking import terms as c
from plangen.checking import tree as t
from plangen.checking.dimensions import Mismatch, combined, comparable, dimension_words, example_of
from plangen.checking.messages import Code
from plangen.checking.resolve_words import includes, member, same, type_words
from plangen.checking.scope import Names, Scope, find_field, find_relation
from plangen.diagnostics.diagnostic import Problems
from plangen.facts.values import FactType
from plangen.quantity.dimension import Dimension
from plangen.text.source import Span
from plangen.text.suggest import closest


@dataclass(frozen=True, slots=True)
class Resolver:
    """Resolves the expressions of one pack."""

    names: Names
    problems: Problems

    def truth(self, expr: t.Expr, scope: Scope) -> c.Term | None:
        """Return an expression that must be true or false."""
        term = self.term(expr, scope)
        if term is not None and c.type_of(term).kind != "truth":
            self.problems.error(
                Code.TRUTH_EXPECTED,
                f"a condition is expected here, and this is {type_words(c.type_of(term))}",
                expr.span,
                help="compare it with something: `at least`, `at most`, `is`, `is known`",
            )
            return None
        return term

    def number(self, expr: t.Expr, scope: Scope) -> c.Term | None:
        """Return an expression that must be a number."""
        term = self.term(expr, scope)
        if term is not None and c.type_of(term).kind != "quantity":
            self.problems.error(
                Code.VALUE_EXPECTED,
                f"a quantity is expected here, and this is {type_words(c.type_of(term))}",
                expr.span,
            )
            return None
        return term

    def term(self, expr: t.Expr, scope: Scope) -> c.Term | None:
        """Return any expression, checked."""
        match expr:
            case t.Path():
                return find_field(expr, scope, self.names, self.problems)
            case t.Amount():
                return c.Const(expr.si, expr.dimension, expr.written)
            case t.Text():
                return c.Words((expr.text,))
            case t.LimitRef():
                return self._limit(expr)
            case t.Lookup():
                return self._lookup(expr, scope)
            case t.Arithmetic() | t.Pick() | t.Gather():
                return self._value(expr, scope)
            case t.Comparison() | t.Within():
                return self._comparison(expr, scope)
            case t.Same():
                return same(self, expr, scope)
            case t.Member():
                return member(self, expr, scope)
            case t.Includes():
                return includes(self, expr, scope)
            case _:
                return self._logic(expr, scope)

    def _limit(self, expr: t.LimitRef) -> c.Term | None:
        limit = self.names.limits.get(expr.name)
        if limit is not None:
            return c.LimitTerm(limit)
        if expr.name not in self.names.broken:
            near = closest(expr.name, self.names.limits)
            self.problems.error(
                Code.UNKNOWN_LIMIT,
                f"no limit is called `{expr.name}`",
                expr.span,
                help=f"a similar name exists: `{near}`"
                if near
                else f"add `limit {expr.name} ...` to the pack",
            )
        return None

    def _lookup(self, expr: t.Lookup, scope: Scope) -> c.Term | None:
        table, key = self.names.tables.get(expr.name), self.term(expr.key, scope)
        if table is None:
            if expr.name not in self.names.broken:
                near = closest(expr.name, self.names.tables)
                self.problems.error(
                    Code.UNKNOWN_LIMIT,
                    f"no table is called `{expr.name}`",
                    expr.span,
                    help=f"a similar name exists: `{near}`"
                    if near
                    else f"add `table {expr.name} ...` to the pack",
                )
            return None
        if key is None:
            return None
        found = c.type_of(key)
        if all(e.up_to_si is None and not e.word for e in table.entries):
            return c.LookupTerm(table, key)
        if table.key_words and found.kind in ("word", "text"):
            unknown = [e.word for e in table.entries if e.word and found.words and e.word not in found.words]
            if unknown:
                self.problems.error(
                    Code.UNKNOWN_WORD,
                    f"table `{table.name}` has a row `{unknown[0]}`, which this never is",
                    expr.span,
                )
                return None
            return c.LookupTerm(table, key)
        if (
            table.key_words
            or found.kind != "quantity"
            or not comparable(found.dimension, table.key_dimension)
        ):
            wanted = "a word" if table.key_words else dimension_words(table.key_dimension)
            self.problems.error(
                Code.WRONG_DIMENSION,
                f"table `{table.name}` is looked up by {wanted}, and this is {type_words(found)}",
                expr.key.span,
            )
            return None
        return c.LookupTerm(table, key)

    def _value(self, expr: t.Arithmetic | t.Pick | t.Gather, scope: Scope) -> c.Term | None:
        if isinstance(expr, t.Gather):
            return self._gather(expr, scope)
        if isinstance(expr, t.Arithmetic):
            left, right = self.number(expr.left, scope), self.number(expr.right, scope)
            if left is None or right is None:
                return None
            a, b = c.type_of(left).dimension, c.type_of(right).dimension
            try:
                return c.Arithmetic(expr.operator, left, right, combined(expr.operator, a, b))
            except Mismatch:
                verb = {"divided": "divided by"}.get(expr.operator, expr.operator)
                self._mismatch(
                    f"{dimension_words(a)} `{verb}` {dimension_words(b)} makes no sense",
                    expr.span,
                    "only values of one kind are added; a value is multiplied or divided by a plain number",
                )
                return None
        items = [self.number(x, scope) for x in expr.items]
        whole = [x for x in items if x is not None]
        if len(whole) < len(items):
            return None
        dimension = next((d for d in (c.type_of(x).dimension for x in whole) if d is not None), None)
        for item, written in zip(whole, expr.items, strict=True):
            if not comparable(c.type_of(item).dimension, dimension):
                found = dimension_words(c.type_of(item).dimension)
                self._mismatch(
                    f"this is {found} among {dimension_words(dimension)}",
                    written.span,
                    f"write {dimension_words(dimension)} here, such as {example_of(dimension)}",
                )
                return None
        return c.Pick(expr.which == "larger", tuple(whole), dimension)

    def _gather(self, expr: t.Gather, scope: Scope) -> c.Term | None:
        relation = find_relation(expr.relation, self.names, self.problems)
        if relation is None:
            return None
        inner = (*scope, relation)
        item = None if expr.item is None else self.number(expr.item, inner)
        where = None if expr.where is None else self.truth(expr.where, inner)
        if (expr.item is not None and item is None) or (expr.where is not None and where is None):
            return None
        dimension = Dimension.COUNT if item is None else c.type_of(item).dimension
        return c.Gather(expr.which, relation.name, len(scope), item, where, dimension)

    def _comparison(self, expr: t.Comparison | t.Within, scope: Scope) -> c.Term | None:
        first, last = (expr.left, expr.right) if isinstance(expr, t.Comparison) else (expr.value, expr.target)
        left, right = self.number(first, scope), self.number(last, scope)
        if left is None or right is None or not self.agree(c.type_of(left), c.type_of(right), expr.span):
            return None
        if isinstance(expr, t.Comparison):
            return c.Compare(expr.operator, left, right, expr.span)
        return self._within(expr, left, right, scope)

    def _within(self, expr: t.Within, value: c.Term, target: c.Term, scope: Scope) -> c.Term | None:
        tolerance = self.number(expr.tolerance, scope)
        if tolerance is None:
            return None
        dimension = c.type_of(value).dimension
        if c.type_of(tolerance).dimension in (None, Dimension.RATIO):
            one = c.Const(1.0, Dimension.RATIO, "1")
            bounds = [
                c.Arithmetic("times", c.Arithmetic(sign, one, tolerance, Dimension.RATIO), target, dimension)
                for sign in ("minus", "plus")
            ]
        elif self.agree(c.type_of(value), c.type_of(tolerance), expr.tolerance.span):
            bounds = [c.Arithmetic(sign, target, tolerance, dimension) for sign in ("minus", "plus")]
        else:
            return None
        least = c.Compare("at least", value, bounds[0], expr.span)
        return c.Junction(True, (least, c.Compare("at most", value, bounds[1], expr.span)))

    def agree(self, left: FactType, right: FactType, span: Span) -> bool:
        """Return whether two quantities may be compared; report it if not."""
        if comparable(left.dimension, right.dimension):
            return True
        self._mismatch(
            f"{dimension_words(left.dimension)} cannot be compared with {dimension_words(right.dimension)}",
            span,
            f"compare it with {dimension_words(left.dimension)}, such as {example_of(left.dimension)}",
        )
        return False

    def _mismatch(self, message: str, span: Span, help: str = "") -> None:
        self.problems.error(Code.WRONG_DIMENSION, message, span, help=help)

    def _logic(self, expr: t.Expr, scope: Scope) -> c.Term | None:
        match expr:
            case t.KnownTest():
                value = self.term(expr.value, scope)
                return None if value is None else c.Known(value, expr.negated, expr.span)
            case t.Negation():
                inner = self.truth(expr.inner, scope)
                return None if inner is None else c.Negation(inner)
            case t.Junction():
                parts = [self.truth(p, scope) for p in expr.parts]
                whole = tuple(p for p in parts if p is not None)
                return c.Junction(expr.every, whole) if len(whole) == len(parts) else None
            case t.Presence() | t.ForAll():
                return self._quantified(expr, scope)
        raise AssertionError(expr)

    def _quantified(self, expr: t.Presence | t.ForAll, scope: Scope) -> c.Term | None:
        relation = find_relation(expr.relation, self.names, self.problems)
        if relation is None:
            return None
        inner = (*scope, relation)
        where = None if expr.where is None else self.truth(expr.where, inner)
        if expr.where is not None and where is None:
            return None
        if isinstance(expr, t.Presence):
            return c.Presence(relation.name, len(scope), where, expr.negated, expr.span)
        has = self.truth(expr.has, inner)
        return None if has is None else c.ForAll(relation.name, len(scope), where, has, expr.span)
