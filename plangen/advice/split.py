"""The edits that divide a zone: a valve beside the old one, its feed, a lateral to the cut, a new block.

The new lateral follows the old trench to the cut: nothing else is dug. Names count on from the highest.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from plangen.advice.branching import Divided
from plangen.advice.script import Edit, Found, Script, block_end, whole_lines, written
from plangen.advice.sleeving import Sleeved, sleeves_of
from plangen.geometry.point import Point, bearing_deg, distance, inside, path_length, step
from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe, Zone
from plangen.quantity.dimension import UNITS
from plangen.syntax.tree import Clause, Term, TermKind
from plangen.text.source import Span

# The new valve stands this far from the old one, in a box of its own.
BESIDE_M = 0.6096
_APART_M = 0.3
_NUMBERED = re.compile(r"([A-Za-z][A-Za-z-]*?)(\d+)")


@dataclass(frozen=True, slots=True)
class Split:
    """A zone's division as edits. `origins` tells of each new pipe which pipe it takes its size from."""

    divided: Divided
    zone: str
    valve: str
    point: Point
    origins: tuple[tuple[str, str], ...]
    run_m: float  # of the new lateral to the cut
    feed_m: float
    edits: tuple[Edit, ...]
    devices: tuple[str, ...] = ()  # those of the old line of which the new one gets another


def split(design: Design, script: Script, divided: Divided) -> Split | str:
    """Return a division as edits of the design's text, or why the text does not allow it."""
    zone = design.zone(divided.cut.zone)
    valve = design.device(zone.valve) if zone else None
    feed = _feed(design, valve.name) if valve else None
    if zone is None or valve is None or feed is None:
        return "its valve is not fed by one pipe from a tee"
    place = _place(design, valve, feed)
    if place is None:
        return f"there is no room for a valve beside {valve.name}"
    names = _Names(design)
    told = _Told(design, script, names.next(zone.name), names.next(valve.name), names.next(feed.name), place)
    edits = told.edits(zone, valve, feed, divided, names)
    if isinstance(edits, str):
        return edits
    made, origins = edits
    start = divided.chain[-1][1].point if divided.chain else valve.point
    start = Point(start.x + place.x - valve.point.x, start.y + place.y - valve.point.y)
    run = path_length((start, *divided.way))
    feed_m = path_length([s.point for s in feed.route])
    line = tuple(device.name for _, device in divided.chain)
    return Split(divided, told.zone, told.valve, place, origins, run, feed_m + BESIDE_M, made, line)


def _feed(design: Design, valve: str) -> Pipe | None:
    """Return the one pipe that leads from a tee to a valve and passes nothing else."""
    pipes = [p for p in design.pipes if p.state != "removed" and p.route[-1].node == valve]
    if len(pipes) != 1 or any(s.node for s in pipes[0].route[1:-1]):
        return None
    start = design.device(pipes[0].route[0].node)
    return pipes[0] if start is not None and start.kind == "tee" else None


def _place(design: Design, valve: Device, feed: Pipe) -> Point | None:
    """Return a place beside a valve, square to its feed first, clear of devices and of what is built."""
    course = bearing_deg(feed.route[-2].point, valve.point)
    others = [d.point for d in design.devices if d.name != valve.name and d.state != "removed"]
    built = [a.outline for a in (*design.site.buildings, *design.site.paving)]
    for turn in (90.0, 270.0, 0.0, 45.0, 315.0, 135.0, 225.0):
        point = step(valve.point, (course + turn) % 360.0, BESIDE_M)
        clear = all(distance(point, other) >= _APART_M for other in others)
        if clear and not any(inside(point, outline) for outline in built):
            return point
    return None


class _Names:
    """Names that count on from the highest of their kind."""

    def __init__(self, design: Design) -> None:
        outlets = {h.name for h in design.heads} | {d.name for d in design.drips}
        pipes = {p.name for p in design.pipes} | {s.name for s in design.sleeves}
        places = {d.name for d in design.devices} | {z.name for z in design.zones}
        self.taken = outlets | pipes | places

    def next(self, like: str) -> str:
        """Return a free name like another."""
        found = _NUMBERED.fullmatch(like)
        stem = found[1] if found else f"{like}-"
        same = [int(m[2]) for n in self.taken if (m := _NUMBERED.fullmatch(n)) and m[1] == stem]
        name = f"{stem}{max(same, default=0) + 1}"
        self.taken.add(name)
        return name


