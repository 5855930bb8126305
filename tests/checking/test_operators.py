"""Each operator of the rule language, on rows whose answer is worked out by hand beside it.

No outside source: the expected answers follow from the words of each operator.
"""

from __future__ import annotations

import pytest

from tests.checking.small_packs import inches, psi, row, rule, status

PIPE = row(
    "pipe",
    "P1",
    cover=inches(12),
    size=inches(1),
    run=inches(120),
    pressure=psi(60),
    joints=3.0,
    share=0.25,
    role="main",
    under=("drive", "walk"),
    zone="Z1",
    sleeved=True,
)
SECOND = row(
    "pipe", "P2", cover=inches(8), size=inches(2), run=inches(240), joints=1.0, role="lateral", sleeved=False
)
ZONE = row("zone", "Z1", need=inches(9), kind="spray")
SITE = row("site", "site", frost_depth=inches(5), accepted=("main", "service"), warmth=10.0)

TRUE = [
    "cover at least 12 in",
    "cover at least 1 ft",
    "cover at most 12 in",
    "cover more than 11.9 in",
    "cover less than 12-1/2 in",
    "cover between 10 in and 12 in",
    "cover within 10 % of 11 in",
    "cover within 1 in of 13 in",
    "cover within limit part of 18 in",
    "cover is 12 in",
    "cover is 304.8 mm",
    "not cover is 11 in",
    "cover is not 11 in",
    "12 in at least cover",
    "joints is 3",
    "joints at least 3",
    "share at most 25 %",
    "share at most 0.25",
    "role is main",
    "role is not lateral",
    "role is one of main, lateral",
    "role is none of lateral, service",
    "role is one of limit accepted_roles",
    "role is one of site.accepted",
    "zone is \"Z1\"",
    "zone is this.zone",
    "name is \"P1\"",
    "under includes drive",
    "under includes any of lawn, walk",
    "under includes all of drive, walk",
    "under includes none of lawn",
    "sleeved",
    "sleeved is yes",
    "sleeved is not no",
    "not sleeved is no",
    "cover is known",
    "cover at least limit least_cover",
    "cover at least table cover_by_size for size plus 6 in",
    "cover at most table cover_by_role for role",
    "cover at least larger of (site.frost_depth plus 6 in, 2 in)",
    "cover at most smaller of (1 yd, 13 in)",
    "cover at least twice 6 in",
    "half cover at least 6 in",
    "cover at least 50 % of 24 in",
    "cover at least limit part of 24 in",
    "cover at least 2 times 6 in",
    "cover at least 6 in times 2",
    "cover divided by size at least 12",
    "cover minus 2 in at most 10 in",
    "size times size at most 1 sqft",
    "pressure at least 4 bar",
    "(cover at least 99 in or sleeved) and role is main",
    "cover at least 99 in or sleeved",
    "there is pipe",
    "there is pipe where (role is lateral)",
    "there is pipe where (cover less than this.cover)",
    "there is zone where (name is this.zone)",
    "no pipe where (role is service)",
    "every pipe has (cover at least 8 in)",
    "every pipe where (role is main) has (cover at least 12 in)",
    "count of pipe is 2",
    "count of pipe where (sleeved) is 1",
    "count of zone at most 1",
    "sum of run over pipe at least 30 ft",
    "sum of run of pipe at most 30 ft",
    "sum of (run plus cover) over pipe is 380 in",
    "largest size of pipe is 2 in",
    "smallest cover of pipe where (role is lateral) is 8 in",
    "largest (cover plus size) of pipe is 13 in",
    "site.warmth at least 50 degF",
    "cover at least 12 in and\n    sleeved and\n    role is main",
    "(cover at least 12 in\n    and sleeved)",
    "pipe.cover at least 12 in",
]  # fmt: skip
FALSE = [
    "cover at least 12.1 in",
    "cover at most 11 in",
    "cover more than 12 in",
    "cover less than 12 in",
    "cover between 13 in and 14 in",
    "cover within 5 % of 11 in",
    "cover is 11 in",
    "role is lateral",
    "role is one of lateral, service",
    "role is none of main, lateral",
    "zone is \"Z2\"",
    "under includes lawn",
    "under includes all of drive, lawn",
    "under includes none of drive, lawn",
    "not sleeved",
    "sleeved is no",
    "there is pipe where (role is service)",
    "no pipe",
    "every pipe has (sleeved)",
    "count of pipe more than 2",
    "largest size of pipe at most 1 in",
    "smallest cover of pipe at least 12 in",
    "cover at least twice 7 in",
    "cover at least site.frost_depth plus 8 in",
    "sleeved and cover at least 99 in",
]  # fmt: skip


