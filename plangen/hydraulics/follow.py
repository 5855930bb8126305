"""Follows what each number of a solved case rests on: what moves it when moved a little, and nothing else.

Along the water, as it was solved. A pressure rests on what holds it at its anchor and on the loss of each
link on the way; a loss on the link and on the flow; a flow on every draw behind it. An outlet that gives the
same at any pressure, such as a regulated nozzle at work, passes on nothing of what is before it; neither
does a regulator at work. That it is at work is a condition, not an input.
"""

from __future__ import annotations

from collections.abc import Iterable

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.basis import Basis
from plangen.hydraulics.element_inputs import (
    IDLE_M3S,
    bridge_inputs,
    elevation_inputs,
    joint_inputs,
    leg_inputs,
    loss_inputs,
    outlet_inputs,
)
from plangen.hydraulics.islands import Island, islands
from plangen.hydraulics.network import REGULATING, LinkResult, NodeResult, Solution
from plangen.hydraulics.results import Input

_MOST_ROUNDS = 40


class _Register:
    """Numbers the inputs of a case; equal inputs get one number."""

    def __init__(self) -> None:
        self.numbers: dict[Input, int] = {}

    def mask(self, inputs: Iterable[Input]) -> int:
        found = 0
        for each in inputs:
            found |= 1 << self.numbers.setdefault(each, len(self.numbers))
        return found


def basis_of(ready: Assembly, solution: Solution) -> Basis:
    """Return what each number of a solution rests on."""
    register = _Register()
    nodes = {n.node.id: n for n in solution.nodes}
    links = {r.link.id: r for r in solution.links}
    levels = {n: register.mask(_level_inputs(ready, n)) for n in nodes}
    follow = _Follow(ready, register, nodes, links, levels)
    found = islands(solution, ready.supply.node)
    for _ in range(_MOST_ROUNDS):
        before = dict(follow.draws)
        for island in reversed(found):
            follow.island(island)
        if follow.draws == before:
            break
    follow.open_up(found)
    # What no anchor reaches, and a mesh that two anchors hold at once, may rest on anything of the case.
    everything = (1 << len(register.numbers)) - 1
    held = {i.regulator for i in found}
    doubly = any(r.state == REGULATING and k not in held for k, r in links.items())
    loose = nodes if doubly else [n for n in nodes if n not in follow.heads]
    for table in (follow.heads, follow.spares):
        table.update(dict.fromkeys(loose, everything))
    return Basis(tuple(register.numbers), follow.heads, levels, follow.draws, follow.flows, follow.spares)


def _level_inputs(ready: Assembly, node: str) -> tuple[Input, ...]:
    place = ready.wiring.places[node]
    return (*ready.surface.inputs(place.point), *elevation_inputs(place, ready.wiring, ready.design))


class _Follow:
    """Follows what each number rests on, island by island, until nothing is added."""

    def __init__(
        self,
        ready: Assembly,
        register: _Register,
        nodes: dict[str, NodeResult],
        links: dict[str, LinkResult],
        levels: dict[str, int],
    ) -> None:
        self.ready, self.register, self.links, self.levels = ready, register, links, levels
        self.losses = {k: register.mask(self._loss(r)) for k, r in links.items()}
        self.heads: dict[str, int] = {}
        self.ways: dict[str, int] = {}  # heads without what their anchor rests on
        self.spares: dict[str, int] = {}
        self.flows: dict[str, int] = {}
        self.draws: dict[str, int] = {}
        self.soft: set[str] = set()
        for node, result in nodes.items():
            self._own_draw(node, result)
        self.laws = dict(self.draws)

    def _own_draw(self, node: str, result: NodeResult) -> None:
        tapping = self.ready.wiring.tappings.get(node)
        if tapping is not None:
            inputs, moves = outlet_inputs(tapping, result.pressure_m)
            self.draws[node] = self.register.mask(inputs)
            if moves:
                self.soft.add(node)
        house = self.ready.design.house
        if house is not None and house.name == node:
            self.draws[node] = self.register.mask(self.ready.house_inputs)

    def _loss(self, result: LinkResult) -> tuple[Input, ...]:
        wiring, link = self.ready.wiring, result.link
        idle = abs(result.flow_m3s) < IDLE_M3S
        if link.id in wiring.legs:
            return () if idle else leg_inputs(wiring.legs[link.id], wiring, fittings=link.minor_k > 0)
        if link.id in wiring.tappings:
            return () if idle else joint_inputs(wiring.tappings[link.id])
        return bridge_inputs(wiring.bridges[link.id], link, result, wiring)

    def island(self, island: Island) -> None:
        """Add what the heads and flows of one island rest on."""
        behind, at_node = self._behind(island)
        total = behind[0]
        anchor = self._anchor(island, total)
        for number, knot in enumerate(island.knots):
            loop = 0
            if knot.links:
                for link in knot.links:
                    loop |= self.losses[link]
                for node in knot.nodes:
                    loop |= at_node[node] if node != knot.entry else 0
                self.flows.update(dict.fromkeys(knot.links, loop))
            way = 0
            if knot.parent:
                way = self.ways[knot.above] | self.losses[knot.parent] | behind[number]
                self.flows[knot.parent] = behind[number]
            for node in knot.nodes:
                self.ways[node] = way | (loop if node != knot.entry else 0)
                self.heads[node] = anchor | self.ways[node]
                if node in self.soft:
                    self.draws[node] = self.laws[node] | self.heads[node] | self.levels[node]

    def _behind(self, island: Island) -> tuple[list[int], dict[str, int]]:
        """Return what the draws behind each knot rest on, and those at each node and behind it."""
        at_node = {n: self.draws.get(n, 0) for k in island.knots for n in k.nodes}
        for link, result in self.links.items():
            if result.link.start in at_node and result.state == REGULATING:
                at_node[result.link.start] |= self.flows.get(link, 0)
        behind = [0] * len(island.knots)
        for number in range(len(island.knots) - 1, -1, -1):
            knot = island.knots[number]
            for node in knot.nodes:
                behind[number] |= at_node[node]
            if knot.above:
                at_node[knot.above] |= behind[number]
        return behind, at_node

    def _anchor(self, island: Island, drawn: int) -> int:
        if island.regulator:
            self.flows[island.regulator] = drawn
            return self.losses[island.regulator] | self.levels[island.anchor]
        supply = self.ready.supply
        held = self.register.mask(supply.inputs)
        # Where the main's pressure falls with flow, whatever is drawn moves it.
        return held | drawn if supply.curve else held

    def open_up(self, found: tuple[Island, ...]) -> None:
        """Add the heads as they would be with regulators open: what the spare over a need counts."""
        anchors: dict[str, int] = {}
        for island in found:
            if not island.regulator or self.links[island.regulator].link.free_surface:
                anchors[island.anchor] = self.heads[island.anchor]
            else:
                result = self.links[island.regulator]
                bridge = self.ready.wiring.bridges[island.regulator]
                flow = abs(result.flow_m3s)
                loss = self.register.mask(loss_inputs(bridge, result.link, flow, self.ready.wiring))
                before = self.spares[result.link.start]
                anchors[island.anchor] = before | loss | self.flows[island.regulator]
            for knot in island.knots:
                for node in knot.nodes:
                    self.spares[node] = anchors[island.anchor] | self.ways[node]