@dataclass(frozen=True, slots=True)
class _Told:
    """The words of one division."""

    design: Design
    script: Script
    zone: str
    valve: str
    feed: str
    place: Point

    def edits(
        self, zone: Zone, valve: Device, feed: Pipe, divided: Divided, names: _Names
    ) -> tuple[tuple[Edit, ...], tuple[tuple[str, str], ...]] | str:
        """Return all edits and the origins of new pipes, or why a statement cannot be put in other words."""
        found = self.script.block_named("zone", zone.name)
        valve_at, feed_at = self.script.find(valve.name), self.script.find(feed.name)
        lateral = self.script.find(divided.cut.pipe)
        if found is None or valve_at is None or feed_at is None or lateral is None:
            return "its valve, feed or lateral has no statement of its own"
        source, block = found
        origins = [(self.feed, feed.name)]
        edits = [_after(feed_at, self._fed(feed_at))]
        body = [written(source, s, {}) for s in block.statements if self._settles(s.clauses[0].terms[0].text)]
        body.append(self._stood(valve_at, self.valve, valve))
        line = self._line(valve, divided, names, origins)
        moving = self._moving(divided)
        if moving is None or line is None:
            return "what would move or be doubled shares its statement with another"
        begin, chained = line
        body += chained
        piece = divided.cut.pipe
        if divided.cut.after:
            piece = names.next(piece)
            origins.append((piece, divided.cut.pipe))
            edits.append(_cut_off(lateral, divided.cut.after))
            body.append(self._piece(lateral, divided, piece, begin))
        for each in moving:
            if each.name.text == piece:
                body.append(self._piece(lateral, divided, piece, begin))
            else:
                body.append(_rejoined(each, divided.cut.pipe, piece))
            start, end = whole_lines(each.source, each.statement)
            edits.append(Edit(each.source.name, start, end, ""))
        for sleeved in sleeves_of(self.design, divided):
            edits += self._sleeved(sleeved, piece, names, origins, body)
        label = zone.label or zone.name
        head = f'\nzone {self.zone} "{label}, second part" {{\n'
        at = block_end(source, block)
        edits.append(Edit(source.name, at, at, f"{head}{''.join(body)}}}\n"))
        return (*edits, *self._stations()), tuple(origins)

    @staticmethod
    def _settles(word: str) -> bool:
        return word in ("kind", "waters", "hydrozone", "swing")

    def _moving(self, divided: Divided) -> list[Found] | None:
        """Return the statements that move whole, in the order written, or None where one names several."""
        wanted = {*divided.pipes, *divided.tees, *divided.outlets}
        found = [f for f in self.script.statements() if f.name.text in wanted]
        if {f.name.text for f in found} == wanted:
            return found
        return None

    def _xy(self, point: Point) -> str:
        unit = UNITS[self.design.site.coordinate_unit].factor
        return f"({_figure(point.x / unit)}, {_figure(point.y / unit)})"

    def _fed(self, feed: Found) -> str:
        runs = _runs(feed.clause("route"))
        return written(feed.source, feed.statement, {_at(feed.name): self.feed, _over(runs[-1]): self.valve})

    def _stood(self, found: Found, name: str, valve: Device) -> str:
        """Return the valve, or a device in line behind it, under another name, as far beside the old one."""
        place = found.clause("at")
        swaps = {_at(found.name): name}
        device = self.design.device(found.name.text)
        if place is not None and device is not None:
            x, y = self.place.x - valve.point.x, self.place.y - valve.point.y
            swaps[_over(place.terms)] = f"at {self._xy(Point(device.point.x + x, device.point.y + y))}"
        return written(found.source, found.statement, swaps)

    def _line(
        self, valve: Device, divided: Divided, names: _Names, origins: list[tuple[str, str]]
    ) -> tuple[str, list[str]] | None:
        """Return where the new lateral begins, and the pipes and devices in line before it, doubled."""
        here, body = self.valve, []
        for pipe, device in divided.chain:
            pipe_at, device_at = self.script.find(pipe.name), self.script.find(device.name)
            if pipe_at is None or device_at is None:
                return None
            new_pipe, new_device = names.next(pipe.name), names.next(device.name)
            origins.append((new_pipe, pipe.name))
            runs = _runs(pipe_at.clause("route"))
            swaps = {_at(pipe_at.name): new_pipe, _over(runs[0]): here, _over(runs[-1]): new_device}
            body += [
                written(pipe_at.source, pipe_at.statement, swaps),
                self._stood(device_at, new_device, valve),
            ]
            here = new_device
        return here, body

    def _piece(self, lateral: Found, divided: Divided, name: str, begin: str) -> str:
        """Return the lateral from its beginning over the old trench to the cut, and on as it was written."""
        runs = _runs(lateral.clause("route"))
        start = " -> ".join((begin, *(self._xy(p) for p in divided.way)))
        old = (runs[0][0].span.start, runs[divided.cut.after][-1].span.end)
        return written(lateral.source, lateral.statement, {_at(lateral.name): name, old: start})

    def _sleeved(
        self, sleeved: Sleeved, piece: str, names: _Names, origins: list[tuple[str, str]], body: list[str]
    ) -> list[Edit]:
        """Put a sleeve round the new lateral: the old one, or another like it in the new block."""
        found = self.script.find(sleeved.sleeve.name)
        on = found.clause("on") if found is not None else None
        if found is None or on is None:
            return []
        start, end = _over(on.terms[1:])
        if sleeved.taken:
            return [Edit(found.source.name, start, end, piece)]
        another = names.next(sleeved.sleeve.name)
        origins.append((another, sleeved.sleeve.name))
        body.append(written(found.source, found.statement, {_at(found.name): another, (start, end): piece}))
        return []

    def _stations(self) -> tuple[Edit, ...]:
        """Return the edit that gives the controller one station more, where it has too few."""
        control = self.design.control
        found = self.script.find(control.name) if control is not None else None
        clause = found.clause("stations") if found is not None else None
        needed = len(self.design.zones) + 1
        if control is None or found is None or clause is None or (control.stations or 0) >= needed:
            return ()
        start, end = _over(clause.terms[1:])
        return (Edit(found.source.name, start, end, str(needed)),)


