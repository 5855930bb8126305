"""Verdicts to findings: sentence, measures, evidence, steps, the place to look. Nothing is decided here."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking import terms as c
from plangen.checking.evaluate import FROM_MEMORY, Evaluator, Rows
from plangen.checking.evidence import Grounds, gather_evidence, limits_in
from plangen.checking.finding import Evidence, Finding, OtherLimit, Status
from plangen.checking.focus import Bound
from plangen.checking.judge import Verdict
from plangen.checking.packs import Rule, RuleOff
from plangen.checking.sentences import bound_measures, sentence
from plangen.checking.wording import plain
from plangen.facts.supplied_by import supplies
from plangen.text.source import Span

DESIGN = "design"


@dataclass(frozen=True, slots=True)
class Draft:
    """A finding with what amending it needs: its rule, and the comparison it turns on.

    `confirmed_as` is what a person's word would make of it.
    """

    finding: Finding
    rule: Rule | None
    bound: Bound | None = None
    confirmed_as: Status = Status.MEETS


class Composer:
    """Composes the findings of one rule. `home` is where a missing thing would be said."""

    __slots__ = ("evaluator", "grounds", "home", "others", "pack", "rule", "selection", "system")

    def __init__(self, rule: Rule, evaluator: Evaluator, system: str, home: Span | None, pack: str) -> None:
        """Find once what all findings of the rule share."""
        self.rule, self.evaluator, self.system, self.home, self.pack = rule, evaluator, system, home, pack
        conditions = tuple(x for x in (rule.where, *rule.when) if x is not None)
        self.selection = Grounds.of(conditions)
        self.grounds = Grounds.of(conditions if rule.require is None else (rule.require, *conditions))
        self.others = _replaced(rule)

    def compose(self, verdict: Verdict) -> Draft:
        """Return the finding of a verdict."""
        rule, rows, leaf = self.rule, verdict.rows, verdict.leaf
        on_condition = verdict.reason in ("when", "selection")
        bound = leaf.bound if leaf is not None and not on_condition else None
        measured, limit, margin = (
            bound_measures(bound, self.system) if bound is not None else (None, None, None)
        )
        subject = rows[0].row.name if rows else ""
        evidence, how = self._evidence(verdict, on_condition)
        finding = Finding(
            finding_id(rule.name, subject),
            0,
            rule.name,
            self.pack,
            rule.title,
            verdict.status,
            rule.severity,
            rule.relation.name if rule.relation is not None else DESIGN,
            subject,
            sentence(rule, verdict, self.evaluator, self.system),
            rows[0].row.span if rows else self.home or rule.span,
            rule.span,
            measured,
            limit if bound is not None and not bound.downward else None,
            limit if bound is not None and (bound.downward or bound.operator == "is") else None,
            margin,
            evidence,
            (*how, *_steps(rule, verdict, self.evaluator)),
            verdict.missing,
            rule.sources,
            rule.why,
            _remedy(rule, verdict),
            _look_at(rule, verdict),
            others=self.others,
            weak=verdict.weak,
            fact=bound.field.field.name if bound is not None and bound.field is not None else "",
        )
        confirmed_as = Status.NOT_APPLICABLE if verdict.reason in ("when", "nothing") else Status.MEETS
        return Draft(finding, rule, bound, confirmed_as)

    def _evidence(self, verdict: Verdict, on_condition: bool) -> tuple[tuple[Evidence, ...], tuple[str, ...]]:
        if verdict.reason in ("no_rows", "none_matches", "unlisted"):
            return (), ()
        grounds = self.selection if on_condition else self.grounds
        rows = verdict.leaf.rows if verdict.leaf is not None else verdict.rows
        return gather_evidence(grounds, rows, len(verdict.rows), self.evaluator, self.system)


def finding_id(rule: str, subject: str) -> str:
    """Return the id of a finding: rule and subject, so that it survives edits elsewhere."""
    return f"{rule}/{subject}" if subject else rule


def _steps(rule: Rule, verdict: Verdict, evaluator: Evaluator) -> tuple[str, ...]:
    """Return the lines of reasoning that hold, those not known said to be so."""
    lines: list[str] = []
    if verdict.failing:
        lines.append(f"falls short on: {', '.join(verdict.failing)}")
    if rule.relation is None or verdict.rows:
        lines += [
            line for step in rule.steps if (line := _step(step.text, step.when, verdict.rows, evaluator))
        ]
    if rule.because:
        lines.append(f"the pack {rule.pack} wrote this rule in place of {rule.instead_of}'s: {rule.because}")
    return tuple(lines)


def _step(text: str, when: c.Term | None, rows: Rows, evaluator: Evaluator) -> str:
    if when is None:
        return text
    truth = evaluator.truth(when, rows)
    if truth.value is None:
        return f"not known: {text} (missing: {', '.join(truth.missing)})"
    return text if truth.value else ""


def _remedy(rule: Rule, verdict: Verdict) -> str:
    """Return what to do: what the pack advises, or, while that is not told yet, what would settle it."""
    if verdict.missing:
        return supplies(verdict.missing)
    if verdict.status is not Status.NEEDS_PERSON or verdict.reason == "ask":
        return rule.fix
    looked_up = [w for w in verdict.weak if w.endswith(FROM_MEMORY)]
    told = [supplies(looked_up)] if looked_up else []
    if len(looked_up) < len(verdict.weak):
        told.append("Measure these values, or name the data sheet, drawing or standard they are from")
    return "; ".join(told)


def _look_at(rule: Rule, verdict: Verdict) -> str:
    if verdict.status is not Status.NEEDS_PERSON:
        return ""
    if verdict.reason == "ask":
        return rule.ask
    return f"Check and confirm: {'; '.join(verdict.weak)}"


def _replaced(rule: Rule) -> tuple[OtherLimit, ...]:
    """Return what the limits in force replaced, with the reason and the authority."""
    found: list[OtherLimit] = []
    for term in (rule.require, rule.where, *rule.when):
        for limit in limits_in(term) if term is not None else ():
            for was in limit.replaced:
                words = f"{was.written}, replaced because {was.because} (authority: {was.authority})"
                found.append(OtherLimit(was.pack, words))
    return tuple(dict.fromkeys(found))


def switched_off(off: RuleOff, home: Span | None) -> Draft:
    """Return the finding that says a rule is not in force, and why."""
    finding = Finding(
        finding_id(off.rule, ""),
        0,
        off.rule,
        off.pack,
        off.title,
        Status.NOT_APPLICABLE,
        "advisory",
        DESIGN,
        "",
        f"{plain(off.rule)}: does not apply, the pack {off.pack} switched it off: {off.because}.",
        home or off.span,
        off.span,
    )
    return Draft(finding, None)
