"""Adds up takeoff lines: counts by item and size, lengths with waste, in the project's units."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from plangen.layout.materials import WASTE, WASTE_NOTE
from plangen.layout.results import TakeoffLine
from plangen.quantity.dimension import UNITS


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to count or measure before it is added up. `amount` is a count or SI."""

    group: str
    item: str
    size: str
    amount: float
    objects: tuple[str, ...]
    note: str = ""


def size_order(size: str) -> tuple[tuple[float, ...], str]:
    """Return a sort key that puts sizes largest first: `1-1/4 in` before `1 in` before `3/4 in`."""
    numbers = []
    for part in size.split(" x "):
        total = 0.0
        for word in part.split(" ")[0].split("-"):
            over, _, under = word.partition("/")
            try:
                total += float(over) / (float(under) if under else 1.0)
            except ValueError:
                return ((), size)
        numbers.append(-total)
    return tuple(numbers), size


def counted(items: Iterable[Item]) -> tuple[TakeoffLine, ...]:
    """Return one `each` line for each item and size, with the objects it stands for."""
    return tuple(
        TakeoffLine(group, item, size, amount, "each", amount, note, objects)
        for (group, item, size), amount, note, objects in _sums(items)
    )


def measured(items: Iterable[Item], system: str) -> tuple[TakeoffLine, ...]:
    """Return one line for each item and size in feet or metres: net, and whole units with waste to order."""
    unit = "ft" if system == "us" else "m"
    lines = []
    for (group, item, size), metres, note, objects in _sums(items):
        net = metres / UNITS[unit].factor
        order = math.ceil(round(net * (1 + WASTE), 6))
        words = f"{note}; {WASTE_NOTE}" if note else WASTE_NOTE
        lines.append(TakeoffLine(group, item, size, float(order), unit, round(net, 6), words, objects))
    return tuple(lines)


def _sums(
    items: Iterable[Item],
) -> list[tuple[tuple[str, str, str], float, str, tuple[str, ...]]]:
    amounts: dict[tuple[str, str, str], float] = {}
    objects: dict[tuple[str, str, str], list[str]] = {}
    notes: dict[tuple[str, str, str], list[str]] = {}
    for i in items:
        key = (i.group, i.item, i.size)
        amounts[key] = amounts.get(key, 0.0) + i.amount
        objects.setdefault(key, []).extend(i.objects)
        if i.note and i.note not in notes.setdefault(key, []):
            notes[key].append(i.note)
    order = sorted(amounts, key=lambda k: (k[0], k[1], size_order(k[2])))
    return [(k, amounts[k], "; ".join(notes.get(k, [])), tuple(sorted(set(objects[k])))) for k in order]
