"""This design's own figures in the words of the procedure. A figure that is not stated reads NOT STATED.

Takes design and results, returns short texts in the project's units. Holds no steps.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.results import Hydraulics
from plangen.model.design import Design
from plangen.model.waterworks import Device
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import told
from plangen.quantity.quantity import Quantity
from plangen.sheets.connection_path import irrigation_side
from plangen.sheets.procedure_assembly import AssemblyKind, workings
from plangen.sheets.procedure_fill import fill_plan, is_filled, natural
from plangen.sheets.procedure_types import NOT_STATED, FillPlan


@dataclass(frozen=True, slots=True)
class Figures:
    """What the steps need to know of one design, told in one unit system."""

    design: Design
    hydraulics: Hydraulics
    system: str
    fill: FillPlan

    def pressure(self, head_m: float | None) -> str:
        """Return a pressure head as a pressure."""
        return (
            NOT_STATED
            if head_m is None
            else told(head_to_pressure_pa(head_m), Dimension.PRESSURE, self.system)
        )

    def flow(self, m3s: float | None) -> str:
        """Return a flow."""
        return NOT_STATED if m3s is None else told(m3s, Dimension.FLOW, self.system)

    def volume(self, m3: float | None) -> str:
        """Return a volume."""
        return NOT_STATED if m3 is None else told(m3, Dimension.VOLUME, self.system)

    def minutes(self, seconds: float | None) -> str:
        """Return a time in minutes, told to the tenth because filling one pipe takes less than two."""
        return NOT_STATED if seconds is None else f"{seconds / 60:.1f} min"

    def small(self, quantity: Quantity | None) -> str:
        """Return a height, cover or clearance as it was written."""
        return NOT_STATED if quantity is None else quantity.written

    def fact(self, name: str) -> str:
        """Return a stated fact of the work (test pressure, cure time) as written."""
        found = next((q for key, q in self.design.procedure_facts if key == name), None)
        return NOT_STATED if found is None else found.written

    def words(self, name: str) -> str:
        """Return what is said of the work in words (tracer wire, warning tape)."""
        return dict(self.design.procedure_words).get(name, NOT_STATED)

    def names(self, *kinds: str, state: str = "") -> str:
        """Return the names of the devices of these kinds that stand in the finished work, in order."""
        found = [
            d.name
            for d in self.design.devices_of(*kinds)
            if (d.state == state if state else d.state != "removed")
        ]
        return ", ".join(sorted(found, key=natural))

    @property
    def assembly(self) -> Device | None:
        """Return the first assembly that stands in the finished work."""
        found = list(self.design.standing("assembly"))
        return min(found, key=lambda d: natural(d.name)) if found else None

    @property
    def assemblies(self) -> str:
        """Return the names of all assemblies of that one's kind: a vented one stands behind each valve."""
        first = self.assembly
        same = list(self.design.standing("assembly"))
        names = [d.name for d in same if first and d.assembly_kind == first.assembly_kind]
        return ", ".join(sorted(names, key=natural)) or NOT_STATED

    @property
    def behind_valves(self) -> bool:
        """Return whether vented assemblies stand behind the zone valves, as they must."""
        vented = self.assembly is not None and self.assembly.assembly_kind in ("avb", "db")
        return vented and not any(self.behind(d) for d in self.design.devices_of("valve"))

    def behind(self, device: Device) -> bool:
        """Return whether water comes to a device only through an assembly, as the pipes are drawn."""
        reached = irrigation_side(self.design)
        return any(
            stop.node == device.name for p in self.design.pipes if p.name in reached for stop in p.route
        )

    @property
    def work(self) -> AssemblyKind | None:
        """Return the working parts of that assembly, or None where there is none or its kind is not known."""
        return workings(self.assembly.assembly_kind) if self.assembly else None

    def covers(self) -> str:
        """Return each new role with its least and greatest cover."""
        parts = []
        for role in ("service", "mainline", "lateral"):
            pipes = [
                p for p in self.design.pipes if p.role == role and p.state == "new" and not p.above_grade
            ]
            covers = sorted((p.cover for p in pipes if p.cover is not None), key=lambda q: q.si)
            if not pipes:
                continue
            text = NOT_STATED if not covers else covers[0].written
            if covers and covers[-1].si > covers[0].si:
                text += f" to {covers[-1].written}"
            if covers and len(covers) < len(pipes):
                text += f" (some {NOT_STATED})"
            parts.append(f"{role} cover {text}")
        return "; ".join(parts) or f"cover {NOT_STATED}"

    def weakest(self, main: bool = False) -> tuple[str, str]:
        """Return the least pressure rating among what stands under the water's pressure, and whose it is.

        Of the `main` alone: what lies behind a zone valve is not under its test. Only stated ratings count;
        the second text also says when some are not stated.
        """
        rated: list[tuple[float, tuple[tuple[int, str], ...], str, str]] = []
        silent = []
        for device in self.design.devices_of(
            "assembly", "isolation", "valve", "master-valve", "strainer", "regulator", "flow-sensor"
        ):
            if device.state == "removed" or (main and device.zone and device.kind != "valve"):
                continue
            rating = device.part.pressure_rating if device.part else None
            if rating is None:
                silent.append(device.name)
            else:
                rated.append((rating.si, natural(device.name), device.name, rating.written))
        for pipe in self.design.pipes:
            if is_filled(pipe) and pipe.role != "lateral" and pipe.size.rating_pa is not None:
                text = told(pipe.size.rating_pa, Dimension.PRESSURE, self.system)
                rated.append((pipe.size.rating_pa, natural(pipe.name), pipe.name, text))
        if not rated:
            return NOT_STATED, ""
        least = min(rated)
        whose = least[2] + (
            f"; no rating stated for {', '.join(sorted(silent, key=natural))}" if silent else ""
        )
        return least[3], whose


def figures(design: Design, hydraulics: Hydraulics, system: str) -> Figures:
    """Return the figures of a design in one unit system (`us` or `metric`)."""
    return Figures(design, hydraulics, system, fill_plan(design))
