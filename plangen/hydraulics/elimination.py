"""Sparse symmetric elimination (L D L transposed) for networks. Leaves go first, so a tree costs one pass.

In: the pattern once, then values as often as wanted. Out: the solution. No pivoting: the matrices are
positive definite. Order of elimination: least neighbours first, ties by number, so results repeat.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass

# One pivot: its number, its neighbours left, the slots of their off-diagonal values, and for each pair of
# neighbours (position, position, slot of the pair).
_Row = tuple[int, tuple[int, ...], tuple[int, ...], tuple[tuple[int, int, int], ...]]


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
        for pivot, others, slots, pairs in self.rows:
            if len(others) == 1:
                value, other = off[slots[0]], others[0]
                factor = value / diagonal[pivot]
                diagonal[other] -= factor * value
                right[other] -= factor * right[pivot]
                continue
            d, r = diagonal[pivot], right[pivot]
            for other, slot in zip(others, slots, strict=True):
                factor = off[slot] / d
                diagonal[other] -= factor * off[slot]
                right[other] -= factor * r
            for i, j, slot in pairs:
                off[slot] -= off[slots[i]] * off[slots[j]] / d
        for pivot, others, slots, _ in reversed(self.rows):
            total = right[pivot]
            for other, slot in zip(others, slots, strict=True):
                total -= off[slot] * right[other]
            right[pivot] = total / diagonal[pivot]
        return right


def _order(around: list[dict[int, int]], size: int) -> tuple[list[_Row], int]:
    """Eliminate the node of least degree until none is left, adding the fill each one causes."""
    heap = [(len(near), node) for node, near in enumerate(around)]
    heapq.heapify(heap)
    done = [False] * len(around)
    rows: list[_Row] = []
    while heap:
        degree, pivot = heapq.heappop(heap)
        near = around[pivot]
        if done[pivot] or degree != len(near):
            continue
        done[pivot] = True
        others = tuple(sorted(near))
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
        for other in others:
            heapq.heappush(heap, (len(around[other]), other))
        rows.append((pivot, others, tuple(near[o] for o in others), tuple(pairs)))
    return rows, size
