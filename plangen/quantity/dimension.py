"""The closed list of dimensions and units. Exact factors by definition; the tests hold them against pint."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

INCH_M = 0.0254
FOOT_M = 0.3048
GALLON_M3 = 231 * INCH_M**3
PSI_PA = 6894.757293168361
# Weight of water, 62.4 lb/ft3 (US customary value, as EPANET uses: 0.4333 psi per foot).
WATER_N_PER_M3 = 62.4 * 4.4482216152605 / FOOT_M**3
GRAVITY_M_S2 = 9.80665


class Dimension(StrEnum):
    """What kind of thing a quantity is. Values are kept in the SI unit named beside each."""

    LENGTH = "length"  # m
    AREA = "area"  # m2
    VOLUME = "volume"  # m3
    PRESSURE = "pressure"  # Pa
    FLOW = "flow"  # m3/s
    VELOCITY = "velocity"  # m/s
    RATE = "application rate"  # m/s of water depth
    ANGLE = "angle"  # degrees
    RATIO = "ratio"  # 1
    TIME = "time"  # s
    TEMPERATURE = "temperature"  # degrees Celsius
    VOLTAGE = "voltage"  # V
    CURRENT = "electric current"  # A
    COUNT = "count"  # 1, of things


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: `si = value * factor + offset`."""

    symbol: str
    dimension: Dimension
    factor: float
    offset: float = 0.0


_D = Dimension
UNITS: dict[str, Unit] = {
    u.symbol: u
    for u in (
        Unit("in", _D.LENGTH, INCH_M),
        Unit("ft", _D.LENGTH, FOOT_M),
        Unit("yd", _D.LENGTH, 3 * FOOT_M),
        Unit("mm", _D.LENGTH, 0.001),
        Unit("cm", _D.LENGTH, 0.01),
        Unit("m", _D.LENGTH, 1.0),
        Unit("sqft", _D.AREA, FOOT_M**2),
        Unit("sqm", _D.AREA, 1.0),
        Unit("gal", _D.VOLUME, GALLON_M3),
        Unit("cuft", _D.VOLUME, FOOT_M**3),
        Unit("L", _D.VOLUME, 0.001),
        Unit("m3", _D.VOLUME, 1.0),
        Unit("psi", _D.PRESSURE, PSI_PA),
        Unit("ftH2O", _D.PRESSURE, WATER_N_PER_M3 * FOOT_M),
        Unit("bar", _D.PRESSURE, 1e5),
        Unit("kPa", _D.PRESSURE, 1000.0),
        Unit("Pa", _D.PRESSURE, 1.0),
        Unit("gpm", _D.FLOW, GALLON_M3 / 60),
        Unit("gph", _D.FLOW, GALLON_M3 / 3600),
        Unit("L/s", _D.FLOW, 0.001),
        Unit("L/min", _D.FLOW, 0.001 / 60),
        Unit("L/h", _D.FLOW, 0.001 / 3600),
        Unit("m3/h", _D.FLOW, 1 / 3600),
        Unit("m3/s", _D.FLOW, 1.0),
        Unit("ft/s", _D.VELOCITY, FOOT_M),
        Unit("m/s", _D.VELOCITY, 1.0),
        Unit("in/h", _D.RATE, INCH_M / 3600),
        Unit("in/day", _D.RATE, INCH_M / 86400),
        Unit("in/month", _D.RATE, INCH_M / 2629800),
        Unit("mm/h", _D.RATE, 0.001 / 3600),
        Unit("mm/day", _D.RATE, 0.001 / 86400),
        Unit("mm/month", _D.RATE, 0.001 / 2629800),
        Unit("deg", _D.ANGLE, 1.0),
        Unit("%", _D.RATIO, 0.01),
        Unit("s", _D.TIME, 1.0),
        Unit("min", _D.TIME, 60.0),
        Unit("h", _D.TIME, 3600.0),
        Unit("day", _D.TIME, 86400.0),
        Unit("days", _D.TIME, 86400.0),
        Unit("degF", _D.TEMPERATURE, 5 / 9, -160 / 9),
        Unit("degC", _D.TEMPERATURE, 1.0),
        Unit("V", _D.VOLTAGE, 1.0),
        Unit("A", _D.CURRENT, 1.0),
        Unit("mA", _D.CURRENT, 0.001),
    )
}
COUNT_UNIT = Unit("", _D.COUNT, 1.0)
RATIO_UNIT = Unit("", _D.RATIO, 1.0)


def pressure_to_head_m(pressure_pa: float) -> float:
    """Return the height of water in metres that a pressure in pascals holds up."""
    return pressure_pa / WATER_N_PER_M3


def head_to_pressure_pa(head_m: float) -> float:
    """Return the pressure in pascals below a height of water in metres."""
    return head_m * WATER_N_PER_M3
