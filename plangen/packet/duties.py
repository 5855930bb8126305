"""What the packs in force ask of people by the calendar or in words, as the papers print it. Pure.

Where no pack says it, the papers say that it is not known; no period is made up.
"""

from __future__ import annotations

from collections.abc import Iterable

from plangen.checking.duties import NOT_KNOWN, Duty
from plangen.packet.annual_test import NOBODY, Cycle
from plangen.packet.tables import Fact


def of_kind(duties: Iterable[Duty], kind: str) -> tuple[Duty, ...]:
    """Return the duties of one kind, in the order of the packs."""
    return tuple(d for d in duties if d.kind == kind)


def source_of(duty: Duty) -> str:
    """Return where a duty stands: the law with its edition and how far it was read, and the pack."""
    s = duty.source
    law = ", ".join(part for part in (s.title, s.section, s.edition) if part)
    verified = f" ({s.verified})" if s.verified else ""
    return f"{law}{verified}, by the pack {duty.pack}"


def duty_facts(duties: Iterable[Duty], kind: str, label: str) -> tuple[Fact, ...]:
    """Return each duty of a kind with its source, or that it is not known."""
    found = of_kind(duties, kind)
    return tuple(Fact(label, d.told, source_of(d)) for d in found) or (Fact(label, NOT_KNOWN),)


def cycle_of(duties: Iterable[Duty]) -> Cycle:
    """Return the shortest test cycle that the packs state in months, with every word they say of it."""
    found = of_kind(duties, "test")
    months = [d.at_most.months for d in found if d.at_most is not None and d.at_most.months]
    if not months:
        return NOBODY
    told = "; ".join(f"{d.told} ({source_of(d)})" for d in found)
    return Cycle(min(m for m in months if m), f"Test cycle: {told}.")


def step_duties(duties: Iterable[Duty]) -> dict[str, tuple[str, ...]]:
    """Return what the packs say of steps of the work, by the key of the step."""
    held = tuple(duties)
    steps = (("locate", ("notice", "ticket")), ("assembly-test", ("test", "report")))
    labels = {
        "notice": "Notice before digging",
        "ticket": "A locate ticket",
        "test": "Test of the assembly",
        "report": "Report of the test",
    }
    return {
        key: tuple(
            f"{fact.label}: {fact.value}" + (f" ({fact.source})" if fact.source else "")
            for kind in kinds
            for fact in duty_facts(held, kind, labels[kind])
        )
        for key, kinds in steps
    }
