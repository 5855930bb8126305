"""What later stages read of the water: solved cases, budgets, profiles, checks. Frozen values in SI."""

from __future__ import annotations

from dataclasses import dataclass, field

from plangen.hydraulics.basis import NO_BASIS, Basis
from plangen.hydraulics.network import Solution
from plangen.hydraulics.studies import Studies
from plangen.quantity.evidence import Input

__all__ = [
    "Budget",
    "BudgetLine",
    "CaseResult",
    "Failure",
    "Hydraulics",
    "Input",
    "OutletResult",
    "PipeCheck",
    "StaticPoint",
    "spare_of",
]


def spare_of(available_m: float, required_m: float, regulator_m: float) -> float:
    """Return how far the supply may fall before a need that is met is not; what lacks where it is not met.

    A regulator at work gives up what it takes before the pressure behind it falls. Where the need is not met
    although it works, its setting is too low, and what it takes is no spare.
    """
    over = available_m - required_m
    return over + regulator_m if over >= 0.0 else over


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One component on the way from the source to the worst outlet, in flow order."""

    id: str
    object: str
    description: str
    flow_m3s: float
    nominal: str
    bore_m: float | None
    length_m: float | None
    fittings: str
    velocity_ms: float | None
    loss_m: float
    rise_m: float  # elevation gained over this component
    pressure_after_m: float
    source: str  # of the loss value


@dataclass(frozen=True, slots=True)
class Budget:
    """Source pressure, what is lost on the way, what is left and what the outlet needs."""

    source_node: str
    source_pressure_m: float
    outlet: str
    required_m: float | None
    available_m: float
    lines: tuple[BudgetLine, ...]
    regulator_m: float = 0.0  # what regulators at work on the way take off: there if the supply falls

    @property
    def spare_m(self) -> float | None:
        """Return how far the supply may fall before the need is not met, or None if the need is not known."""
        if self.required_m is None:
            return None
        return spare_of(self.available_m, self.required_m, self.regulator_m)


@dataclass(frozen=True, slots=True)
class OutletResult:
    """What one outlet does in its case."""

    name: str  # object name, as in the design
    node: str
    pressure_m: float
    flow_m3s: float
    low_m: float | None  # least pressure of its data sheet
    high_m: float | None
    regulator_m: float = 0.0  # what regulators at work on its way take off

    @property
    def spare_m(self) -> float | None:
        """Return what it has over its need, counting what regulators on its way would give up first."""
        return None if self.low_m is None else spare_of(self.pressure_m, self.low_m, self.regulator_m)


@dataclass(frozen=True, slots=True)
class CaseResult:
    """One load case, solved and read: the worst outlet is the one with the least spare pressure.

    `total_flow_m3s` is what the outlets of the zones draw together, without the house;
    `source_flow_m3s` is all that leaves the source.
    """

    case: str
    zones: tuple[str, ...]
    solution: Solution
    outlets: tuple[OutletResult, ...]
    budget: Budget | None
    total_flow_m3s: float
    inputs: tuple[Input, ...]
    source_flow_m3s: float = 0.0
    notes: tuple[str, ...] = ()
    basis: Basis = field(default=NO_BASIS, repr=False, compare=False)  # by node and link


@dataclass(frozen=True, slots=True)
class PipeCheck:
    """The hardest case of one pipe: greatest velocity, static pressure at its lowest point, surge."""

    pipe: str
    case: str
    flow_m3s: float
    velocity_ms: float
    static_pressure_m: float
    surge_m: float | None  # Joukowsky, for the pipe's own wave speed; None where it is not known
    wave_speed_ms: float | None
    rating_m: float | None  # at the highest temperature stated for the source, else at 73 F
    volume_m3: float
    length_m: float
    static_missing: tuple[str, ...] = ()  # what is not known: the static pressure is then a floor only
    flow_known: bool = True  # False: a case in which it may carry water failed, the greatest flow is a floor
    fill_flow_m3s: float = 0.0  # at 1 ft/s
    flush_flow_m3s: float = 0.0  # at 2.5 ft/s
    flow_inputs: tuple[Input, ...] = ()
    static_inputs: tuple[Input, ...] = ()
    pipe_inputs: tuple[Input, ...] = ()  # of speed, surge and rating besides

    @property
    def static_known(self) -> bool:
        """Return whether the static pressure is more than a floor."""
        return not self.static_missing

    # A floor is no result: what is shown or judged is one of these.
    @property
    def told_flow_m3s(self) -> float | None:
        """Return the greatest flow, or None where a case that may move it was not solved."""
        return self.flow_m3s if self.flow_known else None

    @property
    def told_velocity_ms(self) -> float | None:
        """Return the greatest velocity, or None where a case that may move it was not solved."""
        return self.velocity_ms if self.flow_known else None

    @property
    def told_surge_m(self) -> float | None:
        """Return the surge of a sudden stop, or None where it or the flow is not known."""
        return self.surge_m if self.flow_known else None

    @property
    def told_static_m(self) -> float | None:
        """Return the static pressure at the lowest point, or None where it is only a floor."""
        return self.static_pressure_m if self.static_known else None


@dataclass(frozen=True, slots=True)
class StaticPoint:
    """Pressure at a named place when nothing runs, at the highest static pressure stated."""

    object: str
    node: str
    elevation_m: float
    pressure_m: float


@dataclass(frozen=True, slots=True)
class Failure:
    """A case that could not be solved, named."""

    case: str
    # `no-pressure-given`, `cut-off`, `no-convergence`, `curve-left`, `flow-law-missing`, `no-elevation`,
    # `cover-missing`, `height-missing`, `demand-missing`, `setting-missing`, `area-missing`,
    # `demand-not-met`, `regulators-joined`
    code: str
    message: str
    objects: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hydraulics:
    """All of it. `worst` is the case whose worst outlet has the least spare of all."""

    design_pressure_m: float | None
    static_pressure_m: float | None
    pressure_basis: str
    cases: tuple[CaseResult, ...]
    failures: tuple[Failure, ...]
    pipes: tuple[PipeCheck, ...]
    worst: str | None
    static_inputs: tuple[Input, ...] = ()  # of the static pressure at the source's place
    design_inputs: tuple[Input, ...] = ()  # of the design pressure there
    notes: tuple[str, ...] = ()
    static_points: tuple[StaticPoint, ...] = ()
    studies: Studies | None = None  # None: nothing to study, the source itself is not known

    def case_of_zone(self, zone: str) -> CaseResult | None:
        """Return the case that runs that zone alone, or None."""
        return next((c for c in self.cases if c.zones == (zone,)), None)
