"""Who lies up- and downstream of whom: the water path as a directed graph of names. Places play no part.

Water runs as the author wrote the pipes. What is `removed` carries no water.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from itertools import pairwise

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe


@dataclass(frozen=True, slots=True)
class FlowPath:
    """Edges between named places. `ahead` and `behind` map a name to its neighbours and the pipe between."""

    source: str
    ahead: dict[str, tuple[tuple[str, str], ...]]
    behind: dict[str, tuple[tuple[str, str], ...]]
    devices: dict[str, Device]
    pipes: dict[str, Pipe]
    reached_from_source: frozenset[str] = frozenset()
    # what water reaches past no device of some kinds: worked out once for each set of kinds
    _open: dict[tuple[str, ...], frozenset[str]] = field(default_factory=dict, repr=False, compare=False)

    @staticmethod
    def of(design: Design) -> FlowPath:
        """Return the water path of a design."""
        pipes = {p.name: p for p in design.pipes if p.state != "removed"}
        devices = {d.name: d for d in design.devices if d.state != "removed"}
        ahead: dict[str, list[tuple[str, str]]] = {}
        behind: dict[str, list[tuple[str, str]]] = {}
        for pipe in pipes.values():
            for start, end in _steps(pipe):
                ahead.setdefault(start, []).append((end, pipe.name))
                behind.setdefault(end, []).append((start, pipe.name))
        source = design.source.name if design.source else ""
        path = FlowPath(
            source,
            {k: tuple(v) for k, v in ahead.items()},
            {k: tuple(v) for k, v in behind.items()},
            devices,
            pipes,
        )
        return replace(path, reached_from_source=path.reached((source,)) if source else frozenset())

    def reached(self, starts: Iterable[str], avoiding: frozenset[str] = frozenset()) -> frozenset[str]:
        """Return the names that water from `starts` gets to without passing a name of `avoiding`.

        The starts are among them; a name of `avoiding` is reached but not passed.
        """
        seen: set[str] = set()
        todo = list(starts)
        while todo:
            name = todo.pop()
            if name in seen:
                continue
            seen.add(name)
            if name not in avoiding:
                todo.extend(end for end, _ in self.ahead.get(name, ()))
        return frozenset(seen)

    def downstream(self, name: str) -> frozenset[str]:
        """Return the names below a place, itself left out."""
        return self.reached(end for end, _ in self.ahead.get(name, ())) - {name}

    def upstream(self, name: str) -> frozenset[str]:
        """Return the names above a place, itself left out."""
        seen: set[str] = set()
        todo = [start for start, _ in self.behind.get(name, ())]
        while todo:
            at = todo.pop()
            if at not in seen:
                seen.add(at)
                todo.extend(start for start, _ in self.behind.get(at, ()))
        return frozenset(seen) - {name}

    def open_way(self, start: str, goal: str, kinds: tuple[str, ...]) -> bool:
        """Return whether water gets from `start` to `goal` without passing a device of these kinds.

        The goal itself does not count as passed. A goal that no water reaches has no open way.
        """
        return goal in self.reached((start,), self.of_kinds(kinds))

    def guarded(self, goal: str, kinds: tuple[str, ...]) -> bool | None:
        """Return whether every way from the source to `goal` passes such a device; None without a way."""
        if goal not in self.reached_from_source:
            return None
        if kinds not in self._open:
            self._open[kinds] = self.reached((self.source,), self.of_kinds(kinds))
        return goal not in self._open[kinds]

    def of_kinds(self, kinds: tuple[str, ...]) -> frozenset[str]:
        """Return the names of the devices of some kinds."""
        return frozenset(n for n, d in self.devices.items() if d.kind in kinds)

    def feeding_pipes(self, name: str) -> tuple[Pipe, ...]:
        """Return the pipes that end at a place, in the order of names."""
        return tuple(self.pipes[p] for p in sorted({p for _, p in self.behind.get(name, ())}))

    def pipe_start(self, pipe: Pipe) -> str:
        """Return the first named place of a pipe."""
        return next((s.node for s in pipe.route if s.node), "")


def _steps(pipe: Pipe) -> list[tuple[str, str]]:
    """Return the pairs of named places a pipe joins, in flow order."""
    names = [s.node for s in pipe.route if s.node]
    return list(pairwise(names))
