"""Facts of pipes, sleeves and neighbours in the ground, against hand-worked figures."""

from __future__ import annotations

import math

import pytest

from plangen.facts.separation_rows import path_distance
from plangen.geometry.point import at
from tests.facts.facts_run import run

INCH = 0.0254
FOOT = 0.3048
GALLON = 231 * INCH**3


def test_velocity_is_flow_over_the_real_bore() -> None:
    # Z1's six regulated heads at 30 psi: 2 x 0.92 + 3 x 1.85 + 3.70 = 11.09 gpm (data sheet SP-15, table 2).
    # Bore of 1 in schedule 40 by ASTM D1785: 1.315 - 2 x 0.133 = 1.049 in.
    flow = 11.09 * GALLON / 60
    bore = 1.049 * INCH
    value = run().value("pipe", "P5", "velocity")
    assert value.value == pytest.approx(flow / (math.pi / 4 * bore**2), rel=1e-3)


def test_covers_and_what_lies_below_the_frost() -> None:
    found = run()
    assert found.value("pipe", "P1", "cover").value == pytest.approx(18 * INCH)
    assert found.value("pipe", "P1", "cover_below_frost").value == pytest.approx(8 * INCH)


@pytest.mark.parametrize(
    ("pipe", "all_year", "constant", "downstream"),
    [
        ("P1", True, True, False),  # between tap and isolation valve
        ("P2", False, True, False),  # behind the isolation valve, before the assembly
        ("P3", False, True, True),  # behind the assembly
        ("L11", False, False, True),  # behind a zone valve
        ("S3", True, True, False),  # to the house
    ],
)
def test_what_stands_under_pressure(pipe: str, all_year: bool, constant: bool, downstream: bool) -> None:
    found = run()
    assert found.value("pipe", pipe, "pressurised_all_year").value is all_year
    assert found.value("pipe", pipe, "under_constant_pressure").value is constant
    assert found.value("pipe", pipe, "downstream_of_assembly").value is downstream


def test_paving_without_a_sleeve_is_named() -> None:
    assert run().value("pipe", "P4", "unsleeved_paving").value is False
    bare = run(("sleeve SL2 ...", ""))
    value = bare.value("pipe", "P4", "unsleeved_paving")
    assert value.value is True
    assert value.how == "under Walk"


def test_a_sleeve_is_compared_with_its_pipe() -> None:
    found = run()
    assert found.value("sleeve", "SL1", "size_over_pipe").value == pytest.approx(2.0)
    # ASTM D1785: 2-1/2 in schedule 40 outside 2.875, wall 0.203; 1-1/4 in outside 1.660.
    assert found.value("sleeve", "SL1", "bore_over_pipe").value == pytest.approx(
        (2.875 - 0.406) / 1.660, rel=1e-3
    )


def test_a_missing_cover_is_not_known() -> None:
    value = run(("route N3 -> V3,...", "route N3 -> V3")).value("pipe", "P9", "cover")
    assert value.value is None
    assert "P9" in value.missing[0]


def test_a_lateral_over_the_sewer() -> None:
    found = run()
    # L24 (3/4 in, outside 1.050 in) under 12 in of cover crosses the sewer at 4 ft: 48 - 12 - 1.05 in.
    assert found.value("separation", "L24 at SS1", "crosses").value is True
    assert found.value("separation", "L24 at SS1", "horizontal_distance").value == 0.0
    assert found.value("separation", "L24 at SS1", "height_above").value == pytest.approx(
        34.95 * INCH, abs=1e-6
    )
    # P2 runs 16 ft from the sewer: not a neighbour
    assert not any(r.name == "P2 at SS1" for r in found.facts.of("separation"))


def test_distance_between_two_routes() -> None:
    one = [at(0, 0), at(10, 0)]
    assert path_distance(one, [at(5, -1), at(5, 1)]) == 0.0
    assert path_distance(one, [at(13, 4), at(20, 4)]) == pytest.approx(5.0)  # 3-4-5
    assert path_distance(one, [at(2, 7), at(8, 7)]) == pytest.approx(7.0)
