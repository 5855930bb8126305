"""Which pipes carry water to an assembly and which lie behind it: potable side and irrigation side.

Follows the flow by name through route stops. Knows no ground and no paper.
"""

from __future__ import annotations

from plangen.model.design import Design


def downstream(design: Design, start: str) -> frozenset[str]:
    """Return the names of all pipes that water reaches after it leaves a device."""
    nodes, pipes = {start}, set[str]()
    grown = True
    while grown:
        grown = False
        for pipe in design.pipes:
            if pipe.name in pipes or pipe.state == "removed":
                continue
            stops = [stop.node for stop in pipe.route]
            if any(node and node in nodes for node in stops[:-1]):
                pipes.add(pipe.name)
                nodes.update(node for node in stops if node)
                grown = True
    return frozenset(pipes)


def irrigation_side(design: Design) -> frozenset[str]:
    """Return the pipes behind any assembly that stands in the finished work."""
    names: set[str] = set()
    for device in design.devices_of("assembly"):
        if device.state != "removed":
            names |= downstream(design, device.name)
    return frozenset(names)


def connection_pipes(design: Design) -> tuple[str, ...]:
    """Return the new pipes between a tap and the assemblies, in the design's order."""
    behind = irrigation_side(design)
    after = frozenset[str]().union(*(downstream(design, d.name) for d in design.devices_of("tap")))
    return tuple(
        p.name for p in design.pipes if p.name in after and p.name not in behind and p.state == "new"
    )


def side_words(design: Design, pipe: str) -> str:
    """Return which side of the assembly a pipe lies on, in words for the drawing."""
    if not any(d.state != "removed" for d in design.devices_of("assembly")):
        return "SIDE NOT STATED: NO ASSEMBLY"
    return "IRRIGATION SIDE" if pipe in irrigation_side(design) else "POTABLE SIDE"
