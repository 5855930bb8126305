"""Coverage against published rules, closed forms and hand-made grids."""

from __future__ import annotations

import math

import pytest

from plangen.geometry.arc import Sector
from plangen.geometry.point import Point
from plangen.layout.coverage import measure_coverage
from plangen.layout.grid import CELL_M, cell_size_m, grid_over, low_quarter_uniformity, rain
from plangen.layout.results import AreaCoverage
from plangen.layout.throw import outlets_alone, throws
from plangen.model.design import Design
from plangen.model.parts import Part
from plangen.model.waterworks import DripArea
from plangen.quantity.dimension import FOOT_M, INCH_M
from plangen.quantity.quantity import to_si
from tests.layout.layout_hand import SPAN, area, box, design, ft, head, q, ratio, solved, spray, zone

NORTH, EAST, SOUTH, WEST = 0.0, 90.0, 180.0, 270.0
CORNERS = (
    ("Q1", ft(0, 0), (NORTH, EAST)), ("Q2", ft(38, 0), (WEST, NORTH)),
    ("Q3", ft(38, 38), (SOUTH, WEST)), ("Q4", ft(0, 38), (EAST, SOUTH)),
)  # fmt: skip


def covered(made: Design, flows: dict[str, dict[str, float]], psi: float = 30.0) -> tuple[AreaCoverage, ...]:
    hydraulics = solved(flows, psi)
    outlets = outlets_alone(hydraulics)
    return measure_coverage(made, hydraulics, throws(made, outlets), outlets)


def lawn(x1: float, y1: float, heads: list, name: str = "Lawn") -> Design:
    planting = [area("turf", name, box(0, 0, x1, y1), plant_factor=ratio(0.8))]
    return design(planting=planting, zones=[zone("Z1", [name])], heads=heads)


def in_per_h(rate_ms: float | None) -> float:
    assert rate_ms is not None
    return rate_ms * 3600 / INCH_M


def test_mean_rate_is_the_published_precipitation_rate() -> None:
    """9.6 gpm over 76 ft x 38 ft / 2 = 1,444 sq ft is 0.64 in/h.

    Source: Ohio State University Extension, Bulletin 912, Step 11 (PR = 96.25 x gpm / sq ft).
    """
    heads = [head(n, spray("q", 38, 2.4), p, arc) for n, p, arc in CORNERS]
    (found,) = covered(lawn(38, 38, heads), {"Z1": {h.name: 2.4 for h in heads}})
    assert found.ground_m2 == pytest.approx(1444 * FOOT_M**2)
    assert in_per_h(found.mean_rate_ms) == pytest.approx(0.64, abs=0.0005)
    assert found.landed_m3s == pytest.approx(to_si(9.6, "gpm"), rel=1e-9)
    assert found.flow_m3s == pytest.approx(to_si(9.6, "gpm"))


def test_square_grid_of_full_heads_has_the_rate_of_its_spacing() -> None:
    """Full circles every 15 ft: far from the rim each 15 ft square gets one head's flow.

    Source: 96.25 gpm / (S x L), Ohio State University Extension, Bulletin 912, Step 11.
    """
    part = spray("f", 15, 3.7)
    heads = [head(f"H{i}{j}", part, ft(15 * i, 15 * j), (0, 0)) for i in range(-2, 4) for j in range(-2, 4)]
    planting = [area("turf", "Lawn", box(0, 0, 15, 15))]
    made = design(planting=planting, zones=[zone("Z1", ["Lawn"])], heads=heads)
    (found,) = covered(made, {"Z1": {h.name: 3.7 for h in heads}})
    assert in_per_h(found.mean_rate_ms) == pytest.approx(96.25 * 3.7 / 225, rel=1e-6)
    assert found.landed_m3s == pytest.approx(to_si(3.7, "gpm"), rel=1e-6)
    assert found.low_quarter is not None and 0.7 < found.low_quarter < 1.0
    assert found.dry_share == 0.0


@pytest.mark.parametrize("arc", [(0.0, 0.0), (0.0, 90.0), (90.0, 270.0), (350.0, 10.0), (30.0, 300.0)])
def test_all_of_a_heads_flow_falls_on_ground_that_holds_its_sector(arc: tuple[float, float]) -> None:
    grid = grid_over(box(-40, -40, 40, 40))
    laid = rain(Sector(ft(0.3, -0.2), 15 * FOOT_M, *arc), 1e-4, grid)
    assert sum(laid.values()) * grid.cell_m2 == pytest.approx(1e-4, rel=1e-9)


