"""Zones, heads and drip areas."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.geometry.point import Point, nearest_on_path
from plangen.model.bound import Bound, BoundBlock, Ref
from plangen.model.build_devices import DeviceBuilder
from plangen.model.locate import Locator
from plangen.model.names import NameTable, natural, needed
from plangen.model.schema.zone import WATERED
from plangen.model.waterworks import DripArea, Head, Pipe, Zone
from plangen.quantity.dimension import UNITS, Dimension
from plangen.quantity.display import number, told
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span

_LATERALS = ("lateral", "pipe")
# What a tape on the ground cannot tell apart.
TOUCHING_M = 0.002


class ZoneBuilder:
    """Builds zones and their outlets; every fault becomes one message."""

    def __init__(
        self,
        names: NameTable,
        locator: Locator,
        devices: DeviceBuilder,
        pipes: dict[str, Pipe],
        problems: Problems,
    ) -> None:
        self.names = names
        self.locator = locator
        self.devices = devices
        self.pipes = pipes
        self.problems = problems
        self._told: set[tuple[str, Span]] = set()  # what is told once for all heads of one statement

    def zone(self, block: BoundBlock, together: dict[str, set[str]]) -> Zone | None:
        """Return one zone, or None after a message."""
        areas: set[str] = set()
        trees: set[str] = set()
        for ref in block.value("waters", "areas") or ():
            entry = self.names.find(ref, WATERED, needed(WATERED))
            if entry is not None:
                (trees if entry.kind == "tree" else areas).add(ref.name)
        valves = block.all("valve")
        kind = block.value("kind", "kind")
        hydrozone = self._hydrozone(block)
        if kind is None or not valves:
            return None
        return Zone(
            name=block.name,
            label=block.label,
            kind=kind,
            valve=valves[0].name,
            areas=tuple(sorted(areas, key=natural)),
            trees=tuple(sorted(trees, key=natural)),
            span=block.head,
            hydrozone=hydrozone[0],
            hydrozone_name=hydrozone[1],
            swing_reach=block.value("swing joint", "reach"),
            runs_with=tuple(sorted(together.get(block.name, ()), key=natural)),
        )

    def _hydrozone(self, block: BoundBlock) -> tuple[str, str]:
        """Return what the zone's hydrozone is called on the sheets and its name, empty where not said."""
        bound = block.one("hydrozone")
        if bound is None:
            return "", ""
        ref: Ref | None = bound.get("name")
        words: str = bound.get("text") or ""
        if ref is None:
            if not words and not bound.broken:
                self.problems.error(
                    "PG2008",
                    "`hydrozone` lacks a name",
                    bound.head,
                    expected="the name of a `hydrozone` of the site, or text in quotes",
                )
            return words, ""
        entry = self.names.find(ref, ("hydrozone",), needed(("hydrozone",)))
        if entry is None or entry.bound is None:
            return words, ""
        return words or entry.bound.get("label") or ref.name, ref.name

    def head(self, bound: Bound, block: BoundBlock) -> Head | None:
        """Return one head, or None after a message."""
        entry = self.names.entries.get(bound.name)
        if entry is None or entry.bound is not bound:
            return None  # it has no name, or the name of another object: that is told already
        part = self.devices.part(bound)
        point = self.locator.place_of(bound.name)
        joined = self._joined(bound, block, point)
        if part is None or point is None or joined is None:
            return None
        arc, full = bound.get("arc"), bool(bound.get("full"))
        if arc is not None and full and self._first("arc", bound.head):
            one, other = sorted((bound.at("arc"), bound.at("full")), key=lambda span: span.start)
            self.problems.error(
                "PG2011",
                f"`{bound.name}` has an arc and a full circle",
                other,
                help="keep one of them",
                labels=(Label(one, "first said here"),),
            )
        whole = full or (arc is None and (part.kind in ("bubbler", "quick-coupler") or _is_full(part.arc)))
        start, end = arc if arc is not None else (0.0, 0.0)
        return Head(
            name=bound.name,
            part=part,
            point=point,
            pipe=joined[0],
            along_m=joined[1],
            span=bound.span,
            zone=block.name,
            state=bound.get("state") or "new",
            arc_start_deg=start,
            arc_end_deg=end,
            arc_known=arc is not None or whole,
            riser=bound.get("riser"),
            reach_m=joined[2],
        )

    def drip(self, bound: Bound, block: BoundBlock) -> DripArea | None:
        """Return one area of dripline, or None after a message."""
        part = self.devices.part(bound)
        over: Ref | None = bound.get("over")
        known = (
            over is not None and self.names.find(over, ("bed", "turf"), needed(("bed", "turf"))) is not None
        )
        pipe = self._pipe(bound)
        place = bound.get("at")
        if pipe is None:
            return None
        if place is None and "at" not in bound.values:
            point: Point | None = pipe.route[-1].point
        else:
            point = self.locator.place_of(bound.name)
        joined = self._joined(bound, block, point)
        if (
            part is None
            or over is None
            or not known
            or point is None
            or joined is None
            or not bound.get("rows")
        ):
            return None
        return DripArea(
            name=bound.name,
            part=part,
            area=over.name,
            row_spacing=bound.get("rows"),
            pipe=joined[0],
            along_m=joined[1],
            point=point,
            span=bound.span,
            zone=block.name,
            state=bound.get("state") or "new",
        )

    def _pipe(self, bound: Bound) -> Pipe | None:
        ref: Ref | None = bound.get("pipe")
        if ref is None or self.names.find(ref, _LATERALS, needed(_LATERALS)) is None:
            return None
        return self.pipes.get(ref.name)

    def _joined(
        self, bound: Bound, block: BoundBlock, point: Point | None
    ) -> tuple[str, float, float] | None:
        """Return (lateral, metres along it, metres from it) of an outlet."""
        pipe = self._pipe(bound)
        if pipe is None or point is None:
            return None
        if block.name != pipe.zone:
            if not self._first("zone", bound.get("pipe").span):
                return None
            place = f"zone `{pipe.zone}`" if pipe.zone else "no zone"
            self.problems.error(
                "PG2015",
                f"`{pipe.name}` is in {place}, `{bound.name}` in zone `{block.name}`",
                bound.get("pipe").span,
                labels=(Label(pipe.span, "the pipe"),),
            )
            return None
        off, along, nearest = nearest_on_path(point, [s.point for s in pipe.route])
        reach: Quantity | None = block.value("swing joint", "reach")
        allowed = reach.si if reach is not None else 0.0
        if off <= allowed + TOUCHING_M:
            return pipe.name, along, off if off > TOUCHING_M else 0.0
        if block.one("swing joint") is not None and reach is None:
            return None  # the reach could not be read; its own message stands
        if self._first("far", bound.span):
            self._too_far(bound, pipe, off, nearest, reach)
        return None

    def _first(self, what: str, span: Span) -> bool:
        """Return whether this is the first time that it would be told there."""
        new = (what, span) not in self._told
        self._told.add((what, span))
        return new

    def _too_far(self, bound: Bound, pipe: Pipe, off: float, nearest: Point, reach: Quantity | None) -> None:
        system = self.locator.system
        small = off < 1.0
        way = told(off, Dimension.LENGTH, system, small=small)
        limit = (
            f"the swing joint reaches {reach.written}" if reach else "the zone states no `swing joint reach`"
        )
        factor = self.locator.factor or UNITS["m"].factor
        there = f"({number(nearest.x / factor, 2)}, {number(nearest.y / factor, 2)})"
        self.problems.error(
            "PG3005",
            f"`{bound.name}` is {way} from `{pipe.name}`; {limit}",
            bound.get("at").span,
            help=f"the nearest place on `{pipe.name}` is {there}",
            labels=(Label(pipe.span, "the pipe"),),
        )


def _is_full(arc: Quantity | None) -> bool:
    return arc is not None and abs(arc.si - 360.0) < 1e-9


def check_zone(block: BoundBlock, problems: Problems) -> None:
    """Report a zone that does not have exactly one valve, or lets no water out."""
    valves = block.all("valve")
    if len(valves) > 1:
        problems.error(
            "PG3009",
            f"zone `{block.name}` has {len(valves)} valves",
            valves[1].head,
            help="give each valve a zone of its own",
            labels=(Label(valves[0].head, "the first valve"),),
        )
    if not valves:
        problems.error(
            "PG3009",
            f"zone `{block.name}` has no valve",
            block.head,
            expected="a line `valve NAME PART, at …`",
        )
    if not block.all("head") and not block.all("drip"):
        problems.error(
            "PG3010",
            f"zone `{block.name}` has nothing that lets water out",
            block.head,
            expected="lines `head …` or `drip …`",
        )
