"""Labels that cannot collide: notes set in a column beside a view, each led to the thing it names.

Takes anchors and texts on paper (mm), returns marks. Knows nothing of what is labelled.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark
from plangen.sheets.paragraphs import LINE, wrapped

Room = tuple[str, float, float, float, float]  # name, left, top, width, height
SLOT_LINES = 2  # lines kept free in a slot


def limit_room(fact: str, name: str) -> str:
    """Return how the room for an object's required value of a fact is called; its side follows."""
    return f"limit {fact} {name}"


@dataclass(frozen=True, slots=True)
class Label:
    """A note led to `at`. `role` names the group its marks stand in; `object` the design object."""

    at: XY
    text: str
    object: str = ""
    bold: bool = False
    role: str = "label"
    slot: str = ""  # name of a room kept free under the text for what the rules ask for


@dataclass(frozen=True, slots=True)
class LabelColumn:
    """The set labels and how far up and down they reach."""

    marks: tuple[AnyMark, ...]
    top: float
    bottom: float
    rooms: tuple[Room, ...] = ()


def spread(wanted: Sequence[float], sizes: Sequence[float], gap: float) -> tuple[float, ...]:
    """Return starts of intervals of these sizes, in the same order, apart by `gap`, near the wanted centres.

    Neighbours that collide are pooled and set about the mean of their wishes, so that no interval moves
    farther than it must (pool-adjacent-violators on the centres).
    """
    blocks: list[tuple[float, float, list[float]]] = []  # (start, length, sizes)
    for centre, size in zip(wanted, sizes, strict=True):
        block = (centre - size / 2, size, [size])
        while blocks and blocks[-1][0] + blocks[-1][1] + gap > block[0]:
            last = blocks.pop()
            n, m = len(last[2]), len(block[2])
            length = last[1] + gap + block[1]
            middle = ((last[0] + last[1] / 2) * n + (block[0] + block[1] / 2) * m) / (n + m)
            block = (middle - length / 2, length, [*last[2], *block[2]])
        blocks.append(block)
    out: list[float] = []
    for start, _, parts in blocks:
        at = start
        for size in parts:
            out.append(at)
            at += size + gap
    return tuple(out)


def label_column(
    labels: Sequence[Label], x: float, width: float, side: str, height: float, top: float = 0.0
) -> LabelColumn:
    """Return labels set in a column `width` mm wide whose inner edge is at `x`, outward to `side`.

    `side` is `left` or `right` of the view. No label stands above `top`. Labels change places until no
    two leaders cross.
    """
    ordered = sorted(labels, key=lambda n: (n.at[1], n.at[0], n.text))
    if not ordered:
        return LabelColumn((), top, top)
    elbow = x - (3.3 if side == "right" else -3.3)
    starts = _starts(ordered, width, height, top)
    for _ in range(len(ordered) ** 2):
        crossing = _first_crossing(ordered, starts, elbow, height)
        if crossing is None:
            break
        i, j = crossing
        ordered[i], ordered[j] = ordered[j], ordered[i]
        starts = _starts(ordered, width, height, top)
    sizes = [tall(n, width, height) for n in ordered]
    marks: list[AnyMark] = []
    for note, start in zip(ordered, starts, strict=True):
        block = wrapped(note.text, width, height, note.bold)
        marks.append(Group(note.role, _set_label(note, block, x, start, side, height), note.object))
    free = SLOT_LINES * height * LINE
    left = x if side == "right" else x - width
    rooms = tuple(
        (f"{note.slot}, {side}", left, start + size - free, width, free)
        for note, start, size in zip(ordered, starts, sizes, strict=True)
        if note.slot
    )
    return LabelColumn(tuple(marks), starts[0], starts[-1] + sizes[-1], rooms)


def tall(note: Label, width: float, height: float) -> float:
    """How high a label stands, its slot included."""
    lines = len(wrapped(note.text, width, height, note.bold)) + (SLOT_LINES if note.slot else 0)
    return lines * height * LINE


def _starts(ordered: Sequence[Label], width: float, height: float, top: float) -> list[float]:
    """Return the upper edge of each label: as near its wish as the others let it, none above `top`."""
    sizes = [tall(n, width, height) for n in ordered]
    # The leader meets the first line, so the wish is that line's middle at the anchor's height.
    wishes = [n.at[1] - height * LINE / 2 + size / 2 for n, size in zip(ordered, sizes, strict=True)]
    for i in range(1, len(wishes)):
        # a label that changed places wishes to stand no higher than the one before it
        wishes[i] = max(wishes[i], wishes[i - 1])
    starts = list(spread(wishes, sizes, height * 0.75))
    floor = top
    for i, start in enumerate(starts):
        starts[i] = max(start, floor)
        floor = starts[i] + sizes[i] + height * 0.75
    return starts


def _first_crossing(
    ordered: Sequence[Label], starts: Sequence[float], elbow: float, height: float
) -> tuple[int, int] | None:
    ends = [(elbow, start + height * 0.81) for start in starts]
    for i in range(len(ordered)):
        for j in range(i + 1, len(ordered)):
            if _cross(ordered[i].at, ends[i], ordered[j].at, ends[j]):
                return i, j
    return None


def _cross(a: XY, b: XY, c: XY, d: XY) -> bool:
    def side(p: XY, q: XY, r: XY) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9


def _set_label(
    note: Label, block: Sequence[str], x: float, start: float, side: str, height: float
) -> tuple[AnyMark, ...]:
    sign = 1.0 if side == "right" else -1.0
    level = start + height * 0.81
    texts = [
        Text(
            x,
            start + height * 1.31 + i * height * LINE,
            line,
            height,
            "start" if sign > 0 else "end",
            note.bold,
        )
        for i, line in enumerate(block)
    ]
    edge = x - sign * 0.8
    leader = Line((note.at, (edge - sign * 2.5, level), (edge, level)), "leader")
    return (leader, Circle(note.at, 0.45, "", "black"), *texts)


def column_width(labels: Sequence[Label], height: float, widest: float) -> float:
    """Return the width a column of these labels takes: the longest text, but no more than `widest`."""
    return min(widest, max((text_width_mm(n.text, height, n.bold) + 0.2 for n in labels), default=0.0))
