"""Labels of the site base: utilities, grades, areas, trees, property line. They get what room is left."""

from __future__ import annotations

from plangen.model.design import Design
from plangen.model.site import Area
from plangen.quantity.display import fixed
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.plan_base import utility_words
from plangen.sheets.plan_labels import put, put_along, put_in_area


def letter_site(canvas: Canvas, design: Design) -> None:
    """Letter the site base of one view."""
    _utilities(canvas, design)
    _areas(canvas, design)


def _utilities(canvas: Canvas, design: Design) -> None:
    for utility in design.site.utilities:
        pieces = canvas.path(utility.route)
        if pieces:
            middle = pieces[0][0]
            want = Want(
                utility.name,
                f"utility-{utility.kind}",
                (utility_words(utility, canvas.units),),
                middle,
                0.5,
                canvas.letters.note,
                1.6,
                dot=True,
            )
            put_along(canvas, want, pieces, 0.6)


def building_words(area: Area) -> tuple[str, ...]:
    """Return the lines of a building's label: its label, and its name where that says more."""
    label = (area.label or area.name).upper()
    return (label,) if label == area.name.upper() else (label, area.name)


def letter_grades(canvas: Canvas, design: Design) -> None:
    """Letter the spot grades: they stand among the fittings and get their place with them."""
    unit, decimals = ("ft", 1) if canvas.units == "us" else ("m", 2)
    for i, grade in enumerate(design.site.grades):
        at_xy = canvas.view.paper(grade.point)
        if canvas.sees(at_xy):
            words = f"EL {fixed(grade.elevation.to(unit), decimals)}"
            put(canvas, Want(f"grade {i + 1}", "grade", (words,), at_xy, 0.8, canvas.letters.note, 1.0))


def _areas(canvas: Canvas, design: Design) -> None:
    site, body = design.site, canvas.letters.body
    for area in site.buildings:
        put_in_area(canvas, area, building_words(area), body, True)
    for area in site.paving:
        words = ", ".join(w for w in (area.name, area.material) if w)
        put_in_area(canvas, area, ((area.label or area.name).upper(), words), canvas.letters.note, False)
    for area in site.planting:
        words = ", ".join(w for w in (area.name, area.plant) if w)
        put_in_area(canvas, area, ((area.label or area.name).upper(), words), canvas.letters.note, False)
    for tree in site.trees:
        at_xy = canvas.view.paper(tree.point)
        if canvas.sees(at_xy):
            put(canvas, Want(tree.name, "tree", (f"{tree.name} TR",), at_xy, 0.5, canvas.letters.note, 1.2))
    if site.lot and site.lot.outline:
        corner = max(site.lot.outline, key=lambda p: (-p.y, p.x))
        at_xy = canvas.view.paper(corner)
        if canvas.sees(at_xy):
            put(canvas, Want(site.lot.name, "lot", ("PROPERTY LINE",), at_xy, 0.3, canvas.letters.note, 1.2))
