"""A self-contained drawing in its own millimetres from its top left corner, ready to be placed on a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from plangen.sheets.marks import XY, Arc, Area, CallOut, Circle, Group, Line, Segments, Text

AnyMark = Line | Area | Circle | Arc | Segments | Text | Group


@dataclass(frozen=True, slots=True)
class Noted:
    """One inventory entry before its border zone is known: see `marks.Drawn` for the words."""

    what: str
    kind: str
    object: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Panel:
    """A drawing of `width_mm` by `height_mm`; `scale` is as lettered, empty where a scale has no meaning.

    The title is not in the marks: the frame letters it under the drawing. `callouts` lead to other
    sheets; `anchors` are (object, x, y) places where a finding may point.
    """

    group: Group
    drawn: tuple[Noted, ...]
    width_mm: float
    height_mm: float
    title: str = ""
    scale: str = ""
    callouts: tuple[CallOut, ...] = ()
    anchors: tuple[tuple[str, float, float], ...] = ()
    # blocks of empty room beside an object for a finding's marker: (object, left, top, width, height)
    rooms: tuple[tuple[str, float, float, float, float], ...] = ()
    # the rest of the table that was set before it: on one sheet it stands under it or to its right
    continues: bool = False


def moved(mark: AnyMark, dx: float, dy: float) -> AnyMark:
    """Return the same mark shifted on paper."""
    # built anew field by field: copying by `replace` takes three times as long, and sheets hold thousands
    match mark:
        case Text():
            x, y = mark.x + dx, mark.y + dy
            return Text(x, y, mark.text, mark.height, mark.anchor, mark.bold, mark.angle, mark.halo)
        case Line():
            return Line(_shift(mark.points, dx, dy), mark.pen)
        case Area():
            return Area(_shift(mark.points, dx, dy), mark.pen, mark.fill)
        case Circle():
            return Circle((mark.centre[0] + dx, mark.centre[1] + dy), mark.radius, mark.pen, mark.fill)
        case Arc():
            return replace(mark, centre=(mark.centre[0] + dx, mark.centre[1] + dy))
        case Segments():
            return Segments(tuple((_at(a, dx, dy), _at(b, dx, dy)) for a, b in mark.lines), mark.pen)
        case Group():
            return moved_group(mark, dx, dy)


def moved_group(group: Group, dx: float, dy: float) -> Group:
    """Return a group with all its marks shifted."""
    return Group(group.role, tuple([moved(m, dx, dy) for m in group.marks]), group.object, group.title)


def moved_panel(panel: Panel, dx: float, dy: float) -> Panel:
    """Return a panel with everything in it shifted; its size stays."""
    if dx == 0.0 and dy == 0.0:
        return panel
    return replace(
        panel,
        group=moved_group(panel.group, dx, dy),
        drawn=tuple(Noted(d.what, d.kind, d.object, d.x + dx, d.y + dy) for d in panel.drawn),
        callouts=tuple(replace(c, x=c.x + dx, y=c.y + dy) for c in panel.callouts),
        anchors=tuple((name, x + dx, y + dy) for name, x, y in panel.anchors),
        rooms=tuple((name, x + dx, y + dy, w, h) for name, x, y, w, h in panel.rooms),
    )


def joined(parts: Iterable[tuple[Panel, float, float]], role: str, title: str = "", scale: str = "") -> Panel:
    """Return one panel of several placed at (x, y); it is as large as they reach."""
    placed = [(moved_panel(p, x, y), x + p.width_mm, y + p.height_mm) for p, x, y in parts]
    return Panel(
        Group(role, tuple(p.group for p, _, _ in placed)),
        tuple(d for p, _, _ in placed for d in p.drawn),
        max((right for _, right, _ in placed), default=0.0),
        max((bottom for _, _, bottom in placed), default=0.0),
        title,
        scale,
        tuple(c for p, _, _ in placed for c in p.callouts),
        tuple(a for p, _, _ in placed for a in p.anchors),
        tuple(r for p, _, _ in placed for r in p.rooms),
    )


def _at(p: XY, dx: float, dy: float) -> XY:
    return p[0] + dx, p[1] + dy


def _shift(points: tuple[XY, ...], dx: float, dy: float) -> tuple[XY, ...]:
    return tuple((x + dx, y + dy) for x, y in points)
