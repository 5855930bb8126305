"""Move one figure of the design by 3 in, and the line that stands for it moves by 3 in at the detail's scale.

Read from the SVG, in millimetres of paper. The expected figures are the design's own; pipe sizes are those of
ASTM D1785 Table 1 (Sch 40) and ASTM B88 Table 1 (type K). 0.02 mm is the rounding of the SVG's numbers.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass, replace
from functools import cache

import pytest

from plangen.layout.heights import measure_heights
from plangen.render.svg import svg_text
from plangen.sheets.details import details_panels
from plangen.sheets.marks import Group, Sheet
from plangen.sheets.panel import Panel
from tests.sheets.details_measures import drawn_from, of_kind, stages

INCH_MM = 25.4
# outside diameters in inches
OD = {"pvc 1-1/4": 1.660, "pvc 1": 1.315, "pvc 3/4": 1.050, "copper 1": 1.125, "pvc 2-1/2": 2.875}
Place = tuple[str, str, str]  # role of the group, object, edge


@dataclass(frozen=True)
class Moved:
    """One figure: what is replaced, which panel shows it, and between which two edges it is measured."""

    was: str
    now: str
    panel: str  # role and object
    start: Place
    end: Place
    inches: float
    extra: float = 0.0  # what the two edges lie apart beyond the figure itself, in inches
    kind: str = ""


GRADE = ("grade-line", "", "y")


def _depth(statement: str, panel: str, pipe: str, depth: float, od: float = 0.0) -> Moved:
    """A device's depth: the axis of the pipe in its panel under the grade line."""
    now = statement.replace(f"height -{depth:g} in", f"height -{depth + 3:g} in")
    return Moved(statement, now, panel, GRADE, ("pipe", pipe, "middle"), depth)


def _cover(statement: str, panel: str, role: str, name: str, cover: float) -> Moved:
    """A pipe's cover: its top under the grade line."""
    now = statement.replace(f"cover {cover:g} in", f"cover {cover + 3:g} in")
    return Moved(statement, now, panel, GRADE, (role, name, "top of the last"), cover)


P2 = "pipe P2 pvc-sch40 1-1/4 in, route IV1 -> (24, 2) -> BF1, cover 18 in"
P3 = "pipe P3 pvc-sch40 1-1/4 in, route BF1 -> N1, cover 18 in"
P1 = "pipe P1 copper-k 1 in, route T1 -> IV1, cover 18 in"
S2 = "service S2 copper-k 1 in, route M1 -> T1, cover 24 in, existing"
P10 = "pipe P10 pvc-sch40 3/4 in, route N2 -> DR1, cover 18 in"
L11 = "lateral L11 pvc-sch40 1 in, route V1 -> N11 -> N12, cover 12 in"
V1 = "valve V1 valve-1, at (20, 36.5), size 1 in, height -10 in"
V4 = "valve V4 valve-1, at (26, 44), size 1 in, height -10 in"
IV1 = "isolation IV1 ball-valve-1, at (10, 2), size 1 in, height -18 in"
BO1 = "blow-out BO1 at (7, 80), size 3/4 in, height -12 in"
DR1 = '"manual drain, lowest point of the main", at (23, 35.5), size 3/4 in, height -18 in'
WIRE = '"18 AWG, burial listed, one common, one spare", cover 12 in'
BODY = "detail-assembly BF1"

