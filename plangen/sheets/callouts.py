"""Callouts between plan and details: a bubble `detail / sheet` at the object, and the way back at the detail.

A detail is called once on each plan sheet, at the first object it shows that is drawn there. Details of heads
hold for whole classes and are called in words under the plan; sections of trenches and sleeves are called
from the staking plan, in its notes and in the table of trenches.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from plangen.sheets.canvas import Canvas
from plangen.sheets.font import text_width_mm
from plangen.sheets.labels import Spot
from plangen.sheets.marks import XY, CallOut, Circle, Group, Line, Text
from plangen.sheets.page import CALLED_ON, Draft, Placed, detail_group
from plangen.sheets.panel import Noted, Panel
from plangen.sheets.pens import Lettering

_NOT_CALLED = "detail-trench"


@dataclass(frozen=True, slots=True)
class Detail:
    """One detail: the object it is drawn for, its number and its sheet."""

    object: str
    number: int
    sheet: str
    by_bubble: bool = True

    @property
    def words(self) -> str:
        """Return the detail as called in words: `3/LI501`."""
        return f"{self.number}/{self.sheet}"


def details_of(drafts: Sequence[Draft]) -> tuple[Detail, ...]:
    """Return the details on some sheets that an object on a plan can call."""
    out: list[Detail] = []
    for draft in drafts:
        titled = [p.panel for p in draft.placed if p.panel.title]
        for number, panel in enumerate(titled, 1):
            group = detail_group(panel)
            if group is not None and group.role != _NOT_CALLED:
                name = group.object or next((d.object for d in panel.drawn if d.object), "")
                out.append(Detail(name, number, draft.id, group.role != "detail-head"))
    return tuple(out)


def trench_details(drafts: Sequence[Draft]) -> tuple[Detail, ...]:
    """Return the sections of trenches and sleeves on some sheets; `object` is the first pipe, or sleeve."""
    return tuple(
        Detail(group.object, number, draft.id, False)
        for draft in drafts
        for number, panel in enumerate((p.panel for p in draft.placed if p.panel.title), 1)
        if (group := detail_group(panel)) is not None and group.role == _NOT_CALLED
    )


def draw_callouts(
    canvas: Canvas, details: Sequence[Detail]
) -> tuple[tuple[CallOut, ...], tuple[Detail, ...]]:
    """Draw a bubble by each detail's object; return the links, and the details called.

    One that finds no room is named under the plan instead (`canvas.uncalled`).
    """
    places = {name: (x, y) for name, x, y in canvas.anchors}
    small = canvas.letters.floor
    radius = bubble_radius(canvas.letters)
    links: list[CallOut] = []
    called: list[Detail] = []
    for detail in details:
        at_xy = places.get(detail.object)
        if at_xy is None or not canvas.sees(at_xy):
            continue
        called.append(detail)
        spot = _spot(canvas, detail.object, at_xy, radius) if detail.by_bubble else None
        if spot is None:
            canvas.uncalled.append(f"{detail.object} {detail.words}")
            continue
        left, top, right, bottom = spot.box
        x, y = (left + right) / 2, (top + bottom) / 2
        marks: tuple[Circle | Line | Text, ...] = (
            Circle((x, y), radius, "thin", "white"),
            Line(((left, y), (right, y)), "thin"),
            Text(x, y - radius * 0.25, str(detail.number), small, "middle", True),
            Text(x, y + radius * 0.2 + small, detail.sheet, small, "middle"),
        )
        if spot.leader is not None:
            leader = Line(_to_circle(spot.leader, (x, y), radius), "leader")
            canvas.add("leaders", Group("leader", (leader,), detail.object))
        title = f"{detail.object}: detail {detail.number} on {detail.sheet}"
        canvas.add("labels", Group("callout", marks, detail.object, title))
        canvas.note("callout", detail.words, detail.object, (x, y))
        links.append(CallOut(left, top, radius * 2, radius * 2, detail.sheet))
    return tuple(links), tuple(called)


def _spot(canvas: Canvas, name: str, at_xy: XY, radius: float) -> Spot | None:
    """Room for a bubble: touching the object's label, else led from the object or to its label."""
    size = radius * 2
    label = canvas.label_boxes.get(name)
    if label is None:
        return canvas.space.place(size, size, (at_xy,), 2.6, 1.6, loose=False)
    left, top, right, bottom = label
    middle = (top + bottom) / 2 - radius
    corners = [(right + 0.3, middle), (left - 0.3 - size, middle)]
    corners += [(x, y) for y in (top - 0.3 - size, bottom + 0.3) for x in (left, right - size)]
    boxes = [(x, y, x + size, y + size) for x, y in corners]
    index = canvas.space.first_free(boxes)
    if index is not None:
        return Spot(boxes[index], None)
    spot = canvas.space.beside(label, size, size)
    return spot or canvas.space.place(size, size, (at_xy,), 2.6, 1.6, loose=False)


def _to_circle(leader: tuple[XY, ...], centre: XY, radius: float) -> tuple[XY, ...]:
    """A leader whose end at a bubble's box goes on to its circle."""
    ends = (leader[0], leader[-1])
    nearer = 0 if math.dist(ends[0], centre) < math.dist(ends[1], centre) else -1
    before = leader[1] if nearer == 0 else leader[-2]
    far = math.dist(before, centre)
    if far <= radius:
        return leader
    end = (
        centre[0] + (before[0] - centre[0]) * radius / far,
        centre[1] + (before[1] - centre[1]) * radius / far,
    )
    return (*leader[:-1], end) if nearer else (end, *leader[1:])


def bubble_radius(letters: Lettering) -> float:
    """Return the radius of a bubble that a sheet id fits."""
    return letters.floor * 2.1


def with_references(draft: Draft, calls: Mapping[Detail, Sequence[str]], letters: Lettering) -> Draft:
    """Return a sheet of details with the plans that call each lettered beside its scale, and linked."""
    on = {(d.sheet, d.number): tuple(sheets) for d, sheets in calls.items()}
    placed: list[Placed] = []
    number = 0
    for p in draft.placed:
        number += bool(p.panel.title)
        sheets = on.get((draft.id, number), ()) if p.panel.title else ()
        placed.append(replace(p, panel=_referred(p.panel, sheets, letters)) if sheets else p)
    return replace(draft, placed=tuple(placed))


def _referred(panel: Panel, sheets: Sequence[str], letters: Lettering) -> Panel:
    room = next((r for r in panel.rooms if r[0] == CALLED_ON), None)
    if room is None:
        return panel
    _, x, y, width, height = room
    words = f"CALLED ON {', '.join(sheets)}"
    while len(sheets) > 1 and text_width_mm(words, letters.floor) > width:
        sheets = sheets[:-1]
        words = f"CALLED ON {', '.join(sheets)}, ..."
    text = Text(x, y + height, words, letters.floor)
    return replace(
        panel,
        group=replace(panel.group, marks=(*panel.group.marks, Group("called-on", (text,), title=words))),
        drawn=(*panel.drawn, *(Noted("called-on", sheet, "", x, y) for sheet in sheets)),
        callouts=(*panel.callouts, CallOut(x, y, text_width_mm(words, letters.floor), height, sheets[0])),
    )
