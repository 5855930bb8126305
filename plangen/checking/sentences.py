"""One human sentence for each verdict. Words only; the verdict is made elsewhere."""

from __future__ import annotations

from plangen.checking import terms as c
from plangen.checking.evaluate import Evaluator
from plangen.checking.evidence import shown
from plangen.checking.finding import Measure, Status
from plangen.checking.focus import Bound, Leaf, extreme_row
from plangen.checking.judge import Verdict
from plangen.checking.packs import Rule
from plangen.checking.wording import Wording, is_small, measure, plain, told_apart
from plangen.quantity.dimension import Dimension
from plangen.text.suggest import listed

MOST_NAMED = 4
MOST_WEAK = 2  # all of them stand in what to look at


def subject_words(rule: Rule, verdict: Verdict) -> str:
    """Return what a sentence is about: an object's name, or the relation."""
    if verdict.rows:
        name = verdict.rows[0].row.name
        return name or plain(verdict.rows[0].row.relation)
    return f"any {plain(rule.relation.name)}" if rule.relation is not None else "the design"


def sentence(rule: Rule, verdict: Verdict, evaluator: Evaluator, system: str) -> str:
    """Return the verdict in one sentence."""
    subject = subject_words(rule, verdict)
    if verdict.status is Status.NOT_APPLICABLE:
        return f"{subject}: does not apply, {_why_not(rule, verdict, evaluator, system)}."
    if verdict.status is Status.NOT_KNOWN and verdict.reason in ("unlisted", "selection"):
        if verdict.reason == "unlisted":
            return f"the design: not known; missing: {_names(verdict.missing)}."
        return f"{subject}: not known whether the rule applies; missing: {_names(verdict.missing)}."
    if verdict.reason == "ask" and verdict.leaf is None:
        return f"{subject}: a person must look: {_lower(rule.ask)}."
    if verdict.reason in ("when", "nothing"):
        reason = _why_not(rule, verdict, evaluator, system)
        return (
            f"{subject}: falls away only because {reason}, which rests on {_names(verdict.weak, MOST_WEAK)}."
        )
    assert verdict.leaf is not None
    if verdict.status in (Status.NOT_KNOWN, Status.NEEDS_PERSON) and verdict.missing:
        needed = _open_question(verdict.leaf, evaluator, system)
        tail = f"; a person must look: {_lower(rule.ask)}" if verdict.reason == "ask" else ""
        return f"{subject}: {needed}; missing: {_names(verdict.missing)}{tail}."
    words = _measured_words(verdict.leaf, evaluator, system) + _cause(rule, verdict, evaluator, system)
    if verdict.weak and verdict.status is Status.NEEDS_PERSON:
        words += f", but this rests on {_names(verdict.weak, MOST_WEAK)}"
    elif verdict.weak:
        words += f" (on a value that is not settled: {_names(verdict.weak, MOST_WEAK)})"
    return f"{subject}: {words}."


def _why_not(rule: Rule, verdict: Verdict, evaluator: Evaluator, system: str) -> str:
    relation = plain(rule.relation.name) if rule.relation is not None else ""
    if verdict.reason == "no_rows":
        return f"the design has no {relation}"
    if verdict.reason == "none_matches":
        condition = Wording(system).condition(rule.where) if rule.where is not None else ""
        return f"there is no {relation} where {condition}"
    if verdict.reason == "nothing":
        return "there is nothing it could be checked on"
    assert verdict.leaf is not None
    return f"{_state(verdict.leaf, evaluator, system)}"


def bound_measures(bound: Bound, system: str) -> tuple[Measure | None, Measure | None, Measure | None]:
    """Return the measured value, the limit and the margin of a comparison for showing."""
    dimension = c.type_of(bound.measured).dimension or c.type_of(bound.limit).dimension
    small = is_small(bound.measured) or is_small(bound.limit)
    value, limit = bound.measured_si, bound.limit_si
    shown_value: Measure | None
    shown_limit: Measure | None
    if value is not None and limit is not None:
        shown_value, shown_limit = told_apart(value, limit, dimension, system, small)
    else:
        shown_value, shown_limit = (_shown(x, dimension, system, small) for x in (value, limit))
    return shown_value, shown_limit, _shown(bound.margin_si, dimension, system, small)


def _shown(si: float | None, dimension: Dimension | None, system: str, small: bool) -> Measure | None:
    return None if si is None else measure(si, dimension, system, small)


def _open_question(leaf: Leaf, evaluator: Evaluator, system: str) -> str:
    """Return what is not known: the value itself where one fact is asked for, else the whole test."""
    wording = Wording(system, leaf.rows, leaf.own)
    field = _subject_field(leaf.term)
    unknown = field is not None and evaluator.value(field, leaf.rows).value is None
    if field is None or not unknown:
        return f"it is not known whether {_required(leaf, system)}"
    name = f"{wording.value(field)} is not known"
    if leaf.bound is None or leaf.bound.limit_si is None:
        return name
    _, limit, _ = bound_measures(leaf.bound, system)
    return f"{name}; {leaf.bound.operator} {limit.words if limit else ''} is required"


