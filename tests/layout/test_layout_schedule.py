"""Run times, cycles and the window against published procedures and hand figures."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plangen.layout.coverage import measure_coverage
from plangen.layout.results import AreaCoverage, ScheduleLine, WateringWindow
from plangen.layout.schedule import measure_schedule
from plangen.layout.soil import INTAKES, intake_ms
from plangen.layout.throw import outlets_alone, throws
from plangen.model.design import Control, Design
from plangen.model.site import Tree
from plangen.quantity.dimension import FOOT_M, GALLON_M3, INCH_M, Dimension
from plangen.quantity.quantity import Quantity, to_si
from tests.layout.layout_hand import SPAN, area, box, design, ft, q, ratio, solved, zone


def control(**change: object) -> Control:
    days = Quantity(3.0, Dimension.COUNT, "3")
    things: dict[str, object] = {
        "reference_et": q(0.25, "in/day"), "water_days": days, "window": q(2, "h"),
    }  # fmt: skip
    return Control("C1", SPAN, **{**things, **change})  # type: ignore[arg-type]


def lawn(name: str = "Lawn", **change: object) -> object:
    things: dict[str, object] = {"soil": "loam", "slope": q(2, "%"), "plant_factor": ratio(0.8)}
    return area("turf", name, box(0, 0, 20, 20), **{**things, **change})


def covered(rate_in_h: float | None, du: float | None, name: str = "Lawn") -> AreaCoverage:
    rate = None if rate_in_h is None else to_si(rate_in_h, "in/h")
    return AreaCoverage(name, ("Z1",), 400 * FOOT_M**2, 0.0, rate, du, 0.0, 0.3, ())


def scheduled(
    coverage: AreaCoverage, planting: object = None, told: Control | None = None, kind: str = "spray"
) -> tuple[ScheduleLine, WateringWindow]:
    made: Design = design(
        planting=[planting or lawn()],  # type: ignore[list-item]
        zones=[zone("Z1", ["Lawn"], kind)],
        control=told or control(),
    )
    lines, window = measure_schedule(made, solved({"Z1": {"H1": 5.0}}), [coverage])
    return lines[0], window


def test_minutes_by_hand() -> None:
    """0.25 in/day x 0.8 x 7 = 1.4 in a week; at 1 in/h and DU 0.75 (multiplier 1.176): 98.8 min.

    Multiplier 1 / (0.4 + 0.6 DU): irrigation trade practice, from memory; at DU 0.75 it is 1.176.
    """
    line, window = scheduled(covered(1.0, 0.75))
    assert line.depth_per_week_m == pytest.approx(1.4 * INCH_M)
    assert line.minutes_per_week == pytest.approx(1.4 * 60 * 1.176, rel=1e-3)
    assert line.volume_per_week_m3 == pytest.approx(5.0 * line.minutes_per_week * GALLON_M3)
    assert line.missing == ()
    assert window.minutes_per_day == pytest.approx(line.minutes_per_week / 3)
    assert window.window_minutes == pytest.approx(120) and window.fits is True


def test_run_time_of_the_published_example() -> None:
    """0.2 in at 0.64 in/h is 18.75 min, at 1.0 in/h 12 min, each with even watering (DU 1).

    Source: Ohio State University Extension, Bulletin 912, Step 11.
    """
    et = q(0.2 / 7 / 0.8, "in/day")
    for rate, minutes in ((0.64, 18.75), (1.0, 12.0)):
        line, _ = scheduled(covered(rate, 1.0), told=control(reference_et=et))
        assert line.minutes_per_week == pytest.approx(minutes)


def test_cycles_keep_the_mean_rate_within_the_soils_intake() -> None:
    """Loam under turf at 2 %: 1.0 in/h (row silt loam). 1.5 in/h takes two cycles, half a cycle's rest."""
    line, _ = scheduled(covered(1.5, 1.0))
    assert line.cycles == 2
    assert line.minutes_per_cycle == pytest.approx(line.minutes_per_week / 3 / 2)
    assert line.soak_minutes == pytest.approx(line.minutes_per_cycle * 0.5)
    rest = line.minutes_per_cycle + line.soak_minutes
    assert 1.5 * line.minutes_per_cycle / rest == pytest.approx(1.0)
    gentle, _ = scheduled(covered(0.5, 1.0))
    assert (gentle.cycles, gentle.soak_minutes) == (1, 0.0)


