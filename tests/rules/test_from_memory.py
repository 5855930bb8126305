"""What a pack states from memory never meets by itself: on the shipped examples, before anybody confirmed it.

No outside source: the property is the requirement itself. Each README says which clauses are from memory.
"""

from __future__ import annotations

from functools import cache

import pytest

from plangen.checking.check import check
from plangen.checking.finding import Finding, Status
from plangen.checking.packs import CheckedPack, Rule
from plangen.cli.explain_rule import limits_of
from tests.rules import pack_facts as p
from tests.rules.rules_run import Gathered, example_text, gathered

MEMORY = "from memory"
# 30 TAC 344.62 (d) to (f), (i), (j) and (m): no text of them could be read.
TEXAS = {"plastic-velocity", "zone-one-planting", "zone-rate-spread", "rain-shutoff", "wire-cover"}
# A remembered rule or limit in required rules, by pack; a pack without any has nothing to hold.
NAMES = tuple(n for n in p.NAMES if any(r.severity == "required" for r in p.pack(n).rules))


def remembered(rule: Rule) -> bool:
    """Return whether a required rule rests on memory: all its sources, or one of its limits."""
    sources = all(s.verified == MEMORY for s in rule.sources)
    limits = any(x.source.verified == MEMORY for x in limits_of(rule))
    return rule.severity == "required" and rule.require is not None and (sources or limits)


@cache
def example(name: str) -> Gathered:
    return gathered(example_text(name))


def unconfirmed(pack: CheckedPack, name: str) -> tuple[Finding, ...]:
    """Return the findings of a pack on an example with nobody's word taken."""
    return check((pack,), example(name).facts).value or ()


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    "design", ["residential", pytest.param("commercial", marks=pytest.mark.long),
               pytest.param("replacement", marks=pytest.mark.long)],
)  # fmt: skip
def test_a_remembered_rule_never_meets_unconfirmed(name: str, design: str) -> None:
    pack = p.pack(name)
    rules = {r.name for r in pack.rules if remembered(r)}
    found = [f for f in unconfirmed(pack, design) if f.rule in rules]
    assert {f.rule for f in found} == rules
    assert [f.id for f in found if f.status is Status.MEETS] == []


def test_the_unread_clauses_of_texas_are_held_back_by_their_mark_alone() -> None:
    """The same rules meet once their sources count as read: it is the mark that asks for a person."""
    pack = p.pack("texas")
    assert {r.name for r in pack.rules if remembered(r)} == TEXAS
    before = {f.rule for f in unconfirmed(pack, "residential") if f.status is Status.NEEDS_PERSON}
    assert before >= TEXAS
    marked = p.texts()["texas"].text
    read = p.with_text("texas", marked.replace(f'", {MEMORY}\n', '", read\n'))
    after = {f.rule for f in unconfirmed(read, "residential") if f.status is Status.MEETS}
    assert after >= TEXAS
