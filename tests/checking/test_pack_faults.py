"""Each fault of a pack gives one message, with its code, at its line, and says what to do.

No outside source: the wanted messages follow from the language's own description.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.checking.messages import Code
from tests.checking.small_packs import HEAD, LIMITS, TAIL, faults, line_of, read, rule

# (code, what is in the pack, a piece of the line the message points at, a piece of the message or its help)
FAULTS = [
    ("PG5001", rule("cover at leest 12 in"), "at leest", "`at least`"),
    ("PG5001", rule("cover at least 12 inn"), "12 inn", "`in`"),
    ("PG5001", rule("cover at least"), "cover at least", "ends too soon"),
    ("PG5001", rule("Cover at least 12 in"), "Cover", "lower case"),
    ("PG5001", rule('zone is "Z1'), "zone is", "double quote"),
    ("PG5001", rule("there is pipe where sleeved"), "there is pipe", "parentheses"),
    ("PG5001", rule("cover at least 1/0 in"), "1/0", "nought"),
    ("PG5001", 'limit x 1/0 in "x", source "y" read\n', "limit x", "nought"),
    ("PG5001", "limit x twelve\n", "limit x", "twelve"),
    ("PG5002", "  source \"x\" read\n", "source", "belongs to no block"),
    ("PG5003", 'rule a "A" {\n  once\n  require count of pipe is 1\n' + TAIL[:-2], "rule a", "not closed"),
    ("PG5005", rule("sleeved", extra="  severity required\n"), "severity", "said twice"),
    ("PG5005", 'limit x 1 in "x", source "y", source "z" read\n', "limit x", "said twice"),
    ("PG5007", 'limit x 1 in "x"\n', "limit x", "no source"),
    ("PG5007", 'limit x 1 in "x", source "y"\n', "limit x", "verified"),
    ("PG5007", rule(""), "rule r", "requires nothing"),
    (
        "PG5007",
        rule("sleeved", "severity required", tail='  why "w"\n  fix "f"\n  source "s" read\n}\n'),
        "rule r",
        "what it is about",
    ),
    ("PG5007", rule("sleeved", tail=TAIL.replace("  severity required\n", "")), "rule r", "`severity`"),
    ("PG5007", rule("sleeved", tail=TAIL.replace('  why "it matters"\n', "")), "rule r", "`why`"),
    ("PG5007", rule("sleeved", tail=TAIL.replace('  fix "mend it"\n', "")), "rule r", "`fix`"),
    ("PG5007", rule("sleeved", tail='  severity required\n  why "w"\n  fix "f"\n}\n'), "rule r", "no source"),
    ("PG5007", rule("", extra='  or ask "look"\n'), "rule r", "without `require`"),
    ("PG5007", rule("sleeved", extra='  ask "look"\n'), "rule r", "or ask"),
    ("PG5008", rule("sleeved") + rule("sleeved"), "rule r", "defined twice"),
    ("PG5008", 'limit least_cover 1 in "x", source "y" read\n', "limit least_cover", "defined twice"),
    (
        "PG5103",
        rule("sleeved").replace('rule r "A rule"', 'replace rule r "A rule" because "x"'),
        "replace rule",
        "before this one",
    ),
    ("PG5103", 'switch off rule gone because "x"\n', "switch off", "before this one"),
    (
        "PG5103",
        'limit x 1 in "x", replaces, because "b", authority "a", source "y" read\n',
        "limit x",
        "before this one",
    ),
    (
        "PG5108",
        'table x "x": up to 2 in gives 1 in, up to 1 in gives 2 in, source "y" read\n',
        "up to 2 in",
        "rising",
    ),
    (
        "PG5108",
        'table x "x": above gives 1 in, up to 1 in gives 2 in, source "y" read\n',
        "above gives",
        "last row",
    ),
    (
        "PG5108",
        'table x "x": main gives 1 in, up to 1 in gives 2 in, source "y" read\n',
        "main gives",
        "not both",
    ),
    (
        "PG5108",
        'table x "x": main gives 1 in, main gives 2 in, source "y" read\n',
        "main gives",
        "stands twice",
    ),
    (
        "PG5108",
        'table x "x": main gives 1 in, lateral gives 2 psi, source "y" read\n',
        "main gives",
        "one kind",
    ),
    (
        "PG5108",
        'table x "x": up to 1 in gives 1 in, up to 2 psi gives 2 in, source "y" read\n',
        "up to",
        "one kind",
    ),
    ("PG5201", rule("sleeved", about="for each pipes"), "pipes", "`pipe`"),
    ("PG5201", rule("there is pip where (sleeved)"), "pip", "`pipe`"),
    ("PG5201", rule("sites.frost_depth at least 1 in"), "sites", "`site`"),
    ("PG5202", rule("covr at least 12 in"), "covr", "`cover`"),
    ("PG5202", rule("count of zone where (sleeved) is 1"), "sleeved", "`this.sleeved`"),
    ("PG5202", rule("cover at least 1 in", about="once"), "cover", "checked once"),
    ("PG5202", rule("this.cover at least 1 in", about="once"), "this.cover", "about none"),
    ("PG5203", rule("role is mian"), "mian", "`main`"),
    ("PG5203", rule("role is one of main, laterals"), "laterals", "`lateral`"),
    ("PG5203", rule("under includes road"), "road", "none of the words"),
    ("PG5203", rule("sleeved is true"), "sleeved", "`is yes`"),
    (
        "PG5203",
        'table x "x": mian gives 1 in, source "y" read\n' + rule("cover at least table x for role"),
        "cover",
        "mian",
    ),
    ("PG5204", rule("cover at least limit least_cove"), "least_cove", "`least_cover`"),
    ("PG5204", rule("cover at least table cover_by_siz for size"), "cover_by_siz", "`cover_by_size`"),
    ("PG5205", rule("cover at least 12 psi"), "12 psi", "a length"),
    ("PG5205", rule("cover at least 12"), "least 12", "a plain number"),
    ("PG5205", rule("cover plus pressure at least 12 in"), "plus", "makes no sense"),
    ("PG5205", rule("pressure times pressure at least 1 psi"), "times", "makes no sense"),
    ("PG5205", rule("twice site.warmth at least 1 degC"), "warmth", "makes no sense"),
    ("PG5205", rule("larger of (cover, pressure) at least 1 in"), "larger", "a pressure"),
    ("PG5205", rule("cover within 1 psi of 12 in"), "within", "cannot be compared"),
    ("PG5205", rule("cover at least table cover_by_size for pressure"), "table", "looked up by"),
    ("PG5205", rule("cover at least table cover_by_role for size"), "table", "a word"),
    ("PG5206", rule("cover"), "require cover", "a condition is expected"),
    ("PG5206", rule("sleeved and cover"), "cover", "a condition is expected"),
    ("PG5207", rule("role at least 3"), "role", "a quantity is expected"),
    ("PG5207", rule("sleeved plus 1 at least 3"), "sleeved", "a quantity is expected"),
    ("PG5207", rule("under is drive"), "under", "`includes`"),
    ("PG5207", rule("role includes main"), "role", "`is`"),
    ("PG5207", rule("cover is one of main, lateral"), "cover", "wants a word"),
    ("PG5207", rule("role is one of limit least_cover"), "least_cover", "not a list"),
    ("PG5207", rule("role is cover"), "role is cover", "a word is expected"),
    ("PG5208", rule("sleeved", about="for the pipe"), "for the pipe", "for each pipe"),
    ("PG5208", rule("zone.need at least 1 in"), "zone.need", "several"),
    (
        "PG5209",
        rule("sleeved", about="for each pipe where role is main and role is lateral"),
        "rule r",
        "never apply",
    ),
    (
        "PG5209",
        rule("sleeved", about="for each pipe where cover more than 3 in and cover less than 2 in"),
        "rule r",
        "never apply",
    ),
    (
        "PG5209",
        rule("sleeved", about="for each pipe where cover more than 3 in and cover at most 3 in"),
        "rule r",
        "never apply",
    ),
    ("PG5209", rule("sleeved", about="for each pipe where sleeved and not sleeved"), "rule r", "never apply"),
    (
        "PG5209",
        rule("sleeved", about="for each pipe where role is main", extra="  when role is service\n"),
        "rule r",
        "never apply",
    ),
    (
        "PG5209",
        rule("sleeved", "for each pipe where under includes drive and under includes none of drive, walk"),
        "rule r",
        "never apply",
    ),
    (
        "PG5209",
        rule("sleeved", about="for each pipe where role is none of main, lateral, service"),
        "rule r",
        "never apply",
    ),
    ("PG5209", rule("no pipe where (role is main and role is service)"), "no pipe", "ever match"),
    ("PG5210", rule("cover is not known or cover at least 12 in"), "not known", "left out"),
    ("PG5210", rule("every pipe where (cover is known) has (cover at least 12 in)"), "known", "left out"),
    ("PG5210", rule("no pipe where (cover is known)"), "known", "left out"),
    ("PG5210", rule("smallest cover of pipe where (cover is known) at least 1 in"), "known", "left out"),
    ("PG5210", rule("sleeved", about="for each pipe where cover is not known"), "not known", "left out"),
    ("PG5210", rule("not cover is known"), "known", "left out"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "text", "at", "words"), FAULTS)
def test_a_fault_is_told_once_where_it_stands(code: str, text: str, at: str, words: str) -> None:
    # A sound rule beside it, so that nothing else is wrong with the pack.
    whole = text + rule("sleeved", name="sound")
    found = faults(whole)
    assert [p.code for p in found] == [code]
    problem = found[0]
    assert at in line_of(whole, problem)
    assert words in f"{problem.message} {problem.expected} {problem.help}"
    assert not problem.message.endswith(".") and problem.span.end > problem.span.start


def test_conditions_that_can_match_are_left_alone() -> None:
    for where in (
        "role is main or role is lateral",
        "not (role is main and role is lateral)",
        "cover at least 2 in and cover at most 2 in",
        "under includes drive and under includes walk",
        "sleeved or not sleeved",
    ):
        assert faults(rule("sleeved", about=f"for each pipe where {where}")) == []


def test_is_known_may_stand_where_it_can_only_ask_for_more() -> None:
    for text in (
        rule("cover is known and cover at least 1 in"),
        rule("sleeved", extra="  when cover is known\n"),
        rule("there is pipe where (cover is known)"),
        rule("sleeved", extra='  step "no cover given" when cover is not known\n'),
    ):
        assert faults(text) == []


def test_a_pack_says_who_made_it_and_a_real_place_carries_a_banner() -> None:
    for key in ("title", "authority", "edition", "effective", "contact", "facts"):
        head = "\n".join(x for x in HEAD.split("\n") if not x.strip().startswith(key))
        (found,) = read({"small": head + LIMITS + rule("sleeved")}).problems
        assert found.code == Code.MISSING_LINE and f"`{key}`" in found.message
    (found,) = read({"small": HEAD.replace("  invented place\n", "") + LIMITS + rule("sleeved")}).problems
    assert "`banner`" in found.message and "invented place" in found.help
    (found,) = read({"small": HEAD.replace("2026-01-01", "2026-02-30") + LIMITS + rule("sleeved")}).problems
    assert "no date" in found.message


def test_packs_that_are_not_there_go_in_a_circle_or_read_other_facts() -> None:
    whole = HEAD + LIMITS + rule("sleeved")
    child = HEAD.replace("pack small", "pack child extends smal")
    (found,) = read({"small": whole, "child": child}, "child").problems
    assert (found.code, found.help) == ("PG5101", "a similar name exists: `small`")
    (found,) = read({"small": whole}, "smalll").problems
    assert found.code == "PG5101" and found.span.file == "design.plan"
    (found,) = read({"other": whole}, "other").problems
    assert found.code == "PG5101" and "holds `small`" in found.message
    a, b = HEAD.replace("small", "a extends b"), HEAD.replace("small", "b extends a")
    (found,) = read({"a": a, "b": b}, "a").problems
    assert found.code == "PG5102" and "a -> b -> a" in found.message
    (found,) = read({"small": whole.replace("facts 1", "facts 2")}).problems
    assert found.code == "PG5106"
    (found,) = read({"small": HEAD + LIMITS}).problems
    assert found.code == "PG5107"
    (found,) = read({"small": LIMITS}).problems
    assert found.code == "PG5006"
    assert [p.code for p in read({"small": HEAD + whole}).problems] == ["PG5008"]


# The faults a pack's author is most likely to make: never a pass, always an error that says what to do.
CHAIN = {"a": HEAD.replace("small", "a extends b"), "b": HEAD.replace("small", "b extends a")}
ORPHAN = {"small": HEAD.replace("small", "small extends smoll"), "smell": HEAD}


def small(*arguments: str, **more: str) -> dict[str, str]:
    return {"small": HEAD + rule(*arguments, **more)}


SUGGESTIONS = [
    ("a misspelt fact", small("covr at least 12 in"), "PG5202", "`cover`"),
    ("a misspelt word of a fact", small("role is mian"), "PG5203", "`main`"),
    ("a length with a pressure", small("cover at least 12 psi"), "PG5205", "`12 in` or `300 mm`"),
    ("a pressure with a length", small("pressure at least 1 ft"), "PG5205", "`60 psi` or `4 bar`"),
    ("a length plus a pressure", small("cover plus pressure at least 1 in"), "PG5205", "one kind"),
    ("no source", small("sleeved", tail=TAIL.split("  source")[0] + "}\n"), "PG5007", "add"),
    ("an unknown parent", ORPHAN, "PG5101", "`smell`"),
    ("a circle", CHAIN, "PG5102", "take `extends"),
    ("an empty choice", small("sleeved", "for each pipe where sleeved and not sleeved"), "PG5209", "`or`"),
    ("an empty inner choice", small("no pipe where (role is main and role is service)"), "PG5209", "`or`"),
]


@pytest.mark.parametrize(("what", "texts", "code", "said"), SUGGESTIONS, ids=[s[0] for s in SUGGESTIONS])
def test_the_likeliest_faults_come_with_a_suggestion(
    what: str, texts: dict[str, str], code: str, said: str
) -> None:
    outcome = read(texts, next(iter(texts)))
    assert outcome.value is None
    (found,) = outcome.problems
    assert found.code == code and found.severity.value == "error"
    assert said in f"{found.help} {found.expected}", what


def test_each_fault_of_a_text_is_told_in_one_run() -> None:
    text = (
        rule("covr at least 12 in", name="a")
        + rule("cover at leest 1 in", name="b")
        + rule("role is x", name="c")
    )
    assert [p.code for p in faults(text)] == ["PG5202", "PG5001", "PG5203"]


def test_line_ends_tabs_and_comments_change_nothing() -> None:
    text = HEAD + LIMITS + rule('sleeved and\n\n  # why\n  cover at least 12 in  # a comment with "quotes"')
    plain = read({"small": text}).value
    assert plain is not None
    assert read({"small": text.replace("\n", "\r\n").replace("  ", "\t")}).problems == ()


SOUND = HEAD + LIMITS + rule("cover at least limit least_cover and (sleeved or role is one of main, lateral)")


@settings(max_examples=150, deadline=None)
@given(
    st.integers(0, len(SOUND) - 1), st.sampled_from(["", "{", "}", "(", ")", '"', ",", "x", "#", "\n", "0"])
)
def test_one_broken_letter_never_raises_and_rarely_floods(place: int, letter: str) -> None:
    broken = SOUND[:place] + letter + SOUND[place + 1 :]
    outcome = read({"small": broken}, "small")
    # A pack name or a whole block can fall to one letter; more than that is a flood.
    assert len(outcome.problems) <= 6
    for problem in outcome.problems:
        assert 0 <= problem.span.start <= problem.span.end <= len(broken)
