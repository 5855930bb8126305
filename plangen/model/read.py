"""Design text to `Design`: the stage that finds out what the author means."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol, TypeVar

from plangen.diagnostics.diagnostic import Outcome, Problems, Severity
from plangen.model.bind_blocks import BlockBinder
from plangen.model.bound import BoundBlock
from plangen.model.build_devices import DeviceBuilder
from plangen.model.build_parts import PartTable
from plangen.model.build_pipes import PipeBuilder
from plangen.model.build_project import (
    check_measured,
    read_answers,
    read_control,
    read_project,
    read_readings,
    read_review,
    read_together,
)
from plangen.model.build_records import read_procedure, read_procedure_words, read_records
from plangen.model.build_site import SiteBuilder, with_hydrozones
from plangen.model.build_zones import ZoneBuilder, check_zone
from plangen.model.connected import check_connected
from plangen.model.design import Design
from plangen.model.locate import Locator
from plangen.model.merge import MergedTrees, merged_trees
from plangen.model.names import NameTable, natural
from plangen.model.schema.slots import NODE_KINDS, PIPE_KINDS
from plangen.model.version import check_version
from plangen.model.waterworks import Device, DripArea, Head, HouseDemand, Pipe, Sleeve, Source, Zone
from plangen.syntax.read_tree import read_tree
from plangen.text.source import SourceFile, SourceSet

_DEVICES = tuple(k for k in NODE_KINDS if k not in ("source", "house"))


def read_design(
    source: SourceFile, included: tuple[SourceFile, ...] = (), all_there: bool = True
) -> Outcome[Design]:
    """Return the design of a text, or every error found in one run: with an error there is no design.

    `included` are the texts that its include lines name, and those that these name in turn, in any order;
    where not all of them are there, names that nothing defines stay silent.
    """
    tree = read_tree(source)
    problems = Problems(list(tree.problems))
    if tree.value is None or not source.text.strip():
        return Outcome(None, problems.done())
    more = []
    for file in included:
        read = read_tree(file)
        problems.items.extend(read.problems)
        more += [read.value] if read.value is not None else []
    check_version(tree.value, problems)
    all_there = all_there and (bool(included) or not tree.value.includes)
    merged = merged_trees(tree.value, tuple(more), all_there, problems)
    design = _Assembly(SourceSet((source, *included)), merged, problems).design()
    outcome: Outcome[Design] = Outcome(design, problems.done())
    return Outcome(None, outcome.problems) if outcome.failed else outcome


class _Assembly:
    """Puts the bound blocks of a design together."""

    def __init__(self, sources: SourceSet, merged: MergedTrees, problems: Problems) -> None:
        self.problems = problems
        tree = merged.tree
        binder = BlockBinder(sources, problems)
        self.blocks = binder.blocks(tree)
        self.names = NameTable(
            problems,
            {*tree.broken_names, *binder.broken_names, *binder.binder.drawn_in},
            tree.whole,
            (*tree.nameless, *binder.binder.nameless),
        )
        self.names.add_blocks(self.blocks)
        self.parts = PartTable(problems, tree.whole and binder.parts_known)
        for block in self._all("part"):
            if block.span not in merged.replacing:
                self.parts.add(block)
        for block in self._all("part"):
            if block.span in merged.replacing:
                self.parts.replace(block)
        site, project = self._one("site"), self._one("project")
        unit = site.value("coordinates", "unit") if site else None
        self.project = read_project(project, problems) if project else None
        check_measured(binder.binder.values.quantities.backing.measured, project, problems)
        self.locator = Locator(self.names, problems, unit, self.project.units if self.project else "us")

    def _all(self, lead: str) -> tuple[BoundBlock, ...]:
        return tuple(b for b in self.blocks if b.spec.lead == lead)

    def _one(self, lead: str) -> BoundBlock | None:
        return next(iter(self._all(lead)), None)

    def design(self) -> Design | None:
        """Return the design as far as it can be read."""
        site_block = self._one("site")
        site = SiteBuilder(site_block, self.locator, self.problems).build() if site_block else None
        together = read_together(self._one("control"), self.names)
        waivers, confirmations = read_review(self._one("review"), self.names)
        devices = DeviceBuilder(self.names, self.parts, self.locator, self.problems)
        source, house, found = self._devices(devices)
        pipes, sleeves = self._pipes()
        zones, heads, drips = self._zones(devices, pipes, together)
        records = read_records(self._one("records"), self._one("changes"), self.names, self.problems)
        control = read_control(self._one("control"), self.locator, self.problems)
        if self.project is None or site is None:
            return None
        hazards = self._one("hazards")
        design = Design(
            project=self.project,
            site=with_hydrozones(site, zones),
            source=source,
            house=house,
            devices=_by_name(found),
            pipes=_by_name(pipes.values()),
            sleeves=_by_name(sleeves),
            zones=_by_name(zones),
            heads=_by_name(heads),
            drips=_by_name(drips),
            control=control,
            answers=read_answers(hazards),
            waivers=waivers,
            confirmations=confirmations,
            readings=read_readings(self._one("review"), self.names),
            procedure_facts=read_procedure(self._one("procedure")),
            hazards_span=hazards.span if hazards else None,
            records=records,
            procedure_words=read_procedure_words(self._one("procedure")),
        )
        if not any(p.severity is Severity.ERROR for p in self.problems.items):
            # What hangs on what is judged last: a missing line would otherwise be told many times over.
            self.locator.tell_unmeasured()
            for block in self._all("zone"):
                check_zone(block, self.problems)
            if not self.problems.items:
                check_connected(design, self.problems)
        return design

    def _devices(self, builder: DeviceBuilder) -> tuple[Source | None, HouseDemand | None, list[Device]]:
        source, house, devices = None, None, []
        for block in self.blocks:
            zone = block.name if block.spec.lead == "zone" else ""
            for bound in block.statements:
                if bound.kind == "source":
                    source = source or builder.source(bound)
                elif bound.kind == "house":
                    house = house or builder.house(bound)
                elif bound.kind in _DEVICES and bound.name:
                    device = builder.device(bound, zone)
                    devices += [device] if device else []
        return source, house, devices

    def _pipes(self) -> tuple[dict[str, Pipe], list[Sleeve]]:
        builder = PipeBuilder(self.names, self.locator, self.problems)
        pipes: dict[str, Pipe] = {}
        sleeves: list[Sleeve] = []
        for block in self.blocks:
            for bound in block.statements:
                if bound.kind in PIPE_KINDS and block.spec.lead != "project":
                    pipe = builder.pipe(bound, block)
                    if pipe is not None:
                        pipes.setdefault(pipe.name, pipe)
                elif bound.kind == "sleeve":
                    sleeve = builder.sleeve(bound)
                    sleeves += [sleeve] if sleeve else []
        return pipes, sleeves

    def _zones(
        self, devices: DeviceBuilder, pipes: dict[str, Pipe], together: dict[str, set[str]]
    ) -> tuple[list[Zone], list[Head], list[DripArea]]:
        builder = ZoneBuilder(self.names, self.locator, devices, pipes, self.problems)
        zones: list[Zone] = []
        heads: list[Head] = []
        drips: list[DripArea] = []
        for block in self._all("zone"):
            zone = builder.zone(block, together)
            zones += [zone] if zone else []
            for bound in block.all("head"):
                head = builder.head(bound, block)
                heads += [head] if head else []
            for bound in block.all("drip"):
                drip = builder.drip(bound, block)
                drips += [drip] if drip else []
        return zones, heads, drips


class _Named(Protocol):
    @property
    def name(self) -> str: ...


_T = TypeVar("_T", bound=_Named)


def _by_name(items: Iterable[_T]) -> tuple[_T, ...]:
    return tuple(sorted(items, key=lambda item: natural(item.name)))
