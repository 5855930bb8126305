"""Each kind of assembly put in the place of those that a design has: which rules refuse it there, and why.

In: checked packs, facts. Out: one entry for each assembly and kind. Only rules that speak of the kind are
asked, as the place stands: heights, piping and answers stay what they are. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from plangen.checking import terms as c
from plangen.checking.evaluate import Evaluator
from plangen.checking.evidence import facts_in
from plangen.checking.finding import Status
from plangen.checking.judge import Readings, judge
from plangen.checking.packs import CheckedPack, Rule
from plangen.checking.rows import FactRows
from plangen.checking.sentences import sentence
from plangen.facts.values import FactBase, Row, Value

ASSEMBLY, KIND = "assembly", "kind"
# A kind that a rule refuses is refused whatever else is open.
_WORST = (Status.FALLS_SHORT, Status.NOT_KNOWN, Status.NEEDS_PERSON)


@dataclass(frozen=True, slots=True)
class KindJudged:
    """What the rules say of one kind in the place of one assembly; `why`: title and sentence of each rule."""

    assembly: str
    kind: str
    here: bool  # it is the kind that the design has
    status: Status  # falls short, not known, needs a person, or meets where no rule has anything against it
    why: tuple[tuple[str, str], ...]


def kinds_judged(packs: Sequence[CheckedPack], facts: FactBase, system: str = "us") -> tuple[KindJudged, ...]:
    """Return every kind for every assembly, in the order of names and of the vocabulary's words."""
    rules = [r for r in dict.fromkeys(r for p in packs for r in p.rules) if _speaks_of_kind(r)]
    assemblies = facts.of(ASSEMBLY)
    if not rules or not assemblies:
        return ()
    found = {kind: _against(rules, _all_of(facts, kind), system) for kind in _kinds(rules)}
    return tuple(
        _judged(row, kind, against.get(row.name, ())) for row in assemblies for kind, against in found.items()
    )


def _speaks_of_kind(rule: Rule) -> bool:
    if rule.relation is None or rule.relation.name != ASSEMBLY or rule.severity != "required":
        return False
    terms = (x for x in (rule.require, rule.where, *rule.when) if x is not None)
    return any(_is_kind(f) for term in terms for f in facts_in(term))


def _is_kind(field: c.Field) -> bool:
    return field.relation == ASSEMBLY and field.field.name == KIND


def _kinds(rules: Iterable[Rule]) -> tuple[str, ...]:
    relation = next(r.relation for r in rules)
    field = relation.field(KIND) if relation is not None else None
    return field.type.words if field is not None else ()


def _all_of(facts: FactBase, kind: str) -> FactBase:
    """Return the facts as they were with every assembly of one kind."""
    return replace(facts, rows=tuple(_of(r, kind) if r.relation == ASSEMBLY else r for r in facts.rows))


def _of(row: Row, kind: str) -> Row:
    return replace(row, values=tuple((n, Value(kind) if n == KIND else v) for n, v in row.values))


Against = tuple[tuple[Status, str, str], ...]


def _against(rules: Iterable[Rule], facts: FactBase, system: str) -> dict[str, Against]:
    """Return for each assembly what stands against its kind: status, title of the rule, sentence."""
    rows = FactRows(facts)
    readings = Readings(Evaluator(rows, strict=False), Evaluator(rows, strict=True))
    found: dict[str, Against] = {}
    for rule in rules:
        for verdict in judge(rule, readings):
            if verdict.status not in _WORST or not verdict.rows:
                continue
            name = verdict.rows[0].row.name
            words = sentence(rule, verdict, readings.full, system).removeprefix(f"{name}: ")
            found[name] = (*found.get(name, ()), (verdict.status, rule.title, words))
    return found


def _judged(row: Row, kind: str, against: Against) -> KindJudged:
    status = next((s for s in _WORST if any(s is a[0] for a in against)), Status.MEETS)
    why = tuple((title, words) for s, title, words in against if s is status)
    return KindJudged(row.name, kind, row.get(KIND).value == kind, status, why)
