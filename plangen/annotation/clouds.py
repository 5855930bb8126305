"""Revision clouds: what changed since an earlier issue, ringed on plans and details, with its delta.

Nothing is moved. A delta that would lie on lettering is set at another corner of its cloud, or left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from plangen.sheets.frame import delta, delta_size
from plangen.sheets.labels import overlap
from plangen.sheets.marks import Arc, Area, Circle, Group, Line, Sheet, Text
from plangen.sheets.paper import Rect, paper
from plangen.sheets.pens import lettering
from plangen.sheets.text_rect import text_rect

_DETAIL = "detail-"
_PAD = 0.7
_SCALLOP = 2.2  # mm from one end of a scallop to the other
_MOVES = (0.0, -0.4, 0.4, 0.9, 1.5)  # mm outward that a side of a cloud may move
_FEWEST = 4  # a ring of fewer scallops is no cloud
_NEAR = 2.5  # clouds of one object nearer than this become one


@dataclass(frozen=True, slots=True)
class Revised:
    """What an issue changes: its label, the changed objects, and the digest of the issue before."""

    label: str
    objects: tuple[str, ...]
    since: str


def cloud_group(sheet: Sheet, revised: Revised, family: str) -> Group | None:
    """Return the clouds of one sheet, or None if it draws nothing that changed. One delta for each object."""
    page = paper(family)
    height = lettering(page.family).floor
    found: dict[str, list[Rect]] = {}
    for name, box in _changed_boxes(sheet.marks, frozenset(revised.objects)):
        found.setdefault(name, []).append(box)
    if not found:
        return None
    texts = [text_rect(t) for t in _texts(sheet.marks)]
    marks: list[Group] = []
    size = delta_size(height)
    for name in sorted(found):
        boxes = _joined(found[name])
        boxes = [_off_lettering(box, texts) for box in boxes]
        title = f"{name} changed by revision {revised.label}".strip()
        marks.append(Group("cloud", _ring(boxes, texts), name, title))
        places = (_delta_place(box, size, texts, page.drawing) for box in boxes)
        place = next((p for p in places if p is not None), None)
        if revised.label and place is not None:
            marks.append(delta(*place, revised.label, height))
            texts.append((*place, place[0] + size, place[1] + size))
    return Group("revision-clouds", tuple(marks), title=f"Changes of revision {revised.label}".strip())


def _changed_boxes(groups: Iterable[Group], changed: frozenset[str]) -> Iterator[tuple[str, Rect]]:
    for group in groups:
        symbol = group.role == "label" or group.role.startswith("symbol-")
        if group.object in changed and (symbol or group.role.startswith(_DETAIL)):
            box = _extent(group)
            if box is not None:
                yield group.object, _grown(box, _PAD if symbol else 0.0)
        else:
            yield from _changed_boxes((m for m in group.marks if isinstance(m, Group)), changed)


def _extent(group: Group) -> Rect | None:
    boxes: list[Rect] = []
    for mark in group.marks:
        match mark:
            case Group():
                inner = _extent(mark)
                boxes += [inner] if inner else []
            case Text():
                boxes.append(text_rect(mark))
            case Line() | Area():
                xs, ys = [p[0] for p in mark.points], [p[1] for p in mark.points]
                boxes.append((min(xs), min(ys), max(xs), max(ys)))
            case Circle() | Arc():
                (x, y), r = mark.centre, mark.radius
                boxes.append((x - r, y - r, x + r, y + r))
    return _around(boxes) if boxes else None


def _around(boxes: Sequence[Rect]) -> Rect:
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def _joined(boxes: Iterable[Rect]) -> list[Rect]:
    """The boxes, with those that lie close together made one."""
    out: list[Rect] = []
    for box in boxes:
        while True:
            near = [b for b in out if overlap(_grown(b, _NEAR), box)]
            if not near:
                break
            out = [b for b in out if b not in near]
            box = _around([box, *near])
        out.append(box)
    return sorted(out, key=lambda b: (b[1], b[0]))


def _grown(box: Rect, by: float) -> Rect:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _off_lettering(box: Rect, texts: Sequence[Rect]) -> Rect:
    """The box with each side moved, as little as may be, to where its scallops cross fewest letters."""
    sides = list(box)
    for side in range(4):
        out = -1.0 if side < 2 else 1.0

        def crossed(by: float, side: int = side, out: float = out) -> int:
            edge = sides[side] + out * by
            band = list(_grown((sides[0], sides[1], sides[2], sides[3]), _SCALLOP / 2))
            band[side], band[(side + 2) % 4] = edge + out * _SCALLOP / 2, edge
            left, top, right, bottom = band
            return sum(overlap((left, top, right, bottom), text) for text in texts)

        sides[side] += out * min(_MOVES, key=lambda by: (crossed(by), abs(by)))
    return sides[0], sides[1], sides[2], sides[3]


def _ring(boxes: Sequence[Rect], texts: Sequence[Rect]) -> tuple[Arc, ...]:
    """The scallops about some boxes; where one would still cross letters the ring has a gap."""
    arcs = [arc for box in boxes for arc in _scallops(box)]
    clear = [arc for arc in arcs if not any(overlap(_bulge(arc), text) for text in texts)]
    return tuple(clear if len(clear) >= _FEWEST else arcs)


def _bulge(arc: Arc) -> Rect:
    """The box of a half circle."""
    (x, y), r = arc.centre, arc.radius
    out = math.radians(arc.start_deg + 90.0)
    dx, dy = round(math.sin(out)) * r, -round(math.cos(out)) * r
    wide, tall = (r, 0.0) if dx == 0 else (0.0, r)
    return (
        min(x, x + dx) - wide,
        min(y, y + dy) - tall,
        max(x, x + dx) + wide,
        max(y, y + dy) + tall,
    )


def _scallops(box: Rect) -> tuple[Arc, ...]:
    """Half circles that bulge outward along the four sides of a box."""
    left, top, right, bottom = box
    wide, tall = right - left, bottom - top
    across, down = max(1, math.ceil(wide / _SCALLOP)), max(1, math.ceil(tall / _SCALLOP))
    out: list[Arc] = []
    for i in range(across):
        x, r = left + wide * (i + 0.5) / across, wide / across / 2
        out += [Arc((x, top), r, 270.0, 90.0, "cloud"), Arc((x, bottom), r, 90.0, 270.0, "cloud")]
    for i in range(down):
        y, r = top + tall * (i + 0.5) / down, tall / down / 2
        out += [Arc((left, y), r, 180.0, 360.0, "cloud"), Arc((right, y), r, 0.0, 180.0, "cloud")]
    return tuple(out)


def _delta_place(box: Rect, size: float, taken: Sequence[Rect], room: Rect) -> tuple[float, float] | None:
    """The first place beside a cloud for its delta that lies on no lettering and inside the drawing."""
    left, top, right, bottom = box
    off = _SCALLOP / 2 + 0.4
    middle = (top + bottom) / 2 - size / 2
    for x, y in (
        (right + off, top - size / 2),
        (left - off - size, top - size / 2),
        (right + off, middle),
        (left - off - size, middle),
        (left, top - off - size),
        (right - size, top - off - size),
        (left, bottom + off),
        (right - size, bottom + off),
        (right + off, bottom - size / 2),
        (left - off - size, bottom - size / 2),
    ):
        spot = (x, y, x + size, y + size)
        inside = room[0] <= x and room[1] <= y and spot[2] <= room[2] and spot[3] <= room[3]
        if inside and not any(overlap(spot, other) for other in taken):
            return x, y
    return None


def _texts(groups: Iterable[Group]) -> Iterator[Text]:
    for group in groups:
        for mark in group.marks:
            if isinstance(mark, Text):
                yield mark
            elif isinstance(mark, Group):
                yield from _texts((mark,))
