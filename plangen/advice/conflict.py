"""A choice worked out, and a conflict: a rule it does not meet with what may mend it. Plain data."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.advice.choice import Change, Choice, Sized
from plangen.advice.judged import Fault
from plangen.hydraulics.results import Hydraulics
from plangen.model.design import Design


@dataclass(frozen=True, slots=True)
class Conflict:
    """A fault with the changes of its own objects, and whether splits and other assemblies may mend it too.

    `least` is at least what its own changes cost, other assemblies left out, and of a pressure how much of it
    lacks in metres; `target` is the size that it cannot do without. `cases` are the zones of the cases that
    nothing but a split mends.
    """

    fault: Fault
    kind: str  # kind, height, class, sleeve, speed, pressure, water
    own: tuple[Change, ...]
    shared: bool
    least: float
    target: Sized | None = None
    zones: tuple[str, ...] | None = None  # whose split may mend it; None: any zone's
    cases: tuple[tuple[str, ...], ...] = ()
    throw: bool = False  # a throw that is not known for want of pressure

    @property
    def mendable(self) -> bool:
        """Return whether any change on offer may mend it."""
        return bool(self.own) or self.shared


@dataclass(frozen=True, slots=True)
class Tried:
    """A choice worked out."""

    choice: Choice
    cost: float
    design: Design
    water: Hydraulics
    faults: tuple[Fault, ...]
