"""What a rule says of its subjects: applicability, evidence, provenance, build tolerance, places.

No outside source: the wanted verdicts are those the project has decided on (what is not known never passes;
typical, assumed and from-memory values cannot decide a required rule; a `for each` over nothing does not
apply).
"""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from plangen.checking.check import check
from plangen.checking.finding import Status
from plangen.checking.places import with_places
from plangen.facts.values import Value
from plangen.hydraulics.results import Input
from plangen.quantity.quantity import Basis, Provenance
from tests.checking.small_packs import (
    TAIL,
    facts,
    inches,
    number,
    packs,
    psi,
    row,
    rule,
    run,
    status,
)

COVER = rule("cover at least limit least_cover")
ADVISORY = TAIL.replace("severity required", "severity advisory")


def test_evidence_names_value_limit_margin_and_every_input() -> None:
    (found,) = run(COVER, row("pipe", "P1", cover=inches(15)))
    assert found.status is Status.MEETS and found.id == "r/P1" and found.number == 1
    assert (found.measured.words, found.at_least.words, found.margin.words) == ("15 in", "12 in", "3 in")  # type: ignore[union-attr]
    assert found.at_most is None
    names = [e.name for e in found.evidence]
    assert names == ["cover (finished grade)", "limit: least cover", "length"]
    assert found.evidence[0].provenance.basis is Basis.MEASURED
    assert found.evidence[1].provenance.basis is Basis.STANDARD
    assert found.message == "P1: cover is 15 in, and at least 12 in is required."
    assert found.sources[0].title == "Test ordinance" and found.remedy == "mend it"


def test_a_shortfall_says_by_how_much_in_the_units_asked_for() -> None:
    (us,) = run(COVER, row("pipe", "P1", cover=inches(9)))
    (metric,) = run(COVER, row("pipe", "P1", cover=inches(9)), system="metric")
    assert us.message == "P1: cover is 9 in; at least 12 in is required, 3 in short."
    # 9, 12 and 3 inches of 25.4 mm
    assert metric.message == "P1: cover is 229 mm; at least 305 mm is required, 76 mm short."
    (high,) = run(rule("pressure at most 80 psi"), row("pipe", "P1", pressure=psi(90)))
    assert high.message == "P1: pressure is 90 psi; at most 80 psi is required, 10 psi too much."
    assert high.at_most is not None and high.at_least is None and high.margin.si < 0  # type: ignore[union-attr,operator]


def test_values_that_differ_are_never_printed_alike() -> None:
    (found,) = run(COVER, row("pipe", "P1", cover=inches(11.99)))
    assert found.status is Status.FALLS_SHORT
    assert found.message.startswith("P1: cover is 11.99 in; at least 12 in is required")


@pytest.mark.parametrize(
    ("limit", "found"), [("12 in", "meets"), ("13.2 in", "falls_short"), ("10.8 in", "meets")]
)
def test_a_limit_moved_by_a_tenth_turns_the_verdict(limit: str, found: str) -> None:
    text = f'limit moved {limit} "x", source "s" read\n' + rule("cover at least limit moved")
    assert status(text, row("pipe", "P1", cover=inches(12.5))) == found
    turned = f'limit moved {limit} "x", source "s" read\n' + rule("cover at most limit moved")
    assert status(turned, row("pipe", "P1", cover=inches(12.5))) == {"meets": "falls_short"}.get(
        found, "meets"
    )


def test_missing_words_of_the_fact_reach_the_finding() -> None:
    (found,) = run(COVER, row("pipe", "P1", cover=Value(None, missing=("the depth of P1",))))
    assert found.status is Status.NOT_KNOWN and found.missing == ("the depth of P1",)
    assert found.message == "P1: cover is not known; at least 12 in is required; missing: the depth of P1."
    (unset,) = run(COVER, row("pipe", "P1"))
    assert unset.missing == ("cover",)


def test_for_each_over_nothing_does_not_apply_and_says_why() -> None:
    other = rule("sleeved", name="other")
    pipe = row("pipe", "P1", cover=inches(15), role="main", sleeved=True)
    zones = run(rule("need at least 1 in", "for each zone") + other, pipe)
    assert zones[0].status is Status.NOT_APPLICABLE and "the design has no zone" in zones[0].message
    none = run(rule("sleeved", "for each pipe where role is service") + other, pipe)
    assert none[0].status is Status.NOT_APPLICABLE and "no pipe where role is service" in none[0].message
    (inactive, _) = run(rule("sleeved", extra="  when role is service\n") + other, pipe)
    assert inactive.status is Status.NOT_APPLICABLE and inactive.subject == "P1"
    assert "role is main" in inactive.message
    empty = run(rule("every pipe where (role is service) has (sleeved)", "once") + other, pipe)
    assert empty[0].status is Status.NOT_APPLICABLE


