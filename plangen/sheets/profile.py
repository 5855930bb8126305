"""The pressure profile: pressure and ground along the way from the source to the worst outlet.

Every plotted pressure is a line of the budget. Without a solved case the panel says NOT SOLVED.
"""

from __future__ import annotations

from collections.abc import Sequence

from plangen.hydraulics.results import CaseResult, Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import number
from plangen.quantity.quantity import si_to
from plangen.sheets.hydraulic_rows import pressure, unit_of
from plangen.sheets.hydraulics_sheet import CAUTION, TO_STATE, failure_text, worst_case
from plangen.sheets.marks import Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import lettering
from plangen.sheets.profile_bare import bare_way
from plangen.sheets.profile_course import Course, profile_course
from plangen.sheets.profile_plot import Axes, bubbles, frame, steps
from plangen.sheets.profile_points import ProfilePoint, profile_points
from plangen.sheets.profile_section import across, key_width, length, section_marks, upright
from plangen.sheets.tables import Column, Row, Table, table_pages
from plangen.terrain.surface import Surface


def section_panels(
    design: Design,
    surface: Surface,
    hydraulics: Hydraulics,
    layout: Layout,
    system: str,
    family: str,
    room: tuple[float, float],
    note: float = 0.0,
) -> tuple[Panel, ...]:
    """Return the profile and the table of its points, none larger than `room` (width, height in mm)."""
    height = note or lettering(family).note
    case = worst_case(hydraulics)
    points = () if case is None else profile_points(design, surface, case)
    if case is None or not points:
        why = notes_panel("Pressure profile", not_solved(hydraulics), min(room[0], 150.0), height, False)
        return (why, *_bare_panels(design, surface, system, height, (room[0], room[1] - why.height_mm - 8.0)))
    longest = max(p.distance_m for p in points)

    def beside(note: float) -> tuple[tuple[Panel, ...], float, int]:
        """The table of points, the width it leaves the plot, and the plot's scale across (0: none fits)."""
        table = table_pages(_points_table(points, system), note, room[1])
        free = room[0] - table[0].width_mm - 8.0
        width = free if len(table) == 1 and free >= room[0] * 0.5 else room[0]
        return table, width, across(longest, plot_width(note, width), system).denominator

    table, width, scale = beside(height)
    least, more, finer = beside(lettering(family).note)
    if finer and (finer < scale or not scale):
        # a larger drawing is worth more than larger letters
        table, width, height = least, more, lettering(family).note
    course = profile_course(design, surface, case, points)
    plot = profile_panel(case, points, course, system, height, width, room[1])
    return (plot, *table)


def plot_width(height: float, width: float) -> float:
    """Return the mm of paper that the distance axis may take of a profile `width` mm wide."""
    return width - height * 3.0 - height * 6.5


def _bare_panels(
    design: Design, surface: Surface, system: str, height: float, room: tuple[float, float]
) -> tuple[Panel, ...]:
    """Return ground and pipe to the farthest outlet with the table of its points, without any pressure."""
    found = bare_way(design, surface)
    if found is None:
        return ()
    unit = unit_of(Dimension.LENGTH, system)

    def level(value: float | None) -> str:
        return "not known" if value is None else f"{length(value, system):.2f}"

    rows = tuple(
        Row((p.name, f"{length(p.distance_m, system):.1f}", level(p.elevation_m), level(p.ground_m)), p.name)
        for p in found.points
    )
    heads = (f"Distance {unit}", f"Water path el. {unit}", f"Grade el. {unit}")
    columns = (Column("Place"), *(Column(h, "end") for h in heads))
    table = table_pages(Table("Points of the section", "section-points", columns, rows), height, room[1])
    if not (found.ground or found.way):
        return table  # no elevation is known at all: there is nothing to draw
    width, tall = room[0] - table[0].width_mm - 8.0, room[1]
    left, room_mm = height * 6.5, width - height * 9.5
    axis = across(max(d for d, _ in (*found.ground, *found.way)), room_mm, system)
    levels = [z for line in (found.ground, found.way) for _, z in line]
    tall = min(tall, upright(levels, tall - height * 8.5, system).mm + height * 8.5)
    width = left + max(axis.mm + height * 3.0, key_width(height))
    box = (left, height * 4.0, left + axis.mm, tall - height * 4.5)
    places = [(p.distance_m, p.elevation_m) for p in found.points if p.elevation_m is not None]
    marks, scale, _ = section_marks((found.ground, found.way), places, box, axis, system, height)
    title = f"LONG SECTION, SOURCE TO OUTLET {found.outlet}; PRESSURE NOT SOLVED"
    drawn = (Noted("plot", "section", "", box[0], box[1]),)
    return (Panel(Group("long-section", marks, title=title), drawn, width, tall, title, scale), *table)


