"""Water through the year and the drop of valve wire, by hand figures and published tables."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter

import pytest

from plangen.hydraulics.results import Hydraulics
from plangen.layout.measure import measure
from plangen.layout.results import Layout, WateringYear
from plangen.layout.takeoff import takeoff_csv
from plangen.layout.wire_drop import gauge_area_m2, resistance_ohm, wire_area_m2
from plangen.layout.year import MONTH_DAYS, month_depth_m
from plangen.model.design import Design
from plangen.quantity.dimension import FOOT_M, INCH_M
from plangen.terrain.surface import Surface
from tests.hydraulics.residential import analysed_with, design_with
from tests.layout.layout_hand import q

JULY, JANUARY = 7, 1


def measured(*changes: tuple[str, str]) -> tuple[Design, Hydraulics, Layout]:
    design, hydraulics = design_with(*changes), analysed_with(*changes)
    return design, hydraulics, measure(design, Surface.of(design), hydraulics)


def year_of(*changes: tuple[str, str]) -> WateringYear:
    year = measured(*changes)[2].year
    assert year is not None
    return year


def test_minutes_of_july_by_hand() -> None:
    """Run time = depth over rate over (0.4 + 0.6 DU) (Wateright; multiplier from memory).

    July: 6.5 in x 0.8 - half of 0.2 in of rain = 5.1 in; 31 days, so 7/31 of it a week.
    """
    _, _, layout = measured()
    assert layout.year is not None
    line = next(s for s in layout.schedule if s.zone == "Z1")
    july = next(z for z in layout.year.zones if (z.zone, z.month) == ("Z1", JULY))
    assert july.need_m is not None and july.need_m / INCH_M == pytest.approx(6.5 * 0.8 - 0.1)
    assert line.rate_ms is not None and line.efficiency is not None
    minutes = july.need_m / (line.rate_ms * line.efficiency) / 60 * 7 / 31
    assert july.minutes_per_week == pytest.approx(minutes)


def test_without_rain_the_peak_month_is_that_of_the_schedule() -> None:
    """Both give depth per week; a month of the unit has 365.25 / 12 days and July 31."""
    _, _, layout = measured(("rain credit 50 %", ""))
    assert layout.year is not None
    for line in layout.schedule:
        july = next(z for z in layout.year.zones if (z.zone, z.month) == (line.zone, JULY))
        assert july.minutes_per_week is not None and line.minutes_per_week is not None
        share = 365.25 / 12 / 31
        assert july.minutes_per_week == pytest.approx(line.minutes_per_week * share)
    assert "none is counted" in layout.year.notes[0]


def test_rain_that_covers_the_need_leaves_nothing_to_water() -> None:
    """January: 1.2 in x 0.8 = 0.96 in, half of 2.4 in is 1.2 in."""
    year = year_of()
    january = [z for z in year.zones if z.month == JANUARY]
    assert all(z.need_m == 0.0 and z.volume_m3 == 0.0 and z.cycles == 0 for z in january)
    assert year.months[0].minutes_per_day == 0.0 and year.months[0].fits is True


def test_the_water_of_the_year_is_flow_times_time() -> None:
    _, hydraulics, layout = measured()
    assert layout.year is not None
    total = 0.0
    for z in layout.year.zones:
        case = hydraulics.case_of_zone(z.zone)
        assert case is not None and z.minutes_per_week is not None
        minutes = z.minutes_per_week * MONTH_DAYS[z.month - 1] / 7
        total += case.total_flow_m3s * minutes * 60
    assert layout.year.volume_m3 == pytest.approx(total)
    assert sum(m.volume_m3 or 0 for m in layout.year.months) == pytest.approx(total)
    assert sum(MONTH_DAYS) == 365.25


def test_a_month_that_does_not_fit_says_so() -> None:
    tight = year_of(("window 4 h", "window 1 h"))
    assert [m.fits for m in tight.months][JULY - 1] is False
    assert [m.fits for m in tight.months][JANUARY - 1] is True


def test_a_month_that_is_not_stated_is_not_known() -> None:
    year = year_of(('feb 1.6 in/month from standard "Quillmoor Climate Table 3",', ""))
    february = [z for z in year.zones if z.month == 2]
    assert all(z.minutes_per_week is None for z in february)
    assert year.volume_m3 is None and "evapotranspiration of Feb" in year.missing
    assert year.months[1].fits is None


def test_depth_of_a_month_by_its_unit() -> None:
    assert month_depth_m(q(3.1, "in/month"), 2) / INCH_M == pytest.approx(3.1)
    assert month_depth_m(q(0.1, "in/day"), 1) / INCH_M == pytest.approx(3.1)
    assert month_depth_m(q(1, "mm/day"), 2) == pytest.approx(0.02825)


def test_a_design_without_months_has_no_year() -> None:
    design = design_with()
    bare = measure(
        Design(**{**{f: getattr(design, f) for f in design.__slots__}, "control": None}),
        Surface.of(design), analysed_with(),
    )  # fmt: skip
    assert bare.year is None and bare.wire_drops == ()


@pytest.mark.parametrize(
    ("gauge", "ohms"), [(12, 1.588), (14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14)]
)
def test_resistance_is_that_of_the_copper_wire_tables(gauge: int, ohms: float) -> None:
    """Ohms per 1000 ft of annealed copper at 20 degrees Celsius, wire table of a maker of test equipment (the
    figures of National Bureau of Standards, Copper Wire Tables)."""
    assert resistance_ohm(1000 * FOOT_M, gauge_area_m2(gauge)) == pytest.approx(ohms, rel=1e-3)


def test_the_size_is_read_from_the_words() -> None:
    assert wire_area_m2("18 AWG, burial listed") == pytest.approx(0.823e-6, rel=1e-2)
    assert wire_area_m2("0.8 mm2, two spares") == pytest.approx(0.8e-6)
    assert wire_area_m2("burial listed") is None


def test_the_drop_is_there_and_back() -> None:
    """V = I R: 0.20 A over twice the run at 6.385 ohms per 1000 ft (18 AWG)."""
    _, _, layout = measured()
    for w in layout.wire_drops:
        ohms = 2 * w.length_m / FOOT_M * 6.385 / 1000
        assert w.drop_v == pytest.approx(0.20 * ohms, rel=1e-3)
        assert w.inrush_v == pytest.approx(0.36 * ohms, rel=1e-3)
    silent = measured(("current 0.20 A, inrush 0.36 A", ""))[2]
    assert all(w.drop_v is None and "current" in w.missing[0] for w in silent.wire_drops)
    sizeless = measured(("18 AWG, burial listed", "burial listed"))[2]
    assert all(w.drop_v is None and w.area_m2 is None for w in sizeless.wire_drops)


def test_totals_of_the_csv_tie_to_the_drawing() -> None:
    """Read the file back with the csv module: heads, valves and pipe are those of the design."""
    design, _, layout = measured()
    rows = list(csv.DictReader(io.StringIO(takeoff_csv(layout, design))))
    heads = Counter(h.part.label for h in design.heads if h.state == "new")
    bought = {r["item"]: float(r["quantity"]) for r in rows if r["group"] == "head" and r["item"] in heads}
    assert bought == {k: float(v) for k, v in heads.items()}
    valves = sum(float(r["quantity"]) for r in rows if r["group"] == "valve")
    assert valves == len(design.zones)
    wire = next(float(r["net"]) for r in rows if r["item"] == "valve wire, one conductor")
    assert wire == pytest.approx(sum(w.length_m for w in layout.wire_drops) / FOOT_M, abs=0.01)
    pipe = sum(float(r["net"]) for r in rows if r["group"] == "pipe" and "riser" not in r["item"])
    drawn = sum(
        math.dist(a.point, b.point)
        for p in design.pipes
        if p.state == "new"
        for a, b in zip(p.route, p.route[1:], strict=False)
    )
    assert pipe == pytest.approx(drawn / FOOT_M, abs=0.05)
