"""A stated value that reached a result. Kept low in the layers: ground, water and rules name it alike."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.quantity.quantity import Provenance
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Input:
    """A stated value that reached a result: what it is called, how it was written, why it is believed."""

    name: str
    written: str
    provenance: Provenance
    span: Span | None = None
