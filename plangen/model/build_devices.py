"""Devices: what water passes through at one place; and the source and the house."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bound import Bound, Ref
from plangen.model.build_parts import PartTable
from plangen.model.locate import Locator
from plangen.model.names import NameTable, needed
from plangen.model.parts import ASSEMBLY_KINDS, Part
from plangen.model.schema.shape import Slot, Want
from plangen.model.waterworks import Device, HouseDemand, Source


class DeviceBuilder:
    """Builds devices; every fault becomes one message."""

    def __init__(self, names: NameTable, parts: PartTable, locator: Locator, problems: Problems) -> None:
        self.names = names
        self.parts = parts
        self.locator = locator
        self.problems = problems

    def part(self, bound: Bound) -> Part | None:
        """Return the part a statement names, or None if it names none or one that is not fit."""
        ref: Ref | None = bound.get("part")
        slot: Slot | None = next((s for s in bound.spec.args if s.want is Want.PART), None)
        return self.parts.find(ref, slot.part_kinds) if ref is not None and slot is not None else None

    def device(self, bound: Bound, zone: str) -> Device | None:
        """Return one device, or None after a message."""
        part = self.part(bound)
        if bound.get("part") is not None and part is None:
            return None
        wall: Ref | None = bound.get("wall")
        walls = ("building", "wall")
        wall_known = wall is not None and self.names.find(wall, walls, needed(walls)) is not None
        kind = self._assembly_kind(bound, part) if bound.kind == "assembly" else ""
        point = self.locator.place_of(bound.name)
        if point is None or kind is None:
            return None
        self._one_height(bound)
        label = bound.get("label") or (part.label if part else "")
        height = bound.get("critical") or bound.get("relief") or bound.get("height")
        return Device(
            kind=bound.kind,
            name=bound.name,
            label=", ".join(w for w in (label, bound.get("joint")) if w),
            point=point,
            span=bound.span,
            state=bound.get("state") or "new",
            part=part,
            size=bound.get("size") or (part.size if part else None),
            height=height,
            in_box=bool(bound.get("in_box") or bound.get("box_size")),
            closed=bool(bound.get("closed")),
            assembly_kind=kind,
            wall=wall.name if wall is not None and wall_known else "",
            wall_clearance=bound.get("clearance"),
            insulation=bound.get("insulation") or "",
            enclosure=bound.get("enclosure") or "",
            drain=bound.get("drain") or "",
            serial=bound.get("serial") or "",
            listing=bound.get("listing") or (part.listing if part else ""),
            supports=bound.get("supports") or "",
            detail=bound.get("detail") or "",
            setting=bound.get("setting"),
            zone=zone,
            drain_size=bound.get("drain_size"),
            drain_slope=bound.get("drain_slope"),
            trip=bound.get("trip"),
            box_size=bound.get("box_size") or "",
        )

    def _one_height(self, bound: Bound) -> None:
        """Report an assembly with two heights: that of its critical level or relief port stands for it."""
        fields = ("critical", "relief", "height")
        said = sorted((bound.at(f) for f in fields if bound.get(f) is not None), key=lambda span: span.start)
        if len(said) > 1:
            self.problems.error(
                "PG2011",
                f"`{bound.name}` has two heights",
                said[1],
                help="keep that of its critical level or relief port",
                labels=(Label(said[0], "first said here"),),
            )

    def _assembly_kind(self, bound: Bound, part: Part | None) -> str | None:
        said = bound.get("assembly_kind") or ""
        of_part = part.assembly_kind if part else ""
        if said and of_part and said != of_part:
            self.problems.error(
                "PG2029",
                f"`{bound.name}` is said to be `{said}`, but its part is `{of_part}`",
                bound.head,
                help="name another part or another kind",
                labels=(Label(part.span, "the part"),) if part else (),
            )
            return None
        kind = said or of_part
        where = bound.at("assembly_kind") if said or part is None else part.span
        wrong = {"critical": ("rp", "dc", "air-gap"), "relief": ("pvb", "svb", "avb", "db", "dc", "air-gap")}
        for field, kinds in wrong.items():
            if kind in kinds and bound.get(field) is not None:
                words = {"critical": "critical level", "relief": "relief port"}[field]
                self.problems.error(
                    "PG2029",
                    f"a {ASSEMBLY_KINDS[kind]} has no {words}",
                    bound.get(field).span or bound.head,
                    help="say `height …` or change the kind of assembly",
                    labels=(Label(where, "its kind"),),
                )
                return None
        return kind

    def source(self, bound: Bound) -> Source | None:
        """Return the source, or None after a message."""
        point = self.locator.place_of(bound.name)
        if point is None:
            return None
        return Source(
            bound.name,
            point,
            bound.span,
            bound.get("static"),
            bound.get("lowest"),
            bound.get("allowance"),
            bound.get("depth"),
            bound.get("residual"),
            bound.get("state") or "existing",
            bound.get("temperature"),
            bound.get("label") or "",
        )

    def house(self, bound: Bound) -> HouseDemand | None:
        """Return the house's draw, or None after a message."""
        point = self.locator.place_of(bound.name)
        if point is None:
            return None
        state, label = bound.get("state") or "existing", bound.get("label") or ""
        return HouseDemand(bound.name, point, bound.get("demand"), bound.span, state, label)
