"""Which kinds of trench a design digs: each pairing of role and cover, and each make of sleeve.

Takes a design, returns its pipes and sleeves grouped; draws nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.model.design import Design
from plangen.model.waterworks import Pipe, Sleeve
from plangen.sheets.procedure_fill import natural


@dataclass(frozen=True, slots=True)
class Trench:
    """One kind of trench: the pipes in it, told by the largest of them, and a sleeve if it crosses paving."""

    pipe: Pipe
    names: tuple[str, ...]  # of the same size as `pipe`
    smaller: tuple[
        tuple[Pipe, tuple[str, ...]], ...
    ] = ()  # further sizes at the same cover, each with its names
    sleeve: Sleeve | None = None
    sleeves: tuple[str, ...] = ()  # of the same make, way and cover; `sleeve` is the first

    @property
    def all_names(self) -> tuple[str, ...]:
        """Return every pipe that the section holds for."""
        return (*self.names, *(name for _, names in self.smaller for name in names))


def trenches(design: Design) -> tuple[Trench, ...]:
    """Return each distinct pairing of role and cover of new buried pipes, then each sleeve."""
    groups: dict[tuple[str, float], dict[tuple[str, str], list[Pipe]]] = {}
    for pipe in sorted(design.pipes, key=lambda p: natural(p.name)):
        if pipe.state in ("new", "relocated") and not pipe.above_grade and pipe.role != "nipple":
            cover = -1.0 if pipe.cover is None else round(pipe.cover.si, 6)
            alike = groups.setdefault((pipe.role, cover), {})
            alike.setdefault((pipe.size.family, pipe.size.nominal), []).append(pipe)
    order = {"service": 0, "mainline": 1, "lateral": 2}
    plain = []
    for key in sorted(groups, key=lambda k: (order.get(k[0], 3), -k[1])):
        sizes = sorted(groups[key].values(), key=lambda of: (-of[0].size.od_m, of[0].size.family))
        first, *rest = ((of[0], tuple(p.name for p in of)) for of in sizes)
        plain.append(Trench(*first, tuple(rest)))
    return (*plain, *_sleeved(design))


def _sleeved(design: Design) -> tuple[Trench, ...]:
    """Return one trench for all sleeves that carry the same pipe at the same cover under the same paving."""
    alike: dict[tuple[object, ...], list[tuple[Sleeve, Pipe]]] = {}
    for sleeve in sorted(design.sleeves, key=lambda s: natural(s.name)):
        pipe = design.pipe(sleeve.pipe)
        if pipe is not None and sleeve.state != "removed":
            covers = tuple(q.si if q else None for q in (pipe.cover, sleeve.cover, sleeve.extends))
            key = (sleeve.under, sleeve.size, pipe.size, covers)
            alike.setdefault(key, []).append((sleeve, pipe))
    return tuple(
        Trench(pairs[0][1], tuple(p.name for _, p in pairs), (), pairs[0][0], tuple(s.name for s, _ in pairs))
        for pairs in alike.values()
    )


def trench_of(design: Design, shown: str) -> Trench | None:
    """Return the trench whose section is drawn for an object (`Group.object` of the detail), or None."""
    drawn_for = ((t.sleeve.name if t.sleeve else t.pipe.name, t) for t in trenches(design))
    return next((t for name, t in drawn_for if name == shown), None)
