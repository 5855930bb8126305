"""From a rule that does not meet to the changes that may mend it, and at least what they cost.

The search leaves out what is not named here, so the lists must be whole: with each kind stands why.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from plangen.advice.choice import Change, Choice, Raised, Sized
from plangen.advice.conflict import Conflict, Tried
from plangen.advice.judged import Fault
from plangen.advice.mentions import facts_of, mentioned
from plangen.advice.space import Space
from plangen.advice.variant import Variants
from plangen.advice.ways import (
    has_rings,
    pipes_of,
    saved_m,
    way_to,
)
from plangen.checking.finding import Status
from plangen.hydraulics.friction import velocity_ms
from plangen.hydraulics.network import LinkResult
from plangen.hydraulics.results import CaseResult, Hydraulics, OutletResult
from plangen.model.pipe_table import pipe_size
from plangen.model.waterworks import DripArea, Head
from plangen.quantity.dimension import INCH_M, pressure_to_head_m
from plangen.terrain.surface import Surface

_INF = math.inf
_HEIGHTS = ("height_above_grade", "height_above_highest_outlet", "height_above_downstream_piping")
_RATING = {"static_pressure", "pressure_rating", "static_share_of_rating"}
_OF_PART = {"kind", "size", "line_size", "listed", "listing"}
_PRESSURES = ("pressure", "nozzle_pressure")
_THROW = {"radius", "spacing_over_radius", "overspray", "overspray_onto"}
_CASE_FAULTS = ("curve-left", "no-convergence", "demand-not-met")


LeastFlow = Callable[[Tried, str, CaseResult], float]


class Conflicts:
    """Finds the conflicts of a choice."""

    def __init__(self, space: Space, variants: Variants, surface: Surface, least_flow: LeastFlow) -> None:
        """Keep what is on offer; `least_flow` is the flow that no larger pipe takes off another."""
        self.space, self.variants, self.surface, self.least_flow = space, variants, surface, least_flow

    def of(self, tried: Tried, fault: Fault) -> Conflict:
        """Return the conflict of a fault."""
        relation = fault.rule.relation.name if fault.rule.relation is not None else ""
        reads = {name for r, name in facts_of(fault.rule) if r == relation}
        if relation == "pipe" and "velocity" in reads:
            return self._speed(tried, fault)
        if relation == "pipe" and reads & _RATING:
            return self._single(tried, fault, "class", self.space.stronger(fault.subject, tried.choice))
        if relation == "sleeve" and reads & {"size", "pipe_size", "size_over_pipe", "bore_over_pipe"}:
            origins = self.variants.structure(tried.choice.cuts).origins
            name = origins.get(fault.subject, fault.subject)
            return self._single(tried, fault, "sleeve", self.space.larger(name, tried.choice))
        if relation == "assembly":
            return self._assembly(tried, fault, reads)
        if relation in ("head", "drip") and (reads & {*_PRESSURES, "highest_pressure"} or reads & _THROW):
            return self._outlet(tried, fault, reads)
        if relation in ("zone", "meter", "valve", "supply"):
            return self._water(tried, fault)
        return Conflict(fault, "other", (), False, _INF)

    def _single(self, tried: Tried, fault: Fault, kind: str, sizes: tuple[Sized, ...]) -> Conflict:
        """Only the object's own size and class count for its strength, and for a sleeve's room.

        Another pipe in a sleeve would never be smaller than the one that is there.
        """
        own: tuple[Change, ...] = sizes if kind == "class" else sizes[:1]
        least = min((self._adds(c, tried.choice) for c in own), default=_INF)
        return Conflict(fault, kind, own, False, least)

    def _assembly(self, tried: Tried, fault: Fault, reads: set[str]) -> Conflict:
        """Heights lack as much as the bound says, whatever the pipes are; kinds are judged one by one."""
        name = fault.subject
        options = tuple(
            f for f in self.space.fitted.get(name, ()) if not any(x.name == name for x in tried.choice.fitted)
        )
        leaf = fault.verdict.leaf
        bound = leaf.bound if leaf is not None else None
        field = bound.field.field.name if bound is not None and bound.field is not None else ""
        if field in _HEIGHTS and bound is not None and bound.margin_si is not None and not bound.downward:
            step = self._raised(tried, name, -bound.margin_si)
            own: tuple[Change, ...] = (*((step,) if step is not None else ()), *options)
            least = self._adds(step, tried.choice) if step is not None else _INF
            return Conflict(fault, "height", own, False, least, zones=())
        if field == "flow" or "flow_in_range" in reads:
            return self._water(tried, fault)
        # What the verdict turns on must be the kind or the size; a missing post is no matter of the part.
        turns_on = {n for _, n in mentioned(leaf.term)} if leaf is not None else set()
        if turns_on & _OF_PART and fault.verdict.status is not Status.NOT_KNOWN:
            step = self._over_outlets(tried, name) if "backflow_from_outlets" in reads else None
            own = (*((step,) if step is not None else ()), *options)
            least = self._adds(step, tried.choice) if step is not None else _INF
            return Conflict(fault, "kind", own, False, least, zones=())
        return Conflict(fault, "other", (), False, _INF)

    def _raised(self, tried: Tried, name: str, lacking_m: float) -> Raised | None:
        device = self.space.design.device(name)
        if device is None or device.height is None or device.state not in ("new", "relocated"):
            return None
        if self.space.costs.of("raise", "assembly") is None:
            return None
        step = 0.01 if device.height.written.endswith(("mm", "cm", " m")) else INCH_M
        now = tried.design.device(name)
        assert now is not None and now.height is not None
        base = math.ceil(device.height.si / step - 1e-6)
        return Raised(name, math.ceil((now.height.si + lacking_m) / step - 1e-6) - base)

    def _over_outlets(self, tried: Tried, name: str) -> Raised | None:
        """Return the raise that puts an assembly over its highest outlet, where that is what it lacks."""
        device, ground = tried.design.device(name), self.surface.elevation_m
        if device is None or device.height is None:
            return None
        grade = ground(device.point)
        tops = [ground(h.point) for h in tried.design.heads if h.state != "removed"]
        known = [t for t in tops if t is not None]
        if grade is None or len(known) < len(tops) or not known:
            return None
        lacking = max(known) - grade - device.height.si
        return self._raised(tried, name, lacking) if lacking > 0 else None

    def _adds(self, change: Change, choice: Choice) -> float:
        return self.space.least_of(change, choice, self.variants)

    def _speed(self, tried: Tried, fault: Fault) -> Conflict:
        """A pipe runs slower if it is larger, or if less flows: by a split, by an assembly that takes more.

        Larger pipe beside it draws flow off. Where even the largest draws too little, none of it counts. In
        a ring what lies beside a pipe lies on its way too: there any pipe may mend it.
        """
        name = fault.subject
        check = next((c for c in tried.water.pipes if c.pipe == name), None)
        leaf = fault.verdict.leaf
        limit = leaf.bound.limit_si if leaf is not None and leaf.bound is not None else None
        case = next((c for c in tried.water.cases if check is not None and c.case == check.case), None)
        if case is None or limit is None or has_rings(case.solution):
            return self._water(tried, fault)
        pipe = tried.design.pipe(name)
        bore = pipe.size.bore_m if pipe is not None else 0.0
        flow = self.least_flow(tried, name, case)
        own_name = self.variants.structure(tried.choice.cuts).origins.get(name, name)
        sizes = self.space.larger(own_name, tried.choice)
        if velocity_ms(flow, bore) <= limit * (1 + 1e-9):
            return self._water(tried, fault)
        for sized in sizes:
            row = pipe_size(sized.family, sized.nominal)
            if row is not None and velocity_ms(flow, row.bore_m) <= limit * (1 + 1e-9):
                return Conflict(
                    fault, "speed", (sized,), True, self._adds(sized, tried.choice), sized, case.zones
                )
        return Conflict(fault, "speed", (), True, _INF, zones=case.zones, cases=(case.zones,))

    def _outlet(self, tried: Tried, fault: Fault, reads: set[str]) -> Conflict:
        """An outlet gets more pressure by larger pipe on its way, by a split, by another assembly."""
        outlets: tuple[Head | DripArea, ...] = (*tried.design.heads, *tried.design.drips)
        outlet = next((o for o in outlets if o.name == fault.subject), None)
        found = self._least(tried.water, fault.subject)
        leaf = fault.verdict.leaf
        bound = leaf.bound if leaf is not None else None
        field = bound.field.field.name if bound is not None and bound.field is not None else ""
        if outlet is None:
            return Conflict(fault, "other", (), False, _INF)
        if fault.verdict.status is Status.FALLS_SHORT and "highest_pressure" in reads:
            return Conflict(fault, "water", (), True, _INF)
        low = outlet.part.pressure_low
        throw = field not in _PRESSURES
        if throw and (low is None or found is None or not isinstance(outlet, Head)):
            return Conflict(fault, "other", (), False, _INF)
        if found is None:
            return self._water(tried, fault)
        case, result = found
        if throw:
            # The throw is a data sheet's: it is only ever unknown for want of pressure.
            need = pressure_to_head_m(low.si) if low is not None else 0.0
            if fault.verdict.status is not Status.NOT_KNOWN or result.pressure_m >= need:
                return Conflict(fault, "other", (), False, _INF)
            lacking = need - result.pressure_m
        else:
            limit = bound.limit_si if bound is not None else None
            if limit is None:
                return Conflict(fault, "other", (), False, _INF)
            lacking = pressure_to_head_m(limit) - result.pressure_m
        return replace(self._lacking(tried, fault, case, result.node, lacking), throw=throw)

    def _least(self, water: Hydraulics, name: str) -> tuple[CaseResult, OutletResult] | None:
        found = [(c, o) for c in water.cases for o in c.outlets if o.name == name]
        return min(found, key=lambda f: f[1].pressure_m, default=None)

    def _lacking(self, tried: Tried, fault: Fault, case: CaseResult, node: str, lacking_m: float) -> Conflict:
        way = way_to(case.solution, node)
        own = self._next_sizes(way.pipes, tried.choice)
        if not way.sure:
            least = min((self._adds(c, tried.choice) for c in own), default=_INF)
            return Conflict(fault, "water", own, True, least, zones=case.zones)
        return Conflict(fault, "pressure", own, True, lacking_m, zones=case.zones)

    def offers(
        self, tried: Tried, case: CaseResult, node: str, needed: dict[str, Sized]
    ) -> dict[str, tuple[tuple[float, float], ...]]:
        """Return what each pipe on a way could win over the sizes needed anyway, and for what more."""
        way = way_to(case.solution, node)
        origins = self.variants.structure(tried.choice.cuts).origins
        found: dict[str, list[tuple[float, float]]] = {}
        for pipe in way.pipes:
            name = origins.get(pipe, pipe)
            first = needed.get(name)
            choice = tried.choice if first is None else tried.choice.having(first)
            free = _gain(way.links, pipe, first)
            offers = [
                (_gain(way.links, pipe, s) - free, self._adds(s, choice))
                for s in self.space.larger(name, choice)
            ]
            before = found.get(name)
            if before is not None:  # a cut pipe and its second part are of one size
                offers = [(a + c, b) for (a, b), (c, _) in zip(before, offers, strict=True)]
            found[name] = offers
        return {name: tuple(offers) for name, offers in found.items()}

    def free_m(self, case: CaseResult, node: str, needed: dict[str, Sized], tried: Tried) -> float:
        """Return what the sizes needed anyway win on a way."""
        way = way_to(case.solution, node)
        origins = self.variants.structure(tried.choice.cuts).origins
        return sum(_gain(way.links, p, needed.get(origins.get(p, p))) for p in way.pipes)

    def _next_sizes(self, pipes: tuple[str, ...], choice: Choice) -> tuple[Change, ...]:
        origins = self.variants.structure(choice.cuts).origins
        names = dict.fromkeys(origins.get(p, p) for p in pipes)
        return tuple(s for n in names for s in self.space.larger(n, choice)[:1])

    def _water(self, tried: Tried, fault: Fault) -> Conflict:
        """What hangs on a whole case may be moved by every pipe of it, by a split and by an assembly."""
        failed = [f for f in tried.water.failures if f.code not in _CASE_FAULTS]
        if fault.verdict.status is Status.NOT_KNOWN and (failed or not tried.water.failures):
            return Conflict(fault, "other", (), False, _INF)
        too_much = self._too_much(tried, fault)
        if too_much:
            zones = tuple(dict.fromkeys(z for case in too_much for z in case))
            return Conflict(fault, "water", (), True, _INF, zones=zones, cases=too_much)
        names = tuple(dict.fromkeys(p for c in tried.water.cases for p in pipes_of(c.solution)))
        own = self._next_sizes(names or tuple(self.space.pipes), tried.choice)
        least = min((self._adds(c, tried.choice) for c in own), default=_INF)
        return Conflict(fault, "water", own, True, least)

    @staticmethod
    def _too_much(tried: Tried, fault: Fault) -> tuple[tuple[str, ...], ...]:
        """Return the zones of each of the cases in which too much flows through a device, or nothing.

        Larger pipe never lets less through, so only a split or another assembly helps.
        """
        device = tried.design.device(fault.subject)
        leaf = fault.verdict.leaf
        bound = leaf.bound if leaf is not None else None
        most = bound.limit_si if bound is not None and bound.downward else None
        if most is None and device is not None and device.part is not None and device.part.flow_high:
            most = device.part.flow_high.si
        if device is None or most is None or fault.verdict.status is Status.NOT_KNOWN:
            return ()
        if bound is not None and bound.field is not None and bound.field.field.name not in ("flow",):
            most *= device.part.flow_high.si if device.part is not None and device.part.flow_high else 1.0
        flows = ((c, r) for c in tried.water.cases for r in c.solution.links if r.link.id == device.name)
        return tuple(c.zones for c, r in flows if abs(r.flow_m3s) > most * (1 + 1e-9))


def _gain(links: tuple[LinkResult, ...], pipe: str, sized: Sized | None) -> float:
    row = pipe_size(sized.family, sized.nominal) if sized is not None else None
    return 0.0 if row is None else saved_m(links, pipe, row)
