"""The cheapest choice that mends, by best first: the choice that promises least is looked at next.

A choice promises its own cost and at least what its conflicts still cost. Since that never promises too much,
the first choice found without a fault is the cheapest of all on offer. A bound on the looks cuts the search
off, and then nothing is claimed but that no cheaper one was overlooked below the last promise.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from plangen.advice.choice import MOST_LOOKS, Change, Choice
from plangen.advice.conflict import Conflict, Tried
from plangen.advice.conflicts import Conflicts
from plangen.advice.judged import Fault, Judge
from plangen.advice.space import Space
from plangen.advice.variant import Variants
from plangen.advice.ways import beyond, least_cost, slack_m, way_to
from plangen.hydraulics.analyse import prepare, solve_cases
from plangen.hydraulics.results import CaseResult, Failure
from plangen.quantity.dimension import pressure_to_head_m
from plangen.terrain.surface import Surface

_CLOSE = 1e-9
# Of the outlets that lack pressure, the worst few bound the cost; each bound holds by itself.
_WORST = 3
_ORDER = ("kind", "height", "class", "sleeve", "speed", "pressure", "water", "other")


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a search came to: the choice, whether it is proven the cheapest, looks, the last promise.

    `best` is the choice with the fewest faults where none mends.
    """

    found: Tried | None
    proven: bool
    looks: int
    promise: float
    best: Tried
    exhausted: bool


