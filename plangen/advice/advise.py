"""The sizing adviser: what would make a design meet at the least cost, verified by reading the edited text.

It suggests and never edits. What is not known it never mends by guessing: that stays an open question.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from plangen.advice.assemblies import offered_assemblies
from plangen.advice.choice import MOST_LOOKS, NOTHING, Choice, Fitted
from plangen.advice.conflict import Conflict, Tried
from plangen.advice.costs import CostTable
from plangen.advice.descent import descended
from plangen.advice.judged import Fault, Judge, Standing
from plangen.advice.mentions import SIZE_FACTS, WATER_FACTS, required_on
from plangen.advice.script import Script, difference
from plangen.advice.search import Outcome, Search
from plangen.advice.space import Item, Space
from plangen.advice.variant import Variants
from plangen.checking.finding import Finding, Status
from plangen.text.source import SourceFile

# How many winners the full check may turn down before the adviser gives up.
MOST_REFUSED = 2
Recheck = Callable[[tuple[SourceFile, ...]], tuple[Finding, ...] | str]


@dataclass(frozen=True, slots=True)
class Open:
    """A required finding that stays open: why the adviser leaves it, in words."""

    name: str
    status: str
    why: str


@dataclass(frozen=True, slots=True)
class Advice:
    """What the adviser says.

    `items` and `diff` are empty where it has nothing to suggest. `proven` says whether no cheaper set on
    offer mends; `at_least` is the cost below which none does. `mended` are the findings that then no longer
    fall short, `vouch` those that a person must vouch for then. Where nothing was found, `left` is what of
    the task still fell short in the closest try, whose changes are `closest`; else it is what was set aside.
    """

    meets: bool
    items: tuple[Item, ...] = ()
    cost: float = 0.0
    diff: str = ""
    sources: tuple[SourceFile, ...] = ()
    proven: bool = False
    at_least: float = 0.0
    looks: int = 0
    exhausted: bool = False
    mended: tuple[str, ...] = ()
    left: tuple[Open, ...] = ()
    beyond: tuple[Open, ...] = ()
    questions: tuple[Open, ...] = ()
    vouch: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    choice: Choice = NOTHING
    closest: tuple[Item, ...] = ()
    alone: bool = False  # proven the cheapest for what it mends, `left` set aside


def failing(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return the required findings that fall short or are not known."""
    bad = (Status.FALLS_SHORT, Status.NOT_KNOWN)
    return tuple(f for f in findings if f.severity == "required" and f.status in bad)


def advise(
    standing: Standing,
    sources: Sequence[SourceFile],
    costs: CostTable,
    recheck: Recheck,
    most_looks: int = MOST_LOOKS,
) -> Advice:
    """Return the advice on a checked design; `sources` are its texts, the root first."""
    open_now = failing(standing.findings)
    if not open_now:
        return Advice(True)
    search, root = prepare_search(standing, sources, costs, most_looks)
    if root is None:
        return Advice(False, beyond=_short(open_now), questions=_unknown(open_now))
    mendable, beyond, questions = _sorted_out(search, root.faults, open_now)
    if not mendable:
        return Advice(False, beyond=beyond, questions=questions, notes=search.space.notes)
    task = _Task(standing, tuple(sources), recheck, root.faults)
    advice = _mended(search, task, mendable)
    kinds = tuple(f for f in mendable if f.name in {c.fault.name for c in _kinds(search)})
    others = tuple(f for f in mendable if f not in kinds)
    if not advice.diff and kinds and others:
        # Another kind of assembly may ask too much of the rest: then the rest is worth mending by itself.
        rest = _mended(search, task, others)
        if rest.diff:
            left = tuple(_left(f) for f in kinds)
            advice = replace(rest, left=left, proven=False, alone=rest.proven)
    if advice.diff:
        return advice
    return replace(advice, beyond=beyond, questions=questions)


@dataclass(frozen=True, slots=True)
class _Task:
    """What every try of the adviser has in common."""

    standing: Standing
    sources: tuple[SourceFile, ...]
    recheck: Recheck
    faults: tuple[Fault, ...]


def _mended(search: Search, task: _Task, mendable: Sequence[Fault]) -> Advice:
    """Return the advice that mends some faults, or what was tried; a new search with its own looks."""
    search.beyond = frozenset(f.name for f in task.faults) - {f.name for f in mendable}
    search.looks = 0
    root = search.look(NOTHING)
    assert root is not None, "the root was looked at before"
    search.weigh_parts()
    refused: list[Choice] = []
    why: list[str] = []
    outcome = search.run(root)
    if outcome.found is None and not outcome.exhausted:
        outcome = descended(search, root, outcome, ())
    while outcome.found is not None:
        verified = _verified(search, outcome, task.standing, task.recheck, mendable)
        if isinstance(verified, _Verified):
            return _advice(search, outcome, verified, task.sources, tuple(why))
        refused.append(outcome.found.choice)
        why.append(verified)
        if len(refused) > MOST_REFUSED:
            break
        outcome = search.run(root, refused)
        if outcome.found is None and not outcome.exhausted:
            outcome = descended(search, root, outcome, tuple(refused))
    return Advice(
        False, looks=outcome.looks, exhausted=outcome.exhausted,
        left=tuple(_left(f) for f in outcome.best.faults), refused=tuple(why), notes=search.space.notes,
        at_least=outcome.promise, closest=search.space.items(outcome.best.choice, search.variants),
    )  # fmt: skip


