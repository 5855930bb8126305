"""Loads rule packs: reads the texts asked for and all they extend, links them, and checks every rule.

In: pack names, pack texts by name, the fact vocabulary and its version. Out: checked packs, or the faults of
any of them. It never reads a file.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping
from functools import cache

from plangen.checking import pack_text as w
from plangen.checking import terms as c
from plangen.checking import tree as t
from plangen.checking.finding import RuleSource
from plangen.checking.knowing import unsafe_tests
from plangen.checking.link import Linked, Placed, link
from plangen.checking.messages import Code
from plangen.checking.packs import CheckedPack, Rule, Step
from plangen.checking.reach import check_reach
from plangen.checking.read import read_pack
from plangen.checking.resolve import Resolver
from plangen.checking.satisfiable import can_match
from plangen.checking.scope import Names, Scope, find_relation
from plangen.diagnostics.diagnostic import Label, Outcome, Problems
from plangen.facts.values import Relation
from plangen.text.source import SourceFile, Span
from plangen.text.suggest import closest, listed

_NEVER = "no object can be all of this at once: join the conditions with `or`, or take one out"
Reader = Callable[[str], Outcome[w.PackText]]


def load_packs(
    names: Iterable[str],
    texts: Mapping[str, SourceFile],
    vocabulary: tuple[Relation, ...],
    version: str = "1",
    at: Span | None = None,
) -> Outcome[tuple[CheckedPack, ...]]:
    """Return the packs of the given names, in that order, each over what it extends.

    `at` is the place that asked for them, for the message about a pack that does not exist.
    """
    problems, packs = Problems(), []
    read = cache(lambda name: read_pack(texts[name]))
    relations = {r.name: r for r in vocabulary}
    for name in dict.fromkeys(names):
        chain = _chain(name, texts, read, problems, at or Span("", 0, 0))
        if chain is None:
            continue
        _check_version(chain, version, problems)
        packs.append(_checked(chain, link(chain, problems), relations, problems))
    found = problems.done()
    return Outcome(None if found or not packs else tuple(packs), found)


def _chain(
    name: str, texts: Mapping[str, SourceFile], read: Reader, problems: Problems, at: Span
) -> tuple[w.PackText, ...] | None:
    """Return the pack texts from the oldest ancestor to the pack asked for, or None after a message."""
    chain: list[w.PackText] = []
    while name:
        if name not in texts:
            near = closest(name, texts)
            problems.error(
                Code.UNKNOWN_PACK,
                f"there is no rule pack `{name}`",
                at,
                expected=listed(sorted(texts)),
                help=f"a similar name exists: `{near}`" if near else "",
            )
            return None
        outcome = read(name)
        problems.items.extend(outcome.problems)
        if outcome.value is None:
            return None
        pack = outcome.value
        if pack.name != name:
            problems.error(
                Code.UNKNOWN_PACK,
                f"this text should hold the pack `{name}` and holds `{pack.name}`",
                pack.span,
            )
            return None
        if any(p.name == name for p in chain):
            circle = " -> ".join([*(p.name for p in chain), name])
            problems.error(
                Code.EXTENDS_CYCLE,
                f"packs extend each other in a circle: {circle}",
                pack.span,
                help=f"take `extends {pack.parent}` out of `{pack.name}`, or cut the circle at another pack",
                labels=tuple(Label(p.span, "extended from here") for p in chain if p.span != pack.span),
            )
            return None
        chain.append(pack)
        name, at = pack.parent, pack.span
    return tuple(reversed(chain))


def _check_version(chain: tuple[w.PackText, ...], version: str, problems: Problems) -> None:
    for pack in chain:
        if pack.facts and pack.facts != version:
            problems.error(
                Code.OTHER_FACTS,
                f"the pack `{pack.name}` is written for facts of version {pack.facts}, not {version}",
                pack.span,
                help="read the handbook's list of changed facts, then set `facts`",
            )


def _checked(
    chain: tuple[w.PackText, ...], linked: Linked, relations: dict[str, Relation], problems: Problems
) -> CheckedPack:
    pack = chain[-1]
    names = Names(relations, linked.limits, linked.tables)
    resolver = Resolver(names, problems)
    rules = tuple(_rule(placed, resolver) for placed in linked.rules.values())
    if not rules:
        problems.error(
            Code.NO_RULES, f"the pack `{pack.name}` has no rules, so it would check nothing", pack.span
        )
    return CheckedPack(
        pack.name,
        tuple(p.name for p in chain),
        pack.title,
        pack.authority,
        pack.edition,
        pack.effective or datetime.date.min,
        pack.contact,
        next((p.banner for p in reversed(chain) if p.banner), ""),
        pack.invented,
        pack.facts,
        tuple(linked.limits.values()),
        tuple(linked.tables.values()),
        rules,
        tuple(linked.off.values()),
        pack.span,
        tuple(linked.duties),
    )


def _rule(placed: Placed, resolver: Resolver) -> Rule:
    text, problems = placed.text, resolver.problems
    relation = None
    if text.relation is not None:
        relation = find_relation(text.relation, resolver.names, problems)
        if relation is not None and text.how == "for_the" and not relation.single:
            problems.error(
                Code.NOT_SINGLE,
                f"there may be several of `{relation.name}`",
                text.relation.span,
                help=f"write `for each {relation.name}`",
            )
    # A rule about an unknown relation is not read further: every field in it would be unknown too.
    readable = relation is not None or text.how == "once"
    scope: Scope = () if relation is None else (relation,)

    def truth(expr: t.Expr | None) -> c.Term | None:
        return resolver.truth(expr, scope) if expr is not None and readable else None

    where, require = truth(text.where), truth(text.require)
    when = tuple(x for x in map(truth, text.when) if x is not None)
    steps = tuple(Step(s.text, truth(s.when)) for s in text.steps)
    _check_conditions(text, where, when, require, problems)
    return Rule(
        text.name,
        text.title,
        placed.pack,
        text.span,
        text.how,
        relation,
        where,
        when,
        require,
        text.ask,
        text.severity,
        text.why,
        text.fix,
        text.sources or (RuleSource("", "", "", ""),),
        text.waivable,
        steps,
        text.because,
        placed.instead_of,
    )


def _check_conditions(
    text: w.RuleText,
    where: c.Term | None,
    when: tuple[c.Term, ...],
    require: c.Term | None,
    problems: Problems,
) -> None:
    conditions = [x for x in (where, *when) if x is not None]
    if conditions and not can_match(c.Junction(True, tuple(conditions))):
        problems.error(
            Code.NEVER_MATCHES,
            f"the rule `{text.name}` can never apply: its conditions contradict each other",
            text.span,
            help=_NEVER,
        )
    for term in (*conditions, *((require,) if require is not None else ())):
        _check_nested(term, problems)
        check_reach(term, text.span, problems)
        for test in unsafe_tests(term):
            problems.error(
                Code.PASSES_WHEN_MISSING,
                "a value left out of a design could make this rule pass or fall away here",
                test.span,
                help="require `is known` where it must hold; `is not known` belongs in a `step`",
                labels=(Label(text.span, "in this rule"),),
            )


def _check_nested(term: c.Term, problems: Problems) -> None:
    if isinstance(term, c.Presence | c.ForAll) and term.where is not None and not can_match(term.where):
        problems.error(
            Code.NEVER_MATCHES,
            f"no {term.relation.replace('_', ' ')} can ever match this `where`",
            term.span,
            help=_NEVER,
        )
    for part in c.parts_of(term):
        _check_nested(part, problems)
