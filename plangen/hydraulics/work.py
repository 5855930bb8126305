"""The solver's working arrays: a network with its names turned to numbers. Mutable, private to the solver.

Nothing here decides anything; `solve` iterates, `switching` opens and closes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from plangen.hydraulics.elimination import Elimination
from plangen.hydraulics.friction import Curve, bore_area_m2, curve_value, friction_factor, minor_factor
from plangen.hydraulics.network import OPEN, Link, Network
from plangen.hydraulics.outlets import OutletLaw, law_of

# First guess: a foot a second in pipes, five gallons a minute in what has no bore.
_GUESS_MS = 0.3
_GUESS_M3S = 3e-4
# A plain nozzle starts from the flow at this pressure head.
_GUESS_HEAD_M = 20.0

DRY, ROOT, LINE = 0, 1, 2


@dataclass(slots=True)
class Step:
    """The slope to step with where straight stretches meet, and the place of the last step.

    The plain slope can send an answer to and fro between two stretches. From the eighth turn on the slope
    is the steepest of this turn's, the last turn's and the chord between them; from the fortieth, of all
    since. A slope too steep only shortens the step, so this always closes in.
    """

    slope: float = 0.0
    x: float = 0.0
    y: float = 0.0

    def steepened(self, turn: int, x: float, y: float, slope: float) -> float:
        """Return the slope to step with at (x, y), and remember the place."""
        steep = slope
        if turn >= 8:
            chord = (y - self.y) / (x - self.x) if x != self.x else 0.0
            steep = max(slope, self.slope, chord)
        self.slope = slope if turn < 40 else steep
        self.x, self.y = x, y
        return steep


@dataclass(slots=True)
class Curved:
    """A link that follows points. `gain` is a pump; `spring_m` is the loss at no flow."""

    link: int
    curve: Curve
    gain: bool
    spring_m: float
    step: Step = field(default_factory=Step)


@dataclass(slots=True)
class Regulator:
    """A link that holds the head behind it."""

    link: int
    set_head_m: float


@dataclass(slots=True)
class Outlet:
    """An outlet at work. `part` tells which stretch of its law it is on: dry, square root or lines."""

    node: int
    elevation_m: float
    law: OutletLaw
    part: int
    flow: float
    root_m: float  # h = root_m q^2 on the square root
    step: Step = field(default_factory=Step)
    conductance: float = 0.0
    offset: float = 0.0


@dataclass(slots=True)
class Work:
    """One network in numbers. Links beyond `len(network.links)` are the curves of tested sources."""

    network: Network
    head: list[float]
    held: list[bool]
    demand: list[float]
    starts: list[int]
    ends: list[int]
    flow: list[float]
    state: list[str]
    one_way: list[bool]
    plain: list[tuple[int, float, float, float]]  # link, r, m, loss over flow at the low-flow limit
    curved: list[Curved]
    regulators: list[Regulator]
    outlets: list[Outlet]
    elimination: Elimination
    loss: list[float] = field(default_factory=list)
    conductance: list[float] = field(default_factory=list)
    offset: list[float] = field(default_factory=list)
    switched: bool = False  # whether any link is closed or regulating
    springs: dict[int, float] = field(default_factory=dict)  # what opens a closed link, by link
    shut_in: list[int] = field(default_factory=list)  # nodes that no open link joins to a known head


# Below this flow a pipe's loss is a straight line, so that a ring's idle link has a slope to stand on.
LOW_FLOW_M3S = 1e-9
_LOW_POWER = LOW_FLOW_M3S**0.852


def work_of(network: Network) -> Work:
    """Return the working arrays of a network."""
    index = {n.id: i for i, n in enumerate(network.nodes)}
    count = len(network.nodes)
    sources = [(index[s.node], s.head_m, s.curve_m3s_m) for s in network.sources]
    tested = [s for s in sources if s[2]]
    starts = [index[link.start] for link in network.links] + [count + i for i in range(len(tested))]
    ends = [index[link.end] for link in network.links] + [s[0] for s in tested]
    held = [False] * count + [True] * len(tested)
    head = [n.elevation_m for n in network.nodes] + [s[1] for s in tested]
    for node, level, curve in sources:
        if not curve:
            held[node], head[node] = True, level
    links = len(starts)
    work = Work(
        network=network,
        head=head,
        held=held,
        demand=[n.demand_m3s for n in network.nodes] + [0.0] * len(tested),
        starts=starts,
        ends=ends,
        flow=[_guess(link) for link in network.links] + [_GUESS_M3S] * len(tested),
        state=[OPEN] * links,
        one_way=[link.one_way for link in network.links] + [False] * len(tested),
        plain=[],
        curved=[],
        regulators=[],
        outlets=[],
        elimination=Elimination.of(len(held), list(zip(starts, ends, strict=True))),
        loss=[0.0] * links,
        conductance=[0.0] * links,
        offset=[0.0] * links,
    )
    _sort_links(work)
    work.curved.extend(Curved(len(network.links) + i, s[2], False, 0.0) for i, s in enumerate(tested))
    _place_outlets(work, index)
    return work


def _guess(link: Link) -> float:
    return _GUESS_MS * bore_area_m2(link.diameter_m) if link.diameter_m > 0 else _GUESS_M3S


def _sort_links(work: Work) -> None:
    for k, link in enumerate(work.network.links):
        if link.curve_m3s_m:
            spring = link.curve_m3s_m[0][1] if link.curve_m3s_m[0][0] <= 0 and link.kind != "pump" else 0.0
            work.curved.append(Curved(k, link.curve_m3s_m, link.kind == "pump", spring))
            # A loss that stands at no flow can only come of a spring: such a device checks backward flow.
            work.one_way[k] = link.one_way or spring > 0 or link.kind == "pump"
            # A pump opens against as much as it gains at no flow.
            work.springs[k] = -curve_value(link.curve_m3s_m, 0.0)[0] if link.kind == "pump" else spring
        else:
            bore = link.diameter_m
            r = friction_factor(link.length_m, bore, link.hazen_williams_c) if link.length_m > 0 else 0.0
            m = minor_factor(link.minor_k, bore)
            work.plain.append((k, r, m, r * _LOW_POWER + m * LOW_FLOW_M3S))
        if link.kind == "regulator" and link.setting_m is not None:
            base = work.network.nodes[work.ends[k]].elevation_m
            work.regulators.append(Regulator(k, base + link.setting_m))


def _place_outlets(work: Work, index: dict[str, int]) -> None:
    for node in work.network.nodes:
        if node.emitter is None:
            continue
        law = law_of(node.emitter)
        guess = min(law.root_to_m, _GUESS_HEAD_M)
        flow = law.flow_m3s(guess)
        part = ROOT if law.root_to_m > 0 else LINE
        start = law.k * math.sqrt(guess) if part == ROOT else flow
        root_m = law.k**-2.0 if law.k < math.inf else 0.0
        work.outlets.append(Outlet(index[node.id], node.elevation_m, law, part, start, root_m))
