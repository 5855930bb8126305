"""Every change on offer for a design, and what it costs. What the cost table does not price is not offered.

Costs never fall as changes are added: what a smaller or plainer thing would save is not counted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plangen.advice.assemblies import Offered
from plangen.advice.branching import Divided, divisions
from plangen.advice.choice import Change, Choice, Cut, Fitted, Raised, Sized
from plangen.advice.costs import CostTable
from plangen.advice.sleeving import sleeves_of
from plangen.advice.split import BESIDE_M, Split
from plangen.advice.variant import Variants, higher
from plangen.geometry.clip import pieces_inside
from plangen.geometry.point import at, distance, path_length
from plangen.model.design import Design
from plangen.model.parts import Part
from plangen.model.pipe_table import families, pipe_size, sizes_of
from plangen.model.waterworks import Device, Pipe, Sleeve

MOST_SIZES_UP = 3
MOST_SLEEVES_UP = 4
_NEW = ("new", "relocated")


@dataclass(frozen=True, slots=True)
class Item:
    """One change with its cost, in words."""

    object: str
    words: str
    cost: float


class Space:
    """The changes on offer. `notes` say what is not, and why."""

    def __init__(self, design: Design, costs: CostTable, offered: Mapping[str, Offered]) -> None:
        """Find out what is on offer."""
        self.design, self.costs, self.offered = design, costs, offered
        notes: list[str] = []
        self._overs: dict[Sized, float] = {}
        self._ladders: dict[tuple[str, Sized | None], tuple[Sized, ...]] = {}
        self.pipes: dict[str, Pipe] = {p.name: p for p in design.pipes if p.state in _NEW}
        self.sleeves: dict[str, Sleeve] = {s.name: s for s in design.sleeves if s.state in _NEW}
        self.cuts, self.divided = _cuts(design, costs, notes)
        self._cut_least = {cut: self._least_split(d) for cut, d in self.divided.items()}
        self.fitted = _fitted(design, costs, offered, notes)
        kept = sorted(p.name for p in design.pipes if p.state == "existing")
        if kept:
            notes.append(f"existing pipe stays as it is: {', '.join(kept)}")
        self.notes = tuple(notes)

    def larger(self, name: str, choice: Choice) -> tuple[Sized, ...]:
        """Return the sizes over the one chosen for a pipe or sleeve, in its class, the next one first."""
        key = (name, choice.size_of(name))
        if key not in self._ladders:
            self._ladders[key] = self._ladder(*key)
        return self._ladders[key]

    def _ladder(self, name: str, chosen: Sized | None) -> tuple[Sized, ...]:
        thing = self.pipes.get(name) or self.sleeves.get(name)
        if thing is None:
            return ()
        most = MOST_SIZES_UP if name in self.pipes else MOST_SLEEVES_UP
        family = chosen.family if chosen else thing.size.family
        sizes = sizes_of(family)
        if thing.size.nominal not in sizes:
            return ()
        start = sizes.index(thing.size.nominal)
        now = sizes.index(chosen.nominal) if chosen else start
        found = (Sized(name, family, n) for n in sizes[now + 1 : start + most + 1])
        return tuple(s for s in found if self.costs.pipe_m(s.family, s.nominal) is not None)

    def stronger(self, name: str, choice: Choice) -> tuple[Sized, ...]:
        """Return the chosen size of a pipe in the other classes of its material."""
        pipe = self.pipes.get(name)
        if pipe is None:
            return ()
        chosen = choice.size_of(name)
        family, nominal = (chosen.family, chosen.nominal) if chosen else (pipe.size.family, pipe.size.nominal)
        stem = family.split("-")[0]
        rating = pipe.size.rating_pa or 0.0
        out = []
        for other in families():
            row = pipe_size(other, nominal) if other.split("-")[0] == stem and other != family else None
            if row is not None and (row.rating_pa or 0.0) > rating and self.costs.pipe_m(other, nominal):
                out.append(Sized(name, other, nominal))
        return tuple(sorted(out, key=lambda s: (self._over(s), s.family)))

    def cost(self, choice: Choice, variants: Variants) -> float:
        """Return what a choice costs over the design as it stands."""
        return sum(item.cost for item in self.items(choice, variants))

    def items(self, choice: Choice, variants: Variants) -> tuple[Item, ...]:
        """Return a choice item by item."""
        splits = variants.structure(choice.cuts).splits
        items = [item for s in splits for item in self._split_items(s, choice)]
        items += self._station_items(len(splits))
        items += [self._fitted_item(f) for f in choice.fitted]
        items += [self._raised_item(r) for r in choice.raised]
        items += [self._sized_item(s) for s in choice.sized]
        return tuple(items)

    def least_of(self, change: Change, choice: Choice, variants: Variants) -> float:
        """Return at least what a change adds to a choice, whatever else is in it."""
        if isinstance(change, Cut):
            return self._cut_least[change]
        if isinstance(change, Sized):
            old = choice.size_of(change.name)
            return max(self._over(change) - (self._over(old) if old is not None else 0.0), 0.0)
        return max(self.cost(choice.having(change), variants) - self.cost(choice, variants), 0.0)

    def _over(self, sized: Sized) -> float:
        if sized not in self._overs:
            self._overs[sized] = self._priced(sized)
        return self._overs[sized]

    def _priced(self, sized: Sized) -> float:
        """Return what a size costs over what stands there, along the whole pipe or sleeve."""
        thing: Pipe | Sleeve | None = self.pipes.get(sized.name)
        pipe = self.pipes.get(sized.name)
        if pipe is None:
            thing = self.sleeves[sized.name]
            pipe = self.design.pipe(thing.pipe)
        assert thing is not None
        new = self.costs.pipe_m(sized.family, sized.nominal) or 0.0
        old = self.costs.pipe_m(thing.size.family, thing.size.nominal) or 0.0
        length = _length_m(self.design, thing, pipe)
        return max(new - old, 0.0) * length

    def _sized_item(self, sized: Sized) -> Item:
        thing = self.pipes.get(sized.name) or self.sleeves[sized.name]
        family = f"{sized.family} " if sized.family != thing.size.family else ""
        words = f"{thing.size.nominal} to {family}{sized.nominal}"
        return Item(sized.name, words, self._over(sized))

    def _fitted_item(self, fitted: Fitted) -> Item:
        device = self.design.device(fitted.name)
        part = self.offered[fitted.part].part
        old = None
        if device is not None and device.size is not None:
            old = self.costs.of("assembly", device.assembly_kind, device.size.si)
        new = self.costs.of("assembly", part.assembly_kind, part.size.si if part.size else None) or 0.0
        was = device.part.name if device is not None and device.part is not None else "no part"
        return Item(fitted.name, f"part {was} to {part.name} ({part.label})", max(new - (old or 0.0), 0.0))

    def _raised_item(self, raised: Raised) -> Item:
        device = self.design.device(raised.name)
        assert device is not None and device.height is not None
        new = higher(device.height, raised.steps)
        cost = (self.costs.of("raise", "assembly") or 0.0) * (new.si - device.height.si)
        return Item(raised.name, f"height {device.height.written} to {new.written}", max(cost, 0.0))

    def _split_items(self, split: Split, choice: Choice) -> tuple[Item, ...]:
        zone, origins = split.divided.cut.zone, dict(split.origins)
        feed = next(iter(origins))
        lateral = split.divided.cut.pipe
        control = self.design.control
        items = [Item(split.valve, f"a valve for the second part of {zone}", self._valve_cost(zone) or 0.0)]
        items.append(Item(feed, "pipe to that valve", self._price(origins[feed], choice) * split.feed_m))
        words = f"lateral from {split.valve} along the old trench to the cut in {lateral}"
        items.append(Item(split.zone, words, self._price(lateral, choice) * split.run_m))
        for pipe, device in split.divided.chain:
            length = path_length([s.point for s in pipe.route])
            items.append(Item(split.valve, f"pipe like {pipe.name}", self._price(pipe.name, choice) * length))
            cost = self.costs.of_device(device) or 0.0
            items.append(Item(split.valve, f"a {device.kind} like {device.name}", cost))
        for sleeved in sleeves_of(self.design, split.divided):
            name = sleeved.sleeve.name
            cost = 0.0 if sleeved.taken else self._price_of_sleeve(name, choice) * sleeved.under_m
            items += [] if sleeved.taken else [Item(split.zone, f"a sleeve like {name} beside it", cost)]
        if control is not None and control.point is not None:
            far = distance(at(*control.point), split.point)
            items.append(Item(split.valve, "its wire", (self.costs.of("wire") or 0.0) * far))
        return tuple(items)

    def _least_split(self, divided: Divided) -> float:
        """Return at least what a split costs, wherever beside the old valve the new one finds its place."""
        zone = self.design.zone(divided.cut.zone)
        valve = self.design.device(zone.valve) if zone is not None else None
        control, choice = self.design.control, Choice()
        assert valve is not None, "only zones with a valve are divided"
        begin = divided.chain[-1][1].point if divided.chain else valve.point
        run = max(path_length((begin, *divided.way)) - 2.0 * BESIDE_M, 0.0)
        cost = (self._valve_cost(divided.cut.zone) or 0.0) + self._price(divided.cut.pipe, choice) * run
        for pipe, device in divided.chain:
            cost += self.costs.of_device(device) or 0.0
            cost += self._price(pipe.name, choice) * path_length([s.point for s in pipe.route])
        for sleeved in sleeves_of(self.design, divided):
            if not sleeved.taken:
                cost += self._price_of_sleeve(sleeved.sleeve.name, choice) * sleeved.under_m
        if control is not None and control.point is not None:
            far = max(distance(at(*control.point), valve.point) - BESIDE_M, 0.0)
            cost += (self.costs.of("wire") or 0.0) * far
        return cost

    def stations_cost(self, splits: int, more: int) -> float:
        """Return what the stations of further splits cost beside those made."""
        after, now = (sum(i.cost for i in self._station_items(n)) for n in (splits + more, splits))
        return after - now

    def _station_items(self, splits: int) -> list[Item]:
        control = self.design.control
        if control is None or control.stations is None or not splits:
            return []
        lacking = max(len(self.design.zones) + splits - control.stations, 0)
        cost = (self.costs.of("station") or 0.0) * lacking
        return [Item(control.name, f"{lacking} more stations", cost)] if lacking else []

    def _price(self, pipe: str, choice: Choice) -> float:
        chosen = choice.size_of(pipe)
        found = self.design.pipe(pipe)
        family, nominal = ("", "") if found is None else (found.size.family, found.size.nominal)
        if chosen is not None:
            family, nominal = chosen.family, chosen.nominal
        return (self.costs.pipe_m(family, nominal) or 0.0) if nominal else 0.0

    def _price_of_sleeve(self, sleeve: str, choice: Choice) -> float:
        """Return what a metre of a sleeve costs in the size chosen for it."""
        chosen = choice.size_of(sleeve)
        found = next(s for s in self.design.sleeves if s.name == sleeve)
        family, nominal = found.size.family, found.size.nominal
        if chosen is not None:
            family, nominal = chosen.family, chosen.nominal
        return self.costs.pipe_m(family, nominal) or 0.0

    def _valve_cost(self, zone: str) -> float | None:
        return _valve_cost(self.design, self.costs, zone)


def _valve_cost(design: Design, costs: CostTable, zone: str) -> float | None:
    found = design.zone(zone)
    valve = design.device(found.valve) if found is not None else None
    return costs.of("valve", "", valve.size.si) if valve is not None and valve.size is not None else None


def _length_m(design: Design, thing: Pipe | Sleeve, pipe: Pipe | None) -> float:
    """Return the length of a pipe on the plan; of a sleeve at most that of its pipe under the paving."""
    if isinstance(thing, Pipe):
        return path_length([s.point for s in thing.route])
    paving = design.area(thing.under)
    if pipe is None or paving is None:
        return 0.0
    course = [s.point for s in pipe.route]
    under = sum(p.length_m for p in pieces_inside(course, paving.outline))
    return under + 2.0 * (thing.extends.si if thing.extends is not None else 0.0)


def _cuts(
    design: Design, costs: CostTable, notes: list[str]
) -> tuple[dict[str, tuple[Cut, ...]], dict[Cut, Divided]]:
    cuts: dict[str, tuple[Cut, ...]] = {}
    divided: dict[Cut, Divided] = {}
    priced = costs.of("station") is not None and costs.of("wire") is not None
    for zone in design.zones:
        found = divisions(design, zone)
        if isinstance(found, str):
            notes.append(f"{zone.name} is not split: {found}")
        elif not priced or _valve_cost(design, costs, zone.name) is None:
            notes.append(f"{zone.name} is not split: the cost table has no valve, wire or station for it")
        elif any(costs.of_device(device) is None for _, device in found[0].chain):
            notes.append(f"{zone.name} is not split: the cost table has no strainer or regulator for it")
        else:
            cuts[zone.name] = tuple(d.cut for d in found)
            divided |= {d.cut: d for d in found}
    return cuts, divided


def _fitted(
    design: Design, costs: CostTable, offered: Mapping[str, Offered], notes: list[str]
) -> dict[str, tuple[Fitted, ...]]:
    found: dict[str, tuple[Fitted, ...]] = {}
    for device in design.devices_of("assembly"):
        if device.state not in _NEW or device.part is None:
            notes.append(f"{device.name} keeps its part: it is {device.state}, or names none")
            continue
        options = []
        for name, offer in sorted(offered.items()):
            size = offer.part.size
            cost = costs.of("assembly", offer.part.assembly_kind, size.si if size is not None else None)
            if name != device.part.name and cost is not None and _other(device, offer.part):
                options.append(Fitted(device.name, name))
        found[device.name] = tuple(options)
    return found


def _other(device: Device, part: Part) -> bool:
    """Return whether a part is a change: of another kind, or larger; never smaller than what is stated."""
    if part.size is None or device.size is None or part.size.si < device.size.si * (1 - 1e-9):
        return False
    return part.assembly_kind != device.assembly_kind or part.size.si > device.size.si * (1 + 1e-9)