class Search:
    """Looks at choices of one design under the rules of a judge."""

    def __init__(
        self, space: Space, variants: Variants, judge: Judge, surface: Surface, most: int = MOST_LOOKS
    ) -> None:
        """Prepare; nothing is looked at yet."""
        self.space, self.variants, self.judge, self.surface = space, variants, judge, surface
        self.conflicts = Conflicts(space, variants, surface, self._least_flow)
        self.most, self.looks = most, 0
        self._flows: dict[tuple[object, ...], float] = {}
        self._part_looks: dict[Change, Tried | None] = {}
        self.parts: dict[Change, float] = {}  # what another assembly promises by itself
        self.beyond: frozenset[str] = frozenset()  # names of faults that nothing on offer mends

    def look(self, choice: Choice) -> Tried | None:
        """Return a choice worked out, or None where it cannot be made."""
        design = self.variants.design(choice)
        prepared = prepare(design, self.surface) if design is not None else None
        if design is None or prepared is None or isinstance(prepared, Failure):
            return None
        self.looks += 1
        water = solve_cases(prepared)
        faults = tuple(f for f in self.judge.faults(water, design) if f.name not in self.beyond)
        return Tried(choice, self.space.cost(choice, self.variants), design, water, faults)

    def run(self, root: Tried, refused: Sequence[Choice] = ()) -> Outcome:
        """Return the cheapest choice without faults that is not refused."""
        queue: list[tuple[float, float, int, Choice, Tried | None]] = [(0.0, 0.0, 0, root.choice, root)]
        seen, number, best, promise = {root.choice}, 0, root, 0.0
        while queue:
            promise, _, _, choice, tried = heapq.heappop(queue)
            if promise == math.inf:
                break
            if tried is None:
                if self.looks >= self.most:
                    return Outcome(None, False, self.looks, promise, best, False)
                tried = self.look(choice)
                if tried is None:
                    continue
                best = min(best, tried, key=lambda t: (len(t.faults), t.cost))
                least = self.promise(tried)
                if least > promise + _CLOSE:
                    number += 1
                    heapq.heappush(queue, (least, tried.cost, number, choice, tried))
                    continue
            if not tried.faults:
                if choice not in refused:
                    return Outcome(tried, True, self.looks, promise, tried, False)
                steps: Iterator[Change] = self._all_changes(tried)
            else:
                steps = self._changes(tried)
            for change in steps:
                child = choice.having(change)
                if child in seen:
                    continue
                seen.add(child)
                least = tried.cost + self.space.least_of(change, choice, self.variants)
                number += 1
                heapq.heappush(queue, (max(least, promise), least, number, child, None))
        return Outcome(None, False, self.looks, promise, best, True)

    def found_conflicts(self, tried: Tried) -> list[Conflict]:
        """Return the conflicts of a choice, that to be settled first in front."""
        found = [self.conflicts.of(tried, f) for f in tried.faults]
        return sorted(found, key=lambda c: (_ORDER.index(c.kind), -c.least, c.fault.name))

    def promise(self, tried: Tried) -> float:
        """Return at least what every choice costs that has these changes and more, and no fault.

        Either its assemblies stay as chosen, or one is of another part: then it costs at least what that part
        alone promises.
        """
        conflicts = self.found_conflicts(tried)
        if any(not c.mendable for c in conflicts):
            return math.inf
        least = tried.cost + self._still(tried, conflicts)
        if not conflicts:
            return least
        for change in self.shared(tried, ()):
            adds = self.space.least_of(change, tried.choice, self.variants)
            least = min(least, max(tried.cost + adds, self.parts.get(change, 0.0)))
        return least

    def lasting(self, faults: Sequence[Fault]) -> frozenset[str]:
        """Return the names of faults that stay with every other assembly alone."""
        options = [c for found in self.space.fitted.values() for c in found]
        self._part_looks = {change: self.look(Choice().having(change)) for change in options}
        names = frozenset(f.name for f in faults)
        for tried in self._part_looks.values():
            if tried is not None:
                names &= {f.name for f in tried.faults}
        return names

    def weigh_parts(self) -> None:
        """Find out what each other assembly promises by itself: most promise nothing."""
        for change, tried in self._part_looks.items():
            if tried is None:
                self.parts[change] = math.inf
            else:
                faults = tuple(f for f in tried.faults if f.name not in self.beyond)
                tried = replace(tried, faults=faults)
                conflicts = self.found_conflicts(tried)
                dead = any(not c.mendable for c in conflicts)
                alone = len(self.space.fitted) == 1
                self.parts[change] = (
                    math.inf
                    if dead and alone
                    else tried.cost + (self._still(tried, conflicts) if alone else 0.0)
                )

    def _still(self, tried: Tried, conflicts: Sequence[Conflict]) -> float:
        """Return at least what a choice still costs if no assembly is of another part than chosen."""
        apart: dict[str, float] = {}
        own: dict[str, float] = {}
        for c in conflicts:
            into = apart if c.kind in ("class", "sleeve") else own
            if c.kind in ("class", "sleeve", "speed"):
                into[c.fault.subject] = max(into.get(c.fault.subject, 0.0), c.least)
        fixed = sum(apart.values())
        fixed += max([c.least for c in conflicts if c.kind in ("kind", "height")], default=0.0)
        together = max([c.least for c in conflicts if c.kind == "water"], default=0.0)
        together = max(together, sum(own.values()) + self._pressure(tried, conflicts))
        if any(c.shared for c in conflicts):
            together = min(together, self._least_split(tried, conflicts))
        return fixed + max(together, self._needed_splits(tried, conflicts))

    def _least_split(self, tried: Tried, conflicts: Sequence[Conflict]) -> float:
        """Return the least that a split costs which may mend one of the conflicts."""
        shared = [c for c in conflicts if c.shared]
        any_zone = any(c.zones is None for c in shared)
        zones = None if any_zone else tuple({z for c in shared for z in c.zones or ()})
        return min((self._split_cost(z) for z in self._unsplit(tried, zones)), default=math.inf)

    def _needed_splits(self, tried: Tried, conflicts: Sequence[Conflict]) -> float:
        """Return at least what the splits cost that nothing stands in for, of cases that share no zone."""
        total, count, done = 0.0, 0, set[str]()
        for zones in sorted({zones for c in conflicts for zones in c.cases}):
            if not done & set(zones):
                done |= set(zones)
                costs = [self._split_cost(z) for z in self._unsplit(tried, zones)]
                total += min(costs, default=math.inf)
                count += 1
        return total + self.space.stations_cost(len(tried.choice.cuts), count)

    def _split_cost(self, zone: str) -> float:
        cuts = self.space.cuts[zone]
        return min(self.space.least_of(c, Choice(), self.variants) for c in cuts)

    def _unsplit(self, tried: Tried, zones: Sequence[str] | None) -> list[str]:
        done = {c.zone for c in tried.choice.cuts}
        return [z for z in sorted(self.space.cuts) if z not in done and (zones is None or z in zones)]

    def _pressure(self, tried: Tried, conflicts: Sequence[Conflict]) -> float:
        """Return at least what the pressure at the worst outlet costs beside the sizes needed anyway."""
        needed = {c.target.name: c.target for c in conflicts if c.target is not None}
        most = 0.0
        for c in [c for c in conflicts if c.kind == "pressure"][:_WORST]:
            case, node, lacking = self.lack(tried, c)
            links = way_to(case.solution, node).links
            free = self.conflicts.free_m(case, node, needed, tried) + slack_m(links)
            most = max(most, least_cost(lacking - free, self.conflicts.offers(tried, case, node, needed)))
        return most

    def lack(self, tried: Tried, conflict: Conflict) -> tuple[CaseResult, str, float]:
        """Return the case, the node and how much pressure an outlet lacks."""
        name, leaf = conflict.fault.subject, conflict.fault.verdict.leaf
        found = [(c, o) for c in tried.water.cases for o in c.outlets if o.name == name]
        case, outlet = min(found, key=lambda f: f[1].pressure_m)
        bound = leaf.bound if leaf is not None else None
        field = bound.field.field.name if bound is not None and bound.field is not None else ""
        need = outlet.low_m or 0.0
        if field in ("pressure", "nozzle_pressure") and bound is not None and bound.limit_si is not None:
            need = pressure_to_head_m(bound.limit_si)
        return case, outlet.node, need - outlet.pressure_m

    def shared(self, tried: Tried, zones: Sequence[str] | None) -> Iterator[Change]:
        """Yield splits of some zones (None: of all) not yet made, and assemblies not yet of another part."""
        for zone in self._unsplit(tried, zones):
            yield from self.space.cuts[zone]
        fitted = {f.name for f in tried.choice.fitted}
        for name, options in sorted(self.space.fitted.items()):
            if name not in fitted:
                yield from options

    def _changes(self, tried: Tried) -> Iterator[Change]:
        """Yield the changes that may mend the first conflict: one of them is in every choice that mends."""
        first = self.found_conflicts(tried)[0]
        yield from first.own
        if first.shared:
            yield from self.shared(tried, first.zones)

    def _all_changes(self, tried: Tried) -> Iterator[Change]:
        """Yield every change of a choice that has no fault but was refused."""
        for name in sorted({*self.space.pipes, *self.space.sleeves}):
            yield from self.space.larger(name, tried.choice)[:1]
        yield from self.shared(tried, None)

    def _least_flow(self, tried: Tried, pipe: str, case: CaseResult) -> float:
        """Return the flow of a pipe in a case when all pipes beside its way are the largest on offer."""
        choice = replace(tried.choice, sized=())
        key = (choice, pipe, case.case)
        if key not in self._flows:
            origins = self.variants.structure(choice.cuts).origins
            way = {origins.get(p, p) for p in beyond(case.solution, pipe)}
            for name in sorted(self.space.pipes):
                sizes = () if name in way else self.space.larger(name, choice)
                choice = choice.having(sizes[-1]) if sizes else choice
            self._flows[key] = self._flow_in(choice, pipe, case)
        return self._flows[key]

    def _flow_in(self, choice: Choice, pipe: str, case: CaseResult) -> float:
        design = self.variants.design(choice)
        prepared = prepare(design, self.surface) if design is not None else None
        if prepared is None or isinstance(prepared, Failure):
            return 0.0
        self.looks += 1
        solved = next((c for c in solve_cases(prepared).cases if c.case == case.case), None)
        if solved is None:
            return 0.0
        links = [r for r in solved.solution.links if r.link.object == pipe and r.link.kind == "pipe"]
        return max((abs(r.flow_m3s) for r in links), default=0.0)
