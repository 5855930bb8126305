"""Facts that clauses of law ask for, on the example with one thing changed; figures worked by hand."""

from __future__ import annotations

import pytest

from tests.facts.facts_run import run

FT = 0.3048


def test_level_of_a_head_under_the_highest_of_its_zone() -> None:
    # Ground planes by hand. H13 (17, 4) lies in the triangle (0, 0), (70, 0), (24, 45): 100 + 4 x 1.5/45 ft.
    # H11 (17, 34) lies in (0, 0), (24, 45), (0, 46): 100 + 17 a + 34 b, b = 1.4/46, 24 a + 45 b = 1.5.
    b = 1.4 / 46
    a = (1.5 - 45 * b) / 24
    below = (17 * a + 34 * b) - 4 * 1.5 / 45
    assert run().value("head", "H13", "below_highest_of_zone").value == pytest.approx(below * FT, abs=1e-4)


def test_narrow_bed_between_walk_and_drive() -> None:
    # Border is 19.5 by 3 ft; Walk lies 6 in south of it, Drive 6 in east, the house 6 in north (no paving).
    example = run()
    assert example.value("coverage", "Border", "least_width").value == pytest.approx(3 * FT, abs=0.01)
    assert example.value("coverage", "Border", "paved_sides").value == 2.0
    assert example.value("coverage", "Back", "paved_sides").value == 0.0


def test_planted_area() -> None:
    # 43.5 x 30 + 60 x 30 + 19.5 x 3 sq ft
    area = (43.5 * 30 + 60 * 30 + 19.5 * 3) * FT**2
    assert run().value("site", "site", "planted_area").value == pytest.approx(area, rel=1e-6)


def test_regulating_body_holds_the_nozzle_at_its_setting() -> None:
    spray = run().value("head", "H13", "nozzle_pressure").value
    assert spray == pytest.approx(30 * 6894.757, rel=1e-5)  # 30 psi, its setting; more arrives
    rotor = run()
    assert rotor.value("head", "H31", "nozzle_pressure").value == rotor.value("head", "H31", "pressure").value


def test_steps_of_the_work_follow_from_what_is_new() -> None:
    steps = {r.name for r in run().facts.of("work")}
    assert steps == {"design", "tap", "isolation", "assembly", "irrigation", "wiring", "testing"}
    kept = run(('tap T1 "tee in the service", at', 'tap T1 "tee in the service", existing, at'))
    assert "tap" not in {r.name for r in kept.facts.of("work")}


def test_nobody_named_is_not_known_and_says_so() -> None:
    value = run().value("work", "assembly", "trades")
    assert value.value is None and value.missing == ("who does the step assembly is not stated",)
    assert run().value("work", "assembly", "named").value is False


def test_a_drain_downstream_is_seen() -> None:
    assert run().value("assembly", "BF1", "winter_drain").value is True
