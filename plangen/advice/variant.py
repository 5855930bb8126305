"""A choice of changes made real: as a design to be judged at once, and as edited texts to be read again.

The two ways must come to the same design; a test holds them together, and the winner is always read again.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from plangen.advice.assemblies import Offered
from plangen.advice.branching import Divided
from plangen.advice.choice import Choice, Cut, Fitted, Raised, Sized
from plangen.advice.script import Edit, Found, Script, tidied
from plangen.advice.split import Split, split
from plangen.model.design import Design
from plangen.model.numbers import quantity_value
from plangen.model.parts import Part
from plangen.model.pipe_table import pipe_size
from plangen.model.read import read_design
from plangen.model.waterworks import Device, Pipe, Sleeve
from plangen.quantity.dimension import INCH_M, Dimension
from plangen.quantity.quantity import Quantity
from plangen.syntax.tree import TermKind
from plangen.text.source import SourceFile


@dataclass(frozen=True, slots=True)
class Structure:
    """A design after its splits, with what they are; `fault` says why the text could not be read so."""

    design: Design
    sources: tuple[SourceFile, ...]
    splits: tuple[Split, ...] = ()
    fault: str = ""

    @property
    def origins(self) -> Mapping[str, str]:
        """Return for each pipe that a split made the pipe it takes its size from."""
        return dict(pair for s in self.splits for pair in s.origins)


class Variants:
    """Makes designs and texts of choices. `divided` holds the divisions on offer, by their cut."""

    def __init__(
        self,
        design: Design,
        sources: Sequence[SourceFile],
        divided: Mapping[Cut, Divided],
        offered: Mapping[str, Offered],
    ) -> None:
        """Keep the design as it stands."""
        self.base = Structure(design, tuple(sources))
        self.divided, self.offered = divided, offered
        self._structures: dict[tuple[Cut, ...], Structure] = {(): self.base}

    def structure(self, cuts: tuple[Cut, ...]) -> Structure:
        """Return the design with its splits made, read from the edited text; each set of splits once."""
        if cuts not in self._structures:
            self._structures[cuts] = self._split(self.structure(cuts[:-1]), cuts[-1])
        return self._structures[cuts]

    def _split(self, before: Structure, cut: Cut) -> Structure:
        if before.fault:
            return before
        script = Script(before.sources)
        made = split(before.design, script, self.divided[cut])
        if isinstance(made, str):
            return replace(before, fault=made)
        sources = script.edited(made.edits)
        read = read_design(sources[0], sources[1:])
        if read.value is None or read.failed:
            why = read.problems[0].message if read.problems else "the text cannot be read"
            return replace(before, fault=why)
        return Structure(read.value, sources, (*before.splits, made))

    def design(self, choice: Choice) -> Design | None:
        """Return the design of a choice, or None where its splits cannot be made."""
        structure = self.structure(choice.cuts)
        if structure.fault:
            return None
        origins = structure.origins
        base = structure.design
        return replace(
            base,
            pipes=tuple(_sized_pipe(p, choice.size_of(origins.get(p.name, p.name))) for p in base.pipes),
            sleeves=tuple(
                _sized_sleeve(s, choice.size_of(origins.get(s.name, s.name))) for s in base.sleeves
            ),
            devices=tuple(self._device(d, choice) for d in base.devices),
        )

    def _device(self, device: Device, choice: Choice) -> Device:
        if device.kind != "assembly":
            return device
        for fitted in choice.fitted:
            if fitted.name == device.name:
                device = _fitted_device(device, self.offered[fitted.part].part)
        for raised in choice.raised:
            if raised.name == device.name and device.height is not None:
                device = replace(device, height=higher(device.height, raised.steps))
        return device

    def sources(self, choice: Choice) -> tuple[SourceFile, ...]:
        """Return the edited texts of a choice whose splits can be made."""
        structure = self.structure(choice.cuts)
        script = Script(structure.sources)
        followers: dict[str, list[str]] = {}
        for new, old in structure.origins.items():
            followers.setdefault(old, []).append(new)
        edits: list[Edit] = []
        for sized in choice.sized:
            for name in (sized.name, *sorted(followers.get(sized.name, ()))):
                edits += _size_edits(script.find(name), sized)
        for fitted in choice.fitted:
            edits += self._part_edits(script, fitted)
        for raised in choice.raised:
            edits += self._height_edits(script, raised)
        return tidied(self.base.sources, script.edited(edits))

    def _part_edits(self, script: Script, fitted: Fitted) -> list[Edit]:
        found, offered = script.find(fitted.name), self.offered[fitted.part]
        device = self.base.design.device(fitted.name)
        if found is None or device is None or device.part is None:
            return []
        file, part = found.source.name, offered.part
        swaps = {device.part.name: part.name}
        edits = [_swap(file, t.span.start, t.span.end, swaps[t.text]) for t in found.first if t.text in swaps]
        for clause in found.statement.clauses[1:]:
            first = clause.terms[0]
            if len(clause.terms) == 1 and first.text == device.assembly_kind:
                edits.append(_swap(file, first.span.start, first.span.end, part.assembly_kind))
        edits += _level_words(found, part.assembly_kind)
        size = found.clause("size")
        if size is not None and part.size is not None:
            edits.append(_swap(file, size.terms[1].span.start, size.terms[-1].span.end, part.size.written))
        if offered.text:
            root = script.sources[0]
            gap = "\n" if root.text.endswith("\n") else "\n\n"
            edits.append(Edit(root.name, len(root.text), len(root.text), gap + offered.text))
        return edits

    def _height_edits(self, script: Script, raised: Raised) -> list[Edit]:
        found, device = script.find(raised.name), self.base.design.device(raised.name)
        if found is None or device is None or device.height is None:
            return []
        written = higher(device.height, raised.steps).written
        for word in ("critical", "relief", "height"):
            clause = found.clause(word)
            quantities = [t for t in clause.terms if t.kind is TermKind.QUANTITY] if clause else []
            if quantities:
                span = quantities[0].span
                return [_swap(found.source.name, span.start, span.end, written)]
        return []


def _fitted_device(device: Device, part: Part) -> Device:
    """Return an assembly of another part; what it had of its old part it now has of the new one."""
    old, size = device.part, part.size
    if size is not None and device.size is not None:
        size = replace(device.size, si=size.si, written=size.written)
    label, listing = (
        new if old is not None and said == had else said
        for said, had, new in (
            (device.label, old.label if old is not None else "", part.label),
            (device.listing, old.listing if old is not None else "", part.listing),
        )
    )
    return replace(
        device, part=part, size=size, assembly_kind=part.assembly_kind, label=label, listing=listing
    )


def _level_words(found: Found, kind: str) -> list[Edit]:
    """Return the edit that calls the height by what a kind of assembly has: critical level, relief port."""
    words = {"rp": "relief port"} | dict.fromkeys(("pvb", "svb", "avb", "db"), "critical level")
    for first in ("critical", "relief", "height"):
        clause = found.clause(first)
        if clause is not None:
            count = 1 if first == "height" else 2
            span = clause.terms[0].span.join(clause.terms[count - 1].span)
            return [_swap(found.source.name, span.start, span.end, words.get(kind, "height"))]
    return []


def higher(height: Quantity, steps: int) -> Quantity:
    """Return a height so many steps up: whole inches, or whole centimetres where it is written metric."""
    metric = height.written.endswith(("mm", "cm", " m"))
    step = 0.01 if metric else INCH_M
    count = math.ceil(height.si / step - 1e-6) + steps
    words = f"{count * 10} mm" if metric else f"{count} in"
    return Quantity(count * step, Dimension.LENGTH, words, height.provenance, height.span)


def _swap(file: str, start: int, end: int, words: str) -> Edit:
    return Edit(file, start, end, words)


def _size_edits(found: Found | None, sized: Sized) -> list[Edit]:
    """Return the edits of the material and the size behind a pipe's or sleeve's name."""
    if found is None:
        return []
    file = found.source.name
    family, nominal = found.first[0], found.first[1]
    edits = [_swap(file, nominal.span.start, nominal.span.end, sized.nominal)]
    if family.text != sized.family:
        edits.append(_swap(file, family.span.start, family.span.end, sized.family))
    return edits


def _sized_pipe(pipe: Pipe, sized: Sized | None) -> Pipe:
    size = pipe_size(sized.family, sized.nominal) if sized is not None else None
    if sized is None or size is None:
        return pipe
    return replace(pipe, size=size, nominal=_nominal(pipe.nominal, sized.nominal))


def _sized_sleeve(sleeve: Sleeve, sized: Sized | None) -> Sleeve:
    size = pipe_size(sized.family, sized.nominal) if sized is not None else None
    if sized is None or size is None or sleeve.nominal is None:
        return sleeve
    return replace(sleeve, size=size, nominal=_nominal(sleeve.nominal, sized.nominal))


def _nominal(old: Quantity, written: str) -> Quantity:
    return replace(old, si=quantity_value(written)[0], written=written)
