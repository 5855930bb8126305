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


def moved(mark: AnyMark, dx: float, dy: float) -> AnyMark:
    """Return the same mark shifted on paper."""
    match mark:
        case Line() | Area():
            return replace(mark, points=_shift(mark.points, dx, dy))
        case Circle() | Arc():
            return replace(mark, centre=(mark.centre[0] + dx, mark.centre[1] + dy))
        case Segments():
            return replace(mark, lines=tuple((_at(a, dx, dy), _at(b, dx, dy)) for a, b in mark.lines))
        case Text():
            return replace(mark, x=mark.x + dx, y=mark.y + dy)
        case Group():
            return moved_group(mark, dx, dy)


def moved_group(group: Group, dx: float, dy: float) -> Group:
    """Return a group with all its marks shifted."""
    return replace(group, marks=tuple(moved(m, dx, dy) for m in group.marks))


def moved_panel(panel: Panel, dx: float, dy: float) -> Panel:
    """Return a panel with everything in it shifted; its size stays."""
    return replace(
        panel,
        group=moved_group(panel.group, dx, dy),
        drawn=tuple(replace(d, x=d.x + dx, y=d.y + dy) for d in panel.drawn),
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