FIGURES = {
    "height of the assembly": Moved(
        "critical level 28 in", "critical level 31 in", BODY, GRADE, ("critical-level", "BF1", "y"), 28
    ),
    "height of the relief port": Moved(
        "relief port 28 in", "relief port 31 in", BODY, GRADE, ("critical-level", "BF1", "y"), 28, kind="rp"
    ),
    "wall clearance": Moved(
        "clearance 12 in", "clearance 15 in", BODY,
        ("body-pvb", "BF1", "right"), ("wall", "House", "left"), 12,
    ),
    "riser on the inlet": Moved(
        P2, P2.replace("18 in", "21 in"), BODY, ("critical-level", "BF1", "y"), ("riser", "P2", "bottom"),
        28 + 18, extra=OD["pvc 1-1/4"] * 1.15,
    ),
    "riser on the outlet": Moved(
        P3, P3.replace("18 in", "21 in"), BODY, ("critical-level", "BF1", "y"), ("riser", "P3", "bottom"),
        28 + 18, extra=OD["pvc 1-1/4"] * 1.15,
    ),
    "mainline cover": _cover(P10, "detail-trench P10", "pipe", "P10", 18),
    "lateral cover": _cover(L11, "detail-trench L11", "pipe", "L11", 12),
    "lateral cover at a head": _cover(L11, "detail-head H11", "lateral", "L11", 12),
    "service depth at the tap": _cover(S2, "detail-tap T1", "pipe", "S2", 24),
    "depth of the branch at the tap": _cover(P1, "detail-tap T1", "pipe", "P1", 18),
    "isolation valve": _depth(IV1, "detail-isolation IV1", "P1", 18),
    "valve box": _depth(V1, "detail-zone-valve V1", "P5", 10),
    "drip control set": _depth(V4, "detail-drip V4", "", 10),
    "blow-out": _depth(BO1, "detail-blow-out BO1", "P11", 12),
    "drain": _depth(DR1, "detail-drain DR1", "P10", 18),
    "wire in the trench": Moved(
        WIRE, WIRE.replace("12 in", "15 in"), "detail-trench P2", GRADE, ("wire", "C1", "middle"), 12
    ),
    "wire at a box": Moved(
        WIRE, WIRE.replace("12 in", "15 in"), "detail-wire C1", GRADE, ("wire", "C1", "first"), 12
    ),
    "sleeve past the edge": Moved(
        "on P2, under Walk, extends 14 in", "on P2, under Walk, extends 17 in", "detail-trench SL1",
        ("paving", "Walk", "right of the last"), ("sleeve-along", "SL1", "right"), 14,
    ),
    "frost depth": Moved(
        "frost depth 10 in", "frost depth 13 in", "detail-trench P2", GRADE, ("frost-line", "", "y"), 10
    ),
    "pop-up": Moved("pop-up 4 in", "pop-up 7 in", "detail-head H11", ("head-spray", "H11", "top"), GRADE, 4),
    "drip rows": Moved("rows 18 in", "rows 21 in", "detail-drip-rows D41", 
        ("drip-row", "D41", "first row"), ("drip-row", "D41", "last row"), 18),
    "emitters": Moved(
        "emitter spacing 12 in", "emitter spacing 15 in", "detail-drip-rows D41",
        ("drip-row", "D41", "first dot"), ("drip-row", "D41", "second dot"), 12,
    ),
}  # fmt: skip


@cache
def _details(changes: tuple[tuple[str, str], ...]) -> tuple[Panel, ...]:
    design, surface = drawn_from(*changes)
    # the details ask the layout for heights alone; water need not be solved anew for each figure
    layout = replace(stages()[3], heights=measure_heights(design, surface)[0])
    return details_panels(design, surface, layout, "us", "ansi-b")


def _holds(group: Group, name: str) -> bool:
    return group.object == name or any(_holds(m, name) for m in group.marks if isinstance(m, Group))


