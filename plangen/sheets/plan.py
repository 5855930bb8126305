"""The irrigation plan: a panel for each window, true to scale, with north arrow, bar scale, match lines."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from plangen.geometry.point import Point
from plangen.hydraulics.results import Hydraulics
from plangen.layout.wire import Wiring, measure_wire
from plangen.model.design import Design
from plangen.sheets.callouts import Detail, draw_callouts
from plangen.sheets.canvas import Canvas
from plangen.sheets.enlarged import Enlarged, Frame, draw_frame, frames
from plangen.sheets.labels import Field
from plangen.sheets.marks import Group
from plangen.sheets.panel import Panel
from plangen.sheets.pens import Lettering, lettering
from plangen.sheets.plan_band import (
    band_height,
    band_panels,
    letter_match_lines,
    match_lines,
    plan_notes,
)
from plangen.sheets.plan_base import draw_base
from plangen.sheets.plan_labels import keep_marker_rooms, put_keys
from plangen.sheets.plan_view import PlanView, Work, plan_views
from plangen.sheets.plan_wants import plan_tasks
from plangen.sheets.plan_water import draw_water
from plangen.sheets.plan_wire import draw_wire
from plangen.sheets.plan_zones import zone_middles
from plangen.sheets.untangle import Search
from plangen.sheets.viewport import scale_name

MOST_LOST = 3  # more labels of a view lost at first than this, and the plan is drawn larger instead
MOST_KEYS = 8  # labels without room get keys where they are no more than this


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """One sheet of the plan: its id, its panel, and mm of paper per metre of ground."""

    id: str
    panel: Panel
    per_m: float
    called: tuple[Detail, ...] = ()


@dataclass(frozen=True, slots=True)
class _View:
    """One view drawn: its canvas, its match lines, and its labels, which are not on the canvas yet."""

    canvas: Canvas
    matches: tuple[Group, ...]
    labels: Search
    framed: tuple[Frame, ...]


@dataclass(frozen=True, slots=True)
class _Plan:
    """All that a plan is drawn from, and one way of cutting it to sheets."""

    design: Design
    work: Work
    middles: Mapping[str, tuple[Point, bool]]  # of the zones
    hydraulics: Hydraulics
    letters: Lettering
    wiring: Wiring | None
    enlarged: tuple[Enlarged, ...]
    cut: PlanView
    ids: tuple[str, ...]


def plan_sheets(
    design: Design,
    hydraulics: Hydraulics,
    family: str,
    room: tuple[float, float],
    ids_of: Callable[[int], Sequence[str]],
    details: Sequence[Detail] = (),
    enlarged: tuple[Enlarged, ...] = (),
) -> tuple[PlanSheet, ...]:
    """Return the plan on as few sheets as show every object of the work with its label.

    `ids_of` gives the sheet ids for a number of sheets; match lines name the neighbours by them. `details`
    are called by bubbles at their objects; what `enlarged` views letter is framed. Where several labels find
    no room at the scale that fits one sheet, a larger scale with match lines is tried.
    """
    letters, wiring = lettering(family), measure_wire(design)
    window = (0.0, 0.0, room[0], room[1] - band_height(letters))
    work, middles = Work.of(design), zone_middles(design)
    cuts = [
        _Plan(
            design, work, middles, hydraulics, letters, wiring, enlarged, cut, tuple(ids_of(len(cut.views)))
        )
        for cut in plan_views(design, window)
    ]
    found = ((plan, _views(plan, MOST_LOST)) for plan in cuts)
    plan, views = next(((plan, views) for plan, views in found if views), (cuts[0], ()))
    if not views:
        plan, views = min(
            ((plan, _views(plan)) for plan in cuts), key=lambda c: sum(v.labels.lost for v in c[1])
        )
    for view in views:
        view.labels.mend()
        view.labels.finish()
    _key_few([view.canvas for view in views], _work(design))
    return tuple(_sheet(plan, room, view, index, details) for index, view in enumerate(views))


def _views(plan: _Plan, most_lost: float = math.inf) -> tuple[_View, ...]:
    """All views of one way of cutting the plan; none as soon as more labels are lost than so many a view."""
    views: list[_View] = []
    left = most_lost * len(plan.cut.views)
    for index in range(len(plan.cut.views)):
        views.append(_draw(plan, index, left))
        left -= views[-1].labels.lost
        if left < 0:
            return ()
    return tuple(views)


def _draw(plan: _Plan, index: int, most_lost: float) -> _View:
    """Draw one view, and find each label a place; no more of them once more than so many are lost."""
    view = plan.cut.views[index]
    canvas = Canvas(view, plan.letters, plan.design.project.units, Field(view.window))
    lines = match_lines(canvas, plan.cut, index, plan.ids)
    shown = plan.work.seen(view)
    draw_base(canvas, shown)
    crowded = draw_water(canvas, shown)
    draw_wire(canvas, shown, plan.wiring)
    framed = frames(canvas, shown, plan.enlarged)
    for frame in framed:
        draw_frame(canvas, frame)
    matches = (*lines, *letter_match_lines(canvas, plan.cut, index, plan.ids, plan.letters))
    tasks = plan_tasks(canvas, shown, plan.hydraulics, crowded, plan.wiring, plan.middles, framed)
    return _View(canvas, matches, Search(canvas, tasks, most_lost), framed)


def _work(design: Design) -> frozenset[str]:
    """The names of all objects of the work."""
    groups = (design.devices, design.pipes, design.sleeves, design.heads, design.drips)
    return frozenset(thing.name for group in groups for thing in group)


def _key_few(canvases: Sequence[Canvas], work: frozenset[str]) -> None:
    """Give keys to labels of the work that found no room, where they are few: one sheet beats four."""
    lettered = {name for canvas in canvases for name in canvas.label_boxes}
    for canvas in canvases:
        lost = [want for want in canvas.lost if want.object in work - lettered]
        if len(lost) <= MOST_KEYS:
            put_keys(canvas, lost)


def _sheet(
    plan: _Plan, room: tuple[float, float], view: _View, index: int, details: Sequence[Detail]
) -> PlanSheet:
    canvas, cut, design, letters = view.canvas, plan.cut, plan.design, plan.letters
    links, called = draw_callouts(canvas, details)
    rooms = keep_marker_rooms(canvas)
    notes = plan_notes(design, canvas, plan.wiring)
    band = band_panels(design, letters, room, cut, index, notes, plan.ids)
    marks = (*canvas.marks(), *view.matches, *(p.group for p in band))
    drawn = (*canvas.noted, *(d for p in band for d in p.drawn))
    title = "Irrigation plan" + (f", part {index + 1} of {len(cut.views)}" if cut.split else "")
    scale = scale_name(cut.views[index].denominator, design.project.units)
    group = Group("irrigation-plan", marks, title=title)
    panel = Panel(
        group, drawn, room[0], room[1], title, scale, (*canvas.links, *links), tuple(canvas.anchors), rooms
    )
    framed = tuple(frame.view.called for frame in view.framed)
    return PlanSheet(plan.ids[index], panel, cut.views[index].per_m, (*called, *framed))
