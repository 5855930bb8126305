"""Views lettered until they are clean, as far as a few rounds bring it: no label lost, no leaders that cross.

The more often a label was in trouble, the earlier it gets its place in the next round; the best round counts.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from plangen.sheets.canvas import Canvas


@dataclass(frozen=True, slots=True)
class Order:
    """Objects that are lettered before all others, and how many faults make a round not worth finishing."""

    first: tuple[str, ...] = ()
    hopeless: float = math.inf


Task = tuple[str, Callable[[], None]]  # the object, and what places its label
Drawn = TypeVar("Drawn")
_ROUNDS = 10
_MANY, _FEW_ROUNDS = 300, 2  # a view of so many labels takes long to letter: fewer rounds
_MORE_ROUNDS = 1  # for the sake of labels that stand far off


def faults(canvas: Canvas) -> int:
    """Return how far from clean a view is: a label lost is worst, then leaders that cross, then long ones."""
    return 9 * len(canvas.lost) + 3 * len(canvas.crossing) + len(canvas.far)


def untangled(
    draw: Callable[[Order], Drawn], canvas_of: Callable[[Drawn], Canvas], first: Drawn | None = None
) -> Drawn:
    """Return the cleanest of a few rounds of `draw`, which letters the objects it is given before others.

    `first` is the round that is there already, drawn with no object given.
    """
    trouble: Counter[str] = Counter()
    best = now = draw(Order()) if first is None else first
    order: list[str] = []
    clean = 0
    many = len(canvas_of(best).label_boxes) > _MANY
    for _ in range(_FEW_ROUNDS if many else _ROUNDS):
        canvas, before = canvas_of(now), order
        lost = [want.object for want in canvas.lost]
        # labels that stand far off only count once nothing worse is left
        for name in (*lost, *lost, *canvas.crossing) or canvas.far:
            trouble[name] += 1
        order = sorted(trouble, key=lambda name: (-trouble[name], name))
        clean += not lost and not canvas.crossing
        if not faults(canvas) or order == before or clean > _MORE_ROUNDS:
            break
        now = draw(Order(tuple(order), faults(canvas_of(best))))
        best = min(best, now, key=lambda drawn: faults(canvas_of(drawn)))
    return best


def letter_in_order(canvas: Canvas, todo: Iterable[Task], order: Order) -> None:
    """Place labels, those named first before all others; stop where the view cannot become the best."""
    rank = {name: i for i, name in enumerate(order.first)}
    for _, letter in sorted(todo, key=lambda task: rank.get(task[0], len(rank))):
        letter()
        if faults(canvas) >= order.hopeless:
            return