def _measured_words(leaf: Leaf, evaluator: Evaluator, system: str) -> str:
    """Return the deciding test with its values: what is, and what is required."""
    if leaf.bound is None:
        return _settled_words(leaf, evaluator, system)
    bound = leaf.bound
    value, limit, margin = bound_measures(bound, system)
    wording = Wording(system, leaf.rows, leaf.own)
    name = wording.value(bound.measured)
    at = extreme_row(bound.measured, leaf.rows, evaluator)
    is_words = f"{name} is {value.words if value else 'not known'}{f' ({at})' if at else ''}"
    if not leaf.truth.value and not at and isinstance(bound.measured, c.Field):
        is_words += _how(bound.measured, leaf, evaluator)
    if limit is None:
        return f"{is_words}; required: {_required(leaf, system)}"
    needed = f"{bound.operator} {limit.words}" if bound.operator != "is" else limit.words
    if not isinstance(bound.limit, c.Const | c.LimitTerm):
        small = is_small(bound.measured) or is_small(bound.limit)
        needed += f" ({wording.value(bound.limit, small)})"
    if leaf.truth.value:
        return f"{is_words}, and {needed} is required"
    if margin is None or not margin.si:
        return f"{is_words}; {needed} is required"
    amount = measure(abs(margin.si), margin.dimension, system, margin.small)
    off = "too much" if bound.downward else "short"
    by = "" if amount.words.split()[0].rstrip("%") == "0" else f", {amount.words} {off}"
    return f"{is_words}; {needed} is required{by}"


def _settled_words(leaf: Leaf, evaluator: Evaluator, system: str) -> str:
    """Return a test that measures nothing: what is, and whether that is as required."""
    state, term = _state(leaf, evaluator, system), leaf.term
    if not leaf.truth.value:
        state += _how(_subject_field(term), leaf, evaluator)
    if isinstance(term, c.Field):
        wanted = "no" if leaf.inverted else "yes"
        return f"{state}, as required" if leaf.truth.value else f"{state}; {wanted} is required"
    if isinstance(term, c.Member):
        choice = Wording(system, leaf.rows, leaf.own).value(term.options)
        wanted = f"not {choice}" if term.negated != leaf.inverted else choice
        return f"{state}, and {wanted} is required" if leaf.truth.value else f"{state}; {wanted} is required"
    if leaf.truth.value:
        return f"{state}, as required"
    return f"{state}; required: {_required(leaf, system)}"


def _how(field: c.Field | None, leaf: Leaf, evaluator: Evaluator) -> str:
    """Return in brackets how the fact came about: what is lacking, or which object it was measured to."""
    how = evaluator.value(field, leaf.rows).how if field is not None else ""
    return f" ({how})" if how else ""


def _cause(rule: Rule, verdict: Verdict, evaluator: Evaluator, system: str) -> str:
    """Return which of the alternatives that bring a rule to bear hold, in the words of the rule's steps.

    A rule "where a or b" is mended otherwise for a than for b, so its reader must know which.
    """
    where = rule.where
    if verdict.status is not Status.FALLS_SHORT or not isinstance(where, c.Junction) or where.every:
        return ""
    wording = Wording(system, verdict.rows)
    choices = {wording.condition(part) for part in where.parts}
    causes = []
    for step in rule.steps:
        if step.when is None or wording.condition(step.when) not in choices:
            continue
        if evaluator.truth(step.when, verdict.rows).value:
            field = _subject_field(step.when)
            how = evaluator.value(field, verdict.rows).how if field is not None else ""
            causes.append(f"{step.text} ({how})" if how else step.text)
    return f", because {listed(causes, 'and')}" if causes else ""


def _required(leaf: Leaf, system: str) -> str:
    words = Wording(system, leaf.rows, leaf.own).condition(leaf.term)
    return f"not ({words})" if leaf.inverted else words


def _subject_field(term: c.Term) -> c.Field | None:
    """Return the one fact a test is about, if there is one."""
    if isinstance(term, c.Field):
        return term
    found = getattr(term, "value", None) or getattr(term, "left", None)
    return found if isinstance(found, c.Field) else None


def _state(leaf: Leaf, evaluator: Evaluator, system: str) -> str:
    """Return what is the case, as far as one value tells it."""
    term, wording = leaf.term, Wording(system, leaf.rows, leaf.own)
    field = _subject_field(term)
    if field is not None:
        value = shown(evaluator.value(field, leaf.rows), field, system)
        return f"{wording.value(field)} is {value.words}"
    held = leaf.truth.value is not leaf.inverted
    return wording.condition(term) if held else f"it is not so that {wording.condition(term)}"


def _names(words: tuple[str, ...], most: int = MOST_NAMED) -> str:
    named = list(words[:most])
    if len(words) > most:
        named.append(f"{len(words) - most} more")
    return listed(named, "and")


def _lower(text: str) -> str:
    text = text.rstrip(".")
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
