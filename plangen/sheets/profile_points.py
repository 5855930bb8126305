"""The points of a pressure profile: one for the source and one after each component of the budget.

Takes a design and a solved case, returns distances, pressures and elevations in metres. Each pressure is
the budget's own; nothing is worked out again.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.network import Solution
from plangen.hydraulics.results import BudgetLine, CaseResult
from plangen.hydraulics.wiring import wire
from plangen.model.design import Design
from plangen.terrain.surface import Surface


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """A place on the way: `number` is the budget's line number, 0 the source.

    `distance_m` runs along the pipe in plan, so that what rises upright stands upright; `ground_m` is the
    finished grade there, None where it is not known.
    """

    number: int
    name: str
    node: str
    distance_m: float
    pressure_m: float
    elevation_m: float | None
    ground_m: float | None


def profile_points(design: Design, surface: Surface, case: CaseResult) -> tuple[ProfilePoint, ...]:
    """Return the profile of a case from its source to its worst outlet; empty without a budget."""
    budget = case.budget
    if budget is None:
        return ()
    node = budget.source_node
    levels = _levels(case)
    wiring = wire(design)
    joints = wiring.places

    def ground_at(name: str) -> float | None:
        joint = joints.get(name)
        return None if joint is None else surface.elevation_m(joint.point)

    ground = ground_at(node)
    out = [ProfilePoint(0, node, node, 0.0, budget.source_pressure_m, levels[0], ground)]
    distance = 0.0
    for number, line in enumerate(budget.lines, start=1):
        leg = wiring.legs.get(line.id)
        distance += leg.length_m if leg is not None else 0.0
        # a line without a link (the gauge above a buried main) ends where it began on the ground
        node = _end_node(case.solution, line) or node
        ground = ground_at(node)
        name = line.object or line.id
        pressure = line.pressure_after_m
        out.append(ProfilePoint(number, name, node, distance, pressure, levels[number], ground))
    return tuple(out)


def _levels(case: CaseResult) -> tuple[float | None, ...]:
    """Return the elevation before the first and after each line, reckoned back from the outlet's own."""
    assert case.budget is not None
    lines = case.budget.lines
    nodes = {o.name: o.node for o in case.outlets}
    outlet = case.budget.outlet
    level = node_elevation(case.solution, nodes.get(outlet, outlet))
    if level is None:
        return (None,) * (len(lines) + 1)
    out = [level]
    for line in reversed(lines):
        level -= line.rise_m
        out.append(level)
    return tuple(reversed(out))


def node_elevation(solution: Solution, node: str) -> float | None:
    """Return the elevation of a node of a solved case, or None if the case has no such node."""
    return next((n.node.elevation_m for n in solution.nodes if n.node.id == node), None)


def _end_node(solution: Solution, line: BudgetLine) -> str:
    """Return the node where the water leaves a component, or an empty name."""
    for result in solution.links:
        if result.link.id == line.id:
            return result.link.end if result.flow_m3s >= 0 else result.link.start
    return ""
