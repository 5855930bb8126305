"""The trench of each new pipe: length, depth to the floor, volume. Each pipe is counted on its own.

Where no width is stated it is 6 in (0.15 m): common practice for a trencher or a narrow spade, no source.
Pipes that share a trench are not merged, so the sum is on the safe side. Under paving the pipe is bored or
sleeved: no open trench.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from plangen.layout.flow_path import route_length_m
from plangen.layout.results import Crossing, Trench
from plangen.model.design import Design
from plangen.quantity.dimension import INCH_M

WIDTH_M = 6 * INCH_M


def measure_trenches(design: Design, crossings: Sequence[Crossing]) -> tuple[Trench, ...]:
    """Return the trench of every new buried pipe, in the order of the design."""
    under: dict[str, float] = defaultdict(float)
    for crossing in crossings:
        if crossing.kind != "utility":
            under[crossing.pipe] += crossing.length_m
    stated = {name: quantity.si for name, quantity in design.procedure_facts}
    width, bedding = stated.get("trench width", WIDTH_M), stated.get("bedding", 0.0)
    found = []
    for pipe in design.pipes:
        if pipe.state not in ("new", "relocated") or pipe.above_grade:
            continue
        length = route_length_m(pipe)
        cover = None if pipe.cover is None else pipe.cover.si
        depth = None if cover is None else cover + pipe.size.od_m + bedding
        paved = min(under[pipe.name], length)
        volume = None if depth is None else (length - paved) * depth * width
        found.append(Trench(pipe.name, length, paved, cover, depth, width, volume))
    return tuple(found)
