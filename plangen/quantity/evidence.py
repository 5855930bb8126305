"""A stated value that reached a result. Kept low in the layers: ground, water and rules name it alike."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.quantity.quantity import Basis, Provenance, Quantity
from plangen.text.source import Span

_RANK = {basis: rank for rank, basis in enumerate(Basis)}


@dataclass(frozen=True, slots=True)
class Input:
    """A stated value that reached a result: what it is called, how it was written, why it is believed."""

    name: str
    written: str
    provenance: Provenance
    span: Span | None = None

    def __hash__(self) -> int:
        """Return a hash of the name and the words: sets of inputs are joined by the thousand, and no two of
        a design that say the same differ only in their place.
        """
        return hash((self.name, self.written))


def named(quantity: Quantity, name: str) -> Input:
    """Return a quantity as an input of that name."""
    return Input(name, quantity.written, quantity.provenance, quantity.span)


def together(name: str, written: str, *quantities: Quantity) -> Input:
    """Return quantities that are only ever used together as one input, believed as its weakest is."""
    weakest = max((q.provenance for q in quantities), key=lambda p: _RANK[p.basis])
    return Input(name, written, weakest, next((q.span for q in quantities if q.span is not None), None))
