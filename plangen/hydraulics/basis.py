"""Which stated values each number of a solved case rests on: the sets, by node and link. Works nothing out.

Sets of values are kept as the bits of a number, which makes joining them cheap.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from plangen.quantity.evidence import Input


@dataclass(frozen=True, slots=True)
class Basis:
    """The inputs behind the numbers of one case, by node and link; `told` turns a set into inputs."""

    inputs: tuple[Input, ...]
    heads: dict[str, int]
    levels: dict[str, int]
    draws: dict[str, int]
    flows: dict[str, int]
    spares: dict[str, int]  # the head if every regulator at work stood open, at the same flows
    _told: dict[int, tuple[Input, ...]] = field(default_factory=dict, repr=False, compare=False)

    def head(self, node: str) -> tuple[Input, ...]:
        """Return what the total head at a node rests on."""
        return self.told(self.heads.get(node, 0))

    def pressure(self, node: str) -> tuple[Input, ...]:
        """Return what the pressure at a node rests on: its head and its elevation."""
        return self.told(self.heads.get(node, 0) | self.levels.get(node, 0))

    def spare(self, node: str) -> tuple[Input, ...]:
        """Return what the pressure at a node rests on if regulators at work gave up what they take."""
        return self.told(self.spares.get(node, 0) | self.levels.get(node, 0))

    def outflow(self, *nodes: str) -> tuple[Input, ...]:
        """Return what the flow out of some nodes rests on."""
        found = 0
        for node in nodes:
            found |= self.draws.get(node, 0)
        return self.told(found)

    def drawn(self) -> tuple[Input, ...]:
        """Return what all that leaves the source rests on."""
        return self.outflow(*self.draws)

    def flow(self, link: str) -> tuple[Input, ...]:
        """Return what the flow through a link rests on."""
        return self.told(self.flows.get(link, 0))

    def all(self) -> tuple[Input, ...]:
        """Return every input that moves some pressure or flow of the case."""
        found = 0
        for table in (self.heads, self.levels, self.draws, self.flows, self.spares):
            for mask in table.values():
                found |= mask
        return self.told(found)

    def told(self, mask: int) -> tuple[Input, ...]:
        """Return the inputs of a set in the order in which they were met."""
        if mask not in self._told:
            self._told[mask] = tuple(i for n, i in enumerate(self.inputs) if mask >> n & 1)
        return self._told[mask]


NO_BASIS = Basis((), {}, {}, {}, {}, {})
