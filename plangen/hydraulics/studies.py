"""What the water does when things are not as designed: frozen values in SI. None and `missing`: not known."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.quantity.evidence import Input


@dataclass(frozen=True, slots=True)
class WhatIf:
    """All cases solved with one thing changed. `short` names the outlets that then lack pressure."""

    question: str
    basis: str
    source_pressure_m: float | None
    case: str = ""
    outlet: str = ""
    spare_m: float | None = None
    short: tuple[str, ...] = ()
    missing: str = ""
    inputs: tuple[Input, ...] = ()  # points of loss curves about its flows


@dataclass(frozen=True, slots=True)
class LeastPressure:
    """The lowest pressure with no flow at which every outlet still has its least pressure.

    `source_m` is at the source, `gauge_m` what a gauge at ground level at `gauge_at` shows then; `flow_m3s`
    is the greatest flow the source must give at it. `season_m` is what the gauge must show on a day when the
    pressure stands at its measured value and may still fall to the design's. None: not known.
    """

    source_m: float | None
    gauge_at: str = ""
    gauge_m: float | None = None
    season_m: float | None = None
    flow_m3s: float | None = None
    case: str = ""
    outlet: str = ""
    missing: str = ""


@dataclass(frozen=True, slots=True)
class Predicted:
    """What a gauge should show at a test point while a case runs, give or take `tolerance_m`."""

    case: str
    object: str
    side: str  # inlet, outlet, or '' at a head
    node: str
    pressure_m: float
    tolerance_m: float
    loss_m: float  # from the source to here
    why: str  # what the point is for: assembly, valve, first head, far head


@dataclass(frozen=True, slots=True)
class Judged:
    """A recorded reading against what it should be. `verdict` is `agrees`, `low`, `high` or `not judged`."""

    case: str
    object: str
    side: str
    read_m: float
    expected_m: float | None
    tolerance_m: float | None
    verdict: str
    causes: tuple[str, ...]
    on: str = ""


@dataclass(frozen=True, slots=True)
class Relief:
    """A reduced-pressure assembly that lets all water out, against its drain."""

    assembly: str
    flow_m3s: float | None
    drain_m3s: float | None
    carried: bool | None
    missing: tuple[str, ...]
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class Break:
    """A pipe broken off: the flow out of its open end, against a flow sensor's setting."""

    pipe: str
    flow_m3s: float | None
    beyond: tuple[str, ...]  # devices whose loss curve had to be carried on
    sensor: str
    trip_m3s: float | None
    most_running_m3s: float | None  # the greatest flow of an ordinary case at the sensor
    noticed: bool | None
    missing: str = ""
    inputs: tuple[Input, ...] = ()


@dataclass(frozen=True, slots=True)
class HouseLeft:
    """The pressure that the house keeps while a case runs, and the static pressure there."""

    case: str
    pressure_m: float
    static_m: float | None


@dataclass(frozen=True, slots=True)
class Siphon:
    """An outlet above a place that empties when the supply is lost: only the assembly stops its water."""

    outlet: str
    above_source_m: float | None
    above_house_m: float | None
    above_assembly_m: float | None
    assembly: str


@dataclass(frozen=True, slots=True)
class Strength:
    """Static pressure and surge of a pipe against its rating at the stated temperature."""

    pipe: str
    static_m: float | None
    surge_m: float | None
    rating_m: float | None
    factor: float | None
    holds: bool | None
    missing: tuple[str, ...] = ()

    @property
    def derated_m(self) -> float | None:
        """Return the rating at the stated temperature."""
        return None if self.rating_m is None or self.factor is None else self.rating_m * self.factor


@dataclass(frozen=True, slots=True)
class Closing:
    """A zone valve that shuts: the time a wave takes there and back, and the surge if it is slow enough."""

    valve: str
    length_m: float
    critical_s: float | None
    closing_s: float | None
    sudden_m: float | None
    slow_m: float | None
    note: str


@dataclass(frozen=True, slots=True)
class MeterLoad:
    """The greatest flow through a meter against what it is made for."""

    meter: str
    case: str
    flow_m3s: float
    most_m3s: float | None
    within: bool | None


@dataclass(frozen=True, slots=True)
class Studies:
    """All of it. `notes` say how it was worked out and what was taken for it."""

    what_ifs: tuple[WhatIf, ...]
    least: LeastPressure
    predicted: tuple[Predicted, ...]
    judged: tuple[Judged, ...]
    reliefs: tuple[Relief, ...]
    breaks: tuple[Break, ...]
    house: tuple[HouseLeft, ...]
    siphons: tuple[Siphon, ...]
    expansion: str
    strengths: tuple[Strength, ...]
    closings: tuple[Closing, ...]
    meters: tuple[MeterLoad, ...]
    notes: tuple[str, ...]
    inputs: tuple[Input, ...] = ()  # beside those of the load cases
