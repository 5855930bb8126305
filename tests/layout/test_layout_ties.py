"""Tie distances by Pythagoras, and corners that can really be seen."""

from __future__ import annotations

import pytest

from plangen.geometry.point import Point
from plangen.layout.ties import corners, measure_ties
from plangen.quantity.dimension import FOOT_M
from tests.layout.layout_hand import area, box, design, device, ft

HOUSE = area("building", "House", box(20, 40, 60, 70))
LOT = box(0, 0, 80, 100)


def test_two_ties_of_a_valve_by_hand() -> None:
    """From (40, 25): both south corners are 20 ft across and 15 ft up: 25 ft each."""
    made = design(lot=LOT, buildings=[HOUSE], devices=[device("valve", "V1", ft(40, 25))])
    (found,) = measure_ties(made)
    assert {found.corner1, found.corner2} == {"House.southwest", "House.southeast"}
    assert (found.distance1_m, found.distance2_m) == (pytest.approx(25 * FOOT_M), pytest.approx(25 * FOOT_M))


def test_corners_behind_the_house_are_not_used() -> None:
    made = design(lot=LOT, buildings=[HOUSE], devices=[device("valve", "V1", ft(10, 80))])
    (found,) = measure_ties(made)
    assert {found.corner1, found.corner2} == {"House.northwest", "House.southwest"}
    hidden = design(lot=LOT, buildings=[HOUSE], devices=[device("valve", "V1", ft(40, 75))])
    (behind,) = measure_ties(hidden)
    assert not {behind.corner1, behind.corner2} & {"House.southwest", "House.southeast"}


def test_against_the_wall_the_second_tie_comes_from_the_lot() -> None:
    """On the line of the wall both house corners lie in one direction or opposite: no good fix."""
    made = design(lot=LOT, buildings=[HOUSE], devices=[device("assembly", "BF1", ft(30, 39.5))])
    (found,) = measure_ties(made)
    assert found.corner1 == "House.southwest" and found.corner2.startswith("Lot.")
    bare = design(buildings=[HOUSE], devices=[device("assembly", "BF1", ft(40, 40))])
    assert measure_ties(bare)[0].distance1_m is None


def test_a_corner_has_a_name_only_where_it_is_uniquely_extreme() -> None:
    assert [c.name for c in corners(HOUSE)] == [
        "House.southwest", "House.southeast", "House.northeast", "House.northwest",
    ]  # fmt: skip
    cut = area("building", "Cut", (Point(0, 0), Point(10, 0), Point(10, 5), Point(5, 10), Point(0, 10)))
    assert [c.name for c in corners(cut)] == ["Cut.southwest", "Cut.southeast", "Cut.northwest"]


def test_heads_and_removed_things_are_not_tied() -> None:
    gone = device("valve", "V1", ft(10, 10), state="removed")
    assert measure_ties(design(lot=LOT, devices=[gone])) == ()
