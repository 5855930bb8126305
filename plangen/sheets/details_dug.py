"""What a design says of all its trenches, in words and metres for their sections."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.model.design import Design
from plangen.quantity.quantity import Quantity
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, Section
from plangen.sheets.marks import Group, Line
from plangen.sheets.panel import AnyMark

_HALF_M = 0.15  # half of the drawn width where none is stated: a picture only, lettered as not stated
_BED_M = 0.08


@dataclass(frozen=True, slots=True)
class Dug:
    """Half the width, the bedding and the tape's height over the pipe as drawn, and the words for each."""

    half_m: float
    bed_m: float
    tape_m: float | None
    width: str
    bedding: str
    tape: str


def dug(design: Design) -> Dug:
    """Return what holds for every trench of a design; what is not stated says so."""
    figures, words = dict(design.procedure_facts), dict(design.procedure_words)
    width, bedding, over = (figures.get(name) for name in ("trench width", "bedding", "warning tape"))
    tape, tracer = words.get("warning tape"), words.get("tracer wire")
    kind = words.get("bedding")
    bed = f"BEDDING {bedding.written}" if bedding else f"BEDDING, DEPTH {NOT_STATED}"
    above = f", {over.written} ABOVE PIPE" if over else ""
    return Dug(
        width.si / 2.0 if width else _HALF_M,
        bedding.si if bedding else _BED_M,
        over.si if over and tape else None,
        f"TRENCH WIDTH {width.written if width else NOT_STATED}",
        f"{bed}, {kind}" if bedding and kind else bed,
        f"TAPE, TRACER {NOT_STATED}"
        if not tape and not tracer
        else f"TAPE {tape or NOT_STATED}{above}; TRACER {tracer or NOT_STATED}",
    )


def over_pipe(
    work: Dug, cover: Quantity | None, s: Section, floor: float, taken_m: Sequence[float]
) -> tuple[tuple[AnyMark, ...], Label]:
    """Return the tape over a pipe where both heights are stated, and the label of tape and tracer.

    Where no tape is drawn the label points into the backfill, off the depths `taken_m` of frost and wire:
    else it would seem to name them.
    """
    if work.tape_m is None or cover is None or work.tape_m >= cover.si:
        shares = (0.45, 0.38, 0.52)
        share = max(shares, key=lambda f: min(0.04, *(abs(-floor * f - depth) for depth in taken_m)))
        return (), Label(s.at(work.half_m * 0.3, floor * share), work.tape)
    x, y = s.at(work.half_m * 0.5, work.tape_m - cover.si)
    strip = Line(((s.at(-work.half_m * 0.5, 0)[0], y), (x, y)), "medium-dash")
    return (Group("tape", (strip,), title="Warning tape"),), Label((x, y), work.tape)
