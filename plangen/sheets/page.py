"""Panels onto sheets: packing, view titles with their bubble, and the finished `Sheet` with its inventory."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.model.design import Project
from plangen.sheets.font import text_width_mm
from plangen.sheets.frame import Identity, frame_marks, status_box
from plangen.sheets.labels import MARKER_H, MARKER_W, overlap
from plangen.sheets.marks import Circle, Drawn, Group, Line, Sheet, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, joined
from plangen.sheets.paper import Paper, Rect
from plangen.sheets.pens import Lettering, lettering
from plangen.sheets.scalebar import small_bar
from plangen.sheets.shelves import GAP, shelved

CALLED_ON = "called-on"  # name of the room for the plans that call a detail
ENLARGED = "connection"  # role of the views that show part of a plan larger


@dataclass(frozen=True, slots=True)
class Placed:
    """A panel at its place on a sheet."""

    panel: Panel
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Draft:
    """A sheet before the set is complete: what stands where, but not yet how many sheets there are."""

    id: str
    title: str
    placed: tuple[Placed, ...]
    scale: str = ""
    paper_per_ground: float = 0.0


def room_of(paper: Paper, titled: bool = True) -> tuple[float, float]:
    """Return the width and height in mm that one panel may take on a sheet."""
    left, top, right, bottom = paper.drawing
    return right - left, bottom - top - (title_height(lettering(paper.family)) if titled else 0.0)


def title_height(letters: Lettering) -> float:
    """Return the room under a panel for its bubble, title and scale."""
    return letters.heading * 3.9


def titled(panel: Panel, number: int, sheet_id: str, letters: Lettering) -> Panel:
    """Return the panel with its bubble, title and scale lettered under it; an untitled one as it is."""
    if not panel.title:
        return panel
    radius, y = letters.heading * 1.6, panel.height_mm + letters.heading * 2.1
    head, small = letters.heading, letters.floor
    x = radius * 2 + 1.6
    marks: list[AnyMark] = [
        Circle((radius, y), radius, "medium", "white"),
        Line(((0.0, y), (radius * 2, y)), "thin"),
        Text(radius, y - radius * 0.25, str(number), small, "middle", True),
        Text(radius, y + radius * 0.25 + small * 0.6, sheet_id, small, "middle"),
        Text(x, y - 0.6, panel.title.upper(), head, "start", True),
    ]
    bar = None
    if panel.scale:
        marks.append(Text(x, y + small * 1.5, f"SCALE: {panel.scale}", small))
        barred = any(d.what == "scale-bar" for d in panel.drawn)
        bar = None if barred else small_bar(panel.scale, x, y + small * 2.15, small)
    if bar is not None:
        marks.append(bar)
    scale_width = text_width_mm(f"SCALE: {panel.scale}", small) if panel.scale else 0.0
    rooms = _title_rooms(panel, x + scale_width + small, y + small * 0.5, letters)
    drawn = (
        Noted("view-title", panel.title, "", x, y),
        *((Noted("view-scale", panel.scale, "", x, y),) if panel.scale else ()),
        *((Noted("scale-bar", panel.scale, "", x, y),) if bar is not None else ()),
    )
    title = Panel(
        Group("view-title", tuple(marks), title=panel.title), drawn, panel.width_mm, title_height(letters)
    )
    return Panel(
        Group("view", (panel.group, title.group), title=panel.title),
        (*panel.drawn, *drawn),
        panel.width_mm,
        panel.height_mm + title_height(letters),
        panel.title,
        panel.scale,
        panel.callouts,
        panel.anchors,
        (*panel.rooms, *rooms),
    )


def detail_group(panel: Panel) -> Group | None:
    """Return the group of the detail that a panel shows, titled or not, or None for another kind of panel."""
    inner = panel.group
    if inner.role == "view" and isinstance(inner.marks[0], Group):
        inner = inner.marks[0]
    return inner if inner.role.startswith("detail-") else None


def _title_rooms(
    panel: Panel, x: float, y: float, letters: Lettering
) -> tuple[tuple[str, float, float, float, float], ...]:
    """Room beside a view's scale: for the plans that call it, then for markers of what a detail shows."""
    group, small = detail_group(panel), letters.floor
    if group is None and panel.group.role != ENLARGED:
        return ()
    called = text_width_mm("CALLED ON LI101, LI111", small) + 0.2
    rooms = [(CALLED_ON, x, y, called, small)]
    wide, tall = (side * small / 2.0 for side in (MARKER_W, MARKER_H))
    if group is None:
        return tuple(rooms)
    x += called + small
    shown = [group.object, *(d.object for d in panel.drawn if d.what in ("symbol", "trench"))]
    for name in dict.fromkeys(name for name in shown if name):
        if x + wide > panel.width_mm:
            break
        rooms.append((name, x, y + small / 2 - tall / 2, wide, tall))
        x += wide + 0.6
    return tuple(rooms)


