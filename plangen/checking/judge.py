"""One rule on its rows: selects, evaluates, and says which of the verdicts holds and what it turns on.

In: a rule and an evaluator of each reading. Out: one `Verdict` for each subject, not yet worded; a rule
without a subject gives one verdict that says why.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.checking import terms as c
from plangen.checking.evaluate import FROM_MEMORY, Evaluator, Rows
from plangen.checking.finding import Status
from plangen.checking.focus import Leaf, deciding, failing_members
from plangen.checking.kleene import YES, Missing, Truth, conjunction
from plangen.checking.packs import Rule
from plangen.facts.vocabulary import unlisted


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a rule says of one subject. `rows` is empty where there is no subject.

    `reason` tells why a rule does not apply (`no_rows`, `none_matches`, `when`, `nothing`) or why it is not
    known (`selection`, `unlisted`, `value`); `weak` names what a person must vouch for.
    """

    status: Status
    rows: Rows
    reason: str = ""
    leaf: Leaf | None = None
    missing: Missing = ()
    weak: Missing = ()
    failing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Readings:
    """The two readings of one fact base."""

    full: Evaluator
    strict: Evaluator


def judge(rule: Rule, readings: Readings) -> Iterator[Verdict]:
    """Yield the verdicts of a rule in the order of its rows."""
    facts = readings.full.facts
    if rule.relation is None:
        yield _on_rows(rule, (), readings)
        return
    name, found = rule.relation.name, 0
    for row in facts.of(name):
        chosen = _selection(rule, (row,), readings.full)
        if chosen.value is False and not _excluded_weakly(rule, (row,), readings):
            continue
        found += 1
        yield _on_rows(rule, (row,), readings)
    if found:
        return
    if rule.how == "for_the" and not facts.of(name):
        yield Verdict(Status.NOT_KNOWN, (), "unlisted", missing=(name.replace("_", " "),))
    elif not facts.complete(name) and rule.how != "for_the":
        yield Verdict(Status.NOT_KNOWN, (), "unlisted", missing=(unlisted(name),))
    else:
        yield Verdict(Status.NOT_APPLICABLE, (), "none_matches" if facts.of(name) else "no_rows")


def _selection(rule: Rule, rows: Rows, evaluator: Evaluator) -> Truth:
    return YES if rule.where is None else evaluator.truth(rule.where, rows)


def _excluded_weakly(rule: Rule, rows: Rows, readings: Readings) -> bool:
    """Return whether a row is left out of a required rule only on values that cannot decide one."""
    return rule.severity == "required" and _selection(rule, rows, readings.strict).value is None


def _on_rows(rule: Rule, rows: Rows, readings: Readings) -> Verdict:
    full, strict = readings.full, readings.strict
    conditions = tuple(x for x in (rule.where, *rule.when) if x is not None)
    applies = conjunction(full.truth(x, rows) for x in conditions) if conditions else YES
    if applies.value is None:
        leaf = deciding(c.Junction(True, conditions), rows, full)
        return Verdict(Status.NOT_KNOWN, rows, "selection", leaf, applies.missing)
    if not applies.value:
        return _left_out(rule, conditions, rows, readings)
    decided = conjunction(strict.truth(x, rows) for x in conditions) if conditions else YES
    if rule.require is None:
        weak = decided.missing if rule.severity == "required" else ()
        return Verdict(Status.NEEDS_PERSON, rows, "ask", weak=weak)
    return _on_requirement(rule, rule.require, rows, readings, decided)


def _left_out(rule: Rule, conditions: tuple[c.Term, ...], rows: Rows, readings: Readings) -> Verdict:
    leaf = deciding(c.Junction(True, conditions), rows, readings.full)
    weakly = conjunction(readings.strict.truth(x, rows) for x in conditions)
    if rule.severity == "required" and weakly.value is None:
        return Verdict(Status.NEEDS_PERSON, rows, "when", leaf, weak=weakly.missing)
    return Verdict(Status.NOT_APPLICABLE, rows, "when", leaf)


def _on_requirement(rule: Rule, require: c.Term, rows: Rows, readings: Readings, decided: Truth) -> Verdict:
    full, strict = readings.full, readings.strict
    truth = full.truth(require, rows)
    leaf = deciding(require, rows, full)
    if truth.vacuous:
        weakly = strict.truth(require, rows)
        if rule.severity == "required" and (not weakly.vacuous or decided.value is None):
            missing = tuple(dict.fromkeys((*decided.missing, *weakly.missing)))
            return Verdict(Status.NEEDS_PERSON, rows, "nothing", leaf, weak=missing)
        return Verdict(Status.NOT_APPLICABLE, rows, "nothing", leaf)
    if truth.value is None:
        status = Status.NEEDS_PERSON if rule.ask else Status.NOT_KNOWN
        return Verdict(status, rows, "ask" if rule.ask else "value", leaf, truth.missing)
    settled = conjunction((decided, strict.truth(require, rows)))
    weak = settled.missing if settled.value is None else ()
    if truth.value is False:
        failing = failing_members(require, rows, full)
        return Verdict(Status.FALLS_SHORT, rows, "", leaf, weak=weak, failing=failing)
    if rule.severity == "required":
        # What stands on every source from memory alone has not been looked up by anyone.
        if all(s.verified == FROM_MEMORY for s in rule.sources):
            weak = (*weak, "the rule is stated from memory")
        if weak:
            return Verdict(Status.NEEDS_PERSON, rows, "weak", leaf, weak=weak)
    # An advisory rule may be met on what is only assumed, and says so.
    return Verdict(Status.MEETS, rows, "", leaf, weak=weak)
