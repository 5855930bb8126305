"""Which pipes carry water to an assembly and which lie behind it: potable side and irrigation side.

Follows the flow by name through route stops. Knows no ground and no paper.
"""

from __future__ import annotations

from collections.abc import Iterable

from plangen.model.design import Design
from plangen.model.waterworks import Pipe


def downstream(design: Design, starts: Iterable[str]) -> frozenset[str]:
    """Return the names of all pipes that water reaches after it leaves some devices."""
    leaving: dict[str, list[Pipe]] = {}
    for pipe in design.pipes:
        if pipe.state != "removed":
            for stop in pipe.route[:-1]:
                if stop.node:
                    leaving.setdefault(stop.node, []).append(pipe)
    waiting, seen, pipes = list(starts), set[str](), set[str]()
    while waiting:
        node = waiting.pop()
        if node in seen:
            continue
        seen.add(node)
        for pipe in leaving.get(node, ()):
            if pipe.name not in pipes:
                pipes.add(pipe.name)
                waiting.extend(stop.node for stop in pipe.route if stop.node)
    return frozenset(pipes)


def in_line(design: Design, name: str) -> tuple[str, ...]:
    """Return what the water passes behind a device, in flow order, up to the first tee or zone valve."""
    found: list[str] = []
    while True:
        after = [p for p in design.pipes if p.state != "removed" and p.route and p.route[0].node == name]
        met = design.device(after[0].route[-1].node) if len(after) == 1 else None
        if met is None or met.name in found or met.kind == "valve":
            return tuple(found)
        found.append(met.name)
        if met.kind == "tee":
            return tuple(found)
        name = met.name


def irrigation_side(design: Design) -> frozenset[str]:
    """Return the pipes behind any assembly that stands in the finished work."""
    return downstream(design, (d.name for d in design.standing("assembly")))


def connection_pipes(design: Design) -> tuple[str, ...]:
    """Return the new pipes between a tap and the assemblies, in the design's order."""
    behind = irrigation_side(design)
    after = downstream(design, (d.name for d in design.devices_of("tap")))
    return tuple(
        p.name for p in design.pipes if p.name in after and p.name not in behind and p.state == "new"
    )


def sides(design: Design) -> dict[str, str]:
    """Return which side of the assembly each pipe lies on, in words for the drawing."""
    behind = irrigation_side(design)
    if not any(d.state != "removed" for d in design.devices_of("assembly")):
        return {p.name: "SIDE NOT STATED: NO ASSEMBLY" for p in design.pipes}
    return {p.name: "IRRIGATION SIDE" if p.name in behind else "POTABLE SIDE" for p in design.pipes}