def _rejoined(found: Found, old: str, new: str) -> str:
    """Return a statement whose head stood on the part of a lateral that has another name now."""
    clauses = [c for word in ("on", "from") if (c := found.clause(word)) is not None and new != old]
    swaps = {_at(t): new for clause in clauses for t in clause.terms if t.text == old}
    return written(found.source, found.statement, swaps)


def _cut_off(lateral: Found, after: int) -> Edit:
    """Return the edit that ends a lateral at the cut."""
    runs = _runs(lateral.clause("route"))
    return Edit(lateral.source.name, runs[after][-1].span.end, runs[-1][-1].span.end, "")


def _after(found: Found, line: str) -> Edit:
    """Return the edit that puts a line behind a statement."""
    _, end = whole_lines(found.source, found.statement)
    return Edit(found.source.name, end, end, line)


def _runs(clause: Clause | None) -> list[tuple[Term, ...]]:
    """Return the places of a route, its first word left out."""
    runs: list[list[Term]] = [[]]
    for term in clause.terms[1:] if clause is not None else ():
        if term.kind is TermKind.ARROW:
            runs.append([])
        else:
            runs[-1].append(term)
    return [tuple(run) for run in runs]


def _at(term: Term) -> tuple[int, int]:
    return term.span.start, term.span.end


def _over(terms: Iterable[Term]) -> tuple[int, int]:
    span: Span | None = None
    for term in terms:
        span = term.span if span is None else span.join(term.span)
    assert span is not None, "a clause is never empty"
    return span.start, span.end


def _figure(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
