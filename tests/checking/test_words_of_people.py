"""Waivers and confirmations: what they change, and what is said of those that change nothing.

No outside source: the wanted answers are the project's own decisions (only what falls short can be waived,
the end date is held against the issue date, a grantor the applicant names is claimed until confirmed).
"""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from plangen.checking.finding import Finding, Status
from plangen.facts.values import Row
from plangen.model.design import Confirmation, Waiver
from plangen.quantity.quantity import Basis
from plangen.text.source import Span
from tests.checking.small_packs import inches, row, rule, run

COVER = rule("cover at least limit least_cover")
AT = Span("design.plan", 5, 9)
SHORT = row("pipe", "P1", cover=inches(9))
DATE = datetime.date
WAIVER = Waiver("r", "P1", "rock at 9 in", "City engineer", "L-17", DATE(2027, 1, 1), AT)
ISSUED = DATE(2026, 5, 4)
WORD = Confirmation("r", "P1", "A. Tester", DATE(2026, 5, 1), "T-3", AT)


def waived(
    *waivers: Waiver,
    pipe: Row = SHORT,
    text: str = COVER,
    issued: datetime.date | None = ISSUED,
    words: tuple[Confirmation, ...] = (),
) -> tuple[Finding, ...]:
    return run(text, pipe, waivers=waivers, confirmations=words, issued=issued)


def test_a_waiver_of_what_falls_short_holds_and_everything_stays_visible() -> None:
    (found,) = waived(WAIVER)
    assert found.status is Status.WAIVED
    assert found.waived_by == "claimed: City engineer, reference L-17, until 2027-01-01"
    assert "9 in; at least 12 in is required" in found.message and "rock at 9 in" in found.message
    assert found.measured is not None and found.evidence


def test_a_confirmed_waiver_is_no_longer_only_claimed() -> None:
    (found,) = waived(WAIVER, words=(WORD,))[:1]
    assert (
        not found.waived_by.startswith("claimed")
        and "confirmed by A. Tester on 2026-05-01" in found.waived_by
    )


@pytest.mark.parametrize(
    ("waiver", "notice", "words"),
    [
        (replace(WAIVER, until=DATE(2026, 5, 3)), "waiver-expired", "ended on 2026-05-03"),
        (replace(WAIVER, until=None), "waiver-undated", "no end date"),
        (replace(WAIVER, rule="rr"), "waiver-unused", "no rule in force"),
        (replace(WAIVER, subject="P9"), "waiver-unused", "not checked on it"),
        (replace(WAIVER, subject=""), "waiver-unused", "not checked on it"),
        (replace(WAIVER, reason=" "), "waiver-refused", "does not say why"),
        (replace(WAIVER, by=""), "waiver-refused", "by whom"),
    ],
)
def test_a_waiver_that_does_not_hold_is_told_and_the_finding_stands(
    waiver: Waiver, notice: str, words: str
) -> None:
    short, told = waived(waiver)
    assert short.status is Status.FALLS_SHORT
    assert (told.rule, told.status, told.severity, told.at) == (notice, Status.FALLS_SHORT, "advisory", AT)
    assert words in told.message


def test_a_waiver_ends_against_the_issue_date_and_not_the_clock() -> None:
    old = replace(WAIVER, until=DATE(2001, 1, 2))
    assert waived(old, issued=DATE(2001, 1, 2))[0].status is Status.WAIVED
    assert waived(old, issued=DATE(2001, 1, 3))[0].status is Status.FALLS_SHORT
    short, told = waived(WAIVER, issued=None)
    assert short.status is Status.FALLS_SHORT and told.rule == "waiver-undated"


def test_only_what_falls_short_can_be_waived() -> None:
    unknown, told = waived(WAIVER, pipe=row("pipe", "P1"))
    assert unknown.status is Status.NOT_KNOWN and told.rule == "waiver-unused"
    met, told = waived(WAIVER, pipe=row("pipe", "P1", cover=inches(20)))
    assert met.status is Status.MEETS and told.rule == "waiver-unused" and "`meets`" in told.message
    firm = rule("cover at least 12 in", extra="  cannot be waived\n")
    short, told = waived(WAIVER, text=firm)
    assert short.status is Status.FALLS_SHORT and told.rule == "waiver-refused"


def confirmed(word: Confirmation, pipe: Row | None = None, text: str = COVER) -> tuple[Finding, ...]:
    pipe = pipe or row("pipe", "P1", cover=inches(15, Basis.ASSUMED))
    return run(text, pipe, confirmations=(word,))


def test_a_persons_word_settles_what_needs_a_person() -> None:
    for word in (WORD, replace(WORD, subject="")):
        (found,) = confirmed(word)
        assert found.status is Status.MEETS
        assert found.confirmed_by == "confirmed by A. Tester on 2026-05-01, reference T-3"
        assert found.confirmed_by in found.message and found.weak
    (asked,) = confirmed(WORD, row("pipe", "P1"), rule("", extra='  ask "look"\n'))
    assert asked.status is Status.MEETS


def test_a_persons_word_never_turns_a_shortfall_or_a_gap_into_a_pass() -> None:
    for pipe in (SHORT, row("pipe", "P1"), row("pipe", "P1", cover=inches(9, Basis.ASSUMED))):
        found, told = confirmed(WORD, pipe)
        assert found.status in (Status.FALLS_SHORT, Status.NOT_KNOWN)
        assert told.rule == "confirmation-idle"


@pytest.mark.parametrize(
    ("word", "said"),
    [
        (replace(WORD, rule="rr"), "no rule in force"),
        (replace(WORD, by=""), "by whom"),
        (replace(WORD, on=None), "which day"),
        (replace(WORD, on=DATE(2026, 5, 5)), "after the issue date"),
        (replace(WORD, subject="P9"), "on no such object"),
    ],
)
def test_a_word_without_effect_is_told(word: Confirmation, said: str) -> None:
    found, told = confirmed(word)
    assert found.status is Status.NEEDS_PERSON and told.rule == "confirmation-idle" and said in told.message


def test_what_falls_away_on_an_assumption_is_confirmed_as_not_applying() -> None:
    text = rule("sleeved", "for each pipe where cover more than 20 in")
    (found,) = confirmed(WORD, text=text)
    assert found.status is Status.NOT_APPLICABLE and found.confirmed_by