@pytest.mark.parametrize("requirement", TRUE)
def test_what_holds_meets(requirement: str) -> None:
    assert status(rule(requirement, 'for each pipe where name is "P1"'), PIPE, SECOND, ZONE, SITE) == "meets"


@pytest.mark.parametrize("requirement", FALSE)
def test_what_does_not_hold_falls_short(requirement: str) -> None:
    found = status(rule(requirement, 'for each pipe where name is "P1"'), PIPE, SECOND, ZONE, SITE)
    assert found == "falls_short"


UNKNOWN = [
    "cover at least 12 in",
    "cover at least 12 in and sleeved",
    "cover at least 12 in or not sleeved",
    "role is main",
    "role is one of site.accepted",
    "under includes drive",
    "joints plus 1 at least 2",
    "every pipe has (cover at least 8 in)",
    "smallest cover of pipe at least 8 in",
    "largest cover of pipe at most 20 in",
    "sum of cover over pipe at most 20 in",
    "count of pipe where (cover more than 1 in) is 2",
    "there is pipe where (role is service)",
    "no pipe where (role is service)",
    "cover at least table cover_by_size for size",
    "larger of (cover, 1 in) at most 12 in",
]


@pytest.mark.parametrize("requirement", UNKNOWN)
def test_what_hangs_on_a_missing_value_is_not_known(requirement: str) -> None:
    blank = row("pipe", "P1", sleeved=True)
    assert status(rule(requirement, 'for each pipe where name is "P1"'), blank, SECOND, SITE) == "not_known"


@pytest.mark.parametrize(
    ("requirement", "found"),
    [
        ("cover at least 12 in or sleeved", "meets"),
        ("cover at least 12 in and not sleeved", "falls_short"),
        ("smallest cover of pipe at least 9 in", "falls_short"),
        ("largest cover of pipe at most 7 in", "falls_short"),
        ("every pipe has (cover at least 9 in)", "falls_short"),
        ("count of pipe at least 2", "meets"),
        ("larger of (cover, 1 in) at least 1 in", "meets"),
        ("there is pipe where (role is lateral)", "meets"),
        ("cover is known", "falls_short"),
    ],
)
def test_what_is_settled_without_the_missing_value_is_settled(requirement: str, found: str) -> None:
    blank = row("pipe", "P1", sleeved=True)
    assert status(rule(requirement, 'for each pipe where name is "P1"'), blank, SECOND, SITE) == found


def test_a_table_without_a_fitting_row_leaves_the_rule_open() -> None:
    wide = row("pipe", "P1", cover=inches(99), size=inches(3))
    assert status(rule("cover at least table cover_by_size for size"), wide) == "not_known"


@pytest.mark.parametrize(("size", "found"), [(1.0, "meets"), (1.01, "falls_short"), (2.0, "falls_short")])
def test_a_table_row_holds_up_to_its_size_and_including_it(size: float, found: str) -> None:
    pipe = row("pipe", "P1", cover=inches(8), size=inches(size))
    assert status(rule("cover at least table cover_by_size for size"), pipe) == found


def test_a_rule_may_be_about_the_design_as_a_whole_or_the_one_row_of_a_relation() -> None:
    assert status(rule("count of pipe is 1", "once"), PIPE) == "meets"
    assert status(rule("frost_depth at most 6 in", "for the site"), SITE) == "meets"
    assert status(rule("frost_depth at most 6 in", "for the site")) == "not_known"
    assert status(rule("site.frost_depth at most 6 in", "once")) == "not_known"
