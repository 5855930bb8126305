"""Clipping and sectors against figures worked by hand and a general geometry library."""

from __future__ import annotations

import math

import pytest

from plangen.geometry.arc import Sector, ray_bearings, rim_meetings
from plangen.geometry.clip import (
    box_distance,
    boxes_meet,
    in_sight,
    meeting_points,
    pieces_inside,
    pieces_outside,
)
from plangen.geometry.point import Point, path_length

SQUARE = (Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10))
# an L: the square without its north-east quarter
ELL = (Point(0, 0), Point(10, 0), Point(10, 5), Point(5, 5), Point(5, 10), Point(0, 10))


def lengths(path: tuple[Point, ...], outline: tuple[Point, ...]) -> list[float]:
    return [round(p.length_m, 6) for p in pieces_inside(path, outline)]


def test_a_path_across_a_square_by_hand() -> None:
    assert lengths((Point(-5, 5), Point(15, 5)), SQUARE) == [10.0]
    assert lengths((Point(-5, -5), Point(15, 15)), SQUARE) == [round(10 * math.sqrt(2), 6)]
    assert lengths((Point(2, 2), Point(2, 8), Point(20, 8)), SQUARE) == [14.0]
    assert lengths((Point(-1, 0), Point(11, 0)), SQUARE) == []
    assert lengths((Point(10, -5), Point(10, 15)), SQUARE) == []


def test_a_path_that_leaves_and_comes_back_has_two_pieces() -> None:
    path = (Point(8, -2), Point(8, 8), Point(2, 8))
    assert lengths(path, ELL) == [5.0, 3.0]
    out = [round(p.length_m, 6) for p in pieces_outside(path, ELL)]
    assert out == [2.0, 6.0]
    assert sum(lengths(path, ELL)) + sum(out) == pytest.approx(path_length(path))


def test_pieces_agree_with_a_geometry_library() -> None:
    geometry = pytest.importorskip("shapely.geometry")
    polygon = geometry.Polygon(ELL)
    for k in range(40):
        a, b = Point(-3 + 0.37 * k, -1 + 0.21 * k), Point(12 - 0.53 * k, 11 - 0.11 * k)
        want = geometry.LineString([a, b]).intersection(polygon).length
        assert sum(lengths((a, b), ELL)) == pytest.approx(want, abs=1e-5)


def test_meeting_points_by_hand() -> None:
    assert meeting_points((Point(0, 0), Point(10, 10)), (Point(0, 10), Point(10, 0))) == (Point(5, 5),)
    assert meeting_points((Point(0, 0), Point(4, 0)), (Point(0, 1), Point(4, 1))) == ()
    # a corner of the other line on this one is one meeting, not two
    assert meeting_points((Point(0, 0), Point(10, 0)), (Point(3, 4), Point(5, 0), Point(7, 4))) == (
        Point(5, 0),
    )


def test_sight_is_stopped_by_a_wall_but_not_by_its_edge() -> None:
    assert not in_sight(Point(-1, 5), Point(11, 5), [SQUARE])
    assert in_sight(Point(-1, 0), Point(11, 0), [SQUARE])
    assert in_sight(Point(-1, -1), Point(0, 0), [SQUARE])


def test_rim_meets_an_edge_where_pythagoras_says() -> None:
    # a circle of radius 5 about the origin meets y = 3 at x = -4 and 4
    found = rim_meetings(Point(0, 0), 5.0, Point(-9, 3), Point(9, 3))
    assert sorted(found) == [Point(-4, 3), Point(4, 3)]
    assert rim_meetings(Point(0, 0), 5.0, Point(-9, 6), Point(9, 6)) == ()


def test_rays_hold_the_foot_of_the_perpendicular_and_both_ends() -> None:
    sector = Sector(Point(5, -3), 8.0, 290.0, 70.0)
    bearings = ray_bearings(sector, [SQUARE])
    assert {0.0, 290.0, 70.0} <= {round(b, 6) for b in bearings}
    assert all(b >= 290 - 1e-6 or b <= 70 + 1e-6 for b in bearings)


def test_a_sector_holds_what_lies_in_it() -> None:
    quarter = Sector(Point(0, 0), 2.0, 0.0, 90.0)
    assert quarter.reach_m(0, 1) == quarter.reach_m(1, 0) == 1.0
    assert quarter.reach_m(1, 1) == pytest.approx(math.sqrt(2))
    assert [quarter.reach_m(*p) for p in ((-0.1, 1), (1, -0.1), (1.5, 1.5))] == [None, None, None]
    assert Sector(Point(0, 0), 2.0, 45.0, 45.0).sweep_deg == 360.0


def test_box_of_a_sector_by_hand() -> None:
    assert Sector(Point(0, 0), 2.0, 0.0, 90.0).box == pytest.approx((0, 0, 2, 2))
    assert Sector(Point(0, 0), 2.0, 90.0, 270.0).box == pytest.approx((-2, -2, 2, 0))
    assert Sector(Point(0, 0), 2.0, 315.0, 45.0).box == pytest.approx((-math.sqrt(2), 0, math.sqrt(2), 2))


def test_boxes_by_hand() -> None:
    here = (0.0, 0.0, 2.0, 2.0)
    assert boxes_meet(here, (1, 1, 3, 3)) and boxes_meet(here, (2, 0, 3, 1))
    assert not boxes_meet(here, (2.1, 0, 3, 1)) and not boxes_meet(here, (2, 0, 3, 1), -0.05)
    assert box_distance(Point(5, 6), here) == 5.0 and box_distance(Point(1, 1), here) == 0.0
