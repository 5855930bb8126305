"""What a design does not mention is no proof that the sheets show it all: silence asks for a person."""

from __future__ import annotations

import re

from plangen.checking.finding import Status
from tests.rules.rules_run import example_text, findings_of

TEXT = example_text("residential")


def _without(kinds: str) -> str:
    """Return the text without the statements of some kinds, their continued lines with them."""
    return re.sub(rf"(?m)^  (?:{kinds}) .*\n(?:(?<=,\n).*\n)*", "", TEXT)


def test_a_stated_meter_and_stated_lines_are_judged_by_what_is_drawn() -> None:
    run = findings_of(TEXT, "model-us", draw=True)
    assert run.statuses("plan-source") == run.statuses("plan-utilities") == {Status.MEETS}


def test_no_meter_stated_does_not_pass_as_a_meter_drawn() -> None:
    text = (
        _without("meter")
        .replace("route W1 -> M1", "route W1 -> X1")
        .replace("route M1 -> T1", "route X1 -> T1")
    )
    text = text.replace("3 ft along S2 from M1", "3 ft along S2 from X1")
    text = text.replace("  tap T1 ", '  tee X1 "union", at (8, -1)\n  tap T1 ', 1)
    found = findings_of(text, "model-us", draw=True).of("plan-source", "sheets")
    assert found.status is Status.NEEDS_PERSON
    assert any("none stated" in e.value.words for e in found.evidence)


def test_no_buried_lines_stated_is_told_as_an_assumption() -> None:
    found = findings_of(_without("sewer|gas|power|telecom|water|storm"), "model-us", draw=True)
    told = found.of("plan-utilities", "sheets")
    assert any(
        "none stated" in e.value.words and e.provenance.basis.value == "assumed" for e in told.evidence
    )


def test_without_zones_no_flow_of_a_zone_is_shown() -> None:
    text = TEXT[: TEXT.index("zone Z1 ")] + TEXT[TEXT.index("control {") :]
    text = re.sub(r"(?m)^  pipe .* -> V\d,.*\n", "", text)
    run = findings_of(text, "model-us", draw=True)
    assert run.of("plan-zone-flow", "sheets").status is Status.NOT_KNOWN