class Drawn:
    """A detail's SVG, read back."""

    def __init__(self, changes: tuple[tuple[str, str], ...], which: str) -> None:
        role, name = which.split()
        panel = next((p for p in _details(changes) if p.group.role == role and _holds(p.group, name)), None)
        assert panel is not None, f"no detail {which}"
        self.root = ET.fromstring(
            svg_text(Sheet("X", "X", panel.width_mm, panel.height_mm, "", (panel.group,)))
        )
        found = re.search(r"1:(\d+)", panel.scale)
        assert found, panel.scale
        self.denominator = int(found[1])

    def groups(self, role: str, name: str) -> list[ET.Element]:
        """Return the groups of a role and an object; `*` is any role."""
        every = [g for g in self.root.iter() if g.tag.endswith("}g")]
        return [
            g for g in every if role in ("*", g.get("class")) and (not name or g.get("data-object") == name)
        ]

    def at(self, place: Place) -> float:
        """Return the mm of paper at which an edge of a group lies."""
        role, name, edge = place
        found = self.groups(role, name)
        assert found, place
        if edge in ("right of the last", "last row", "top of the last"):
            found = found[-1:]
        elif edge in ("y", "first row", "left", "right", "first", "first dot", "second dot"):
            found = found[:1]
        points = [p for g in found for e in g.iter() for p in _points(e)]
        ys = [y for _, y in points]
        if edge == "first":
            return ys[0]
        if edge in ("left", "right", "right of the last"):
            shapes = [
                p for g in found for e in g if e.tag.endswith(("polyline", "polygon")) for p in _points(e)
            ]
            return min(x for x, _ in shapes) if edge == "left" else max(x for x, _ in shapes)
        if edge in ("y", "middle", "first row", "last row"):
            line = [p for e in found[0 if edge != "last row" else -1] for p in _points(e)]
            return (min(y for _, y in line) + max(y for _, y in line)) / 2
        if edge in ("first dot", "second dot"):
            dots = [float(e.attrib["cx"]) for e in found[0] if "cx" in e.attrib]
            return dots[edge == "second dot"]
        return max(ys) if edge == "bottom" else min(ys)


def _points(element: ET.Element) -> list[tuple[float, float]]:
    """Return the outline of one shape; text has none."""
    if "points" in element.attrib:
        return [(float(x), float(y)) for x, y in (p.split(",") for p in element.attrib["points"].split())]
    if "cx" in element.attrib:
        x, y, r = (float(element.attrib[k]) for k in ("cx", "cy", "r"))
        return [(x - r, y - r), (x + r, y + r)]
    return []


@pytest.mark.parametrize("name", FIGURES)
def test_three_inches_more_are_three_inches_more_on_paper(name: str) -> None:
    figure = FIGURES[name]
    base = of_kind(figure.kind) if figure.kind else ()
    for changes, inches in (
        (base, figure.inches),
        ((*base, (figure.was, figure.now)), figure.inches + 3),
    ):
        drawn = Drawn(changes, figure.panel)
        paper = abs(drawn.at(figure.end) - drawn.at(figure.start))
        expected = (inches + figure.extra) * INCH_MM / drawn.denominator
        assert paper == pytest.approx(expected, abs=0.025), (inches, drawn.denominator)


def test_an_enclosure_is_drawn_where_one_is_stated_and_clears_the_body() -> None:
    """The design states an enclosure in words alone: its outline keeps round the body as the body moves."""
    said = ("clearance 12 in,", 'clearance 12 in, enclosure "lockable",')
    for level in (28, 31):
        changes = (*of_kind("rp"), said, ("relief port 28 in", f"relief port {level} in"))
        drawn = Drawn(changes, BODY)
        assert drawn.at(("enclosure", "BF1", "top")) < drawn.at(("body-rp", "BF1", "top"))
    bare = Drawn(of_kind("rp"), BODY)
    assert not bare.groups("enclosure", "BF1")


def test_an_assembly_in_a_box_stands_in_it_at_its_depth() -> None:
    """A double check stands under the grade by its own figure, the box round it, the lid at grade."""
    for depth in (14, 17):
        changes = tuple(
            (was, now.replace("height 28 in", f"height -{depth} in, in box")) for was, now in of_kind("dc")
        )
        drawn = Drawn(changes, BODY)
        level = drawn.at(("critical-level", "BF1", "y")) - drawn.at(GRADE)
        assert level == pytest.approx(depth * INCH_MM / drawn.denominator, abs=0.025)
        assert drawn.at(("box", "BF1", "bottom")) > drawn.at(("body-dc", "BF1", "bottom"))
        assert drawn.at(("box", "BF1", "top")) < drawn.at(GRADE)
