"""The sleeves of a divided zone: the new lateral follows the old trench and needs one wherever that has one.

A sleeve whose own pipe no longer passes under the paving, since that part of it now is the new lateral's,
goes with it; where both pass, the new lateral gets another like it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.advice.branching import Divided
from plangen.geometry.clip import pieces_inside
from plangen.geometry.point import Point
from plangen.model.design import Design
from plangen.model.waterworks import Sleeve


@dataclass(frozen=True, slots=True)
class Sleeved:
    """A sleeve that the new lateral takes over, or gets another like: then `under_m` is its least length."""

    sleeve: Sleeve
    taken: bool
    under_m: float


def sleeves_of(design: Design, divided: Divided) -> tuple[Sleeved, ...]:
    """Return the sleeves of the new lateral, one for each paving, wall or building that has one now."""
    cut = divided.cut
    pipe = design.pipe(cut.pipe)
    if pipe is None:
        return ()
    course = [s.point for s in pipe.route]
    kept, beyond = course[: cut.after + 1], course[cut.after :]
    pipes = {p.name for p in design.pipes if p.zone == cut.zone and p.name not in divided.pipes}
    whole = cut.pipe in divided.pipes
    has = {s.under for s in design.sleeves if whole and s.pipe == cut.pipe}
    found: dict[str, Sleeved] = {}
    for sleeve in sorted(design.sleeves, key=lambda s: s.pipe != cut.pipe):
        if sleeve.pipe not in pipes or sleeve.state == "removed" or sleeve.under in has:
            continue
        extends = 2.0 * (sleeve.extends.si if sleeve.extends is not None else 0.0)
        under = _under_m(design, sleeve, divided.way) + _under_m(design, sleeve, beyond)
        if under > 0.0:
            own = sleeve.pipe == cut.pipe and not whole
            taken = own and _under_m(design, sleeve, kept) == 0.0
            found.setdefault(sleeve.under, Sleeved(sleeve, taken, under + extends))
    return tuple(found.values())


def _under_m(design: Design, sleeve: Sleeve, course: Sequence[Point]) -> float:
    """Return how much of a course lies under what a sleeve passes under."""
    area = design.area(sleeve.under)
    if area is None or len(course) < 2:
        return 0.0
    return sum(p.length_m for p in pieces_inside(course, area.outline))
