"""The assembly elevation is drawn to the design's own figures: move a figure by 3 in and its line moves 3 in.

Checks against the definition of a drawn scale (1 in = 1 ft is 1:12): no value of our own making.
"""

from __future__ import annotations

import re

import pytest

from plangen.sheets.details import details_panels
from plangen.sheets.marks import Circle, Line
from plangen.sheets.panel import Panel
from tests.sheets.details_measures import clashes, groups, of_kind, stages, words

INCH_MM = 25.4


def elevation(*changes: tuple[str, str]) -> Panel:
    """Return the assembly elevation of the residential design with texts replaced."""
    design, surface, _, layout = stages(*changes)
    return details_panels(design, surface, layout, "us", "ansi-b")[0]


def level(panel: Panel, role: str) -> float:
    """Return the paper y of the first line of a role."""
    line = next(m for g in groups(panel.group, role) for m in g.marks if isinstance(m, Line))
    return line.points[0][1]


def span(panel: Panel, role: str, axis: int, name: str | None = None) -> float:
    """Return the length on paper of a dimension line."""
    line = next(m for m in next(groups(panel.group, role, name)).marks if isinstance(m, Line))
    return abs(line.points[0][axis] - line.points[1][axis])


def scale(panel: Panel) -> float:
    """Return the denominator of the scale as lettered."""
    found = re.search(r"1:(\d+)", panel.scale)
    assert found is not None
    return float(found.group(1))


def test_three_inches_of_height_move_the_level_by_three_inches() -> None:
    low, high = elevation(), elevation(("critical level 28 in", "critical level 31 in"))
    assert scale(low) == scale(high)
    rise = [level(p, "grade-line") - level(p, "critical-level") for p in (low, high)]
    assert rise[0] == pytest.approx(28 * INCH_MM / scale(low), abs=1e-9)
    assert rise[1] - rise[0] == pytest.approx(3 * INCH_MM / scale(low), abs=1e-9)
    assert "28 in" in words(low)
    assert "31 in" in words(high)


def test_three_inches_of_cover_move_the_pipe_by_three_inches() -> None:
    was = "pipe P2        pvc-sch40 1-1/4 in, route IV1 -> (24, 2) -> BF1, cover 18 in"
    shallow, deep = elevation(), elevation((was, was.replace("18 in", "21 in")))
    assert scale(shallow) == scale(deep)
    drawn = [span(p, "dimension-cover", 1, "P2") for p in (shallow, deep)]
    assert drawn[0] == pytest.approx(18 * INCH_MM / scale(shallow), abs=1e-9)
    assert drawn[1] - drawn[0] == pytest.approx(3 * INCH_MM / scale(shallow), abs=1e-9)


def test_three_inches_of_clearance_move_the_wall_by_three_inches() -> None:
    near, far = elevation(), elevation(("clearance 12 in", "clearance 15 in"))
    assert scale(near) == scale(far)
    drawn = [span(p, "dimension-clearance", 0) for p in (near, far)]
    assert drawn[0] == pytest.approx(12 * INCH_MM / scale(near), abs=1e-9)
    assert drawn[1] - drawn[0] == pytest.approx(3 * INCH_MM / scale(near), abs=1e-9)


def test_highest_outlet_is_named_and_its_gap_is_the_layout_fact() -> None:
    design, surface, _, layout = stages()
    panel = details_panels(design, surface, layout, "us", "ansi-b")[0]
    known = [h for h in layout.heights if h.assembly == "BF1" and h.elevation_m is not None]
    highest = max(known, key=lambda h: h.elevation_m or 0.0)
    assert highest.above_m is not None
    gap = level(panel, "highest-outlet") - level(panel, "critical-level")
    assert gap == pytest.approx(highest.above_m * 1000 / scale(panel), abs=1e-6)
    assert f"HIGHEST OUTLET {highest.outlet}" in words(panel)
    assert "REQUIRED" not in words(panel)
    # what is required is known only once rules were asked; the room for it is kept beside the provided height
    assert any(name.startswith("limit height_above_highest_outlet BF1") for name, *_ in panel.rooms)


# Numbers of test cocks by kind: common form fields of test reports, e.g. Iowa City report form (9/02); an RP
# and a DC are tested at four cocks, a PVB at two, an SVB at one and its bleed. Shut-offs: common practice.
KINDS = {
    "pvb": (2, 2),
    "svb": (2, 1),
    "rp": (2, 4),
    "dc": (2, 4),
    "avb": (0, 0),
    "db": (0, 0),
    "air-gap": (0, 0),
}


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_each_kind_has_its_own_body(kind: str) -> None:
    panel = elevation(*of_kind(kind))
    bodies = {b: list(groups(panel.group, f"body-{b}")) for b in KINDS}
    assert [b for b, found in bodies.items() if found] == [kind]
    shutoffs, cocks = KINDS[kind]
    assert len(list(groups(panel.group, "shut-off"))) == shutoffs
    assert len(list(groups(panel.group, "test-cock"))) == cocks
    assert clashes(panel) == []


@pytest.mark.parametrize(
    ("was", "says"),
    [
        (", critical level 28 in above grade", "HEIGHT ABOVE GRADE NOT STATED"),
        (", clearance 12 in", "CLEARANCE NOT STATED"),
        (', insulation "fitted foam jacket, vents left open"', "INSULATION: NOT STATED"),
        (', supports "two galvanised posts"', "SUPPORTS: NOT STATED"),
        (', drain "spills to grade, slopes away from the wall"', "DRAIN: NOT STATED"),
        ("length 10 in", "BODY SIZE NOT STATED"),
    ],
)
def test_a_figure_that_is_not_stated_says_so(was: str, says: str) -> None:
    panel = elevation((was, ""))
    assert says in words(panel)
    assert clashes(panel) == []
    if was.startswith(", critical"):
        assert not list(groups(panel.group, "dimension-height"))
        assert not list(groups(panel.group, "dimension-above-outlet"))


def test_risers_have_the_pipes_true_diameter() -> None:
    # ASTM D1785 Table 1: 1-1/4 in pipe is 1.660 in outside.
    panel = elevation()
    areas = [m for m in next(groups(panel.group, "riser", "P2")).marks if not isinstance(m, (Line, Circle))]
    xs = [x for x, _ in areas[0].points]  # type: ignore[union-attr]
    assert max(xs) - min(xs) == pytest.approx(1.660 * INCH_MM / scale(panel), rel=1e-6)
