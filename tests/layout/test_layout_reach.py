"""Throws against paving, walls and the lot line, each worked by hand. Lengths in feet."""

from __future__ import annotations

import math

import pytest

from plangen.layout.reach import BEYOND_LOT, measure_reaches
from plangen.layout.results import HeadReach
from plangen.layout.throw import outlets_alone, throws
from plangen.model.design import Design
from plangen.model.parts import Part
from plangen.quantity.dimension import FOOT_M
from tests.layout.layout_hand import SPAN, area, box, design, ft, head, q, solved, spray, zone

LOT = box(0, 0, 100, 100)
HALF_NORTH, FULL = (270.0, 90.0), (0.0, 0.0)


def reach(made: Design, psi: float | None = 30.0) -> tuple[HeadReach, ...]:
    flows = {"Z1": {h.name: 1.0 for h in made.heads}} if psi else {}
    return measure_reaches(made, throws(made, outlets_alone(solved(flows, psi or 0.0))))


def one(arc: tuple[float, float], y: float, **site: object) -> HeadReach:
    """Return the reach of a 15 ft head at (50, y)."""
    heads = [head("H1", spray("s", 15, 1.85), ft(50, y), arc)]
    (found,) = reach(design(lot=LOT, zones=[zone("Z1", [])], heads=heads, **site))  # type: ignore[arg-type]
    return found


def depths(found: HeadReach) -> dict[str, float]:
    return {name: depth / FOOT_M for name, depth in found.overspray}


def test_depth_onto_a_drive_is_radius_less_distance() -> None:
    drive = area("paving", "Drive", box(0, 60, 100, 90))
    found = one(HALF_NORTH, 50, paving=[drive])
    assert depths(found) == pytest.approx({"Drive": 5.0}, abs=1e-4)
    assert found.overspray_kinds == ("paving",)
    assert found.hardscape == "Drive" and found.hardscape_m == pytest.approx(10 * FOOT_M)


def test_a_sector_turned_away_or_just_touching_is_no_overspray() -> None:
    drive = area("paving", "Drive", box(0, 60, 100, 90))
    assert one((90.0, 270.0), 50, paving=[drive]).overspray == ()
    assert one(HALF_NORTH, 45, paving=[drive]).overspray == ()
    # 0.1 ft (3 cm) over the edge is inside the 5 cm that count as touching; 0.3 ft is not
    assert one(HALF_NORTH, 45.1, paving=[drive]).overspray == ()
    assert depths(one(HALF_NORTH, 45.3, paving=[drive])) == pytest.approx({"Drive": 0.3}, abs=1e-4)


def test_a_head_on_the_edge_of_paving_that_throws_away_from_it_wets_nothing() -> None:
    drive = area("paving", "Drive", box(0, 50, 100, 90))
    found = one((90.0, 270.0), 50, paving=[drive])
    assert found.overspray == () and found.hardscape_m == 0.0


def test_throw_across_a_walk_is_longest_on_the_slant() -> None:
    """A 4 ft walk 3 ft away, 15 ft throw: the slant that ends on the far edge, 15 (7 - 3) / 7 = 8.571 ft."""
    walk = area("paving", "Walk", box(0, 53, 100, 57))
    assert depths(one(HALF_NORTH, 50, paving=[walk])) == pytest.approx({"Walk": 15 * 4 / 7}, abs=1e-3)


def test_a_wall_stops_the_throw_and_what_lies_behind_stays_dry() -> None:
    house = area("building", "House", box(0, 56, 100, 58))
    drive = area("paving", "Drive", box(0, 60, 100, 90))
    found = one(HALF_NORTH, 50, buildings=[house], paving=[drive])
    assert depths(found) == pytest.approx({"House": 9.0}, abs=1e-4)
    assert found.overspray_kinds == ("building",)


def test_a_drive_beside_a_short_wall_is_wetted_past_its_end() -> None:
    """The wall ends above the head: every ray to the east of it reaches the drive, 5 ft deep at most."""
    house = area("building", "House", box(0, 56, 50, 58))
    drive = area("paving", "Drive", box(0, 60, 100, 90))
    found = depths(one(HALF_NORTH, 50, buildings=[house], paving=[drive]))
    assert found == pytest.approx({"House": 9.0, "Drive": 5.0}, abs=0.01)


def test_water_over_the_lot_line_is_the_neighbours() -> None:
    found = one(FULL, 90)
    assert depths(found) == pytest.approx({BEYOND_LOT: 5.0}, abs=1e-4)
    assert found.overspray_kinds == ("neighbour",)
    # on the line itself, throwing inward: rays along the line are neither in nor out
    assert one((90.0, 270.0), 100).overspray == ()


def test_a_corner_inside_the_sector_is_found_between_even_bearings() -> None:
    """Only the corner of a slab lies in the sector: its distance is hypot(7, 9) = 11.402 ft."""
    slab = area("paving", "Slab", box(57, 59, 80, 80))
    found = depths(one(HALF_NORTH, 50, paving=[slab]))
    assert found["Slab"] == pytest.approx(15 - math.hypot(7, 9), abs=0.01)


def test_nearest_head_counts_only_in_the_same_zone() -> None:
    part = spray("s", 15, 1.85)
    heads = [
        head("H1", part, ft(50, 50), FULL), head("H2", part, ft(62, 59), FULL),
        head("H3", part, ft(51, 50), FULL, zone="Z2"),
    ]  # fmt: skip
    first = reach(design(lot=LOT, zones=[zone("Z1", []), zone("Z2", [])], heads=heads))[0]
    assert first.nearest_head == "H2"
    assert first.nearest_m == pytest.approx(15 * FOOT_M)
    assert first.spacing_ratio == pytest.approx(1.0)


def test_radius_says_why_and_is_not_known_outside_its_range() -> None:
    heads = [head("H1", spray("s", 15, 1.85), ft(50, 50), FULL)]
    made = design(lot=LOT, zones=[zone("Z1", [])], heads=heads)
    (runs,) = reach(made, 40)
    assert runs.radius_m == pytest.approx(15 * FOOT_M)
    assert runs.radius_basis == "15 ft on its data sheet at 30 psi; runs at 40 psi"
    # the pressures decide whether the figure holds, not what it is
    assert [i.written for i in runs.inputs] == ["15 ft"]
    for psi, words in ((15, "below the data sheet's least"), (80, "over the data sheet's greatest")):
        (odd,) = reach(made, psi)
        assert odd.radius_m is None and words in odd.radius_basis and not odd.overspray_known
    (still,) = reach(made, None)
    assert still.radius_m and still.pressure_m is None and "not known" in still.radius_basis


def test_not_known_arc_or_lot_never_reads_as_dry_paving() -> None:
    part = spray("s", 15, 1.85)
    vague = [head("H1", part, ft(50, 50), FULL, arc_known=False)]
    assert not reach(design(lot=LOT, heads=vague))[0].overspray_known
    assert not reach(design(heads=[head("H1", part, ft(50, 50), FULL)]))[0].overspray_known
    coupler = Part("qc", "quick-coupler", "Quick coupler", SPAN, flow=q(5, "gpm"))
    assert reach(design(lot=LOT, heads=[head("H1", coupler, ft(50, 50), FULL)]))[0].overspray_known