def test_rate_near_the_head_is_that_of_a_cone() -> None:
    """A cone of rain over a full circle is three times its mean at the middle (volume of a cone)."""
    radius = 30 * FOOT_M
    grid = grid_over(box(-30, -30, 30, 30))
    laid = rain(Sector(Point(0, 0), radius, 0, 0), 1e-3, grid)
    centres = grid.centres()
    mean = 1e-3 / (math.pi * radius**2)
    for index, rate in laid.items():
        far = math.hypot(*centres[index]) / radius
        if far < 0.9:
            assert rate == pytest.approx(3 * mean * (1 - far), rel=0.01)


def test_water_beyond_the_area_is_not_coverage() -> None:
    """A half circle whose axis lies on the edge, turned outward, covers nothing; a full circle, half."""
    inward = [head("H1", spray("f", 15, 3.7), ft(20, 0), (0, 0))]
    (half,) = covered(lawn(40, 40, inward), {"Z1": {"H1": 3.7}})
    assert half.landed_m3s == pytest.approx(to_si(3.7, "gpm") / 2, rel=1e-9)
    outward = [head("H1", spray("h", 15, 1.85), ft(20, 0), (EAST, WEST))]
    (none,) = covered(lawn(40, 40, outward), {"Z1": {"H1": 1.85}})
    assert none.mean_rate_ms is None and none.missing


def test_uniformity_of_a_grid_made_by_hand() -> None:
    """DU of the lowest quarter: lowest 4 of 16 average 6, all 16 average 9: 0.667.

    Definition: University of California, Davis, Center for Urban Horticulture, "Measuring DU".
    """
    depths = [12.0, 10, 8, 6, 9, 9, 9, 9, 10, 10, 6, 6, 12, 12, 10, 6]
    assert low_quarter_uniformity(depths) == pytest.approx(6 / 9)
    # ten cups: a quarter is two and a half, (1 + 2 + 3 / 2) / 2.5 = 1.8, over the mean 5.5
    assert low_quarter_uniformity([float(i) for i in range(1, 11)]) == pytest.approx(1.8 / 5.5)
    assert low_quarter_uniformity([0.0, 0.0]) is None


def test_moving_one_head_three_feet_changes_the_map_and_the_uniformity() -> None:
    part = spray("q", 15, 0.92)
    places = ((0, 0, (NORTH, EAST)), (15, 0, (WEST, NORTH)), (15, 15, (SOUTH, WEST)), (0, 15, (EAST, SOUTH)))
    heads = [head(f"H{i}", part, ft(x, y), arc) for i, (x, y, arc) in enumerate(places)]
    flows = {"Z1": {h.name: 0.92 for h in heads}}
    (before,) = covered(lawn(15, 15, heads), flows)
    moved = [*heads[:3], head("H3", part, ft(3, 15), (EAST, SOUTH))]
    (after,) = covered(lawn(15, 15, moved), flows)
    assert [p for p, _ in before.grid] == [p for p, _ in after.grid]
    changed = sum(abs(a[1] - b[1]) > 1e-12 for a, b in zip(before.grid, after.grid, strict=True))
    assert changed > 50
    assert before.low_quarter is not None and after.low_quarter is not None
    assert after.low_quarter < before.low_quarter - 0.01
    assert before.landed_m3s > after.landed_m3s
    assert before.dry_share is not None and after.dry_share is not None
    assert before.dry_share == 0.0 < after.dry_share  # the corner it left


def test_two_zones_on_one_area_add_up() -> None:
    part = spray("f", 15, 3.7)
    heads = [head("H1", part, ft(20, 20), (0, 0)), head("H2", part, ft(20, 20), (0, 0), zone="Z2")]
    planting = [area("turf", "Lawn", box(0, 0, 40, 40))]
    made = design(planting=planting, zones=[zone("Z1", ["Lawn"]), zone("Z2", ["Lawn"])], heads=heads)
    (both,) = covered(made, {"Z1": {"H1": 3.7}, "Z2": {"H2": 3.7}})
    assert both.zones == ("Z1", "Z2")
    assert in_per_h(both.mean_rate_ms) == pytest.approx(96.25 * 7.4 / 1600, rel=1e-6)
    (one,) = covered(made, {"Z1": {"H1": 3.7}})
    assert one.mean_rate_ms is None
    assert one.missing == ("flow of H2: zone Z2 is not solved",)


