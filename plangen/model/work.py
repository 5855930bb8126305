"""Who does which step of the work that a design holds: for the sheets, the facts and the page alike. Pure."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from plangen.model.design import WORK_STEPS, Contractor, Design
from plangen.text.source import Span

# What the steps of the work are called where they are printed.
STEP_NAMES = {
    "design": "Design of the plan",
    "tap": "Tap on the service",
    "isolation": "Isolation valve",
    "assembly": "Backflow assembly",
    "irrigation": "Piping, valves and heads",
    "wiring": "Control wiring",
    "testing": "Test of the assembly",
}
_CHANGED = ("new", "relocated")
_TESTABLE = ("pvb", "svb", "rp", "dc")


@dataclass(frozen=True, slots=True)
class Doer:
    """Somebody who does a step; `trades` is empty where no trade is stated."""

    name: str
    trades: tuple[str, ...]
    licence: str
    expires: datetime.date | None
    span: Span


def steps_of(design: Design) -> frozenset[str]:
    """Return the steps of the work that a design holds: what is there already needs nobody."""
    changed = {d.kind for d in design.devices if d.state in _CHANGED}
    found = {"design"} | (changed & {"tap", "isolation", "assembly"})
    states = [x.state for x in design.heads] + [x.state for x in design.drips]
    states += [p.state for p in design.pipes if p.role in ("lateral", "mainline")]
    if "valve" in changed or any(state in _CHANGED for state in states):
        found.add("irrigation")
    if design.control is not None and design.control.state in _CHANGED:
        found.add("wiring")
    if any(d.state != "removed" and d.assembly_kind in _TESTABLE for d in design.devices_of("assembly")):
        found.add("testing")
    return frozenset(found)


def doers_of(design: Design, step: str) -> tuple[Doer, ...]:
    """Return who does a step: the contractors named for it, and the preparer for the design."""
    found = [_doer(c) for c in design.project.contractors if step in c.steps]
    preparer = design.project.preparer
    if step == "design" and preparer is not None and not any(d.name == preparer.name for d in found):
        span = design.project.span
        found.append(Doer(preparer.name, (), preparer.licence, preparer.licence_expires, span))
    return tuple(found)


def _doer(contractor: Contractor) -> Doer:
    return Doer(
        contractor.name,
        (contractor.trade,),
        contractor.licence,
        contractor.licence_expires,
        contractor.span,
    )


def steps_in_order(design: Design) -> tuple[str, ...]:
    """Return the steps of the work that a design holds, in the order in which they are done."""
    held = steps_of(design)
    return tuple(step for step in WORK_STEPS if step in held)
