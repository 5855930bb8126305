"""Puts a pack over the packs it extends: which limit, table and rule is in force, and what it replaced.

In: pack texts, oldest ancestor first. Out: the merged names and rules, with every amendment checked for a
reason and for something to amend.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from plangen.checking import pack_text as w
from plangen.checking import terms as c
from plangen.checking.dimensions import comparable, dimension_words
from plangen.checking.duties import KINDS, Duty
from plangen.checking.finding import RuleSource
from plangen.checking.messages import Code
from plangen.checking.packs import RuleOff
from plangen.diagnostics.diagnostic import Label, Problems
from plangen.text.suggest import closest

_NO_SOURCE = RuleSource("", "", "", "")


@dataclass(frozen=True, slots=True)
class Placed:
    """A rule as written, with the pack it is written in and the pack whose rule it replaced."""

    text: w.RuleText
    pack: str
    instead_of: str = ""


@dataclass(slots=True)
class Linked:
    """What is in force after all packs of a chain, by name, in the order first written."""

    limits: dict[str, c.Limit] = field(default_factory=dict)
    tables: dict[str, c.Table] = field(default_factory=dict)
    duties: list[Duty] = field(default_factory=list)
    rules: dict[str, Placed] = field(default_factory=dict)
    off: dict[str, RuleOff] = field(default_factory=dict)


def link(chain: tuple[w.PackText, ...], problems: Problems) -> Linked:
    """Return what is in force in the last pack of a chain."""
    linked = Linked()
    for pack in chain:
        for limit in pack.limits:
            _add_limit(linked, limit, pack.name, problems)
        for table in pack.tables:
            _add_table(linked, table, pack.name, problems)
        _add_duties(linked, pack, problems)
        for rule in pack.rules:
            _add_rule(linked, rule, pack.name, problems)
        for off in pack.switched_off:
            _switch_off(linked, off, pack.name, problems)
    return linked


def _add_limit(linked: Linked, text: w.LimitText, pack: str, problems: Problems) -> None:
    amount = text.value
    limit = c.Limit(
        text.name,
        text.about,
        pack,
        text.span,
        amount.written if amount else ", ".join(text.words),
        amount.si if amount else None,
        amount.dimension if amount else None,
        text.words,
        text.source or _NO_SOURCE,
    )
    before = linked.limits.get(text.name)
    if before is not None and before.pack == pack:
        return  # told as a name defined twice
    if not _may_replace("limit", text, before, list(linked.limits), problems):
        return
    if before is not None:
        same_kind = bool(before.words) == bool(limit.words)
        if not same_kind or not comparable(before.dimension, limit.dimension):
            was = "a list of words" if before.words else dimension_words(before.dimension)
            problems.error(
                Code.WRONG_DIMENSION,
                f"the limit `{text.name}` is {was}, and `{limit.written}` is not",
                text.span,
                labels=(Label(before.span, "the limit it replaces"),),
            )
            return
        was_value = c.Replaced(before.pack, before.written, text.because, text.authority)
        limit = replace(limit, replaced=(*before.replaced, was_value))
    linked.limits[text.name] = limit


def _add_table(linked: Linked, text: w.TableText, pack: str, problems: Problems) -> None:
    entries = tuple(
        c.TableEntry(
            r.limit.si if r.limit else None,
            r.word,
            r.value.si,
            r.limit.written if r.limit else r.word,
            r.value.written,
        )
        for r in text.rows
    )
    sizes = [r.limit for r in text.rows if r.limit is not None]
    table = c.Table(
        text.name,
        text.about,
        pack,
        text.span,
        entries,
        any(r.word for r in text.rows),
        sizes[0].dimension if sizes else None,
        text.rows[0].value.dimension,
        text.source or _NO_SOURCE,
    )
    before = linked.tables.get(text.name)
    if before is not None and before.pack == pack:
        return  # told as a name defined twice
    if not _may_replace("table", text, before, list(linked.tables), problems):
        return
    if before is not None:
        if before.key_words != table.key_words or before.dimension is not table.dimension:
            problems.error(
                Code.WRONG_DIMENSION,
                f"the table `{text.name}` has other kinds of values than the one it replaces",
                text.span,
                labels=(Label(before.span, "the table it replaces"),),
            )
            return
        was = ", ".join(f"{e.key_written or 'the rest'} {e.written}" for e in before.entries)
        table = replace(
            table, replaced=(*before.replaced, c.Replaced(before.pack, was, text.because, text.authority))
        )
    linked.tables[text.name] = table


def _add_duties(linked: Linked, pack: w.PackText, problems: Problems) -> None:
    """Add a pack's duties; of one kind they stand in place of all of its parent's, and say why."""
    for kind in dict.fromkeys(d.kind for d in pack.duties):
        own = [d for d in pack.duties if d.kind == kind]
        before = [d for d in linked.duties if d.kind == kind]
        replaced = any(d.replaces for d in own)
        if before and not replaced:
            problems.error(
                Code.MISSING_REPLACES,
                f"the pack `{before[0].pack}` already says the {KINDS[kind]}",
                own[0].span,
                help='to say it anew add `replaces, because "..."`',
                labels=(Label(before[0].span, "said here"),),
            )
            continue
        if replaced and not before:
            problems.error(
                Code.NOTHING_TO_REPLACE,
                f"no pack before this one says the {KINDS[kind]}",
                own[0].span,
                help="leave out `replaces`",
            )
        because = "; ".join(d.because for d in own if d.because)
        instead_of = before[0].pack if before else ""
        linked.duties = [d for d in linked.duties if d.kind != kind]
        linked.duties += [
            Duty(
                kind,
                pack.name,
                d.span,
                d.at_least,
                d.at_most,
                d.words,
                d.source or _NO_SOURCE,
                because,
                instead_of,
            )
            for d in own
        ]


def _may_replace(
    kind: str,
    text: w.LimitText | w.TableText,
    before: c.Limit | c.Table | None,
    known: list[str],
    problems: Problems,
) -> bool:
    if before is not None and not text.replaces:
        problems.error(
            Code.MISSING_REPLACES,
            f"the {kind} `{text.name}` is already set by the pack `{before.pack}`",
            text.span,
            help='to set it anew add `replaces, because "...", authority "..."`',
            labels=(Label(before.span, "set here"),),
        )
        return False
    if before is None and text.replaces:
        near = closest(text.name, known)
        problems.error(
            Code.NOTHING_TO_REPLACE,
            f"no pack before this one sets a {kind} `{text.name}`",
            text.span,
            help=f"a similar name exists: `{near}`" if near else "leave out `replaces`",
        )
    return True


def _add_rule(linked: Linked, text: w.RuleText, pack: str, problems: Problems) -> None:
    before = linked.rules.get(text.name)
    if text.replaces and before is None:
        _nothing(f"replace a rule `{text.name}`", text, linked, problems)
    if before is not None and not text.replaces and before.pack != pack:
        problems.error(
            Code.MISSING_REPLACES,
            f"the pack `{before.pack}` already has a rule `{text.name}`",
            text.span,
            help=f'to write it anew: `replace rule {text.name} "..." because "..."`',
            labels=(Label(before.text.span, "the rule it would replace"),),
        )
        return
    instead_of = before.pack if before is not None and text.replaces else ""
    linked.rules[text.name] = Placed(text, pack, instead_of)


def _switch_off(linked: Linked, off: w.SwitchOff, pack: str, problems: Problems) -> None:
    if not off.because.strip():
        problems.error(Code.NO_REASON, f"the rule `{off.name}` is switched off without a reason", off.span)
    before = linked.rules.get(off.name)
    if before is None or before.pack == pack:
        _nothing(f"switch off a rule `{off.name}`", off, linked, problems)
        return
    del linked.rules[off.name]
    linked.off[off.name] = RuleOff(off.name, before.text.title, pack, off.because, off.span)


def _nothing(what: str, item: w.RuleText | w.SwitchOff, linked: Linked, problems: Problems) -> None:
    near = closest(item.name, linked.rules)
    problems.error(
        Code.NOTHING_TO_REPLACE,
        f"cannot {what}: no pack before this one has it",
        item.span,
        help=f"a similar name exists: `{near}`" if near else "a pack can only amend what it extends",
    )
