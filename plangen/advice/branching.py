"""Where the laterals of a zone could be cut in two: every stretch with outlets on both its sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.advice.choice import Cut
from plangen.geometry.point import Point, distance
from plangen.model.design import Design
from plangen.model.waterworks import Device, DripArea, Head, Pipe, Stop, Zone

_SAME_M = 1e-3
# What may stand between a zone's valve and its laterals: a second part of the zone gets another of each.
CHAINED = ("strainer", "regulator")
_Leg = tuple[str, int]  # a pipe, and the number of the stop at which a stretch of it begins


@dataclass(frozen=True, slots=True)
class Divided:
    """What a cut moves: whole pipes, tees and outlets; `way` is the course from the valve to the cut.

    `chain` are the pipes and devices that stand in line behind the valve, before the first lateral.
    """

    cut: Cut
    pipes: tuple[str, ...]
    tees: tuple[str, ...]
    outlets: tuple[str, ...]
    way: tuple[Point, ...]  # the old valve, or the last device in line behind it, left out
    chain: tuple[tuple[Pipe, Device], ...] = ()


def divisions(design: Design, zone: Zone) -> tuple[Divided, ...] | str:
    """Return every way to divide a zone by one cut, or why it is not divided here."""
    every = [p for p in design.pipes if p.zone == zone.name and p.state != "removed"]
    inside = [d for d in design.devices if d.zone == zone.name and d.state != "removed"]
    chain = _chain(zone.valve, every, inside)
    chained = {p.name for p, _ in chain}
    pipes = [p for p in every if p.name not in chained]
    line = {d.name for _, d in chain}
    if any(d.kind not in ("tee", "valve") and d.name not in line for d in inside) or any(
        p.role != "lateral" for p in pipes
    ):
        return "devices or other pipes stand behind its valve"
    if any(p.state != "new" for p in every) or any(d.state != "new" for d in inside):
        return "it is not all new"
    everywhere: tuple[Head | DripArea, ...] = (*design.heads, *design.drips)
    outlets = [o for o in everywhere if o.zone == zone.name and o.state != "removed"]
    tree = _Tree(chain[-1][1].name if chain else zone.valve, pipes)
    if not tree.plain:
        return "its laterals make a ring, or are not written outward from the valve"
    cuts = (Cut(zone.name, p.name, i) for p in pipes for i in range(len(p.route) - 1))
    found = (_divided(cut, tree, outlets, chain) for cut in cuts)
    kept = tuple(d for d in found if d is not None)
    return kept or "there is no stretch of its laterals with outlets on both sides"


def _chain(valve: str, pipes: Sequence[Pipe], devices: Sequence[Device]) -> tuple[tuple[Pipe, Device], ...]:
    """Return the pipes and devices in line behind a valve, each fed by one straight pipe from the last."""
    at = {d.name: d for d in devices if d.kind in CHAINED}
    found: list[tuple[Pipe, Device]] = []
    here = valve
    while True:
        leaving = [p for p in pipes if p.route[0].node == here]
        ahead = at.pop(leaving[0].route[-1].node, None) if len(leaving) == 1 else None
        if ahead is None or len(leaving[0].route) != 2:
            return tuple(found)
        found.append((leaving[0], ahead))
        here = ahead.name


class _Tree:
    """The laterals of a zone as stretches that lead outward from its valve."""

    def __init__(self, valve: str, pipes: Sequence[Pipe]) -> None:
        self.pipes = {p.name: p for p in pipes}
        self.into: dict[str, _Leg] = {}
        self.plain = True
        seen, queue = {valve}, [valve]
        while queue:
            here = queue.pop()
            for pipe in pipes:
                for i, (a, b) in enumerate(pairwise(pipe.route)):
                    if self._end(pipe, i, a) == here:
                        there = self._end(pipe, i + 1, b)
                        self.plain = self.plain and there not in seen
                        seen.add(there)
                        queue.append(there)
                        self.into[there] = (pipe.name, i)
        every = {self._end(p, i, s) for p in pipes for i, s in enumerate(p.route)} | {valve}
        self.plain = self.plain and seen == every

    @staticmethod
    def _end(pipe: Pipe, number: int, stop: Stop) -> str:
        return stop.node or f"{pipe.name} {number}"

    def end(self, leg: _Leg, further: int = 0) -> str:
        """Return the place at which a stretch begins (or, `further` 1, ends)."""
        pipe = self.pipes[leg[0]]
        return self._end(pipe, leg[1] + further, pipe.route[leg[1] + further])

    def point(self, leg: _Leg) -> Point:
        """Return where a stretch begins."""
        return self.pipes[leg[0]].route[leg[1]].point

    def legs(self) -> list[_Leg]:
        """Return all stretches."""
        return [(name, i) for name, p in self.pipes.items() for i in range(len(p.route) - 1)]

    def beyond(self, leg: _Leg) -> set[_Leg]:
        """Return a stretch and all that hangs on it."""
        found, queue = {leg}, [leg]
        while queue:
            end = self.end(queue.pop(), 1)
            for other in self.legs():
                if other not in found and self.end(other) == end:
                    found.add(other)
                    queue.append(other)
        return found

    def way(self, leg: _Leg) -> tuple[Point, ...]:
        """Return the course from the valve, itself left out, to where a stretch begins."""
        points: list[Point] = []
        while (before := self.into.get(self.end(leg))) is not None:
            points.append(self.point(leg))
            leg = before
        return tuple(reversed(points))


def _divided(
    cut: Cut, tree: _Tree, outlets: Sequence[Head | DripArea], chain: tuple[tuple[Pipe, Device], ...]
) -> Divided | None:
    """Return what a cut parts, or None where a side would be without outlets or a list of them is torn."""
    leg = (cut.pipe, cut.after)
    moved = tree.beyond(leg)
    gone = tuple(sorted(o.name for o in outlets if _leg_of(o, tree.pipes) in moved))
    if not gone or len(gone) == len(outlets):
        return None
    whole = tuple(
        sorted(
            n for n, p in tree.pipes.items() if all((n, i) in moved for i in range(len(p.route) - 1))
        )
    )  # fmt: skip
    partly = {n for n, _ in moved} - {*whole, cut.pipe}
    spans = {o.span for o in outlets if o.name in gone} & {o.span for o in outlets if o.name not in gone}
    if partly or spans:
        return None
    ends = {tree.end(m, 1) for m in moved}
    tees = tuple(sorted(e for e in ends if " " not in e))
    return Divided(cut, whole, tees, gone, tree.way(leg), chain)


def _leg_of(outlet: Head | DripArea, pipes: dict[str, Pipe]) -> _Leg:
    """Return the stretch an outlet stands on; one at a vertex belongs to the stretch that leads to it."""
    along, pipe = 0.0, pipes[outlet.pipe]
    for i, (a, b) in enumerate(pairwise(pipe.route)):
        along += distance(a.point, b.point)
        if outlet.along_m <= along + _SAME_M:
            return (outlet.pipe, i)
    return (outlet.pipe, len(pipe.route) - 2)
