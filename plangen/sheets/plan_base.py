"""The site base of a plan in half-tone: lot, buildings, paving, planting, utilities, trees, spot grades."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from plangen.model.design import Design
from plangen.model.site import Area as SiteArea
from plangen.model.site import Utility
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.sheets.canvas import Canvas, letter_mark, lettered
from plangen.sheets.marks import XY, Area, Group, Line, Segments
from plangen.sheets.panel import AnyMark
from plangen.sheets.pens import pen
from plangen.sheets.plan_ground import draw_ground
from plangen.sheets.shapes import Segment, clip_segment, hatch
from plangen.sheets.symbols import symbol

# letter breaks of buried lines, so that they are told apart in black and white
UTILITY_LETTERS: dict[str, str] = {
    "sewer": "S",
    "gas": "G",
    "power": "E",
    "telecom": "T",
    "storm": "SD",
    "water": "W",
    "septic": "SP",
    "reclaimed": "RW",
}
GRADE_SIZE = 1.3


def draw_base(canvas: Canvas, design: Design) -> None:
    """Draw everything that is on the ground before the work."""
    site = design.site
    for area in site.planting:
        _area(canvas, "planting", area, "planting", "none")
    for area in site.paving:
        _area(canvas, "paving", area, "paving", "pale")
    for area in site.buildings:
        _building(canvas, area)
    draw_ground(canvas, design)
    if site.lot:
        pieces = canvas.path((*site.lot.outline, site.lot.outline[0]))
        canvas.pieces(
            "site", "property-line", pieces, "property", site.lot.name, f"{site.lot.name}, property line"
        )
        if pieces:
            canvas.note("line", "property", site.lot.name, pieces[0][0])
    runs = tuple(
        run
        for pipe in design.pipes
        for piece in canvas.path(tuple(stop.point for stop in pipe.route))
        for run in pairwise(piece)
    )
    for utility in site.utilities:
        _utility(canvas, utility, runs)
    _trees(canvas, design)
    _grades(canvas, design)


def utility_words(utility: Utility, units: str) -> str:
    """Return what the plan says beside a buried line: name, kind, depth or that it is not known."""
    depth = f"{told(utility.depth.si, Dimension.LENGTH, units)} deep" if utility.depth else "depth not given"
    return f"{utility.name} {utility.kind}, {depth}"


def _area(canvas: Canvas, layer: str, area: SiteArea, pen_role: str, fill: str) -> None:
    outline = canvas.outline(area.outline)
    if len(outline) < 3:
        return
    canvas.add(
        layer,
        Group(f"area-{area.kind}", (Area(outline, pen_role, fill),), area.name, area.label or area.name),
    )
    canvas.space.line((*outline, outline[0]), False)
    canvas.note("line", "paving" if layer == "paving" else "planting", area.name, outline[0])


def _building(canvas: Canvas, area: SiteArea) -> None:
    outline = canvas.outline(area.outline)
    if len(outline) < 3:
        return
    lines = Segments(hatch(outline, 5.0, 45.0), "hatch")
    marks = (Area(outline, "", "white"), lines, Area(outline, "building", "none"))
    canvas.add("building", Group("area-building", marks, area.name, area.label or area.name))
    # a label's white ground over a wall would open the building
    canvas.space.wall((*outline, outline[0]))
    canvas.note("line", "building", area.name, outline[0])


def _utility(canvas: Canvas, utility: Utility, pipes: Sequence[Segment]) -> None:
    """A buried line with its letters, which keep off the runs of pipes."""
    letter = UTILITY_LETTERS.get(utility.kind, "U")
    height = canvas.letters.floor
    drawn = False
    half = height * (0.5 + 0.4 * len(letter))

    def clear(at_xy: XY) -> bool:
        x, y = at_xy
        room = (x - half - 0.4, y - height * 0.8, x + half + 0.4, y + height * 0.8)
        return not any(clip_segment(a, b, room) for a, b in pipes)

    for piece in canvas.path(utility.route):
        parts, middles = lettered(piece, 38.0, height * (1.0 + len(letter)), clear)
        marks: list[AnyMark] = [Line(p, "utility") for p in parts]
        marks.extend(letter_mark(letter, m, height) for m in middles)
        canvas.add("site", Group("utility", tuple(marks), utility.name, utility_words(utility, canvas.units)))
        canvas.space.line(piece, pen("utility").heavy)
        for x, y in middles:
            canvas.space.take((x - half, y - height * 0.7, x + half, y + height * 0.7))
        drawn = True
    if drawn:
        canvas.note("line", f"utility-{utility.kind}", utility.name, canvas.path(utility.route)[0][0])


def _trees(canvas: Canvas, design: Design) -> None:
    for tree in design.site.trees:
        x, y = canvas.view.paper(tree.point)
        if not canvas.sees((x, y)):
            continue
        radius = max(1.5, tree.canopy.si / 2 * canvas.view.per_m if tree.canopy else 2.0)
        canvas.add("site", symbol("tree", x, y, radius, object=tree.name))
        canvas.note("symbol", "tree", tree.name, (x, y))


def _grades(canvas: Canvas, design: Design) -> None:
    for i, grade in enumerate(design.site.grades):
        x, y = canvas.view.paper(grade.point)
        if not canvas.sees((x, y)):
            continue
        canvas.add("site", symbol("grade", x, y, GRADE_SIZE))
        canvas.space.take((x - 0.8, y - 0.8, x + 0.8, y + 0.8))
        canvas.note("symbol", "grade", f"grade {i + 1}", (x, y))
