"""Packs that extend others, and several packs on one design.

No outside source: the wanted answers are the project's own decisions (a child governs and says why; of
several packs the stricter bound governs and the other is listed; clashing bounds go to a person).
"""

from __future__ import annotations

from plangen.checking.check import check
from plangen.checking.explain import explain_rule
from plangen.checking.finding import Finding, Status
from plangen.checking.pack_store import packs_from_bytes, packs_to_bytes, store_key
from tests.checking.small_packs import HEAD, LIMITS, facts, inches, psi, read, row, rule

PARENT = HEAD + LIMITS + rule("cover at least limit least_cover") + rule("sleeved", name="sleeve")
CHILD = HEAD.replace("pack small", "pack child extends small")
LOOSER = 'limit least_cover 8 in "least", replaces, because "rock", authority "Council", source "C" read\n'
PIPE = row("pipe", "P1", cover=inches(10), pressure=psi(60), sleeved=False)
ANEW = 'replaces, because "b", authority "a", source "s", read'


def findings(texts: dict[str, str], *names: str) -> tuple[Finding, ...]:
    """Return the findings of some packs on one pipe."""
    loaded = read(texts, *names)
    assert loaded.problems == () and loaded.value is not None
    outcome = check(loaded.value, facts(PIPE))
    assert outcome.value is not None
    return outcome.value


def test_a_child_sets_a_limit_anew_with_its_reason_and_authority() -> None:
    parent, _ = findings({"small": PARENT}, "small")
    child, _ = findings({"small": PARENT, "child": CHILD + LOOSER}, "child")
    assert (parent.status, child.status) == (Status.FALLS_SHORT, Status.MEETS)
    assert child.at_least.words == "8 in" and child.pack == "child"  # type: ignore[union-attr]
    assert [(o.pack, o.words) for o in child.others] == [
        ("small", "12 in, replaced because rock (authority: Council)")
    ]


def test_a_limit_set_anew_must_say_so_and_stay_of_its_kind() -> None:
    for limit, code in (
        ('limit least_cover 8 in "x", source "s", read\n', "PG5104"),
        ('limit least_cover 8 psi "x", ' + ANEW + "\n", "PG5205"),
        (
            'limit least_cover one of main "x", ' + ANEW + "\n",
            "PG5205",
        ),
        ('limit least_cover 8 in "x", replaces, authority "a", source "s", read\n', "PG5105"),
        ('limit least_cover 8 in "x", replaces, because "b", source "s", read\n', "PG5105"),
        ('limit fresh 8 in "x", ' + ANEW + "\n", "PG5103"),
        ('table cover_by_size "x": up to 1 in gives 2 in, source "s", read\n', "PG5104"),
        (
            'table cover_by_size "x": main gives 2 in, ' + ANEW + "\n",
            "PG5205",
        ),
    ):
        problems = read({"small": PARENT, "child": CHILD + limit}, "child").problems
        assert [p.code for p in problems] == [code], limit
        assert problems[0].span.file == "child.rules"


def test_a_table_may_be_set_anew() -> None:
    table = 'table cover_by_size "x": above gives 9 in, ' + ANEW + "\n"
    using = rule("cover at least table cover_by_size for cover", name="by-size")
    found = findings({"small": PARENT + using, "child": CHILD + table}, "child")
    by_size = next(f for f in found if f.rule == "by-size")
    assert by_size.status is Status.MEETS and by_size.at_least.words == "9 in"  # type: ignore[union-attr]
    assert "6 in" in by_size.others[0].words


def test_a_rule_is_replaced_or_switched_off_only_with_a_reason() -> None:
    anew = rule("sleeved", name="r").replace('rule r "A rule"', 'replace rule r "New" because "it differs"')
    found = findings({"small": PARENT, "child": CHILD + anew}, "child")
    assert found[0].title == "New" and found[0].status is Status.FALLS_SHORT
    assert any("it differs" in s for s in found[0].steps)
    off = 'switch off rule sleeve because "sleeves are rare here"\n'
    found = findings({"small": PARENT, "child": CHILD + off}, "child")
    assert found[-1].status is Status.NOT_APPLICABLE and "sleeves are rare here" in found[-1].message
    for text, code in (
        (rule("sleeved", name="r"), "PG5104"),
        (anew.replace('because "it differs"', 'because ""'), "PG5105"),
        (off.replace("sleeves are rare here", " "), "PG5105"),
        (off.replace("sleeve ", "sleve "), "PG5103"),
    ):
        problems = read({"small": PARENT, "child": CHILD + text}, "child").problems
        assert [p.code for p in problems] == [code], text


