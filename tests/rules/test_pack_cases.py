"""Each shipped pack: its cases hold, each of its rules has its cases, and each of its numbers decides."""

from __future__ import annotations

import pytest

from plangen.build.case_runs import lacking
from tests.rules import pack_facts as p
from tests.rules.limits_moved import moved, numbers_in

# Working out the facts of every case of every pack takes minutes: these run always, the others with --long.
SAMPLE = ("illinois",)
RUN = [name if name in SAMPLE else pytest.param(name, marks=pytest.mark.long) for name in p.NAMES]


@pytest.mark.parametrize("name", RUN)
def test_the_cases_of_a_pack_hold(name: str) -> None:
    assert p.cases(name).faults == ()
    assert [f.faults for f in p.facts(name) if f.faults] == []
    failed = [(r.expected.line, r.expected.rule, r.found) for r in p.results(p.pack(name), name) if r.found]
    assert failed == []


@pytest.mark.parametrize("name", p.NAMES)
def test_every_rule_of_a_pack_has_its_cases(name: str) -> None:
    assert lacking(p.pack(name), p.cases(name)) == ()


LIMITS = [
    pytest.param(name, limit, marks=() if name in SAMPLE else pytest.mark.long)
    for name in p.NAMES
    for limit in numbers_in(p.texts()[name].text)
]


@pytest.mark.parametrize(("name", "limit"), LIMITS)
def test_a_tenth_more_or_less_flips_a_case(name: str, limit: str) -> None:
    rules = p.rules_with(limit, name)
    for factor in (1.1, 0.9):
        changed = p.with_text(name, moved(p.texts()[name].text, limit, factor))
        # A case that holds under the pack as it is must not hold any longer.
        if any(r.found for r in p.results(changed, name, rules)):
            return
    pytest.fail(f"no case of {name} feels {limit}")


@pytest.mark.parametrize("name", p.NAMES)
def test_a_pack_of_a_real_place_bears_its_banner(name: str) -> None:
    found = p.pack(name)
    assert found.invented or "Check with the authority" in found.banner


@pytest.mark.parametrize("name", p.NAMES)
def test_no_rule_or_limit_from_memory_alone_meets_without_a_person(name: str) -> None:
    """The cases with `meets` for such a rule must carry a confirmation of it."""
    remembered = {
        r.name
        for r in p.pack(name).rules
        if r.severity == "required"
        and r.require is not None
        and {s.verified for s in r.sources} == {"from memory"}
    }
    for case in p.cases(name).cases:
        for expected in case.expected:
            if expected.rule in remembered and expected.status.value == "meets":
                assert f"confirm        {expected.rule}" in case.added, expected
