"""Turns places as written into points in metres: coordinates, corners, offsets, distances along a pipe."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.geometry.point import Point, at, distance, foot, path_length, point_along, step
from plangen.model.bound import (
    Along,
    AtObject,
    Between,
    Bound,
    Coordinates,
    CornerOf,
    Offset,
    Opposite,
    PlaceExpr,
    Ref,
    Toward,
)
from plangen.model.corners import CORNER_SIGNS, corner
from plangen.model.names import NameTable, article
from plangen.model.place_ring import tell_ring
from plangen.model.schema.ground import UTILITIES
from plangen.model.schema.slots import PIPE_KINDS
from plangen.quantity.dimension import UNITS, Dimension
from plangen.quantity.display import told
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span

AREA_KINDS = ("lot", "building", "paving", "wall", "pond", "turf", "bed", "septic-field", "bank")
LINE_KINDS = (*PIPE_KINDS, *UTILITIES, *AREA_KINDS)

# Places measured from other objects in a row; each takes several calls within calls.
_LONGEST_CHAIN = 100


class Locator:
    """Places objects; each is placed once. None means: not known, and a message has been given."""

    def __init__(self, names: NameTable, problems: Problems, unit: str | None, system: str) -> None:
        self.names = names
        self.problems = problems
        self.factor = UNITS[unit].factor if unit else None
        self.system = system
        self._placed: dict[str, Point | None] = {}
        self._outlines: dict[str, tuple[Point, ...] | None] = {}
        self._busy: list[str] = []
        self._told: set[Span] = set()
        self._unmeasured: list[Bound] = []  # pipes along which nothing can be measured

    def point(self, place: PlaceExpr) -> Point | None:
        """Return where a place is."""
        if isinstance(place, Coordinates):
            return self._coordinates(place)
        if isinstance(place, CornerOf):
            return self._corner(place)
        if isinstance(place, AtObject):
            return self._of(Ref(place.name, place.span))
        if isinstance(place, Offset):
            base = self.point(place.base)
            if base is None:
                return None
            for metres, bearing in place.moves:
                base = step(base, bearing, metres)
            return base
        if isinstance(place, Along):
            return self._along(place)
        if isinstance(place, Opposite):
            return self._opposite(place)
        return self._between(place)

    def tell_unmeasured(self) -> None:
        """Report pipes that a place is said along and whose course is not known; nothing else is wrong."""
        for pipe in self._unmeasured:
            self.problems.error(
                "PG3006",
                f"`{pipe.name}` cannot be measured along: where it goes is not known",
                pipe.head,
                help="give what is at its end coordinates",
            )

    def place_of(self, name: str) -> Point | None:
        """Return the place of a named object that has one."""
        if name in self._placed:
            return self._placed[name]
        entry = self.names.entries.get(name)
        bound = entry.bound if entry else None
        place = bound.get("at") if bound is not None else None
        if entry is None or bound is None or place is None:
            return None
        if self._in_ring(name, place.span):
            return None
        self._busy.append(name)
        found = self.point(place)
        self._busy.pop()
        self._placed.setdefault(name, found)
        return self._placed[name]

    def outline(self, name: str) -> tuple[Point, ...] | None:
        """Return the corners of a named area."""
        if name not in self._outlines:
            entry = self.names.entries.get(name)
            stops = entry.bound.get("outline") if entry and entry.bound else None
            if not stops or self._in_ring(name, stops[0].span.join(stops[-1].span)):
                return None
            self._busy.append(name)
            found = self.points(stops)
            self._busy.pop()
            self._outlines.setdefault(name, found)
        return self._outlines[name]

    def _in_ring(self, name: str, span: Span) -> bool:
        """Report an object whose place is sought while it is being sought, or at the end of a long chain."""
        if name not in self._busy and len(self._busy) < _LONGEST_CHAIN:
            return False
        if name in self._busy:
            ring = self._busy[self._busy.index(name) :]
            words = f"the place of `{ring[0]}` depends on itself: {' -> '.join([*ring, name])}"
        else:
            ring = list(self._busy)
            words = f"the place of `{ring[0]}` is measured from object to object more than {len(ring)} times"
        tell_ring(self.problems, words, span, (self.names.entries[member] for member in ring))
        for member in ring:
            self._placed[member] = None
            self._outlines[member] = None
        return True

    def points(self, stops: tuple[PlaceExpr, ...]) -> tuple[Point, ...] | None:
        """Return the points of a chain, or None if one is not known."""
        found = [self.point(s) for s in stops]
        known = tuple(p for p in found if p is not None)
        return known if len(known) == len(found) else None

    def _coordinates(self, place: Coordinates) -> Point | None:
        if self.factor is None:
            return None
        x = place.x if place.metres[0] else place.x * self.factor
        y = place.y if place.metres[1] else place.y * self.factor
        if max(abs(x), abs(y)) > 1e6:
            self.problems.error(
                "PG3013",
                "the place is more than 1000 km away",
                place.span,
                help="check the coordinates and the site's `coordinates` unit",
            )
            return None
        return at(x, y)

    def _of(self, ref: Ref) -> Point | None:
        entry = self.names.find(ref, (), "the name of something with a place")
        if entry is None:
            return None
        if entry.bound is None or not any(s.field == "at" for s in entry.bound.spec.clauses):
            self.problems.error(
                "PG2015",
                f"`{ref.name}` is {article(entry.kind)}, which is not at one place",
                ref.span,
                labels=(Label(entry.span, "defined here"),),
            )
            return None
        return self.place_of(ref.name)

    def _corner(self, place: CornerOf) -> Point | None:
        ref = Ref(place.area, place.span)
        if self.names.find(ref, AREA_KINDS, "an area with corners") is None:
            return None
        outline = self.outline(place.area)
        if outline is None or len(outline) < 3:
            return None
        found = corner(outline, place.corner)
        if found is None:
            legal = [f"`{place.area}.{c}`" for c in CORNER_SIGNS if corner(outline, c) is not None]
            self.problems.error(
                "PG3001",
                f"`{place.area}` has no single {place.corner} corner",
                place.span,
                expected=f"one of {', '.join(legal)}, or coordinates" if legal else "coordinates",
                labels=(Label(self.names.entries[place.area].span, "defined here"),),
            )
        return found

    def _between(self, place: Between | Toward) -> Point | None:
        start, end = self.point(place.start), self.point(place.end)
        if start is None or end is None:
            return None
        far = distance(start, end)
        if isinstance(place, Between):
            share = place.share
        elif place.distance.si <= far + 1e-9 and far > 0:
            share = place.distance.si / far
        else:
            told_far = told(far, Dimension.LENGTH, self.system)
            self._tell_far(place.distance, f"the other place, which is {told_far} away", place.span)
            return None
        return at(start.x + share * (end.x - start.x), start.y + share * (end.y - start.y))

    def _opposite(self, place: Opposite) -> Point | None:
        base = self.point(place.base)
        entry = self.names.find(place.line, LINE_KINDS, "a pipe, a buried line or an area")
        if base is None or entry is None or entry.bound is None:
            return None
        line = self._course(place.line.name, entry.bound)
        if line is None:
            return None
        found = foot(base, line)
        if found is None:
            self.problems.error(
                "PG3004",
                f"no place on `{place.line.name}` lies opposite: nowhere is it at right angles to that place",
                place.span,
                help="say how far along it, or give coordinates",
                labels=(Label(entry.span, "the line"),),
            )
        return found

    def _course(self, name: str, bound: Bound) -> tuple[Point, ...] | None:
        if bound.kind in AREA_KINDS:
            outline = self.outline(name)
            return (*outline, outline[0]) if outline else None
        if bound.kind in PIPE_KINDS:
            return self._line(bound)
        return self.points(bound.get("route") or ())

    def _tell_far(self, far: Quantity, end: str, span: Span, *labels: Label) -> None:
        """Report a distance that leads too far; the heads of one row are told once."""
        if span not in self._told:
            self._told.add(span)
            self.problems.error("PG3004", f"`{far.written}` is beyond {end}", span, labels=labels)

    def _along(self, place: Along) -> Point | None:
        entry = self.names.find(place.pipe, LINE_KINDS, "a pipe, a buried line or an area")
        if entry is None or entry.bound is None:
            return None
        line = self._course(place.pipe.name, entry.bound)
        if line is None:
            return None
        points = line
        if place.start is not None:
            if self.names.find(place.start, (), "something on the pipe") is None:
                return None
            begin = self.place_of(place.start.name)
            if begin is None:
                return None
            points = self._from(line, begin, place)
            if not points:
                return None
        found = point_along(points, place.distance.si)
        if found is None:
            length = told(path_length(points), Dimension.LENGTH, self.system)
            end = f"the end of `{place.pipe.name}`, which is {length} long"
            what = "the pipe" if entry.kind in PIPE_KINDS else "the line"
            self._tell_far(place.distance, end, place.span, Label(entry.span, what))
        return found

    def _from(self, line: tuple[Point, ...], begin: Point, place: Along) -> tuple[Point, ...]:
        """Return the line from one of its vertices on; backwards if that is its end."""
        on = [i for i, p in enumerate(line) if distance(p, begin) < 1e-3]
        if not on:
            start = place.start or place.pipe
            self.problems.error(
                "PG3004",
                f"`{start.name}` is not a stop of `{place.pipe.name}`",
                start.span,
                expected="the name of an object at which the pipe begins, ends or passes",
                labels=(Label(self.names.entries[place.pipe.name].span, "the pipe"),),
            )
            return ()
        return line[::-1] if on[0] == len(line) - 1 else line[on[0] :]

    def _line(self, pipe: Bound) -> tuple[Point, ...] | None:
        """Return the known points of a pipe, and of the one that goes on where it ends at what is placed."""
        stops = pipe.get("route")
        if stops is None:
            return None
        points: list[Point] = []
        for stop in (*stops, *self._goes_on(pipe, stops)):
            if isinstance(stop, AtObject) and stop.name in self._busy:
                continue
            found = self.point(stop)
            if found is None:
                return None
            points.append(found)
        if len(points) < 2 and pipe not in self._unmeasured:
            self._unmeasured.append(pipe)
        return tuple(points) if len(points) > 1 else None

    def _goes_on(self, pipe: Bound, stops: tuple[PlaceExpr, ...]) -> tuple[PlaceExpr, ...]:
        last = stops[-1]
        if not isinstance(last, AtObject) or last.name not in self._busy:
            return ()
        for entry in self.names.entries.values():
            other = entry.bound
            if other is None or other.kind != pipe.kind or other is pipe:
                continue
            route = other.get("route")
            if route and isinstance(route[0], AtObject) and route[0].name == last.name:
                return tuple(route[1:])
        return ()
