"""The irrigation plan: a panel for each window, true to scale, with north arrow, bar scale, match lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from plangen.hydraulics.results import Hydraulics
from plangen.layout.wire import measure_wire
from plangen.model.design import Design
from plangen.sheets.callouts import Detail, draw_callouts
from plangen.sheets.canvas import Canvas
from plangen.sheets.labels import Field
from plangen.sheets.marks import Group
from plangen.sheets.panel import Panel
from plangen.sheets.pens import Lettering, lettering
from plangen.sheets.plan_band import band_height, band_panels, match_lines, plan_notes
from plangen.sheets.plan_base import draw_base
from plangen.sheets.plan_labels import keep_marker_rooms, put_keys
from plangen.sheets.plan_view import PlanView, plan_views
from plangen.sheets.plan_wants import letter_plan
from plangen.sheets.plan_water import draw_water
from plangen.sheets.plan_wire import draw_wire
from plangen.sheets.viewport import scale_name

MOST_KEYS = 8  # more labels without room than this, and the plan is drawn larger instead


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """One sheet of the plan: its id, its panel, and mm of paper per metre of ground."""

    id: str
    panel: Panel
    per_m: float
    called: tuple[Detail, ...] = ()


@dataclass(frozen=True, slots=True)
class _Drawing:
    """One way of cutting the plan, drawn: its windows, and the objects of the work left without a label."""

    cut: PlanView
    canvases: tuple[Canvas, ...]
    matches: tuple[tuple[Group, ...], ...]
    ids: tuple[str, ...]
    missing: tuple[str, ...]


def plan_sheets(
    design: Design,
    hydraulics: Hydraulics,
    family: str,
    room: tuple[float, float],
    ids_of: Callable[[int], Sequence[str]],
    details: Sequence[Detail] = (),
) -> tuple[PlanSheet, ...]:
    """Return the plan on as few sheets as show every object of the work with its label.

    `ids_of` gives the sheet ids for a number of sheets; match lines name the neighbours by them. `details`
    are called by bubbles at their objects. Where a
    label finds no room at the scale that fits one sheet, a larger scale with match lines is tried.
    """
    letters = lettering(family)
    window = (0.0, 0.0, room[0], room[1] - band_height(letters))
    first, *others = plan_views(design, window)
    best = _draw(design, hydraulics, letters, first, tuple(ids_of(len(first.views))))
    for cut in others:
        if not best.missing:
            break
        drawing = _draw(design, hydraulics, letters, cut, tuple(ids_of(len(cut.views))))
        best = drawing if len(drawing.missing) < len(best.missing) else best
    return tuple(_sheet(design, letters, room, best, i, details) for i in range(len(best.ids)))


def _draw(
    design: Design, hydraulics: Hydraulics, letters: Lettering, cut: PlanView, ids: tuple[str, ...]
) -> _Drawing:
    wiring = measure_wire(design)
    canvases: list[Canvas] = []
    matches: list[tuple[Group, ...]] = []
    for index, view in enumerate(cut.views):
        canvas = Canvas(view, letters, design.project.units, Field(view.window))
        matches.append(match_lines(canvas, cut, index, ids, letters))
        draw_base(canvas, design)
        crowded = draw_water(canvas, design)
        draw_wire(canvas, design, wiring)
        letter_plan(canvas, design, hydraulics, crowded, wiring)
        canvases.append(canvas)
    _key_few(canvases, _work(design))
    lettered = {name for canvas in canvases for name in canvas.label_boxes}
    unplaced = {name for canvas in canvases for name in canvas.unplaced}
    missing = tuple(sorted((unplaced & _work(design)) - lettered))
    return _Drawing(cut, tuple(canvases), tuple(matches), ids, missing)


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
    design: Design,
    letters: Lettering,
    room: tuple[float, float],
    drawing: _Drawing,
    index: int,
    details: Sequence[Detail],
) -> PlanSheet:
    canvas, cut = drawing.canvases[index], drawing.cut
    links, called = draw_callouts(canvas, details)
    rooms = keep_marker_rooms(canvas)
    band = band_panels(design, letters, room, cut, index, plan_notes(design, canvas, measure_wire(design)))
    marks = (*canvas.marks(), *drawing.matches[index], *(p.group for p in band))
    drawn = (*canvas.noted, *(d for p in band for d in p.drawn))
    title = "Irrigation plan" + (f", part {index + 1} of {len(cut.views)}" if cut.split else "")
    scale = scale_name(cut.views[index].denominator, design.project.units)
    group = Group("irrigation-plan", marks, title=title)
    panel = Panel(group, drawn, room[0], room[1], title, scale, links, tuple(canvas.anchors), rooms)
    return PlanSheet(drawing.ids[index], panel, cut.views[index].per_m, called)
