"""What a pack has the packet print: dig notice, ticket, test cycle, report, statement, fee, form.

The shipped values are held against the law they cite: Texas Utilities Code 251.151(a) (48 hours to 14 days),
220 ILCS 50/4(d) (2 to 10 days), California Government Code 4216.2(b) and 4216(e) (2 working days to 14 days,
28 days), North Carolina 811 (3 and 15 full working days), Uniform Plumbing Code 603.4.2 and 77 Ill. Adm. Code
890.1130 (yearly). The faults follow from the language's own description.
"""

from __future__ import annotations

import pytest

from plangen.build.rule_book import read_rule_book
from plangen.checking.duties import KINDS
from plangen.checking.packs import CheckedPack, duties_of
from tests.checking.small_packs import HEAD, read, rule

SOURCE = 'source "Test ordinance", section "9", edition "2026", read\n'
RULE = rule("sleeved")
CHILD = HEAD.replace("pack small", "pack child extends small")
TEST = f'test every 12 months "always", {SOURCE}'


def packs_of(texts: dict[str, str], *names: str) -> tuple[CheckedPack, ...]:
    outcome = read(texts, *names)
    assert outcome.problems == () and outcome.value is not None
    return outcome.value


def test_each_duty_is_read_with_its_periods_and_source() -> None:
    text = (
        f'dig notice at least 48 hours, at most 14 days "by machine", {SOURCE}'
        f'ticket lasts 1 month "then anew", {SOURCE}{TEST}'
        f'report within 10 working days "to the purveyor", {SOURCE}'
        f'compliance "I state it", {SOURCE}'
        f'fee "60 USD", {SOURCE}'
        f'form "W-7", {SOURCE}'
    )
    duties = packs_of({"small": HEAD + text + RULE})[0].duties
    assert [d.kind for d in duties] == list(KINDS)
    assert [d.told for d in duties] == [
        "at least 48 hours, at most 14 days; by machine",
        "lasts 1 month; then anew",
        "every 12 months; always",
        "within 10 working days; to the purveyor",
        "I state it",
        "60 USD",
        "W-7",
    ]
    assert [d.at_most.months if d.at_most else None for d in duties] == [None, 1, 12, None, None, None, None]
    assert {(d.source.title, d.source.verified) for d in duties} == {("Test ordinance", "read")}


def test_what_no_pack_says_is_left_open() -> None:
    packs = packs_of({"small": HEAD + TEST + RULE})
    assert len(duties_of(packs, "test")) == 1
    assert duties_of(packs, "notice") == duties_of(packs, "compliance") == ()


def test_a_child_says_a_duty_anew_with_its_reason_and_takes_over_the_others() -> None:
    parent = HEAD + TEST + f'report within 5 days "filed", {SOURCE}' + RULE
    anew = f'test every 24 months "no chemicals", replaces, because "soft water", {SOURCE}'
    child = packs_of({"small": parent, "child": CHILD + anew}, "child")[0]
    found = {d.kind: (d.pack, d.at_most.words if d.at_most else "", d.because) for d in child.duties}
    assert found == {"test": ("child", "24 months", "soft water"), "report": ("small", "5 days", "")}
    assert next(d for d in child.duties if d.kind == "test").instead_of == "small"


@pytest.mark.parametrize(
    ("code", "line", "said"),
    [
        ("PG5001", 'dig notise at least 48 hours "x"', "`dig notice`"),
        ("PG5001", f'test every 12 weeks "x", {SOURCE}', "weeks"),
        ("PG5001", f'test every 0 months "x", {SOURCE}', "whole number"),
        ("PG5001", f'test every 1.5 months "x", {SOURCE}', "whole number"),
        ("PG5007", 'test every 12 months "x"', "no source"),
        ("PG5007", 'test every 12 months "x", source "y"', "verified"),
        ("PG5007", f'compliance " ", {SOURCE}', "says nothing"),
        ("PG5103", f'test every 12 months "x", replaces, because "b", {SOURCE}', "leave out `replaces`"),
        ("PG5105", f'test every 12 months "x", replaces, {SOURCE}', "reason"),
        ("PG5108", f'dig notice at least 14 days, at most 2 days "x", {SOURCE}', "longer"),
    ],
)
def test_a_duty_that_cannot_be_meant_is_told(code: str, line: str, said: str) -> None:
    problems = read({"small": HEAD + line.rstrip() + "\n" + RULE}).problems
    assert code in [p.code for p in problems]
    assert said in " ".join(f"{p.message} {p.expected} {p.help}" for p in problems)


def test_a_child_that_repeats_a_duty_without_saying_so_is_told() -> None:
    outcome = read({"small": HEAD + TEST + RULE, "child": CHILD + TEST}, "child")
    assert [p.code for p in outcome.problems] == ["PG5104"]


# (pack, kind): (at least, at most) as the law named in the module's words has them.
LAW = {
    ("texas", "notice"): ("48 hours", "14 days"),
    ("illinois", "notice"): ("2 days", "10 days"),
    ("california-landscape", "notice"): ("2 working days", "14 days"),
    ("california-landscape", "ticket"): (None, "28 days"),
    ("north-carolina", "notice"): ("3 working days", None),
    ("north-carolina", "ticket"): (None, "15 working days"),
    ("model-us", "test"): (None, "12 months"),
    ("illinois", "test"): (None, "12 months"),
}


@pytest.mark.parametrize(("pack", "kind"), LAW)
def test_the_shipped_duties_are_those_of_the_law(pack: str, kind: str) -> None:
    found = read_rule_book().pack(pack)
    assert found is not None
    duties = duties_of((found,), kind)
    told = [tuple(p.words if p else None for p in (d.at_least, d.at_most)) for d in duties]
    assert told == [LAW[pack, kind]]


def test_a_statement_of_real_law_is_a_paraphrase_and_says_so() -> None:
    for pack in read_rule_book().packs:
        for duty in pack.duties:
            if duty.kind == "compliance" and not pack.invented:
                assert "own wording" in duty.words, pack.name
