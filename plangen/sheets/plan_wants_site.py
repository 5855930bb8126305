"""Labels of the site base: utilities, grades, areas, trees, property line. They get what room is left."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from plangen.geometry.point import Point, distance
from plangen.model.design import Design
from plangen.model.site import Area, SpotGrade, Utility
from plangen.quantity.display import fixed
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.font import text_width_mm
from plangen.sheets.plan_base import utility_words
from plangen.sheets.plan_ground import letter_ground
from plangen.sheets.plan_labels import put, put_along, put_in_area
from plangen.sheets.schedule_words import taped
from plangen.sheets.untangle import Task, task


def site_tasks(canvas: Canvas, design: Design) -> Iterator[Task]:
    """Return what letters each object of the site base, in the order of their places."""
    site, note = design.site, canvas.letters.note
    for utility in site.utilities:
        yield task(_utility, utility)
    for area in site.buildings:
        words = building_words(area)
        yield task(put_in_area, area, words, canvas.letters.body, True)
    for area in (*site.paving, *site.planting):
        more = ", ".join(w for w in (area.name, area.material or area.plant) if w)
        words = ((area.label or area.name).upper(), more)
        yield task(put_in_area, area, words, note, False)
    for tree in site.trees:
        told_tree = f"{tree.name} TR" + (f", {tree.label}" if tree.label else "")
        yield task(_at, tree.name, "tree", told_tree, tree.point, 0.5)
    if site.lot and site.lot.outline:
        corner = max(site.lot.outline, key=lambda p: (-p.y, p.x))
        yield task(_at, site.lot.name, "lot", "PROPERTY LINE", corner, 0.3)
        around = (*site.lot.outline, site.lot.outline[0])
        for number, (a, b) in enumerate(pairwise(around), 1):
            yield task(_side, f"{site.lot.name} side {number}", a, b)
    yield task(letter_ground, design)


def _at(canvas: Canvas, name: str, kind: str, words: str, point: Point, half: float) -> None:
    at_xy = canvas.view.paper(point)
    if canvas.sees(at_xy):
        put(canvas, Want(name, kind, (words,), at_xy, half, canvas.letters.note, 1.2))


def _side(canvas: Canvas, name: str, a: Point, b: Point) -> None:
    """The length of one side of the lot along it, so that the plan can be checked against the plat."""
    pieces = canvas.path((a, b))
    words = taped(distance(a, b), canvas.units)
    if not pieces or distance(a, b) * canvas.view.per_m < text_width_mm(words, canvas.letters.note) * 2:
        return
    (ax, ay), (bx, by) = pieces[0][0], pieces[0][-1]
    want = Want(name, "lot-side", (words,), ((ax + bx) / 2, (ay + by) / 2), 0.5, canvas.letters.note, 1.4)
    put_along(canvas, want, pieces, 0.9)


def _utility(canvas: Canvas, utility: Utility) -> None:
    pieces = canvas.path(utility.route)
    if pieces:
        words, note = utility_words(utility, canvas.units), canvas.letters.note
        kind = f"utility-{utility.kind}"
        want = Want(utility.name, kind, (words,), pieces[0][0], 0.5, note, 1.6, dot=True)
        put_along(canvas, want, pieces, 0.6)


def building_words(area: Area) -> tuple[str, ...]:
    """Return the lines of a building's label: its label, and its name where that says more."""
    label = (area.label or area.name).upper()
    return (label,) if label == area.name.upper() else (label, area.name)


def numbered_grades(design: Design) -> tuple[tuple[str, SpotGrade], ...]:
    """Return the spot grades under the names that their labels go by."""
    return tuple((f"grade {i + 1}", grade) for i, grade in enumerate(design.site.grades))


def letter_grade(canvas: Canvas, name: str, grade: SpotGrade) -> None:
    """Letter a spot grade: they stand among the fittings and get their place with them."""
    unit, decimals = ("ft", 1) if canvas.units == "us" else ("m", 2)
    at_xy = canvas.view.paper(grade.point)
    if canvas.sees(at_xy):
        words = f"EL {fixed(grade.elevation.to(unit), decimals)}"
        put(canvas, Want(name, "grade", (words,), at_xy, 0.8, canvas.letters.note, 1.0))
