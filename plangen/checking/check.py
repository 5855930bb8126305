"""Checks facts against rule packs: every rule on every row, once. Pure.

In: checked packs, a fact base, waivers, confirmations, the issue date, the unit system. Out: findings in the
order of the packs' rules, numbered from 1. Faults of the run itself, such as checking nothing, are problems.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace

from plangen.checking.compose_finding import Composer, Draft, switched_off
from plangen.checking.evaluate import Evaluator
from plangen.checking.finding import Finding, Status
from plangen.checking.govern import govern
from plangen.checking.judge import Readings, judge
from plangen.checking.margins import thin_margin
from plangen.checking.messages import Code
from plangen.checking.packs import CheckedPack, Rule
from plangen.checking.rows import FactRows
from plangen.checking.settle import confirm, waive
from plangen.checking.unsolved import unsolved
from plangen.diagnostics.diagnostic import Outcome, Problems
from plangen.facts.values import FactBase
from plangen.model.design import Confirmation, Waiver
from plangen.text.source import Span

# What the checker itself may be asked about, beside the rules of the packs.
_HOME_RELATION = "project"


def check(
    packs: Sequence[CheckedPack],
    facts: FactBase,
    waivers: Sequence[Waiver] = (),
    confirmations: Sequence[Confirmation] = (),
    issued: datetime.date | None = None,
    system: str = "us",
) -> Outcome[tuple[Finding, ...]]:
    """Return the findings of all packs, or None with the reason if nothing was checked.

    Raises:
        ValueError: the packs were read against another version of the facts than these.
    """
    problems = Problems()
    rows = FactRows(facts)
    home = next((r.row.span for r in rows.of(_HOME_RELATION)), None)
    _check_run(packs, facts, issued, home, problems)
    if any(p.severity == "error" for p in problems.items):
        return Outcome(None, problems.done())
    drafts = govern(_drafts(packs, rows, system, home))
    if all(d.finding.status is Status.NOT_APPLICABLE for d in drafts):
        problems.error(
            Code.NOTHING_CHECKED,
            "no rule of any pack applies to this design, so nothing was checked",
            home or packs[0].span,
            help="name the rule pack of the place in `jurisdiction`, and describe what is to be built",
        )
        return Outcome(None, problems.done())
    rules = [r.name for p in packs for r in p.rules]
    drafts = confirm(drafts, tuple(confirmations), issued, rules)
    drafts = waive(drafts, tuple(waivers), tuple(confirmations), issued, rules)
    found: list[Finding] = []
    for draft in [*drafts, *unsolved(drafts, rows)]:
        found.append(draft.finding)
        thin = thin_margin(draft, system)
        found += [] if thin is None else [thin.finding]
    return Outcome(_numbered(found), problems.done())


def _check_run(
    packs: Sequence[CheckedPack],
    facts: FactBase,
    issued: datetime.date | None,
    home: Span | None,
    problems: Problems,
) -> None:
    if not any(p.rules for p in packs):
        place = home or (packs[0].span if packs else Span("", 0, 0))
        problems.error(
            Code.NOTHING_CHECKED,
            "there is no rule to check",
            place,
            help="name a rule pack in `jurisdiction`",
        )
    for pack in packs:
        if pack.facts != facts.version:
            # A pack's own claim was held against the vocabulary when it was read (PG5106).
            raise ValueError(f"pack {pack.name} was read for facts {pack.facts}, these are {facts.version}")
        if issued is not None and pack.effective > issued:
            problems.warning(
                Code.NOT_YET_EFFECTIVE,
                f"the pack `{pack.name}` takes effect on {pack.effective}, after the issue date {issued}",
                pack.span,
                help="ask the authority which edition the permit falls under",
            )


def _drafts(packs: Sequence[CheckedPack], rows: FactRows, system: str, home: Span | None) -> list[Draft]:
    readings = Readings(Evaluator(rows, strict=False), Evaluator(rows, strict=True))
    drafts: list[Draft] = []
    seen: set[Rule] = set()
    for pack in packs:
        for rule in pack.rules:
            # Packs that extend one parent share its rules: the same rule with the same limits counts once.
            if rule in seen:
                continue
            seen.add(rule)
            composer = Composer(rule, readings.full, system, home, pack.name)
            here = [composer.compose(v) for v in judge(rule, readings)]
            drafts += sorted(here, key=lambda d: d.finding.subject)
        drafts += [switched_off(off, home) for off in pack.switched_off]
    return drafts


def _numbered(findings: list[Finding]) -> tuple[Finding, ...]:
    taken: dict[str, int] = {}
    out: list[Finding] = []
    for number, finding in enumerate(findings, 1):
        taken[finding.id] = count = taken.get(finding.id, 0) + 1
        unique = finding.id if count == 1 else f"{finding.id}#{count}"
        out.append(replace(finding, id=unique, number=number))
    return tuple(out)