@pytest.mark.parametrize(
    ("soil", "slope", "covered_", "want"),
    [
        ("coarse sand", 0.03, True, 2.0), ("sandy loam", 0.06, True, 1.25), ("silt loam", 0.10, True, 0.6),
        ("clay", 0.03, False, 0.15), ("Clay loam", 0.10, True, 0.12), ("silt loam", 0.03, False, 0.5),
        ("loam", 0.05, True, 1.0), ("sand", 0.05, False, 2.0), ("sandy loam", 0.08, False, 0.8),
    ],
)  # fmt: skip
def test_intake_table(soil: str, slope: float, covered_: bool, want: float) -> None:
    """Greatest precipitation rates, USDA figures as reproduced in a trade article on soil assessment."""
    found = intake_ms(soil, slope, covered_)
    assert found is not None and found[0] == pytest.approx(to_si(want, "in/h"))


def test_intake_falls_with_slope_and_bareness_and_unknown_soil_is_not_known() -> None:
    for row in INTAKES:
        assert list(row.covered) == sorted(row.covered, reverse=True)
        assert all(b <= c for b, c in zip(row.bare, row.covered, strict=True))
    assert intake_ms("moon dust", 0.01, True) is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"plant_factor": None}, "plant factor of Lawn"),
        ({"soil": ""}, "soil of Lawn"),
        ({"slope": None}, "slope of Lawn"),
        ({"soil": "moon dust"}, "intake of the soil of Lawn: `moon dust` is not in the table"),
    ],
)
def test_a_missing_input_is_named_and_its_result_left_out(change: dict[str, object], words: str) -> None:
    line, _ = scheduled(covered(1.0, 0.75), lawn(**change))
    assert words in line.missing
    assert line.cycles is None
    assert (line.minutes_per_week is None) == ("plant factor" in words)


def test_without_et_days_or_rate_nothing_is_told() -> None:
    line, window = scheduled(covered(1.0, 0.75), told=control(reference_et=None, water_days=None))
    assert line.minutes_per_week is None and {"reference ET", "watering days"} <= set(line.missing)
    assert window.minutes_per_day is None and window.fits is None
    dry, _ = scheduled(covered(None, None))
    assert dry.rate_ms is None and dry.minutes_per_week is None and dry.volume_per_week_m3 is None


def test_too_many_hours_do_not_fit() -> None:
    _, window = scheduled(covered(0.1, 0.75))
    assert window.fits is False


def test_drip_says_what_stands_for_its_evenness() -> None:
    """Drip efficiency 0.81: Model Water Efficient Landscape Ordinance, 23 CCR 492, from memory."""
    line, _ = scheduled(covered(1.0, None), kind="drip")
    assert line.efficiency == 0.81
    assert any("0.81" in n for n in line.notes)
    spray_line, _ = scheduled(covered(1.0, None))
    assert spray_line.minutes_per_week is None and "evenness of Lawn" in spray_line.missing


def test_coverage_and_schedule_agree_on_one_rate() -> None:
    made = design(planting=[lawn()], zones=[zone("Z1", ["Lawn"])], control=control())  # type: ignore[list-item]
    hydraulics = solved({})
    found = measure_coverage(made, hydraulics, throws(made, {}), outlets_alone(hydraulics))
    lines, _ = measure_schedule(made, hydraulics, found)
    assert lines[0].rate_ms is None and found[0].mean_rate_ms is None


def test_trees_are_watered_by_volume_by_hand() -> None:
    """Two trees with canopies of 20 and 10 ft: 392.7 sq ft; 0.25 in/day x 0.5 x 7 = 0.875 in a week.

    392.7 sq ft x 0.875 in = 28.63 cu ft = 214.2 gal; over 0.81 that is 264.5 gal, at 5 gpm 52.9 min. Water
    use as ETo x plant factor x area / efficiency: Model Water Efficient Landscape Ordinance, from memory.
    """
    trees = tuple(
        Tree(name, ft(0, 0), q(canopy, "ft"), SPAN, plant_factor=ratio(factor))
        for name, canopy, factor in (("T1", 20.0, 0.3), ("T2", 10.0, 0.5))
    )
    made = design(zones=[replace(zone("Z1", [], "bubbler"), trees=("T1", "T2"))], control=control())
    made = replace(made, site=replace(made.site, trees=trees))
    (line,), _ = measure_schedule(made, solved({"Z1": {"H1": 2.0, "H2": 3.0}}), [])
    assert line.minutes_per_week == pytest.approx(52.9, abs=0.05)
    assert line.rate_ms is None and line.missing == ()
    bare = replace(made, site=replace(made.site, trees=tuple(replace(t, canopy=None) for t in trees)))
    (line,), _ = measure_schedule(bare, solved({"Z1": {"H1": 2.0}}), [])
    assert line.minutes_per_week is None and line.missing == ("canopy of T1", "canopy of T2")
