"""Sparse symmetric elimination (L D L transposed) for networks. Leaves go first, so a tree costs one pass.

In: the pattern once, then values as often as wanted. Out: the solution. No pivoting: the matrices are
positive definite. Order of elimination: least neighbours first, ties by number, so results repeat.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass

# More than one neighbour left: them, the slots of their values, and (position, position, slot) of each pair.
_Many = tuple[tuple[int, ...], tuple[int, ...], tuple[tuple[int, int, int], ...]]
# One pivot: its number, its one neighbour (-1: none) and the slot of their value, or all of `_Many`.
_Row = tuple[int, int, int, _Many | None]


@dataclass(frozen=True, slots=True)
class Elimination:
    """The order of elimination of one pattern. `slots` gives the place of each edge's value."""

    rows: tuple[_Row, ...]
    slots: tuple[int, ...]
    size: int

    @staticmethod
    def of(count: int, edges: list[tuple[int, int]]) -> Elimination:
        """Return the elimination of a graph of `count` nodes; parallel edges share a slot."""
        around: list[dict[int, int]] = [{} for _ in range(count)]
        slots: list[int] = []
        size = 0
        for a, b in edges:
            slot = around[a].get(b)
            if slot is None:
                slot, size = size, size + 1
                around[a][b] = around[b][a] = slot
            slots.append(slot)
        rows, size = _order(around, size)
        return Elimination(tuple(rows), tuple(slots), size)

    def solve(self, diagonal: list[float], off: list[float], right: list[float]) -> list[float]:
        """Return x of A x = right. Overwrites its arguments; `off` must have `size` entries."""
        for pivot, other, slot, many in self.rows:
            if many is not None:
                _eliminate(pivot, many, diagonal, off, right)
            elif other >= 0:
                value = off[slot]
                factor = value / diagonal[pivot]
                diagonal[other] -= factor * value
                right[other] -= factor * right[pivot]
        for pivot, other, slot, many in reversed(self.rows):
            if many is not None:
                total = right[pivot]
                for near, place in zip(many[0], many[1], strict=True):
                    total -= off[place] * right[near]
                right[pivot] = total / diagonal[pivot]
            elif other >= 0:
                right[pivot] = (right[pivot] - off[slot] * right[other]) / diagonal[pivot]
            else:
                right[pivot] /= diagonal[pivot]
        return right


def _eliminate(pivot: int, many: _Many, diagonal: list[float], off: list[float], right: list[float]) -> None:
    others, slots, pairs = many
    d, r = diagonal[pivot], right[pivot]
    for other, slot in zip(others, slots, strict=True):
        factor = off[slot] / d
        diagonal[other] -= factor * off[slot]
        right[other] -= factor * r
    for i, j, slot in pairs:
        off[slot] -= off[slots[i]] * off[slots[j]] / d


def _order(around: list[dict[int, int]], size: int) -> tuple[list[_Row], int]:
    """Strip leaves until none is left, then the core by least degree, adding the fill each pivot causes."""
    rows: list[_Row] = []
    leaves = [node for node, near in enumerate(around) if len(near) <= 1]
    done = [False] * len(around)
    for pivot in leaves:  # grows while it is walked
        near = around[pivot]
        done[pivot] = True
        if not near:
            rows.append((pivot, -1, -1, None))
            continue
        other, slot = next(iter(near.items()))
        rows.append((pivot, other, slot, None))
        left = around[other]
        del left[pivot]
        if len(left) == 1 and not done[other]:
            leaves.append(other)
    heap = [(len(near), node) for node, near in enumerate(around) if not done[node]]
    heapq.heapify(heap)
    while heap:
        degree, pivot = heapq.heappop(heap)
        near = around[pivot]
        if done[pivot] or degree != len(near):
            continue
        done[pivot] = True
        others = tuple(sorted(near))
        pairs, size = _join(around, pivot, others, size)
        for other in others:
            heapq.heappush(heap, (len(around[other]), other))
        rows.append((pivot, -1, -1, (others, tuple(near[o] for o in others), pairs)))
    return rows, size


def _join(
    around: list[dict[int, int]], pivot: int, others: tuple[int, ...], size: int
) -> tuple[tuple[tuple[int, int, int], ...], int]:
    """Take a pivot out and join its neighbours to each other; return their pairs and the slots now used."""
    for other in others:
        del around[other][pivot]
    pairs: list[tuple[int, int, int]] = []
    for i, a in enumerate(others):
        for j in range(i + 1, len(others)):
            b = others[j]
            if b not in around[a]:
                around[a][b] = around[b][a] = size
                size += 1
            pairs.append((i, j, around[a][b]))
    return tuple(pairs), size
