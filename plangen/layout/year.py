"""Water through the year: each zone's run time in each month, cycles, the window, and the water of the year.

    need = evapotranspiration of the month x plant factor - rain of the month x share credited, never negative
    minutes of the month = 60 x need / (rate x (0.4 + 0.6 DU))

The formula is that of the peak month (see `schedule`, with its sources). A depth stated by the month is the
depth of that month; one stated by the day counts for each of its days, February for 28.25. Rain is credited
only with a stated share: how much of it plants get to use differs too much to be taken for granted.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from plangen.hydraulics.results import Hydraulics, Input
from plangen.layout.inputs import merged, stated
from plangen.layout.results import AreaCoverage, MonthTotal, WateringYear, ZoneMonth
from plangen.layout.schedule import ZoneWatering, cycles_of, efficiency_of, watering_of, zone_flows
from plangen.model.design import Control, Design
from plangen.quantity.dimension import UNITS
from plangen.quantity.quantity import Quantity

MONTH_DAYS = (31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0)
_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def month_name(month: int) -> str:
    """Return the short name of a month, 1 to 12."""
    return _NAMES[month - 1]


def month_depth_m(rate: Quantity, month: int) -> float:
    """Return the depth of a month from a rate as it was written."""
    if rate.written.endswith("/month"):
        return rate.si * UNITS["day"].factor * 365.25 / 12.0  # the month that the unit stands for
    return rate.si * MONTH_DAYS[month - 1] * UNITS["day"].factor


def measure_year(
    design: Design, hydraulics: Hydraulics, coverage: Sequence[AreaCoverage]
) -> WateringYear | None:
    """Return the watering of the year, or None where no month's evapotranspiration is stated."""
    control = design.control
    if control is None or not control.monthly_et:
        return None
    by_area = {c.area: c for c in coverage}
    flows = zone_flows(hydraulics)
    zones: list[ZoneMonth] = []
    missing: list[str] = []
    inputs: list[Input] = []
    for zone in design.zones:
        water = watering_of(design, zone, by_area, flows.get(zone.name))
        efficiency = efficiency_of(zone, water.low_quarter)
        missing.extend(water.missing)
        if zone.name not in flows:
            missing.append(f"flow of {zone.name}")
        inputs.extend((*water.factor_inputs, *water.rate_inputs, *water.even_inputs))
        zones.extend(
            _zone_month(zone.name, month, control, water, efficiency, flows.get(zone.name, (None, ()))[0])
            for month in range(1, 13)
        )
    told = dict(control.monthly_et)
    missing.extend(f"evapotranspiration of {month_name(m)}" for m in range(1, 13) if m not in told)
    months = tuple(_total(design, control, zones, month) for month in range(1, 13))
    volumes = [m.volume_m3 for m in months if m.volume_m3 is not None]
    return WateringYear(
        tuple(zones), months, sum(volumes) if len(volumes) == 12 else None,
        tuple(dict.fromkeys(missing)), _notes(control), merged(_stated(control), inputs),
    )  # fmt: skip


def _zone_month(
    zone: str, month: int, control: Control, water: ZoneWatering, efficiency: float | None,
    flow_m3s: float | None,
) -> ZoneMonth:  # fmt: skip
    et = dict(control.monthly_et).get(month)
    if et is None or water.factor is None:
        return ZoneMonth(zone, month, None, None, None, None, None)
    need = max(month_depth_m(et, month) * water.factor - _rain_m(control, month), 0.0)
    if not water.rate_ms or not efficiency:
        return ZoneMonth(zone, month, need, None, None, None, None)
    seconds = need / (water.rate_ms * efficiency)
    weekly = seconds / 60.0 * 7.0 / MONTH_DAYS[month - 1]
    days = control.water_days.si if control.water_days and control.water_days.si > 0 else None
    cycles, each, _ = cycles_of(weekly, days, water.rate_ms, water.intake_ms)
    volume = None if flow_m3s is None else flow_m3s * seconds
    return ZoneMonth(zone, month, need, weekly, cycles if weekly > 0 else 0, each, volume)


def _rain_m(control: Control, month: int) -> float:
    rain: Mapping[int, Quantity] = dict(control.monthly_rain)
    if control.rain_credit is None or month not in rain:
        return 0.0
    return month_depth_m(rain[month], month) * control.rain_credit.si


def _total(design: Design, control: Control, zones: Sequence[ZoneMonth], month: int) -> MonthTotal:
    """Return all zones of a month, one after the other on each watering day."""
    here = [z for z in zones if z.month == month]
    minutes = [z.minutes_per_week for z in here if z.minutes_per_week is not None]
    volumes = [z.volume_m3 for z in here if z.volume_m3 is not None]
    days = control.water_days.si if control.water_days and control.water_days.si > 0 else None
    whole = bool(here) and len(minutes) == len(design.zones)
    per_day = sum(minutes) / days if whole and days is not None else None
    window = control.window.si / 60.0 if control.window is not None else None
    fits = None if per_day is None or window is None else per_day <= window + 1e-9
    return MonthTotal(month, per_day, fits, sum(volumes) if here and len(volumes) == len(here) else None)


def _stated(control: Control) -> tuple[Input, ...]:
    found: list[Input] = []
    for what, rates in (("evapotranspiration", control.monthly_et), ("rain", control.monthly_rain)):
        for month, rate in rates:
            found.extend(stated(f"{what} of {month_name(month)}", rate))
    found.extend(stated("rain credit", control.rain_credit))
    return tuple(found)


def _notes(control: Control) -> tuple[str, ...]:
    if control.monthly_rain and control.rain_credit is None:
        return ("Rain is stated but no share of it (`rain credit`): none is counted.",)
    if control.monthly_rain and control.rain_credit is not None:
        return (f"Of the rain stated {control.rain_credit.written} is counted.",)
    return ("No rain is counted.",)
