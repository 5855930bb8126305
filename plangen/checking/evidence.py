"""Gathers what a verdict rests on: each fact and limit in the requirement, and each input behind them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.checking import terms as c
from plangen.checking.evaluate import Evaluator, Rows
from plangen.checking.finding import Evidence, Measure
from plangen.checking.terms import Limit, Table
from plangen.checking.wording import Wording, measure, plain
from plangen.facts.values import Value
from plangen.quantity.quantity import DECLARED, Basis, Provenance
from plangen.text.source import Span
from plangen.text.suggest import listed

_WEAKNESS = {basis: rank for rank, basis in enumerate(Basis)}
_LIMIT_BASIS = {"from memory": Basis.FROM_MEMORY}


def weakest(value: Value) -> Provenance:
    """Return the provenance of the least certain input of a value."""
    if not value.inputs:
        return DECLARED
    return max((i.provenance for i in value.inputs), key=lambda p: _WEAKNESS[p.basis])


def shown(value: Value, field: c.Field, system: str) -> Measure:
    """Return a fact's value for showing."""
    held = value.value
    if held is None:
        return Measure("not known")
    if isinstance(held, bool):
        return Measure("yes" if held else "no")
    if isinstance(held, tuple):
        return Measure(listed((plain(x) for x in held), "and") or "none")
    if isinstance(held, str):
        return Measure(held if field.field.type.kind == "text" else plain(held))
    return measure(held, field.field.type.dimension, system, field.field.small)


def facts_in(term: c.Term) -> Iterator[c.Field]:
    """Yield the facts of a condition that stand outside any list of rows."""
    if isinstance(term, c.Field):
        yield term
    for part in c.parts_of(term):
        yield from facts_in(part)


def limits_in(term: c.Term) -> Iterator[Limit | Table]:
    """Yield the limits and tables of an expression."""
    if isinstance(term, c.LimitTerm):
        yield term.limit
    if isinstance(term, c.LookupTerm):
        yield term.table
    for part in c.parts_of(term):
        yield from limits_in(part)


@dataclass(frozen=True, slots=True)
class Grounds:
    """What a rule can rest on, found once for all its rows: facts it names, limits as evidence."""

    facts: tuple[c.Field, ...]
    limits: tuple[Evidence, ...]

    @staticmethod
    def of(terms: tuple[c.Term, ...]) -> Grounds:
        """Return the grounds of some expressions, in the order written."""
        facts = {(f.scope, f.relation, f.field.name): f for term in terms for f in facts_in(term)}
        limits = {x.name: _limit_evidence(x) for term in terms for x in limits_in(term)}
        return Grounds(tuple(facts.values()), tuple(limits.values()))


def gather_evidence(
    grounds: Grounds, rows: Rows, own: int, evaluator: Evaluator, system: str
) -> tuple[tuple[Evidence, ...], tuple[str, ...]]:
    """Return the evidence on given rows, and one line for each value that was worked out.

    The first `own` rows are the rule's subject.
    """
    found: list[Evidence] = []
    inputs: dict[tuple[str, str], Evidence] = {}
    steps: list[str] = []
    wording = Wording(system, rows, own)
    for field in grounds.facts:
        # A field of a list's inner row has no one value here; the rows given settle the others.
        if field.scope is not None and field.scope >= len(rows):
            continue
        value = evaluator.value(field, rows)
        name = wording.value(field)
        datum = f" ({field.field.datum})" if field.field.datum else ""
        found.append(Evidence(name + datum, shown(value, field, system), weakest(value), _span(value)))
        for i in value.inputs:
            inputs.setdefault((i.name, i.written), Evidence(i.name, Measure(i.written), i.provenance, i.span))
        if value.how:
            steps.append(f"{name}: {value.how}")
    return (*found, *grounds.limits, *inputs.values()), tuple(steps)


def _limit_evidence(limit: Limit | Table) -> Evidence:
    words = limit.written if isinstance(limit, Limit) else _rows_of(limit)
    basis = _LIMIT_BASIS.get(limit.source.verified, Basis.STANDARD)
    section = " ".join(x for x in (limit.source.title, limit.source.section) if x)
    return Evidence(f"limit: {limit.about}", Measure(words), Provenance(basis, None, section), limit.span)


def _span(value: Value) -> Span | None:
    return next((i.span for i in value.inputs if i.span is not None), None)


def _rows_of(table: Table) -> str:
    return "; ".join(
        f"{'up to ' if e.up_to_si is not None else ''}{e.key_written or 'otherwise'}: {e.written}"
        for e in table.entries
    )