def _kinds(search: Search) -> list[Conflict]:
    """Return the conflicts of the design as it stands that ask for another kind of assembly."""
    search.beyond = frozenset()
    root = search.look(NOTHING)
    assert root is not None, "the root was looked at before"
    return [c for c in search.found_conflicts(root) if c.kind == "kind"]


def _left(fault: Fault) -> Open:
    return Open(fault.name, fault.verdict.status.words, "")


def prepare_search(
    standing: Standing, sources: Sequence[SourceFile], costs: CostTable, most_looks: int = MOST_LOOKS
) -> tuple[Search, Tried | None]:
    """Return a search over all changes on offer, and the design as it stands worked out in it."""
    script = Script(sources)
    offered = {o.part.name: o for o in offered_assemblies(script.trees)}
    space = Space(standing.design, costs, offered)
    variants = Variants(standing.design, sources, space.divided, offered)
    judge = Judge(standing, required_on(standing.packs, WATER_FACTS, SIZE_FACTS))
    search = Search(space, variants, judge, standing.surface, most_looks)
    return search, search.look(NOTHING)


def _sorted_out(
    search: Search, faults: Sequence[Fault], open_now: Sequence[Finding]
) -> tuple[tuple[Fault, ...], tuple[Open, ...], tuple[Open, ...]]:
    """Return the faults that changes on offer may mend, those beyond them, and the open questions."""
    root = search.look(NOTHING)
    assert root is not None, "the root was looked at before"
    lasting = search.lasting(root.faults)
    found = [c for c in search.found_conflicts(root) if c.mendable]
    # A kind that no assembly on offer mends is beyond them, unless it can be raised out of trouble.
    fitted_only = [c for c in found if c.kind == "kind" and all(isinstance(x, Fitted) for x in c.own)]
    found = [c for c in found if c not in fitted_only or c.fault.name not in lasting]
    # A throw that is not known for want of pressure is known again with it, whatever it then is.
    thirsty = {c.fault.subject for c in found if c.kind == "pressure" and not c.throw}
    mendable = tuple(c.fault for c in found if not c.throw or c.fault.subject not in thirsty)
    names = {f.name for f in mendable}
    others = tuple(f for f in open_now if f"{f.rule} {f.subject}".strip() not in names)
    return mendable, _short(others), _unknown(others)


def _short(findings: Sequence[Finding]) -> tuple[Open, ...]:
    return tuple(_open(f, f.remedy) for f in findings if f.status is Status.FALLS_SHORT)


def _unknown(findings: Sequence[Finding]) -> tuple[Open, ...]:
    """Return the open questions: what is missing, in the words of the findings."""
    unknown = (f for f in findings if f.status is Status.NOT_KNOWN)
    return tuple(_open(f, f"missing: {'; '.join(f.missing) or f.message}") for f in unknown)


def _open(finding: Finding, why: str) -> Open:
    return Open(f"{finding.rule} {finding.subject}".strip(), finding.status.words, why)


@dataclass(frozen=True, slots=True)
class _Verified:
    sources: tuple[SourceFile, ...]
    mended: tuple[str, ...]
    vouch: tuple[str, ...]
    beyond: tuple[Open, ...]
    questions: tuple[Open, ...]


def _verified(
    search: Search, outcome: Outcome, standing: Standing, recheck: Recheck, mendable: Sequence[Fault]
) -> _Verified | str:
    """Read the edited text again, solve and check it whole; return why it does not hold otherwise."""
    assert outcome.found is not None
    sources = search.variants.sources(outcome.found.choice)
    words = "; ".join(
        f"{i.object} {i.words}" for i in search.space.items(outcome.found.choice, search.variants)
    )
    findings = recheck(sources)
    if isinstance(findings, str):
        return f"{words}: {findings}"
    before = {f"{f.rule} {f.subject}".strip() for f in failing(standing.findings)}
    after = {f"{f.rule} {f.subject}".strip() for f in failing(findings)}
    task = {f.name for f in mendable}
    worse = sorted((after - before) | (after & task))
    if worse:
        return f"{words}: then {', '.join(worse[:6])} would not meet"
    met = {(f.rule, f.subject) for f in standing.findings if f.status is Status.MEETS}
    vouch = (
        f"{f.rule} {f.subject}: {'; '.join(f.weak)}"
        for f in findings
        if f.severity == "required" and f.status is Status.NEEDS_PERSON
        and ((f.rule, f.subject) in met or f"{f.rule} {f.subject}".strip() in before)
    )  # fmt: skip
    left = failing(findings)
    return _Verified(sources, tuple(sorted(before - after)), tuple(vouch), _short(left), _unknown(left))


def _advice(
    search: Search,
    outcome: Outcome,
    verified: _Verified,
    sources: Sequence[SourceFile],
    refused: tuple[str, ...],
) -> Advice:
    assert outcome.found is not None
    choice = outcome.found.choice
    return Advice(
        False,
        items=search.space.items(choice, search.variants),
        cost=outcome.found.cost,
        diff=difference(sources, verified.sources),
        sources=verified.sources,
        proven=outcome.proven and not refused,
        at_least=outcome.promise,
        looks=outcome.looks,
        mended=verified.mended,
        beyond=verified.beyond,
        questions=verified.questions,
        vouch=verified.vouch,
        refused=refused,
        notes=search.space.notes,
        choice=choice,
    )
