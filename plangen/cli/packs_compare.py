"""Two packs side by side: rules that both have and how they differ, rules of one alone, limits. Text only."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.checking.duties import KINDS
from plangen.checking.explain import requirement_words
from plangen.checking.packs import CheckedPack, Rule, duties_of
from plangen.cli.explain_rule import limits_of, value_words
from plangen.text.suggest import listed


def compare_text(first: CheckedPack, second: CheckedPack) -> str:
    """Return the comparison of two packs, rule by rule."""
    both = [(r, s) for r in first.rules if (s := second.rule(r.name)) is not None]
    differing = [(r, s) for r, s in both if _differences(r, s)]
    alike = [r.name for r, s in both if not _differences(r, s)]
    lines = [f"{first.name} ({first.title}, {first.edition})"]
    lines.append(f"{second.name} ({second.title}, {second.edition})")
    lines += ["", f"Rules of both that differ ({len(differing)})"]
    for mine, other in differing:
        lines.append(f"  {mine.name}: {mine.title}")
        lines += [f"    {line}" for line in _differences(mine, other, first.name, second.name)]
    lines += ["", f"Rules of both that are alike ({len(alike)})", *_wrapped(alike)]
    for pack, other_pack in ((first, second), (second, first)):
        alone = [r for r in pack.rules if other_pack.rule(r.name) is None]
        lines += ["", f"Rules of {pack.name} alone ({len(alone)})"]
        lines += [f"  {r.name}: {r.title} ({_weight(r)})" for r in alone]
    lines += ["", "Limits", *_limits(first, second)]
    lines += ["", "What the packet prints", *_duties(first, second)]
    return "\n".join(lines) + "\n"


def _differences(mine: Rule, other: Rule, first: str = "", second: str = "") -> list[str]:
    """Return what differs between two rules of one name: weight, requirement, limits, sources."""
    pairs = (
        ("weight", _weight(mine), _weight(other)),
        ("asks", requirement_words(mine, "us"), requirement_words(other, "us")),
        ("limits", _limit_words(mine), _limit_words(other)),
        ("waiver", _waiver(mine), _waiver(other)),
    )
    return [
        f"{what}: {first} {a or 'none'}; {second} {b or 'none'}"
        if what != "asks"
        else f"{what}: {first}: {a} | {second}: {b}"
        for what, a, b in pairs
        if a != b
    ]


def _weight(rule: Rule) -> str:
    return f"{rule.severity}, asks a person" if rule.require is None else rule.severity


def _waiver(rule: Rule) -> str:
    return "can be waived" if rule.waivable else "cannot be waived"


def _limit_words(rule: Rule) -> str:
    return "; ".join(f"{x.name} {value_words(x)}" for x in limits_of(rule))


def _limits(first: CheckedPack, second: CheckedPack) -> list[str]:
    names = dict.fromkeys([*(x.name for x in first.limits), *(x.name for x in second.limits)])
    lines = []
    for name in names:
        a, b = first.limit(name), second.limit(name)
        one = value_words(a) if a else "none"
        two = value_words(b) if b else "none"
        mark = "  " if one == two else "* "
        lines.append(f"{mark}{name}: {first.name} {one}; {second.name} {two}")
    return lines


def _duties(first: CheckedPack, second: CheckedPack) -> list[str]:
    """Return for each kind of duty what either pack says of it."""
    lines = []
    for kind, title in KINDS.items():
        one, two = ("; ".join(d.told for d in duties_of((p,), kind)) or "none" for p in (first, second))
        mark = "  " if one == two else "* "
        lines.append(f"{mark}{title}: {first.name} {one} | {second.name} {two}")
    return lines


def _wrapped(names: Iterable[str]) -> list[str]:
    items = list(names)
    rows = [items[i : i + 6] for i in range(0, len(items), 6)]
    return [f"  {listed(row, 'and') if len(rows) == 1 else ', '.join(row)}" for row in rows]
