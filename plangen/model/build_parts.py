"""Part blocks to `Part` values, and part names to parts."""

from __future__ import annotations

import re
from dataclasses import fields, replace

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bound import Bound, BoundBlock, Law, Ref
from plangen.model.parts import PART_KINDS, CurvePoint, Part
from plangen.quantity.quantity import DECLARED, Provenance, Quantity
from plangen.shipped.folders import shipped_text
from plangen.text.source import Span
from plangen.text.suggest import closest, listed


class PartTable:
    """Parts by name."""

    def __init__(self, problems: Problems, whole: bool) -> None:
        self.problems = problems
        self.parts: dict[str, Part] = {}
        self.spans: dict[str, Span] = {}
        self.whole = whole
        self._unknown: set[str] = set()
        self._replaced: dict[str, Span] = {}

    def add(self, block: BoundBlock) -> None:
        """Enter the part of a block; the second of two equal names gives a message."""
        if not block.name:
            self.whole = False
            return
        if block.name in self.spans:
            self.problems.error(
                "PG2013",
                f"the part `{block.name}` is defined twice",
                block.head,
                help=f"give one of them another name, or write `part {block.name} replaces {{`",
                labels=(Label(self.spans[block.name], "first defined here"),),
            )
            return
        self._enter(block)

    def replace(self, block: BoundBlock) -> None:
        """Enter a part that says it takes the place of another; there must be one."""
        if not block.name:
            self.whole = False
        elif block.name in self._replaced:
            self.problems.error(
                "PG2013",
                f"the part `{block.name}` is replaced twice",
                block.head,
                help="keep one of them",
                labels=(Label(self._replaced[block.name], "first replaced here"),),
            )
        elif block.name not in self.spans and self.whole:
            near = closest(block.name, self.spans)
            self.problems.error(
                "PG2032",
                f"there is no part `{block.name}` to replace",
                block.head,
                help=f"a similar part exists: `{near}`" if near else "take `replaces` away",
            )
            self._enter(block)  # so that what names it stays silent
        else:
            self._replaced[block.name] = block.head
            self.parts.pop(block.name, None)
            self._enter(block)

    def _enter(self, block: BoundBlock) -> None:
        self.spans[block.name] = block.head
        part = read_part(block)
        if part is not None:
            self.parts[block.name] = part

    def find(self, ref: Ref, kinds: tuple[str, ...]) -> Part | None:
        """Return the part of a name; None after a message, or silently if its block could not be read."""
        part = self.parts.get(ref.name)
        if part is None:
            if ref.name not in self.spans and ref.name not in self._unknown and self.whole:
                self._unknown.add(ref.name)
                legal = [p.name for p in self.parts.values() if p.kind in kinds]
                near = closest(ref.name, legal)
                own = f"define it in a block `part {ref.name} {{ … }}`"
                self.problems.error(
                    "PG2017",
                    f"there is no part `{ref.name}`",
                    ref.span,
                    expected="" if near else listed(f"`{n}`" for n in sorted(legal)) or "a part block",
                    help=(f"a similar part exists: `{near}`" if near else own) + _in_library(ref.name),
                )
            return None
        if part.kind not in kinds:
            wanted = listed(PART_KINDS[k] for k in kinds)
            self.problems.error(
                "PG2016",
                f"`{ref.name}` is a part of kind {PART_KINDS[part.kind]}; a {wanted} is needed",
                ref.span,
                labels=(Label(part.span, "defined here"),),
            )
            return None
        return part


def read_part(block: BoundBlock) -> Part | None:
    """Return the part a block describes, or None if its kind is not known."""
    kind = block.value("kind", "value")
    if kind is None:
        return None
    source = block.value("from", "value")
    part = Part(block.name, kind, block.value("label", "value") or block.name, block.head, source or DECLARED)
    changes: dict[str, object] = {}
    for bound in block.statements:
        changes.update(_fields(bound))
    part = replace(part, **changes)  # type: ignore[arg-type]
    return _backed(part, source) if source else part


def _fields(bound: Bound) -> dict[str, object]:
    value = bound.get("value")
    match bound.kind:
        case "flow" if isinstance(value, Law):
            return {"flow": value.flow, "flow_at": value.at, "flow_table": _points(value.table)}
        case "radius" if value:
            return {"radius": value[0], "radius_at": value[1]}
        case "pressure" if value:
            return {"pressure_low": value[0], "pressure_high": value[1], "pressure_best": bound.get("best")}
        case "flow range" if value:
            return {"flow_low": value[0], "flow_high": value[1]}
        case "relief flow" if value:
            return {"relief_flow": value[0], "relief_at": value[1]}
        case "current":
            return {"current": value, "inrush": bound.get("inrush")}
        case "loss" | "gain" if value:
            return {f"{bound.kind}_curve": _points(value)}
        case "check valve":
            return {"check_valve": True}
        case "compensating":
            return {"compensating": True}
        case "rating":
            return {"pressure_rating": value}
        case "assembly":
            return {"assembly_kind": value or ""}
        case "listing":
            return {"listing": value or ""}
        case "size" | "arc" | "regulated" | "height" | "length":
            return {bound.kind: value}
        case "emitter spacing" | "minor k" | "pop-up" | "closing time":
            return {bound.kind.replace(" ", "_").replace("-", "_"): value}
    return {}


def _points(pairs: tuple[tuple[Quantity, Quantity], ...]) -> tuple[CurvePoint, ...]:
    return tuple(CurvePoint(a, b) for a, b in pairs)


def _backed(part: Part, source: Provenance) -> Part:
    """Give every figure that names no source of its own the source of the part."""
    changes: dict[str, object] = {}
    for field in fields(part):
        value = getattr(part, field.name)
        if isinstance(value, Quantity) and value.provenance == DECLARED:
            changes[field.name] = value.with_provenance(source)
        elif isinstance(value, tuple) and value and isinstance(value[0], CurvePoint):
            changes[field.name] = tuple(
                p
                if p.value.provenance != DECLARED
                else CurvePoint(p.at.with_provenance(source), p.value.with_provenance(source))
                for p in value
            )
    return replace(part, **changes)  # type: ignore[arg-type]


def _in_library(name: str) -> str:
    """Return how to bring a part of that name from the shipped library, or an empty text if it has none."""
    there = re.search(rf"^part {re.escape(name)} ", shipped_text("library", "parts.plan"), re.MULTILINE)
    return "; `include library parts` brings one of this name, with typical values" if there else ""
