"""Pipes and sleeves: sizes from the pipe table, routes from named object to named object."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bound import AtObject, Bound, BoundBlock, PlaceExpr, Ref
from plangen.model.locate import Locator
from plangen.model.names import NameTable, needed
from plangen.model.parts import PipeSize
from plangen.model.pipe_table import families, family_label, pipe_size_of, sizes_of
from plangen.model.schema.slots import NODE_KINDS, PIPE_KINDS
from plangen.model.waterworks import Pipe, Sleeve, Stop
from plangen.quantity.quantity import Quantity
from plangen.text.suggest import listed, suggestion_help

_ROLE = {"supply": "service", "connection": "mainline", "mainline": "mainline", "zone": "lateral"}


class PipeBuilder:
    """Builds pipes and sleeves; every fault becomes one message."""

    def __init__(self, names: NameTable, locator: Locator, problems: Problems) -> None:
        self.names = names
        self.locator = locator
        self.problems = problems

    def size(self, bound: Bound) -> tuple[PipeSize, Quantity] | None:
        """Return the row of the pipe table and the size as written."""
        family: Ref | None = bound.get("family")
        nominal: Quantity | None = bound.get("size")
        if family is None:
            return None
        if family.name not in families():
            near = suggestion_help(family.name, families(), "material")
            self.problems.error(
                "PG2019",
                f"there is no pipe material `{family.name}`",
                family.span,
                expected="" if near else listed(f"`{f}`" for f in families()),
                help=near,
            )
            return None
        if nominal is None:
            return None
        found = pipe_size_of(family.name, nominal.si)
        if found is None:
            self.problems.error(
                "PG2018",
                f"{family_label(family.name)} is not made in `{nominal.written}`",
                nominal.span or bound.head,
                expected=listed(f"`{s}`" for s in sizes_of(family.name)),
            )
            return None
        return found, nominal

    def pipe(self, bound: Bound, block: BoundBlock) -> Pipe | None:
        """Return one pipe, or None after a message."""
        size = self.size(bound)
        role = bound.kind if bound.kind in ("lateral", "nipple") else _ROLE[block.spec.lead]
        stops = bound.get("route")
        route = self.route(bound, stops, role) if stops else None
        if size is None or route is None:
            return None
        return Pipe(
            name=bound.name,
            role=role,
            size=size[0],
            nominal=size[1],
            route=route,
            span=bound.span,
            state=bound.get("state") or "new",
            cover=bound.get("cover"),
            zone=block.name if block.spec.lead == "zone" else "",
            joints=bound.get("joints") or "",
            insulation=bound.get("insulation") or "",
            above_grade=bool(bound.get("above_grade")),
        )

    def route(self, bound: Bound, stops: tuple[PlaceExpr, ...], role: str) -> tuple[Stop, ...] | None:
        """Return the stops with their places; each end is a named object, but a lateral may end blind."""
        if len(stops) < 2:
            self.problems.error(
                "PG3008",
                f"the route of `{bound.name}` has one place",
                stops[0].span,
                expected="at least two places with `->` between",
            )
            return None
        ends = [(stops[0], "begins")] + ([] if role == "lateral" else [(stops[-1], "ends")])
        for stop, verb in ends:
            if not isinstance(stop, AtObject):
                self.problems.error(
                    "PG3008",
                    f"`{bound.name}` {verb} at a place without a name",
                    stop.span,
                    expected="the name of a device or tee",
                    help="what is joined is said by name, not by equal coordinates",
                )
                return None
        found = [self._stop(s) for s in stops]
        known = tuple(s for s in found if s is not None)
        return known if len(known) == len(found) else None

    def _stop(self, place: PlaceExpr) -> Stop | None:
        if isinstance(place, AtObject):
            if self.names.find(Ref(place.name, place.span), NODE_KINDS, needed(NODE_KINDS)) is None:
                return None
            point = self.locator.place_of(place.name)
            return Stop(point, place.name, place.span) if point is not None else None
        point = self.locator.point(place)
        return Stop(point, "", place.span) if point is not None else None

    def sleeve(self, bound: Bound) -> Sleeve | None:
        """Return one sleeve, or None after a message."""
        size = self.size(bound)
        pipe: Ref | None = bound.get("pipe")
        under: Ref | None = bound.get("under")
        pipe_known = pipe is not None and self.names.find(pipe, PIPE_KINDS, "a pipe") is not None
        areas = ("paving", "wall", "building")
        under_known = under is not None and self.names.find(under, areas, needed(areas)) is not None
        if size is None or pipe is None or under is None or not pipe_known or not under_known:
            return None
        extends, cover = bound.get("extends"), bound.get("cover")
        state = bound.get("state") or "new"
        return Sleeve(bound.name, pipe.name, under.name, size[0], bound.span, extends, cover, size[1], state)