def packed(
    panels: Sequence[Panel], width: float, height: float, loose: bool = False
) -> tuple[tuple[Placed, ...], ...]:
    """Return the panels placed on as many pages as they need, in order, each high and left as it fits.

    `loose`: for drawings that need not be read in order. They stand in rows, unless a page is saved by
    letting each fill the first gap.
    """
    pages: list[list[Placed]] = [[]]
    for panel in panels:
        tried = pages if loose else pages[-1:]
        size = panel.width_mm, panel.height_mm
        found = next(
            ((p, s) for p in tried if (s := free_spot(p, *size, width, height, panel.continues)) is not None),
            None,
        )
        if found is None:
            if pages[-1]:
                pages.append([])
            found = pages[-1], (0.0, 0.0)
        page, (x, y) = found
        page.append(Placed(panel, x, y))
    filled = tuple(tuple(page) for page in pages if page)
    rows = shelved(panels, width, height) if loose else ()
    return (
        tuple(tuple(Placed(*spot) for spot in page) for page in rows)
        if 0 < len(rows) <= len(filled)
        else filled
    )


def free_spot(
    page: Sequence[Placed], wide: float, tall: float, width: float, height: float, continues: bool = False
) -> tuple[float, float] | None:
    """Return the highest, then leftmost place on a page that a panel of a size fits, or None.

    One that `continues` the last of the page stands under it or to its right: there a reader looks for it.
    """
    xs = sorted({0.0, *(p.x + p.panel.width_mm + GAP for p in page)})
    last = page[-1] if continues and page else None
    ys = sorted({0.0, *(p.y + p.panel.height_mm + GAP for p in page)})
    taken = [(p.x, p.y, p.x + p.panel.width_mm + GAP, p.y + p.panel.height_mm + GAP) for p in page]
    for y in ys:
        for x in xs:
            box: Rect = (x, y, x + wide, y + tall)
            if box[2] > width + 1e-6 or box[3] > height + 1e-6:
                continue
            if last is not None and not _after(x, y, last):
                continue
            if not any(overlap((*box[:2], box[2] + GAP, box[3] + GAP), other) for other in taken):
                return x, y
    return None


def _after(x: float, y: float, before: Placed) -> bool:
    """Whether a place is read after a panel: right of it, or not left of it and under it."""
    panel = before.panel
    right, under = x >= before.x + panel.width_mm, y >= before.y + panel.height_mm
    return right or (x >= before.x - 1e-6 and under)


def draft_of(panels: Sequence[Placed], paper: Paper, sheet_id: str, title: str) -> Draft:
    """Return one draft of panels already placed, each titled with its number on the sheet."""
    letters = lettering(paper.family)
    numbers = iter(range(1, len(panels) + 1))
    placed = tuple(
        Placed(titled(p.panel, next(numbers), sheet_id, letters) if p.panel.title else p.panel, p.x, p.y)
        for p in panels
    )
    return Draft(sheet_id, title, placed, _scale_of(placed))


def drafts(
    panels: Sequence[Panel], paper: Paper, first_id: str, title: str, loose: bool = False
) -> tuple[Draft, ...]:
    """Return drafts holding the panels, packed; ids count on from `first_id` (`LI501`, `LI502`)."""
    width, height = room_of(paper, titled=False)
    letters = lettering(paper.family)
    # packed with room for their titles; the numbers are lettered once it is known which sheet they are on
    sized = [titled(p, 0, "", letters) for p in panels]
    own = {id(s): p for s, p in zip(sized, panels, strict=True)}
    pages = packed(sized, width, height, loose)
    out: list[Draft] = []
    for n, page in enumerate(pages):
        words = title if len(pages) == 1 else f"{title}, {n + 1} of {len(pages)}"
        untitled = [Placed(own[id(p.panel)], p.x, p.y) for p in page]
        out.append(draft_of(untitled, paper, next_id(first_id, n), words))
    return tuple(out)


def next_id(sheet_id: str, steps: int) -> str:
    """Return the sheet id that many places on: `LI501` and 2 give `LI503`."""
    head = sheet_id.rstrip("0123456789")
    tail = sheet_id[len(head) :]
    return f"{head}{int(tail) + steps:0{len(tail)}d}"


def _scale_of(placed: Sequence[Placed]) -> str:
    scales = list(dict.fromkeys(p.panel.scale for p in placed if p.panel.scale))
    return scales[0] if len(scales) == 1 else "as noted" if scales else "none"


def sheet_of(draft: Draft, paper: Paper, project: Project, who: Identity) -> Sheet:
    """Return the finished sheet: frame, panels shifted into the drawing room, inventory with border zones."""
    left, top, _, _ = paper.drawing
    frame, frame_drawn = frame_marks(paper, project, who)
    body = joined([(p.panel, left + p.x, top + p.y) for p in draft.placed], "views")
    drawn = tuple(
        Drawn(d.what, d.kind, d.object, paper.zone_of(d.x, d.y)) for d in (*body.drawn, *frame_drawn)
    )
    return Sheet(
        draft.id,
        draft.title,
        paper.width,
        paper.height,
        draft.scale,
        (frame, body.group),
        drawn,
        body.callouts,
        body.anchors,
        (*body.rooms, ("status", *status_box(paper))),
        draft.paper_per_ground,
    )
