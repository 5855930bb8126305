"""A rule in plain words: what it is about, requires and why, what to do, and which packs differ."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.checking import terms as c
from plangen.checking.evidence import limits_in
from plangen.checking.finding import RuleSource
from plangen.checking.packs import CheckedPack, Rule
from plangen.checking.wording import Wording, plain

_TRUST = {
    "read": "the text itself was read",
    "restated": "known through another's words",
    "from memory": "from memory, not looked up",
    "common practice": "common practice, no law behind it",
}


def explain_rule(packs: Sequence[CheckedPack], name: str, system: str) -> str:
    """Return the rule of that name in words, as each pack has it; an empty text if none has it."""
    parts: list[str] = []
    seen: list[Rule] = []
    for pack in packs:
        rule = pack.rule(name)
        if rule is not None and rule not in seen:
            seen.append(rule)
            parts.append(_rule(rule, pack, system))
        off = next((x for x in pack.switched_off if x.rule == name), None)
        if off is not None:
            parts.append(f"The pack {pack.name} switches {name} off: {off.because}.")
    return "\n\n".join(parts)


def requirement_words(rule: Rule, system: str) -> str:
    """Return what a rule requires in one sentence."""
    wording = Wording(system)
    about = {"once": "For the design as a whole"}.get(rule.how, "")
    if rule.relation is not None:
        about = f"For {'the' if rule.how == 'for_the' else 'each'} {plain(rule.relation.name)}"
    if rule.where is not None:
        about += f" where {wording.condition(rule.where)}"
    if rule.when:
        about += f", when {' and '.join(wording.condition(x) for x in rule.when)}"
    must = "is required" if rule.severity == "required" else "is advised"
    if rule.require is None:
        return f"{about}, a person must look: {rule.ask}"
    words = f"{about}, it {must} that: {wording.condition(rule.require)}."
    if rule.ask:
        words += f" Where that is not known, a person must look: {rule.ask}"
    return words


def _rule(rule: Rule, pack: CheckedPack, system: str) -> str:
    lines = [f"{rule.name}: {rule.title}", f"Pack {pack.name}, {pack.title}, edition {pack.edition}."]
    if rule.pack != pack.name:
        lines.append(f"The rule is written in the pack {rule.pack}, which {pack.name} amends.")
    if rule.because:
        lines.append(f"It stands in place of the rule of {rule.instead_of}: {rule.because}.")
    lines += ["", requirement_words(rule, system)]
    lines += [_limit(x, system) for x in _limits(rule)]
    if not rule.waivable:
        lines.append("It cannot be waived.")
    lines += ["", f"Why: {rule.why}.", f"What to do: {rule.fix}."]
    lines += ["", "Sources:", *(f"- {source_words(s)}" for s in rule.sources)]
    return "\n".join(lines)


def _limits(rule: Rule) -> list[c.Limit | c.Table]:
    terms = [x for x in (rule.require, rule.where, *rule.when) if x is not None]
    return list({x.name: x for term in terms for x in limits_in(term)}.values())


def _limit(limit: c.Limit | c.Table, system: str) -> str:
    if isinstance(limit, c.Limit):
        value = limit.written
        if limit.si is not None:
            told = Wording(system).constant(limit.si, limit.dimension, True)
            value += f" ({told})" if told != limit.written else ""
    else:
        value = "; ".join(
            f"{'up to ' if e.up_to_si is not None else ''}{e.key_written or 'otherwise'}: {e.written}"
            for e in limit.entries
        )
    words = f"- {plain(limit.name)}, {limit.about}: {value}; {source_words(limit.source)}"
    for was in limit.replaced:
        words += f". The pack {was.pack} has {was.written}; it is another here because {was.because}"
        words += f" (authority: {was.authority})"
    return words


def source_words(source: RuleSource) -> str:
    """Return a source with how it is known."""
    told = ", ".join(x for x in (source.title, source.section, source.edition) if x)
    return f"{told} ({_TRUST.get(source.verified, source.verified)})"
