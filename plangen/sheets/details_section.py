"""The frame of a section: metres across and metres above grade to paper mm, and panels from its parts.

A `Section` only converts; `section_panel` sets label columns left and right of what was drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.quantity.dimension import Dimension
from plangen.quantity.display import number, told
from plangen.quantity.quantity import Quantity, si_to
from plangen.sheets.details_labels import Label, column_width, label_column
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel, moved_group
from plangen.sheets.pens import LETTERING
from plangen.sheets.viewport import scale_name

NOT_STATED = "NOT STATED"
NOT_TO_SCALE = "NOT TO SCALE"


@dataclass(frozen=True, slots=True)
class Section:
    """Where x = 0 m and grade lie on paper, and the scale as 1:denominator."""

    denominator: int
    x0: float
    y0: float

    @property
    def per_m(self) -> float:
        """Return paper mm per metre."""
        return 1000.0 / self.denominator

    def at(self, x_m: float, z_m: float) -> XY:
        """Return a point of the section on paper."""
        return self.x0 + x_m * self.per_m, self.y0 - z_m * self.per_m

    def path(self, points: Sequence[XY]) -> tuple[XY, ...]:
        """Return a polyline of the section on paper."""
        return tuple(self.at(x, z) for x, z in points)


def stated(quantity: Quantity | None) -> str:
    """Return a quantity as its author wrote it, or NOT STATED."""
    return NOT_STATED if quantity is None else quantity.written


def small(length_m: float, system: str) -> str:
    """Return a computed height or gap in the small length unit."""
    return told(length_m, Dimension.LENGTH, system, small=True)


def elevation(length_m: float, system: str) -> str:
    """Return an elevation to the hundredth of a foot or the centimetre."""
    unit = "ft" if system == "us" else "m"
    return f"{number(si_to(length_m, Dimension.LENGTH, unit), 2)} {unit}"


def few(names: Sequence[str], most: int = 6) -> str:
    """Return names in a row, the rest counted: `L1, L2, L3 AND 9 MORE`."""
    if len(names) <= most:
        return ", ".join(names)
    return f"{', '.join(names[:most])} AND {len(names) - most} MORE"


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a detail drew, in its own paper coordinates, and how far it reaches (left, top, right, bottom)."""

    marks: tuple[AnyMark, ...]
    extent: tuple[float, float, float, float]
    left: tuple[Label, ...] = ()
    right: tuple[Label, ...] = ()
    drawn: tuple[Noted, ...] = ()
    anchors: tuple[tuple[str, float, float], ...] = ()


def section_panel(
    drawing: Drawing, role: str, name: str, title: str, scale: str, height: float, widest: float
) -> Panel:
    """Return the drawing with its label columns as a panel from its own top left corner."""
    left, top, right, bottom = drawing.extent
    wide_l = column_width(drawing.left, height, widest)
    wide_r = column_width(drawing.right, height, widest)
    gap = 4.0
    col_l = label_column(drawing.left, left - gap, wide_l, "left", height, top)
    col_r = label_column(drawing.right, right + gap, wide_r, "right", height, top)
    x_min = left - gap - wide_l if drawing.left else left
    x_max = right + gap + wide_r if drawing.right else right
    y_min = min(top, col_l.top, col_r.top)
    y_max = max(bottom, col_l.bottom, col_r.bottom)
    group = moved_group(
        Group(role, (*drawing.marks, *col_l.marks, *col_r.marks), name, title), -x_min, -y_min
    )
    noted = [Noted("detail", role, name, 1.0, 1.0)]
    noted += [Noted(d.what, d.kind, d.object, d.x - x_min, d.y - y_min) for d in drawing.drawn]
    noted += [
        Noted("label", role, label.object, label.at[0] - x_min, label.at[1] - y_min)
        for label in (*drawing.left, *drawing.right)
        if label.object
    ]
    anchors = tuple((n, x - x_min, y - y_min) for n, x, y in drawing.anchors)
    # the title and its bubble under the drawing must not reach into the next drawing
    wide = max(x_max - x_min, title_room(title, height))
    rooms = tuple((n, x - x_min, y - y_min, w, h) for n, x, y, w, h in (*col_l.rooms, *col_r.rooms))
    return Panel(group, tuple(noted), wide, y_max - y_min, title, scale, anchors=anchors, rooms=rooms)


def title_room(title: str, height: float) -> float:
    """Return how wide a title with its bubble stands under a drawing whose notes are that high."""
    heading = next((x.heading for x in LETTERING.values() if x.note >= height - 1e-9), height * 1.7)
    return heading * 3.2 + 2.0 + text_width_mm(title.upper(), heading, bold=True)


def enlarged(height: float) -> float:
    """Return how much more room a drawing may take whose notes are higher: 1 at 2 mm, 1.5 at 2.4 mm."""
    return 1.0 + 1.25 * max(0.0, height - 2.0)


def scale_text(denominator: int, system: str) -> str:
    """Return the scale as lettered under a detail."""
    return scale_name(denominator, system)


def grade_line(section: Section, x0: float, x1: float, role: str = "grade-line") -> Group:
    """Return the finished-grade line from x0 to x1 (metres)."""
    return Group(role, (Line((section.at(x0, 0.0), section.at(x1, 0.0)), "earth"),), title="Finished grade")
