"""Level lines and dimensions of an assembly elevation: heights, covers, the gap over the highest outlet.

Every line lies at its own figure times the scale; nothing here rounds a place on paper.
"""

from __future__ import annotations

from plangen.sheets.details_assembly_figures import AssemblyFigures
from plangen.sheets.details_dimensions import lane, level_across, upright
from plangen.sheets.details_section import Section, small, stated
from plangen.sheets.marks import Group, Line
from plangen.sheets.panel import AnyMark
from plangen.sheets.procedure_assembly import workings


def level_marks(
    f: AssemblyFigures, s: Section, bounds: tuple[float, float, float, float], height: float, system: str
) -> tuple[tuple[AnyMark, ...], float]:
    """Return level lines and dimensions left of the body, and how far left they reach on paper."""
    left, bottom, _, top = bounds
    name = f.device.name
    work = workings(f.device.assembly_kind)
    edge = s.at(left, 0)[0]
    first, second = edge - lane(height) * 0.6, edge - lane(height) * 1.6
    # a buried body's height runs down beside the cover: each needs its own lane
    third = second - lane(height) if f.level < 0 else first
    end = min(second, third) - 1.5
    y_grade, y_level = s.at(0, 0.0)[1], s.at(0, f.level)[1]
    right = s.at(-0.01, 0)[0]
    what = work.level.capitalize() if work else "Level"
    marks: list[AnyMark] = [
        Group("critical-level", (Line(((end, y_level), (right, y_level)), "medium-dash"),), name, what),
        Group("grade-extension", (Line(((end, y_grade), (edge, y_grade)), "thin"),), name),
    ]
    above = f.outlet_above_grade
    shown = 0.0 if above is None else min(max(above, bottom + 0.03), top - 0.03)
    outlet_line = None if above is None else s.at(0, shown)[1]
    if f.level_known:
        told = stated(f.device.height).removeprefix("-")
        marks.append(upright(first, y_grade, y_level, told, height, "dimension-height", name, outlet_line))
    inlet = f.inlet
    if inlet is not None and inlet.cover is not None:
        y_top = s.at(0, -inlet.cover.si)[1]
        marks.append(Line(((third - 1.5, y_top), (edge, y_top)), "thin"))
        marks.append(
            upright(
                third, y_grade, y_top, f"COVER {inlet.cover.written}", height, "dimension-cover", inlet.name
            )
        )
    if outlet_line is not None:
        marks.append(_outlet_line(f, end, right, outlet_line))
        if shown == above and f.level_known:
            text = small(abs(f.level - shown), system)
            marks.append(upright(second, outlet_line, y_level, text, height, "dimension-above-outlet", name))
    marks.extend(_clearance(f, s, height))
    return tuple(marks), end


def _outlet_line(f: AssemblyFigures, left: float, right: float, y: float) -> Group:
    assert f.highest is not None
    line = Line(((left, y), (right, y)), "centre")
    return Group("highest-outlet", (line,), f.highest.outlet, f"Highest outlet {f.highest.outlet}")


def _clearance(f: AssemblyFigures, s: Section, height: float) -> tuple[AnyMark, ...]:
    if f.clear is None:
        return ()
    y = clearance_level(f, s, height)
    x_body, x_wall = s.at(-f.clear, 0)[0], s.at(0.0, 0)[0]
    return (
        level_across(x_body, x_wall, y, f.clear_text, height, "dimension-clearance", f.device.name),
        Line(((x_body, y - 1.0), (x_body, s.at(0, f.rise(0.8))[1])), "hair"),
    )


def clearance_level(f: AssemblyFigures, s: Section, height: float) -> float:
    """Return the paper y of the clearance's dimension: over the body and the numbers of upright cocks."""
    over = height + 5.0 if f.shape.vent is None and f.shape.cocks else 3.0
    return s.at(0, f.rise(1.0))[1] - over
