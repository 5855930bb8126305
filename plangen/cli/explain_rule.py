"""A rule for reading: plain words, limits here and in other packs, sources, remedy, cases. Text only."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from pathlib import Path

from plangen.build.pack_cases import read_cases
from plangen.build.pack_folders import pack_folders, read_case_file
from plangen.build.rule_book import RuleBook
from plangen.checking import terms as c
from plangen.checking.evidence import limits_in
from plangen.checking.explain import requirement_words, source_words
from plangen.checking.packs import CheckedPack, Rule
from plangen.diagnostics.diagnostic import Diagnostic

WIDTH = 96


def rule_text(pack: CheckedPack, rule: Rule, book: RuleBook, folders: Iterable[Path]) -> str:
    """Return everything there is to know of a rule as one pack has it."""
    place = book.sources.place(rule.span)
    source = book.sources.get(rule.span.file)
    lines = [f"{rule.name}: {rule.title}", f"pack {rule.pack} ({pack.edition}), {rule.severity}"]
    lines.append(f"written at {place.file}:{place.line}")
    if not rule.waivable:
        lines.append("no waiver can reach it")
    if rule.because:
        lines.append(f"replaces the rule of {rule.instead_of}: {rule.because}")
    lines += paragraph("In plain words", requirement_words(rule, "us"))
    lines += _section("Limits", [line for x in limits_of(rule) for line in _limit_lines(x, pack, book)])
    lines += paragraph("Why", rule.why) + paragraph("To mend it", rule.fix)
    lines += _section("Sources", [f"  {source_words(s)}" for s in rule.sources])
    lines += _section("Other packs", _elsewhere(pack, rule, book))
    lines += _section("Cases", _cases(rule, folders))
    if source is not None:
        lines += ["", "The rule as written", textwrap.indent(_block(source.text, rule.span.start), "  ")]
    return "\n".join(lines) + "\n"


def paragraph(head: str, text: str) -> list[str]:
    """Return a headed paragraph, or nothing for no text."""
    wrapped = textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="  ")
    return ["", head, *wrapped] if text else []


def _block(text: str, inside: int) -> str:
    """Return the block of a text that a place lies in, from its first line to its closing brace."""
    start = text.rfind("\n", 0, inside) + 1
    end = text.find("\n}", inside)
    return text[start : len(text) if end < 0 else end + 2]


def limits_of(rule: Rule) -> tuple[c.Limit | c.Table, ...]:
    """Return the limits and tables a rule uses, each once."""
    terms = [x for x in (rule.require, rule.where, *rule.when) if x is not None]
    return tuple({x.name: x for term in terms for x in limits_in(term)}.values())


def value_words(limit: c.Limit | c.Table) -> str:
    """Return a limit's value as written."""
    if isinstance(limit, c.Table):
        return ", ".join(f"{e.key_written or 'otherwise'}: {e.written}" for e in limit.entries)
    return limit.written or ", ".join(limit.words)


def _section(head: str, lines: list[str]) -> list[str]:
    return ["", head, *lines] if lines else []


def _limit_lines(limit: c.Limit | c.Table, pack: CheckedPack, book: RuleBook) -> list[str]:
    """Return a limit here, what it replaced, and what the other packs have under its name."""
    lines = [f"  {limit.name}: {value_words(limit)}, {limit.about}; {source_words(limit.source)}"]
    lines += [f"    in place of {was.written} of {was.pack}: {was.because}" for was in limit.replaced]
    for other in book.packs:
        there = other.limit(limit.name) or other.table(limit.name)
        if there is not None and other.name != pack.name:
            alike = ", the same" if value_words(there) == value_words(limit) else ""
            lines.append(f"    in {other.name}: {value_words(there)}{alike}")
    return lines


def _elsewhere(pack: CheckedPack, rule: Rule, book: RuleBook) -> list[str]:
    """Return which other packs have a rule of that name: the same, one of their own, or none in force."""
    lines = []
    for other in book.packs:
        there = other.rule(rule.name)
        off = next((x for x in other.switched_off if x.rule == rule.name), None)
        if other.name == pack.name:
            continue
        if off is not None:
            lines.append(f"  {other.name}: switched off, {off.because}")
        elif there is not None and there.pack == rule.pack:
            lines.append(f"  {other.name}: takes it over from {rule.pack}")
        elif there is not None:
            lines.append(f"  {other.name}: {requirement_words(there, 'us')}")
    return lines


def _cases(rule: Rule, folders: Iterable[Path]) -> list[str]:
    """Return the titles of the cases that expect something of the rule, and why one has no case."""
    folder = pack_folders(folders).get(rule.pack)
    read = read_case_file(folder) if folder is not None else None
    if read is None or isinstance(read, Diagnostic):
        return []
    found = read_cases(read.source.text)
    lines = [
        f"  {e.status.words}{f' for {e.subject}' if e.subject else ''}: {case.title}"
        f" ({read.name}:{case.line})"
        for case in found.cases
        for e in case.expected
        if e.rule == rule.name
    ]
    lines += [
        f"  no case where it is {x.status.words}: {x.reason}" for x in found.excuses if x.rule == rule.name
    ]
    return lines
