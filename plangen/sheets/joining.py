"""How the new pipe of a design is joined, by its material: cemented, fused, clamped, soldered or otherwise.

A step or note about cement on a job of polyethylene pipe would be wrong work: cement does not hold on it.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.layout.materials import material_of
from plangen.model.design import Design
from plangen.model.waterworks import Pipe


@dataclass(frozen=True, slots=True)
class Joining:
    """One way of joining: what is done, what can hurt, what it rests on."""

    way: str
    work: tuple[str, ...]
    caution: str
    source: str


_CEMENT = Joining(
    "cement",
    (
        "Cut square, deburr, clean and dry; primer and cement of the pipe's own standard, both surfaces,"
        " joined while wet and held.",
        "Wipe the excess cement from every joint.",
        "Write the hour of the last joint on the hold card. Curing time comes from the cement's label for"
        " the day's temperature, the size and the test pressure; without a label, 24 hours.",
        "Below 40 °F (4 °C) do not cement; after a night below that, wait two days.",
    ),
    "Primer and cement burn and stun: no flame, fresh air in the trench, eye protection, proof gloves."
    " Never pressurise an uncured joint.",
    "ASTM D2855 (joining), F656 (primer), D2564 (cement), F402 (safe handling); cure default from a trade"
    " association column, not a standard",
)
_FUSED = Joining(
    "fusion",
    (
        "PE is never cemented. Fuse it, or use mechanical fittings made for this outside diameter and SDR,"
        " as the maker of the fitting writes.",
        "Cut square; scrape and clean the ends before fusing. A fused joint cools clamped and untouched for"
        " the maker's time.",
        "Push a mechanical fitting to the mark of its depth; stiffener where its maker asks for one.",
    ),
    "Fusion tools burn skin; no flammable gas near. Never pressurise a joint that is still warm.",
    "PE: ASTM F2620 (heat fusion), F1055 (electrofusion); from memory",
)
_CLAMPED = Joining(
    "insert",
    (
        "PE of controlled inside diameter is never cemented: insert fittings with clamps of stainless steel,"
        " two on each end, screws opposite.",
    ),
    "A cut end of hard pipe is sharp; a clamp left loose lets go under pressure.",
    "PE: ASTM D2609 (insert fittings), from memory; two clamps: common practice",
)
_SOLDERED = Joining(
    "solder",
    (
        "Copper: cut with a wheel, ream, clean; solder and flux listed for drinking water, or fittings"
        " pressed or flared as their maker writes.",
    ),
    "Torch: fire watch, no flame near plastic or primer.",
    "copper: ASTM B828; lead free: 42 USC 300g-6; from memory",
)
_OTHER = Joining(
    "other",
    ("Join pipe of any other material with fittings made for it, as their maker writes.",),
    "A joint made in another way than its maker's lets go under pressure.",
    "common practice, no source",
)
_BY_MATERIAL = {"PVC": _CEMENT, "CPVC": _CEMENT, "PE": _FUSED, "copper": _SOLDERED}


def new_pipes(design: Design) -> tuple[Pipe, ...]:
    """Return the pipes whose joints are made in this work."""
    return tuple(p for p in design.pipes if p.state in ("new", "relocated"))


def joinings(design: Design) -> tuple[Joining, ...]:
    """Return each way in which the new pipe of a design is joined, cement first; none without new pipe."""
    found = {_joining(p.size.family) for p in new_pipes(design)}
    return tuple(j for j in (_CEMENT, _FUSED, _CLAMPED, _SOLDERED, _OTHER) if j in found)


def cemented(design: Design) -> bool:
    """Return whether new pipe is joined with cement, which is also taken where no new pipe says otherwise."""
    found = joinings(design)
    return not found or _CEMENT in found


def _joining(family: str) -> Joining:
    if family.startswith("pe-sidr"):
        return _CLAMPED
    return _BY_MATERIAL.get(material_of(family), _OTHER)