def not_solved(hydraulics: Hydraulics) -> tuple[str, ...]:
    """Return why there is nothing to plot."""
    reasons = [failure_text(f) for f in hydraulics.failures]
    said = [TO_STATE] if any(f.code == "no-pressure-given" for f in hydraulics.failures) else []
    return (*(reasons or ["NOT SOLVED: the design has no case that can be worked out."]), *said, CAUTION)


def profile_panel(
    case: CaseResult,
    points: Sequence[ProfilePoint],
    course: tuple[Course, Course],
    system: str,
    height: float,
    width: float,
    tall: float,
) -> Panel:
    """Return both plots, pressure above and the long section below, over one distance axis.

    `course` is the ground over the way and the way itself, as (distance, elevation) in metres.
    """
    p_unit = unit_of(Dimension.PRESSURE, system)
    ps = [si_to(head_to_pressure_pa(p.pressure_m), Dimension.PRESSURE, p_unit) for p in points]
    p_ticks = steps(min(0.0, *ps), max(ps), 7)
    left = height * 6.5
    x = across(max(p.distance_m for p in points), plot_width(height, width), system)
    right = left + x.mm
    width = max(right + height * 3.0, left + key_width(height))
    split = _split(course, tall, height, system)
    upper = Axes(left, height * 6.0, right, split - height * 3.0, x.low, x.high, p_ticks[0], p_ticks[-1])
    on = [upper.at(length(q.distance_m, system), p) for q, p in zip(points, ps, strict=True)]
    curve = Group("profile-pressure", (Line(tuple(on), "plot"),), title="Pressure")
    dots = tuple(
        Group("profile-point", (Circle(at, 0.9, "thin", "black"),), p.name, f"{p.number} {p.name}")
        for at, p in zip(on, points, strict=True)
    )
    places = [(p.distance_m, p.elevation_m) for p in points if p.elevation_m is not None]
    box = (left, split + height * 4.0, right, tall - height * 4.5)
    section, scale, below = section_marks(course, places, box, x, system, height)
    lowest = {round(px, 6): max(y for dx, y in below if abs(dx - px) < 1e-6) for px, _ in below}
    marks: list[AnyMark] = [
        *(Line(((px, upper.top), (px, y)), "station") for px, y in lowest.items()),
        frame(upper, x.ticks, p_ticks, "", f"PRESSURE {p_unit}", height),
        curve,
        *bubbles(on, [str(p.number) for p in points], height * 1.3, height, left),
        *dots,
        *_need(case, upper, system, height),
        *section,
    ]
    drawn = [Noted("plot", "profile", "", left, split)]
    drawn += [Noted("label", "profile", p.name, *at) for at, p in zip(on, points, strict=True) if p.name]
    budget = case.budget
    outlet = budget.outlet if budget else ""
    title = f"PRESSURE PROFILE AND LONG SECTION, CASE {case.case}, SOURCE TO OUTLET {outlet}"
    return Panel(Group("profile", tuple(marks), title=title), tuple(drawn), width, tall, title, scale)


def _split(course: tuple[Course, Course], tall: float, height: float, system: str) -> float:
    """Return where the section begins: it is as tall as its scale asks, at most 0.6 of the whole."""
    levels = [z for line in course for _, z in line]
    most = tall * 0.6
    return tall - (upright(levels, most - height * 8.5, system).mm + height * 8.5 if levels else tall * 0.45)


def _need(case: CaseResult, axes: Axes, system: str, height: float) -> tuple[AnyMark, ...]:
    """Return the line of the pressure that the outlet needs, where it is known."""
    if case.budget is None or case.budget.required_m is None:
        return ()
    unit = unit_of(Dimension.PRESSURE, system)
    need = si_to(head_to_pressure_pa(case.budget.required_m), Dimension.PRESSURE, unit)
    a, b = axes.at(axes.x_low, need), axes.at(axes.x_high, need)
    text = f"REQUIRED AT {case.budget.outlet}: {number(need, 1)} {unit}"
    return (
        Group(
            "profile-required",
            (Line((a, b), "medium-dash"), Text(a[0] + 2.0, a[1] - 1.0, text, height, "start", halo=True)),
        ),
    )


def _points_table(points: Sequence[ProfilePoint], system: str) -> Table:
    p_unit, unit = unit_of(Dimension.PRESSURE, system), unit_of(Dimension.LENGTH, system)

    def level(value: float | None) -> str:
        return "not known" if value is None else f"{length(value, system):.2f}"

    rows = tuple(
        Row(
            (
                str(p.number),
                p.name,
                f"{length(p.distance_m, system):.1f}",
                pressure(p.pressure_m, system),
                level(p.elevation_m),
                level(p.ground_m),
            ),
            p.name,
        )
        for p in points
    )
    columns = (
        Column("No.", "end"),
        Column("After"),
        Column(f"Distance {unit}", "end"),
        Column(f"Pressure {p_unit}", "end"),
        Column(f"Water path el. {unit}", "end"),
        Column(f"Grade el. {unit}", "end"),
    )
    return Table("Points of the profile", "profile-points", columns, rows, CAUTION)
