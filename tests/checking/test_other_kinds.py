"""Why each other kind of assembly is not taken: the rules asked of every kind in the place of that designed.

Expected are the lists and bans of the texts that the packs cite: 30 TAC 344.50(b), (c), 344.51; International
Plumbing Code 608.17.5 (an atmospheric vacuum breaker after the last valve, no double check in the list).
"""

from __future__ import annotations

import pytest

from plangen.checking.finding import Status
from plangen.checking.other_kinds import KindJudged, kinds_judged
from plangen.model.parts import ASSEMBLY_KINDS
from tests.facts.edits import changed
from tests.rules import pack_facts as p
from tests.rules.rules_run import example_text, gathered

CHEMICALS = ("chemicals none", 'chemicals "feeder"')
PUMP = ("pump none", 'pump "booster"')


def judged(pack: str, *changes: tuple[str, str]) -> dict[str, KindJudged]:
    facts = gathered(changed(example_text("residential"), *changes)).facts
    found = kinds_judged((p.pack(pack),), facts)
    assert [k.assembly for k in found] == ["BF1"] * len(ASSEMBLY_KINDS)
    return {k.kind: k for k in found}


@pytest.mark.parametrize(
    ("pack", "changes", "refused"),
    [
        ("model-us", (), {"avb", "dc", "db"}),
        ("texas", (), {"avb", "db"}),
        ("texas", (CHEMICALS,), {"pvb", "svb", "dc", "avb", "db"}),
        ("model-us", (PUMP,), {"pvb", "svb", "avb", "dc", "db"}),
        ("illinois", (), {"pvb", "svb", "avb", "dc", "db", "air-gap"}),
    ],
)
def test_a_refused_kind_says_which_rule_refuses_it(
    pack: str, changes: tuple[tuple[str, str], ...], refused: set[str]
) -> None:
    found = judged(pack, *changes)
    assert {k for k, j in found.items() if j.status is Status.FALLS_SHORT} == refused
    assert all(title and words for k in refused for title, words in found[k].why)
    assert [k for k, j in found.items() if j.here] == ["pvb"]


def test_a_question_left_open_leaves_the_kinds_it_decides_open() -> None:
    found = judged("texas", ("chemicals none\n", ""))
    assert found["pvb"].status is Status.NOT_KNOWN and "fertiliser" in found["pvb"].why[0][1]
    assert found["avb"].status is Status.FALLS_SHORT
    assert Status.MEETS not in {j.status for j in found.values()}
