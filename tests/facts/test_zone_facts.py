"""Facts of meter, zones, heads and control, against data-sheet sums and hand-worked distances."""

from __future__ import annotations

import pytest

from plangen.quantity.quantity import Basis
from tests.facts.facts_run import run

INCH = 0.0254
FOOT = 0.3048
GALLON_PER_MINUTE = 231 * INCH**3 / 60


def test_the_meter_carries_the_house_too() -> None:
    # Z1: 11.09 gpm of regulated heads and 4 gpm for the house. Z3's rotors at their own pressure give
    # more than 12 gpm, so that the greatest share is over (12 + 4) / 30.
    found = run()
    share = found.value("meter", "M1", "share").value
    assert isinstance(share, float)
    assert 16 / 30 < share < 18 / 30
    assert found.value("zone", "Z1", "flow").value == pytest.approx(11.09 * GALLON_PER_MINUTE, rel=1e-4)


def test_regulated_heads_give_the_same_share() -> None:
    found = run()
    assert found.value("zone", "Z1", "pressure_spread").value == pytest.approx(0.0, abs=1e-9)
    assert found.value("zone", "Z1", "flow_spread").value == pytest.approx(0.0, abs=1e-6)
    # 0.92 gpm on a quarter, 1.85 on a half, 3.70 on the whole: 3.68 to 3.70 per turn, mean near 3.69.
    assert found.value("zone", "Z1", "rate_spread").value == pytest.approx(0.02 / 3.6933, rel=2e-3)


def test_head_spacing_against_radius() -> None:
    value = run().value("head", "H11", "spacing_over_radius")
    assert value.value == pytest.approx(14.5 / 15)  # H14 is 14.5 ft off, radius 15 ft at 30 psi


def test_a_head_moved_to_the_walk() -> None:
    # Walk's south edge lies at y 38; the head at y 37.9 stands 0.1 ft off.
    near = run(
        ("spray-15h, at (31.5, 34), on L21", "spray-15h, at (31.5, 37.9), on L21"),
        ("tee N21        at (31.5, 34)", "tee N21        at (31.5, 37)"),
        ("route N21 -> (46, 34)", "route N21 -> (31.5, 34) -> (46, 34)"),
    )  # fmt: skip
    assert near.value("head", "H21", "hardscape_distance").value == pytest.approx(0.1 * FOOT, abs=1e-3)


def test_spray_over_the_drive_is_named() -> None:
    # H26 at (46, 4), 2 ft west of the drive, turned to the east: 13 ft of its 15 ft fall on the drive.
    over = run(
        ("on L25, arc west to north", "on L25, arc north to east")
    )  # fmt: skip
    value = over.value("head", "H26", "overspray")
    assert isinstance(value.value, float)
    assert value.value > 10 * FOOT
    assert "Drive" in str(over.value("head", "H26", "overspray_onto").value)


def test_mixed_heads_are_counted() -> None:
    mixed = run(
        ("head H16 spray-15q", "head H16 rotor-30q")
    )  # fmt: skip
    assert mixed.value("zone", "Z1", "kinds_of_outlet").value == 2.0
    assert mixed.value("zone", "Z1", "outlet_kinds").value == ("rotor", "spray")
    assert mixed.value("head", "H16", "matches_zone").value is False


def test_a_sensor_nobody_mentions_is_not_known_and_a_denied_one_is_absent() -> None:
    silent = run(("rain sensor RS1 ...", ""))
    assert silent.value("controller", "C1", "rain_or_soil_sensor").value is None
    denied = run(
        (
            '  rain sensor RS1   place "south eave, open to the sky"\n',
            "  rain sensor none\n  soil sensor none\n",
        )
    )
    assert denied.value("controller", "C1", "rain_or_soil_sensor").value is False


def test_a_licence_that_ends_before_the_issue() -> None:
    assert run().value("project", "project", "licence_current").value is True
    old = run(("expires 2027-03-31", "expires 2026-03-31"))
    assert old.value("project", "project", "licence_current").value is False


def test_without_a_static_pressure_nothing_about_pressure_is_known() -> None:
    blind = run(
        ("static 64 psi measured 2026-04-20, ", ""),
        ('lowest 58 psi from standard "Quillmoor Water pressure record 2025", ', ""),
    )  # fmt: skip
    for relation, name, field in (
        ("supply", "W1", "static_pressure"),
        ("supply", "W1", "highest_static_pressure"),
        ("head", "H11", "pressure"),
        ("zone", "Z1", "least_spare_pressure"),
        ("meter", "M1", "share"),
        ("pipe", "P5", "static_pressure"),
    ):
        assert blind.value(relation, name, field).value is None, (relation, field)
    assert blind.value("zone", "Z1", "solved").value is False


def test_drip_stands_behind_strainer_and_regulator() -> None:
    found = run()
    assert found.value("drip", "D41", "strained").value is True
    assert found.value("drip", "D41", "regulated").value is True
    most = found.value("drip", "D41", "highest_pressure").value
    # The regulator is set to 30 psi; the bed lies some 10 in (0.4 psi) above it, the lateral loses little.
    assert isinstance(most, float)
    assert 29.4 * 6894.757 < most < 30 * 6894.757
    assert found.value("drip", "D41", "most_pressure_stated").value == pytest.approx(45 * 6894.757, rel=1e-6)


def test_one_assumed_value_marks_what_rests_on_it_and_nothing_else() -> None:
    assumed = run(("static 64 psi measured 2026-04-20", "static 64 psi assumed"))
    touched = {
        (r.relation, n)
        for r in assumed.facts.rows
        for n, v in r.values
        if any(i.provenance.basis is Basis.ASSUMED for i in v.inputs)
    }
    assert ("supply", "static_pressure") in touched
    assert ("pipe", "static_pressure") in touched
    assert ("pipe", "cover") not in touched
    assert ("assembly", "height_above_highest_outlet") not in touched
    assert ("sleeve", "size_over_pipe") not in touched