def test_a_list_not_known_to_be_whole_settles_nothing_by_absence() -> None:
    pipe, gone = row("pipe", "P1", sleeved=True, cover=inches(20)), ()
    for requirement in ("no zone", "count of zone is 0", "every zone has (need at least 1 in)"):
        assert status(rule(requirement), pipe, complete=("pipe",)) == "not_known"
    assert status(rule("need at least 1 in", "for each zone"), pipe, complete=gone) == "not_known"
    assert status(rule("there is zone"), pipe, complete=("pipe",)) == "not_known"
    assert status(rule("there is zone"), pipe) == "falls_short"
    assert status(rule("no zone"), pipe) == "meets"
    assert status(rule("every zone has (need at least 1 in)"), pipe) == "nothing applies"
    zone = row("zone", "Z1", need=inches(3))
    assert status(rule("every zone has (need at least 1 in)"), pipe, zone, complete=gone) == "not_known"
    assert status(rule("every zone has (need at least 9 in)"), pipe, zone, complete=gone) == "falls_short"
    assert status(rule("there is zone"), pipe, zone, complete=gone) == "meets"
    assert status(rule("count of zone at least 1"), pipe, zone, complete=gone) == "meets"
    assert status(rule("count of zone at most 1"), pipe, zone, complete=gone) == "not_known"


def test_a_condition_not_known_leaves_the_finding_not_known() -> None:
    assert (
        status(rule("sleeved", "for each pipe where role is main"), row("pipe", "P1", sleeved=True))
        == "not_known"
    )
    assert (
        status(rule("sleeved", extra="  when role is main\n"), row("pipe", "P1", sleeved=True)) == "not_known"
    )


@pytest.mark.parametrize("basis", list(Basis))
def test_only_settled_inputs_decide_a_required_rule(basis: Basis) -> None:
    pipe = row("pipe", "P1", cover=inches(15, basis))
    (found,) = run(COVER, pipe)
    assert found.status is (Status.MEETS if basis.decides else Status.NEEDS_PERSON)
    if not basis.decides:
        assert basis.value in found.look_at and "length" in found.look_at
    (advisory,) = run(rule("cover at least 12 in", tail=ADVISORY), pipe)
    assert advisory.status is Status.MEETS
    assert ("not settled" in advisory.message) is not basis.decides
    (short,) = run(COVER, row("pipe", "P1", cover=inches(9, basis)))
    assert short.status is Status.FALLS_SHORT
    assert bool(short.weak) is not basis.decides
    assert ("not settled" in short.message) is not basis.decides


def test_an_input_that_a_verdict_does_not_rest_on_does_not_weaken_it() -> None:
    pipe = row("pipe", "P1", cover=inches(15, Basis.ASSUMED), sleeved=True)
    assert status(rule("cover at least 12 in or sleeved"), pipe) == "meets"
    assert status(rule("cover at least 12 in and sleeved"), pipe) == "needs_person"
    assert status(rule("there is pipe where (sleeved)"), pipe) == "meets"


def test_a_row_left_out_only_by_an_assumption_is_put_to_a_person() -> None:
    role = Value("lateral", (Input("role of P1", "lateral", Provenance(Basis.ASSUMED)),))
    pipe = row("pipe", "P1", role=role, sleeved=False)
    assert status(rule("sleeved", "for each pipe where role is main"), pipe) == "needs_person"
    assert status(rule("sleeved", extra="  when role is main\n"), pipe) == "needs_person"


def test_what_is_stated_from_memory_needs_a_person() -> None:
    pipe = row("pipe", "P1", cover=inches(15), role="main")
    limit = 'limit old 12 in "x", source "s" from memory\n' + rule("cover at least limit old")
    table = 'table old "x": up to 9 ft gives 1 in, source "s" from memory\n' + rule(
        "cover at least table old for cover"
    )
    words = 'limit old one of main "x", source "s" from memory\n' + rule("role is one of limit old")
    memory = 'source "Test ordinance", section "1", edition "2026", read'
    recalled = rule("cover at least 12 in", tail=TAIL.replace(memory, 'source "s" from memory'))
    for text in (limit, table, words, recalled):
        (found,) = run(text, pipe)
        assert found.status is Status.NEEDS_PERSON and "from memory" in found.look_at
    both = TAIL.replace(memory, 'source "s" from memory\n  source "t" restated')
    assert status(rule("cover at least 12 in", tail=both), pipe) == "meets"


