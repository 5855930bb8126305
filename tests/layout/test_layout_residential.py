"""The residential example as a whole: every figure here follows by hand from the design text."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import pytest

from plangen.geometry.point import distance
from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.layout.results import Layout
from plangen.layout.takeoff import takeoff_csv
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.quantity.dimension import FOOT_M, INCH_M
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile

PLAN = Path(__file__).parents[2] / "examples" / "residential" / "design.plan"


@lru_cache(maxsize=1)
def measured() -> tuple[Design, Layout]:
    design = read_design(SourceFile.of("design.plan", PLAN.read_text(encoding="utf-8"))).value
    assert design is not None
    surface = Surface.of(design)
    return design, measure(design, surface, analyse(design, surface))


def test_rates_are_those_of_the_96_25_rule() -> None:
    """Front: regulated heads give 2 x 3.70 + 6 x 1.85 + 4 x 0.92 = 22.18 gpm on 43.5 x 30 ft.

    Border: 3 x 19.5 ft at one 0.6 gph emitter each 1 x 1.5 ft. Rule: Ohio State Extension B912, Step 11.
    """
    found = {c.area: c for c in measured()[1].coverage}
    in_h = {n: c.mean_rate_ms * 3600 / INCH_M for n, c in found.items() if c.mean_rate_ms}
    assert in_h["Front"] == pytest.approx(96.25 * 22.18 / 1305, rel=1e-3)
    assert in_h["Border"] == pytest.approx(96.25 * (58.5 / 1.5) * 0.6 / 60 / 58.5, rel=1e-3)
    # rotors run between 40 psi (12 gpm in all) and 50 psi (13.46 gpm) on 1,800 sq ft
    assert 96.25 * 12.0 / 1800 < in_h["Back"] < 96.25 * 13.46 / 1800
    assert all(c.dry_share == 0 for c in found.values())


def test_no_head_wets_paving_house_or_neighbour() -> None:
    """All throws end on the edges of the lawns, 2 ft or more from paving and 2.5 ft from the lot line."""
    reaches = measured()[1].reaches
    assert len(reaches) == 18
    assert all(r.overspray_known and r.overspray == () for r in reaches)
    near = {r.head: (r.hardscape, r.hardscape_m) for r in reaches}
    assert near["H24"] == ("Drive", pytest.approx(2 * FOOT_M))


def test_pipe_lengths_by_hand() -> None:
    """P2: 14 + hypot(0, 43) ft; P8: 11 + 36 + 3 ft; P3: hypot(1, 1) ft; P4: 7.5 ft."""
    lines = {(t.item, t.size): t for t in measured()[1].takeoff}
    main = lines["PVC schedule 40 pipe, mainline", "1-1/4 in"]
    assert main.net == pytest.approx(14 + 43 + 50 + 2**0.5 + 7.5, abs=1e-4)
    assert set(main.objects) == {"P2", "P3", "P4", "P8"}
    beyond = sum(2 * s.extends.si for s in measured()[0].sleeves if s.extends) / FOOT_M
    sleeve = lines["PVC schedule 40 sleeve", "2-1/2 in"]
    assert sleeve.net == pytest.approx(2 * 4 + beyond, abs=1e-4)
    assert sum(t.quantity for (item, _), t in lines.items() if item == "swing joint") == 18


def test_the_assembly_stands_over_every_outlet() -> None:
    """BF1: grade 101.5 ft at (24, 45), critical level 28 in up: 103.83 ft; H34 is the highest outlet."""
    layout = measured()[1]
    assert len(layout.heights) == 19
    lowest = min(layout.heights, key=lambda h: h.above_m if h.above_m is not None else -1)
    assert lowest.outlet == "H34" and lowest.assembly == "BF1"
    # grade at (5, 113) between 101.4 at y 46 and 102.5, 102.4 at y 118: 102.43 within a hundredth
    assert lowest.above_m == pytest.approx((103.8333 - 102.427) * FOOT_M, abs=0.01 * FOOT_M)


def test_crossings_are_the_two_sleeves_and_the_sewer() -> None:
    found = measured()[1].crossings
    assert {(c.pipe, c.sleeve) for c in found if c.kind == "paving"} == {("P2", "SL1"), ("P4", "SL2")}
    assert {c.pipe for c in found if c.kind == "utility"} == {"L23", "L24", "L25", "L41"}
    assert {c.name for c in found if c.kind == "utility"} == {"SS1"}


def test_watering_fits_the_window() -> None:
    """6.5 in a month x 0.8 x 7 / 30.4375 = 1.196 in a week on the lawns."""
    layout = measured()[1]
    z1 = next(line for line in layout.schedule if line.zone == "Z1")
    assert z1.depth_per_week_m == pytest.approx(6.5 * 0.8 * 7 / 30.4375 * INCH_M)
    assert layout.window is not None and layout.window.fits is True and layout.window.missing == ()


def test_everything_worth_finding_has_ties() -> None:
    assert all(t.distance1_m and t.distance2_m for t in measured()[1].ties)


def test_takeoff_names_only_things_of_the_design() -> None:
    design, layout = measured()
    known = {
        x.name
        for group in (design.pipes, design.devices, design.heads, design.drips, design.sleeves)
        for x in group
    }
    known |= {design.control.name, *(s.name for s in design.control.sensors)} if design.control else set()
    assert {o for t in layout.takeoff for o in t.objects} <= known
    assert takeoff_csv(layout, design) == takeoff_csv(layout, design)


def test_takeoff_ties_to_the_drawing() -> None:
    """The pipe bought is the pipe drawn: new routes add up, and each new object is on some line."""
    design, layout = measured()
    new = [p for p in design.pipes if p.state == "new"]
    drawn = sum(distance(a.point, b.point) for p in new for a, b in pairwise(p.route)) / FOOT_M
    bought = sum(t.net for t in layout.takeoff if t.group == "pipe" and "riser" not in t.item)
    assert bought == pytest.approx(drawn, abs=1e-4)
    assert sum(t.length_m for t in layout.trenches) / FOOT_M == pytest.approx(drawn, abs=1e-4)
    listed = {o for t in layout.takeoff for o in t.objects}
    things = (*new, *design.heads, *design.drips, *design.sleeves, *design.devices)
    assert {x.name for x in things if getattr(x, "state", "new") == "new"} <= listed
    assert not {"S1", "S2", "S3", "M1"} & listed