def test_drip_is_flow_over_area_and_its_evenness_is_not_claimed() -> None:
    """60 sq ft of bed at 0.4 gpm: 96.25 x 0.4 / 60 = 0.642 in/h (same rule as above)."""
    line = Part("dl", "dripline", "Dripline", SPAN)
    drip = DripArea("D1", line, "Bed", q(18, "in"), "L1", 0.0, ft(0, 0), SPAN, "Z1")
    made = design(
        planting=[area("bed", "Bed", box(0, 0, 20, 3))], zones=[zone("Z1", ["Bed"], "drip")], drips=[drip]
    )
    (found,) = covered(made, {"Z1": {"D1": 0.4}})
    assert in_per_h(found.mean_rate_ms) == pytest.approx(96.25 * 0.4 / 60, rel=1e-6)
    assert found.low_quarter is None


def test_what_is_not_known_is_named_and_no_rate_is_told() -> None:
    unknown_arc = head("H1", spray("h", 15, 1.85), ft(20, 20), (0, 0), arc_known=False)
    (found,) = covered(lawn(40, 40, [unknown_arc]), {"Z1": {"H1": 1.85}})
    assert (found.mean_rate_ms, found.low_quarter, found.dry_share, found.grid) == (None, None, None, ())
    assert found.missing == ("throw of H1: its arc is not stated",)
    low = head("H1", spray("h", 15, 1.85), ft(20, 20), (0, 180))
    (weak,) = covered(lawn(40, 40, [low]), {"Z1": {"H1": 1.0}}, psi=15)
    assert weak.mean_rate_ms is None and "below the data sheet's least pressure" in weak.missing[0]
    (dry,) = covered(design(planting=[area("turf", "Lawn", box(0, 0, 9, 9))]), {})
    assert dry.zones == () and dry.mean_rate_ms is None


def test_cells_are_a_foot_and_fit_the_bounds() -> None:
    grid = grid_over(box(2.5, 4, 46, 34))
    assert grid.columns in (43, 44) and grid.rows == 30
    assert grid.dx_m * grid.columns == pytest.approx(43.5 * FOOT_M)
    assert all(grid.inside)
    narrow = grid_over(box(0, 0, 20, 1))
    assert sum(narrow.inside) >= 24
    assert cell_size_m(1000.0) == CELL_M
    assert cell_size_m(1e6) > CELL_M


@pytest.mark.parametrize(("start", "end"), [(0, 90), (90, 270), (270, 90), (0, 0), (13, 200)])
def test_sector_area_is_the_closed_form_and_that_of_a_geometry_library(start: float, end: float) -> None:
    """Area of a sector, half of angle times radius squared; checked with shapely where it is installed."""
    sector = Sector(Point(3, 4), 4.572, start, end)
    sweep = (end - start) % 360 or 360
    assert sector.area_m2 == pytest.approx(math.pi * 4.572**2 * sweep / 360)
    geometry = pytest.importorskip("shapely.geometry")
    rim = [sector.edge_point(start + sweep * i / 720) for i in range(721)]
    ring = rim if sweep == 360 else [sector.centre, *rim]
    assert geometry.Polygon(ring).area == pytest.approx(sector.area_m2, rel=1e-4)


@pytest.mark.parametrize("arc", [(0.0, 0.0), (10.0, 100.0), (90.0, 270.0), (200.0, 20.0), (350.0, 340.0)])
def test_rain_falls_exactly_where_the_sector_is(arc: tuple[float, float]) -> None:
    """The written-out test of the inner loop against the plain one by bearing."""
    sector = Sector(ft(0.31, -0.17), 14.3 * FOOT_M, *arc)
    grid = grid_over(box(-20, -20, 20, 20))
    laid = rain(sector, 1e-4, grid)
    for index, place in enumerate(grid.centres()):
        far = sector.reach_m(place.x - sector.centre.x, place.y - sector.centre.y)
        assert (index in laid) == (far is not None)


def test_an_outline_without_ground_is_said_and_not_divided_by() -> None:
    flat = [area("turf", "Line", (ft(0, 0), ft(9, 0), ft(18, 0)))]
    (found,) = covered(design(planting=flat, zones=[zone("Z1", ["Line"])]), {})
    assert found.mean_rate_ms is None
    assert found.missing == ("the ground of Line: its outline encloses none",)
