"""Everything the collectors read, indexed once by name. Looks nothing up in the text and decides nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from plangen.facts.flowpath import FlowPath
from plangen.hydraulics.results import CaseResult, Hydraulics, OutletResult, PipeCheck
from plangen.layout.results import HeadReach, Layout, LowHead, OutletHeight, ScheduleLine
from plangen.model.design import Answer, Design
from plangen.model.parts import Part
from plangen.model.waterworks import Head
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface

_UNSOLVED = re.compile(r"zone (\S+) is not solved$")
_MINUTES = "minutes of "
_EVENNESS = "evenness of "


@dataclass(frozen=True, slots=True)
class Survey:
    """The stages' results with their indexes. `flows` and `outlets` list all load cases."""

    design: Design
    surface: Surface
    hydraulics: Hydraulics
    layout: Layout
    sheets: SheetSet
    path: FlowPath
    checks: dict[str, PipeCheck]
    flows: dict[str, tuple[tuple[CaseResult, float], ...]]
    outlets: dict[str, tuple[tuple[CaseResult, OutletResult], ...]]
    zone_cases: dict[str, CaseResult]
    reaches: dict[str, HeadReach]
    answers: dict[str, Answer]
    heads: dict[str, Head]
    schedule: dict[str, ScheduleLine]
    levels: dict[str, OutletHeight]
    zone_heads: dict[str, tuple[Head, ...]]
    low_heads: dict[str, LowHead]  # by zone
    parts: dict[str, Part]  # by the name of the head or drip area

    @staticmethod
    def of(
        design: Design, surface: Surface, hydraulics: Hydraulics, layout: Layout, sheets: SheetSet
    ) -> Survey:
        """Return the survey of one run."""
        flows: dict[str, list[tuple[CaseResult, float]]] = {}
        outlets: dict[str, list[tuple[CaseResult, OutletResult]]] = {}
        in_zone: dict[str, list[Head]] = {}
        for head in design.heads:
            in_zone.setdefault(head.zone, []).append(head)
        for case in hydraulics.cases:
            for link in case.solution.links:
                flows.setdefault(link.link.id, []).append((case, abs(link.flow_m3s)))
            for outlet in case.outlets:
                outlets.setdefault(outlet.name, []).append((case, outlet))
        return Survey(
            design,
            surface,
            hydraulics,
            layout,
            sheets,
            FlowPath.of(design),
            {c.pipe: c for c in hydraulics.pipes},
            {k: tuple(v) for k, v in flows.items()},
            {k: tuple(v) for k, v in outlets.items()},
            {c.zones[0]: c for c in hydraulics.cases if len(c.zones) == 1},
            {r.head: r for r in layout.reaches},
            {a.question: a for a in design.answers},
            {h.name: h for h in design.heads},
            {s.zone: s for s in layout.schedule},
            {h.outlet: h for h in layout.heights},
            {zone: tuple(heads) for zone, heads in in_zone.items()},
            {x.zone: x for x in layout.low_heads},
            {h.name: h.part for h in design.heads} | {d.name: d.part for d in design.drips},
        )

    def why_unsolved(self, *zones: str) -> tuple[str, ...]:
        """Return why the cases of some zones (or, unnamed, any case) have no result."""
        failures = self.hydraulics.failures
        chosen = [f for f in failures if not zones or any(z in f.case or z in f.objects for z in zones)]
        return tuple(f.message for f in chosen or failures) or ("the flow was not worked out",)

    def rooted(self, missing: Iterable[str]) -> tuple[str, ...]:
        """Return what an author can supply behind what a later stage lacks, each once.

        An unsolved zone, and a zone without minutes, stand for what keeps them so.
        """
        found: list[str] = []
        for words in missing:
            unsolved, line = _UNSOLVED.search(words), self.schedule.get(words.removeprefix(_MINUTES))
            if unsolved is not None:
                found += self.why_unsolved(unsolved[1])
            elif words.startswith(_MINUTES) and line is not None and line.missing:
                found += self.rooted(line.missing)
            else:
                found.append(words)
        causes = [w for w in found if not w.startswith(_EVENNESS)]
        return tuple(dict.fromkeys(causes or found))
