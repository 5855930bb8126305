"""A choice of changes to a design: which sizes, parts, heights and splits differ from what stands there."""

from __future__ import annotations

from dataclasses import dataclass, replace

# How many choices are worked out before a search is cut off, unless the user says otherwise.
MOST_LOOKS = 400


@dataclass(frozen=True, slots=True, order=True)
class Cut:
    """A zone divided: `pipe` is cut behind its stop number `after`; what lies beyond gets its own valve."""

    zone: str
    pipe: str
    after: int


@dataclass(frozen=True, slots=True, order=True)
class Sized:
    """A pipe or sleeve in another size or class."""

    name: str
    family: str
    nominal: str


@dataclass(frozen=True, slots=True, order=True)
class Fitted:
    """An assembly of another part, which may be of another kind and size."""

    name: str
    part: str


@dataclass(frozen=True, slots=True, order=True)
class Raised:
    """An assembly raised by so many steps over its stated height."""

    name: str
    steps: int


Change = Cut | Sized | Fitted | Raised


@dataclass(frozen=True, slots=True)
class Choice:
    """All changes, each object once, in the order of names: equal choices are equal values."""

    cuts: tuple[Cut, ...] = ()
    sized: tuple[Sized, ...] = ()
    fitted: tuple[Fitted, ...] = ()
    raised: tuple[Raised, ...] = ()

    def having(self, change: Change) -> Choice:
        """Return the choice with a change, in place of an earlier one of the same object."""
        if isinstance(change, Cut):
            cuts = (c for c in self.cuts if c.zone != change.zone)
            return replace(self, cuts=tuple(sorted((*cuts, change))))
        if isinstance(change, Sized):
            sized = (s for s in self.sized if s.name != change.name)
            return replace(self, sized=tuple(sorted((*sized, change))))
        if isinstance(change, Fitted):
            fitted = (f for f in self.fitted if f.name != change.name)
            return replace(self, fitted=tuple(sorted((*fitted, change))))
        raised = (r for r in self.raised if r.name != change.name)
        return replace(self, raised=tuple(sorted((*raised, change))))

    def without(self, change: Change) -> Choice:
        """Return the choice without one of its changes."""
        left = Choice()
        for other in self.changes:
            left = left if other == change else left.having(other)
        return left

    @property
    def changes(self) -> tuple[Change, ...]:
        """Return the changes one by one: splits first, since sizes are laid over them."""
        return (*self.cuts, *self.fitted, *self.raised, *self.sized)

    def size_of(self, name: str) -> Sized | None:
        """Return the size chosen for a pipe or sleeve, or None where it stays."""
        return next((s for s in self.sized if s.name == name), None)


NOTHING = Choice()
