"""What packs ask by the calendar stands on the papers with its source; what none asks reads as not known.

Source of each period: the packs' own clauses, read from the pack here and looked for on the paper.
"""

from __future__ import annotations

import pytest

from plangen.checking.duties import NOT_KNOWN, Duty, Period
from plangen.checking.finding import RuleSource
from plangen.packet.annual_test import NOBODY
from plangen.packet.application import forms_and_fees
from plangen.packet.assembly_form import test_forms as forms_of
from plangen.packet.compliance import compliance_form
from plangen.packet.contents import Contents
from plangen.packet.duties import cycle_of, step_duties
from plangen.packet.locate import locate_form
from plangen.packet.tables import Form
from plangen.text.source import Span
from tests.packet.test_recorded_tests import bare, recorded

SOURCE = RuleSource("An invented ordinance", "8.1", "2026", "read")


def duty(kind: str, count: int = 0, unit: str = "months", words: str = "as told") -> Duty:
    """Return a duty of an invented pack."""
    period = Period(count, unit) if count else None
    return Duty(kind, "somewhere", Span("x", 0, 0), None, period, words, SOURCE)


ALL = (
    Duty("notice", "somewhere", Span("x", 0, 0), Period(3, "working days"), None, "by call", SOURCE),
    duty("ticket", 15, "working days"),
    duty("test", 36),
    duty("report", 10, "working days"),
    duty("compliance", words="I state that this was built as drawn"),
)


def papers(*duties: Duty) -> dict[str, Form]:
    """Return the three papers that print duties."""
    contents: Contents = bare(recorded(), duties)
    return {f.id: f for f in (locate_form(contents), compliance_form(contents), *forms_of(contents))}


def facts(form: Form) -> dict[str, tuple[str, str]]:
    return {f.label: (f.value, f.source) for _, held in form.groups for f in held}


def test_what_a_pack_says_is_printed_with_its_source():
    found = papers(*ALL)
    value, source = facts(found["locate"])["Notice before digging"]
    assert value.startswith("at least 3 working days") and "An invented ordinance, 8.1, 2026 (read)" in source
    assert facts(found["locate"])["A ticket"][0].startswith("lasts 15 working days")
    assert facts(found["test-BF1"])["Report due"][0].startswith("within 10 working days")
    assert facts(found["compliance"])["By somewhere"][0] == "I state that this was built as drawn"
    steps = step_duties(ALL)
    assert "at least 3 working days" in steps["locate"][0] and "every 36 months" in steps["assembly-test"][0]


def test_what_no_pack_says_reads_as_not_known():
    found = papers()
    assert facts(found["locate"])["Notice before digging"] == (NOT_KNOWN, "")
    assert facts(found["locate"])["A ticket"] == (NOT_KNOWN, "")
    assert facts(found["test-BF1"])["Report due"] == (NOT_KNOWN, "")
    assert NOT_KNOWN in found["compliance"].intro[0]
    assert all(NOT_KNOWN in line for lines in step_duties(()).values() for line in lines)


def test_forms_and_fees_of_the_authority_stand_in_the_application():
    named = (duty("form", words="W-7, application"), duty("fee", words="60 USD with the application"))
    for duties, form, fee in (
        (named, "W-7, application", "60 USD with the application"),
        ((), NOT_KNOWN, NOT_KNOWN),
    ):
        assert [(f.label, f.value) for f in forms_and_fees(duties)] == [("Form", form), ("Fee", fee)]


@pytest.mark.parametrize(
    ("duties", "months"),
    [((), 12), ((duty("test", 36),), 36), ((duty("test", 36), duty("test", 12)), 12),
     ((duty("test", 10, "days"),), 12), ((duty("report", 3),), 12)],
)  # fmt: skip
def test_the_shortest_stated_cycle_governs(duties, months):
    cycle = cycle_of(duties)
    assert cycle.months == months
    stated = any(d.kind == "test" and d.at_most and d.at_most.months for d in duties)
    assert (cycle is NOBODY) is not stated
    assert stated or NOT_KNOWN.split(":")[0] in cycle.words