def other(requirement: str, name: str = "r") -> str:
    return HEAD.replace("pack small", "pack other") + rule(requirement, name=name)


def test_of_several_packs_the_stricter_bound_governs_and_the_other_is_listed() -> None:
    for names in (("small", "other"), ("other", "small")):
        found = findings({"small": PARENT, "other": other("cover at least 18 in")}, *names)
        (governed,) = [f for f in found if f.rule == "r"]
        assert governed.pack == "other" and governed.at_least.words == "18 in"  # type: ignore[union-attr]
        assert [(o.pack, o.words) for o in governed.others] == [("small", "at least 12 in")]
    most = findings(
        {"small": HEAD + rule("pressure at most 80 psi"), "other": other("pressure at most 50 psi")},
        "small",
        "other",
    )
    assert [(f.pack, f.status) for f in most] == [("other", Status.FALLS_SHORT)]


def test_rules_that_do_not_compare_all_stand() -> None:
    found = findings({"small": PARENT, "other": other("pressure at least 90 psi")}, "small", "other")
    assert [f.id for f in found if f.rule == "r"] == ["r/P1", "other/r/P1"]


def test_bounds_that_cannot_both_hold_go_to_a_person() -> None:
    found = findings({"small": PARENT, "other": other("cover at most 6 in", "shallow")}, "small", "other")
    (clash,) = [f for f in found if f.rule == "bounds-conflict"]
    assert (
        clash.status is Status.NEEDS_PERSON
        and "at least 12 in" in clash.message
        and "at most 6 in" in clash.message
    )
    fine = findings({"small": PARENT, "other": other("cover at most 12 in", "shallow")}, "small", "other")
    assert not [f for f in fine if f.rule == "bounds-conflict"]


def test_two_children_of_one_parent_check_its_rules_once() -> None:
    second = CHILD.replace("pack child", "pack twin")
    found = findings({"small": PARENT, "child": CHILD, "twin": second}, "child", "twin")
    assert [f.id for f in found] == ["r/P1", "sleeve/P1"]


def test_a_rule_is_explained_in_words_with_its_limits_sources_and_packs() -> None:
    loaded = read({"small": PARENT, "child": CHILD + LOOSER}, "small", "child").value
    assert loaded is not None
    words = explain_rule(loaded, "r", "metric")
    for piece in (
        "r: A rule",
        "For each pipe, it is required that: cover is at least 305 mm.",
        "cover is at least 203 mm",
        "The pack small has 12 in; it is another here because rock (authority: Council)",
        "Test ordinance, 1, 2026 (the text itself was read)",
        "Why: it matters.",
        "What to do: mend it.",
    ):
        assert piece in words
    assert explain_rule(loaded, "gone", "us") == ""
    off = read({"small": PARENT, "child": CHILD + 'switch off rule r because "why not"\n'}, "child").value
    assert off is not None and "switches r off: why not" in explain_rule(off, "r", "us")


def test_checked_packs_survive_being_stored_and_a_damaged_store_is_refused() -> None:
    from plangen.text.source import SourceFile
    from tests.checking.small_packs import VOCABULARY

    loaded = read({"small": PARENT}).value
    assert loaded is not None
    data = packs_to_bytes(loaded)
    assert packs_from_bytes(data) == loaded
    assert packs_from_bytes(data[:-9]) is None and packs_from_bytes(b"") is None
    texts = {"small": SourceFile.of("small.rules", PARENT)}
    key = store_key(("small",), texts, VOCABULARY, "1")
    assert key == store_key(("small",), texts, VOCABULARY, "1")
    changed = {"small": SourceFile.of("small.rules", PARENT + "# more\n")}
    others = {
        store_key(("small",), changed, VOCABULARY, "1"),
        store_key(("small",), texts, VOCABULARY[:1], "1"),
        store_key(("small",), texts, VOCABULARY, "2"),
        store_key(("small", "small"), texts, VOCABULARY, "1"),
    }
    assert key not in others and len(others) == 4