def test_ask_leaves_to_a_person_what_no_file_can_show() -> None:
    pipe = row("pipe", "P1", cover=inches(15))
    (asked,) = run(rule("", extra='  ask "Look at the joint"\n'), pipe)
    assert asked.status is Status.NEEDS_PERSON and asked.look_at == "Look at the joint"
    text = rule("sleeved", extra='  or ask "Look for the sleeve"\n')
    (open_,) = run(text, pipe)
    assert open_.status is Status.NEEDS_PERSON and open_.look_at == "Look for the sleeve"
    assert status(text, row("pipe", "P1", sleeved=False)) == "falls_short"
    assert status(text, row("pipe", "P1", sleeved=True)) == "meets"


def test_reasoning_is_shown_step_by_step() -> None:
    steps = (
        '  step "it is a main" when role is main\n  step "it is a lateral" when role is lateral\n'
        '  step "it is wide" when size at least 2 in\n  step "always"\n'
    )
    (found,) = run(rule("sleeved", extra=steps), row("pipe", "P1", role="main", sleeved=True))
    assert found.steps == ("it is a main", "not known: it is wide (missing: size)", "always")


def test_an_every_names_the_members_that_fail_and_shows_the_worst() -> None:
    rows = [row("pipe", f"P{i}", cover=inches(c)) for i, c in enumerate((15, 9, 6), 1)]
    (found,) = run(rule("every pipe has (cover at least 12 in)", "once"), *rows)
    assert found.message == "the design: cover of P3 is 6 in; at least 12 in is required, 6 in short."
    assert "falls short on: P2, P3" in found.steps
    (extreme,) = run(rule("smallest cover of pipe at least 12 in", "once"), *rows)
    assert "is 6 in (P3)" in extreme.message


def test_a_margin_thinner_than_the_build_tolerance_is_an_advisory_finding() -> None:
    outcome = check(packs(COVER), facts(row("pipe", "P1", cover=inches(12.5))))
    assert outcome.value is not None
    met, thin = outcome.value
    assert met.status is Status.MEETS
    assert (thin.id, thin.status, thin.severity) == ("build-tolerance/r/P1", Status.FALLS_SHORT, "advisory")
    assert "0.5 in to spare" in thin.message and "build to 13 in" in thin.message
    assert len(check(packs(COVER), facts(row("pipe", "P1", cover=inches(13)))).value or ()) == 1
    assert len(check(packs(COVER), facts(row("pipe", "P1", cover=inches(11)))).value or ()) == 1


def test_findings_come_in_the_order_of_rules_and_names_and_ids_survive_other_edits() -> None:
    text = rule("sleeved", name="b") + rule("cover at least 1 in", name="a")
    rows = [row("pipe", n, sleeved=True, cover=inches(20)) for n in ("P2", "P1")]
    found = run(text, *rows)
    assert [f.id for f in found] == ["b/P1", "b/P2", "a/P1", "a/P2"]
    assert [f.number for f in found] == [1, 2, 3, 4]
    more = run(text, *rows, row("pipe", "P0", sleeved=False))
    assert {f.id for f in found} < {f.id for f in more}
    assert run(text, *reversed(rows)) == found


def test_nothing_checked_is_an_error_and_never_a_pass() -> None:
    for base in (facts(), facts(complete=())):
        nothing = check((), base)
        assert nothing.value is None and [p.code for p in nothing.problems] == ["PG5303"]
    assert check(packs(COVER), facts()).value is None


def test_packs_and_facts_of_two_versions_are_a_fault_and_never_a_verdict() -> None:
    with pytest.raises(ValueError, match="read for facts 1, these are 2"):
        check(packs(COVER), replace(facts(row("pipe", "P1")), version="2"))


def test_a_pack_not_yet_in_force_on_the_issue_date_is_a_warning() -> None:
    base = facts(row("pipe", "P1", cover=inches(15)))
    early = check(packs(COVER), base, issued=datetime.date(2025, 12, 31))
    assert [p.code for p in early.problems] == ["PG5301"] and not early.failed
    assert check(packs(COVER), base, issued=datetime.date(2026, 1, 1)).problems == ()


def test_findings_learn_where_their_object_is_drawn() -> None:
    found = run(COVER, row("pipe", "P1", cover=inches(15)), row("pipe", "P2", cover=inches(15)))
    placed = with_places(found, {"P1": (("L1.01", "B3"),)})
    assert [f.drawn_on for f in placed] == [(("L1.01", "B3"),), ()]


def test_numbers_of_things_and_shares_are_told_plainly() -> None:
    (found,) = run(rule("joints at most 2"), row("pipe", "P1", joints=number(3.0)))
    assert found.message == "P1: joints is 3; at most 2 is required, 1 too much."
    (share,) = run(rule("share at least limit part"), row("pipe", "P1", share=number(0.25)))
    assert share.message == "P1: share is 25%; at least 50% is required, 25% short."
