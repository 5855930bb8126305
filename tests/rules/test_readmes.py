"""The README of each pack lists every rule and limit, and covers every clause in one of five ways."""

from __future__ import annotations

import re

import pytest

from plangen.checking.duties import KINDS
from plangen.checking.finding import RuleSource
from tests.rules import pack_facts as p

WAYS = ("design", "sheets", "person", "packet", "none:", "as ")
BY_CLAUSE = tuple(n for n in p.NAMES if n not in ("model-us", "quillmoor"))
# Sections of 30 TAC 344 and what each is divided into, as the texts named in the README have it.
TEXAS = {
    "344.50": ("(a)", "(b)", "(b)(1)", "(b)(2)", "(b)(3)", "(b)(4)", "(c)", "(d)", "(e)"),
    "344.51": ("(a)", "(b)", "(c)", "(d)(1)", "(d)(2)", "(d)(3)"),
    "344.52": ("(a)", "(b)", "(c)"),
    "344.60": ("whole",),
    "344.61": ("(a)", "(b)", *(f"(c)({i})" for i in range(1, 10)), *(f"(c)(7)({x})" for x in "ABCDEF")),
    "344.62": (*(f"({x})" for x in "acdefghijklmno"), "(b)(1)", "(b)(2)", "(b)(3)"),
    "344.63": ("(1)", "(2)", "(3)", "(4)"),
}


def readme(name: str) -> str:
    """Return a pack's README."""
    return (p.FOLDERS[name] / "README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", p.NAMES)
def test_every_rule_and_limit_is_listed(name: str) -> None:
    text, pack = readme(name), p.pack(name)
    own = [r.name for r in pack.rules if r.pack == name] + [x.name for x in pack.limits if x.pack == name]
    assert [x for x in own if f"`{x}`" not in text] == []


@pytest.mark.parametrize("name", p.NAMES)
def test_what_the_tables_say_is_what_the_pack_says(name: str) -> None:
    rows = {m[1]: m[0] for m in re.finditer(r"^\| `([^`]+)`.*$", readme(name), flags=re.M)}
    pack = p.pack(name)
    for rule in (r for r in pack.rules if r.pack == name):
        for words in (rule.title, rule.severity, *(s.section for s in rule.sources), *_trust(rule.sources)):
            assert words in rows[rule.name], (rule.name, words)
    for limit in (x for x in pack.limits if x.pack == name):
        for words in (limit.written, limit.about, limit.source.section, *_trust((limit.source,))):
            assert words in rows[limit.name], (limit.name, words)


def _trust(sources: tuple[RuleSource, ...]) -> tuple[str, ...]:
    """Return how well the sources are known, as the README writes it."""
    return tuple(s.verified if s.verified == "common practice" else f"({s.verified})" for s in sources)


@pytest.mark.parametrize("name", p.NAMES)
def test_the_duties_of_a_pack_are_listed(name: str) -> None:
    part = readme(name).split("## What the packet prints")[1].split("\n## ")[0]
    pack = p.pack(name)
    for duty in (d for d in pack.duties if d.pack == name):
        assert f"| {KINDS[duty.kind]} | {duty.told} |" in part and f"({duty.source.verified})" in part
    said = {d.kind for d in pack.duties}
    for kind in KINDS:
        assert (kind in said) or KINDS[kind] in part.split("Not known here")[1], kind


@pytest.mark.parametrize("name", BY_CLAUSE)
def test_every_clause_says_how_it_is_covered(name: str) -> None:
    part = readme(name).split("## Clause by clause")[1].split("## Where the texts were read")[0]
    rows = [r for r in part.splitlines() if r.startswith("| ") and not r.startswith(("| clause", "|---"))]
    assert len(rows) >= 10
    assert [r for r in rows if not r.rstrip("| ").split("|")[-1].strip().startswith(WAYS)] == []


@pytest.mark.parametrize("name", BY_CLAUSE)
def test_the_rules_a_clause_names_exist(name: str) -> None:
    part = readme(name).split("## Clause by clause")[1].split("## Where the texts were read")[0]
    named = set(re.findall(r"`([a-z][a-z-]+[a-z])`", part))
    assert named == {r.name for r in p.pack(name).rules}


@pytest.mark.parametrize("section", TEXAS)
def test_every_clause_of_the_texas_chapter_has_a_row(section: str) -> None:
    part = re.split(r"^### ", readme("texas"), flags=re.M)
    body = next(x for x in part if x.startswith(section))
    clauses = " ".join(line.split(" | ")[0] for line in body.splitlines() if line.startswith("| "))
    assert [c for c in TEXAS[section] if c not in clauses] == []
