"""The least supply at which every required rule that hangs on the water still meets: go or no-go on the day.

The pressure at the source is halved between one that meets and one that does not; at each the load cases are
solved and the rules judged anew on the same sheets. What a case draws at that pressure is the least that the
supply must give there. The least flow of a supply at the design's own pressure is halved for in the same way,
in `least_flow`. Nothing is scaled from another answer.
"""

from __future__ import annotations

from plangen.advice.judged import Judge, Standing
from plangen.advice.least_flow import Look, governing_of, least_flow, needs_of
from plangen.advice.mentions import WATER_FACTS, required_on
from plangen.checking.finding import Status
from plangen.hydraulics.analyse import Prepared, prepare, solve_cases
from plangen.hydraulics.friction import Curve
from plangen.hydraulics.results import Failure
from plangen.hydraulics.sensitivity import gauge_at_meter
from plangen.packet.least_supply import LeastSupply
from plangen.quantity.dimension import pressure_to_head_m
from plangen.quantity.quantity import to_si

# How closely the least pressure is found: half a pound, finer than a gauge of the trade is read.
TOLERANCE_M = pressure_to_head_m(to_si(0.5, "psi"))
# Solutions and judgements spent on the halving; the first and the looks at other pressures come on top.
MOST_HALVINGS = 7
_SHORTEST_M = 1e-6


class _Looked:
    """The pressures looked at, each once."""

    def __init__(self, prepared: Prepared, judge: Judge) -> None:
        self.prepared, self.judge = prepared, judge
        self.seen: dict[float, Look] = {}

    def at(self, pressure_m: float) -> Look:
        """Return the solved cases at a pressure, and what of the rules does not meet."""
        if pressure_m not in self.seen:
            self.seen[pressure_m] = self.look(pressure_m)
        return self.seen[pressure_m]

    def look(self, pressure_m: float, curve: Curve | None = None) -> Look:
        """Return the same for a supply that falls along another curve; not kept."""
        water = solve_cases(self.prepared, pressure_m, curve)
        return water, self.judge.faults(water)

    def meets(self, pressure_m: float) -> bool:
        """Return whether every rule meets at a pressure."""
        return not self.at(pressure_m)[1]

    def tried(self) -> tuple[tuple[float, int], ...]:
        """Return what was looked at, the lowest pressure first."""
        return tuple((p, len(faults)) for p, (_, faults) in sorted(self.seen.items()))


def least_supply(standing: Standing) -> LeastSupply:
    """Return the least supply of a checked design, or why none can be named."""
    packs = required_on(standing.packs, WATER_FACTS)
    judge = Judge(standing, packs)
    count = len(judge.rules)
    elsewhere = _elsewhere(standing, judge)
    prepared = prepare(standing.design, standing.surface)
    if isinstance(prepared, Failure):
        return LeastSupply(None, TOLERANCE_M, count, missing=prepared.message, elsewhere=elsewhere)
    if not judge.rules:
        words = "no required rule of the packs in force speaks of the water"
        return LeastSupply(None, TOLERANCE_M, 0, missing=words, elsewhere=elsewhere)
    looked = _Looked(prepared, judge)
    top = _meeting(looked)
    if top is None:
        missing = _short_everywhere(looked)
        return LeastSupply(
            None, TOLERANCE_M, count, tried=looked.tried(), missing=missing, elsewhere=elsewhere
        )
    low, high = _halved(looked, top, _outlets_least(standing))
    return _told(looked, low, high, top, elsewhere)


def _elsewhere(standing: Standing, judge: Judge) -> tuple[str, ...]:
    """Return the required rules that hang on no water and do not meet: no pressure mends them."""
    water = {rule.name for rule in judge.rules}
    bad = (Status.FALLS_SHORT, Status.NOT_KNOWN)
    return tuple(
        f"{f.rule} {f.subject}".strip()
        for f in standing.findings
        if f.severity == "required" and f.status in bad and f.rule not in water
    )


def _meeting(looked: _Looked) -> float | None:
    """Return the pressure to come down from: the design's, else the stated static, else none."""
    supply = looked.prepared.ready.supply
    design, static = supply.design_m, supply.static_m
    if design is not None and looked.meets(design):
        return design
    higher = static is not None and (design is None or static > design)
    return static if static is not None and higher and looked.meets(static) else None


def _short_everywhere(looked: _Looked) -> str:
    top = max(looked.seen)
    _, faults = looked.at(top)
    words = ", ".join(f"{f.name} ({f.verdict.status.words})" for f in faults[:4])
    more = f" and {len(faults) - 4} more" if len(faults) > 4 else ""
    return f"even at the highest pressure stated these do not meet: {words}{more}"


def _outlets_least(standing: Standing) -> float | None:
    """Return the least pressure that the outlets alone ask for: it governs most often and is tried first."""
    studies = standing.hydraulics.studies
    return studies.least.source_m if studies is not None else None


def _halved(looked: _Looked, top: float, guess: float | None) -> tuple[float, float]:
    """Return a pressure that does not meet and the next that does, no further apart than allowed."""
    low, high = 0.0, top
    probes = [] if guess is None else [guess + _SHORTEST_M, guess - TOLERANCE_M]
    for probe in probes:
        if low < probe < high:
            low, high = (low, probe) if looked.meets(probe) else (probe, high)
    for _ in range(MOST_HALVINGS):
        if high - low <= TOLERANCE_M * (1 + 1e-6):
            break
        middle = (low + high) / 2.0
        low, high = (low, middle) if looked.meets(middle) else (middle, high)
    return low, high


def _told(looked: _Looked, low: float, high: float, top: float, elsewhere: tuple[str, ...]) -> LeastSupply:
    """Return the result, after a look at pressures between and below that shows whether it is one figure."""
    above = [high + (top - high) * share for share in (0.4, 0.8) if top - high > TOLERANCE_M]
    steady = all(looked.meets(p) for p in above) and (low <= 0.0 or not looked.meets(low * 0.75))
    ready = looked.prepared.ready
    place, gauge = gauge_at_meter(ready, high)
    supply = ready.supply
    fall = supply.fall_m
    needs = needs_of(looked.at(high)[0], supply)
    governing = () if low <= 0.0 else governing_of(looked.at(low)[1])
    return LeastSupply(
        pressure_m=high,
        tolerance_m=high - low,
        rules=len(looked.judge.rules),
        governing=governing,
        gauge_at=place,
        gauge_m=gauge,
        season_m=None if fall is None or gauge is None else gauge + fall,
        flow_m3s=max((n.flow_m3s for n in needs), default=None),
        cases=needs,
        tried=looked.tried(),
        steady=steady,
        elsewhere=elsewhere,
        least_flow=least_flow(supply, top, needs, looked.look),
    )
