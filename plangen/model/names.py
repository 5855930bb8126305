"""All names of a design, what they are of, and how a name used is resolved."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bound import Bound, BoundBlock, Ref
from plangen.text.source import Span
from plangen.text.suggest import closest_name, listed


def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sort key under which P2 comes before P10."""
    return tuple((0, int(t), "") if t.isdigit() else (1, 0, t) for t in re.findall(r"\d+|\D+", name))


# Looking for a like name takes time; after so many unknown names nobody reads on.
MOST_SUGGESTED = 50


@dataclass(frozen=True, slots=True)
class Entry:
    """One named object: its kind (lead words), its statement (None for a zone) and the zone it is in."""

    kind: str
    span: Span
    bound: Bound | None
    zone: str = ""


class NameTable:
    """Names to objects. A name whose statement could not be read is known and broken: it stays silent."""

    def __init__(
        self, problems: Problems, broken: Iterable[str], whole: bool, nameless: Iterable[str] = ()
    ) -> None:
        self.problems = problems
        self.entries: dict[str, Entry] = {}
        self.broken = set(broken)
        self.whole = whole
        self.unknown: set[str] = set()
        self._nameless = list(nameless)

    def add_blocks(self, blocks: Iterable[BoundBlock]) -> None:
        """Enter every name of the blocks; the second of two equal names gives a message."""
        for block in blocks:
            if block.spec.lead == "zone" and block.name:
                self._add(block.name, Entry("zone", block.head, None))
            zone = block.name if block.spec.lead == "zone" else ""
            for bound in block.statements:
                if bound.name and bound.name_span is not None:
                    self._add(bound.name, Entry(bound.kind, bound.name_span, bound, zone))

    def _add(self, name: str, entry: Entry) -> None:
        first = self.entries.get(name)
        if first is None:
            self.entries[name] = entry
            return
        self.problems.error(
            "PG2013",
            f"the name `{name}` is used twice",
            entry.span,
            help="give one of them another name",
            labels=(Label(first.span, f"first defined here, as {article(first.kind)}"),),
        )

    def find(self, ref: Ref, kinds: tuple[str, ...], needed: str) -> Entry | None:
        """Return the object of a name; None after a message, or silently if the name is broken.

        `needed` says in words what is wanted (`a valve`).
        """
        entry = self.entries.get(ref.name)
        if entry is not None:
            if kinds and entry.kind not in kinds:
                self.problems.error(
                    "PG2015",
                    f"`{ref.name}` is {article(entry.kind)}; {needed} is needed",
                    ref.span,
                    labels=(Label(entry.span, "defined here"),),
                    help=self._similar(ref.name, kinds),
                )
                return None
            return entry
        if ref.name in self.broken or not self.whole or ref.name in self.unknown:
            return None
        for kind in self._nameless:
            if not kinds or kind in kinds:
                # A statement of this kind lacks its name: most likely this one.
                self._nameless.remove(kind)
                self.broken.add(ref.name)
                return None
        self.unknown.add(ref.name)
        similar = self._similar(ref.name, kinds)
        self.problems.error(
            "PG2014",
            f"nothing is named `{ref.name}`",
            ref.span,
            expected=f"the name of {needed.removeprefix('the name of ')}",
            help=similar,
        )
        return None

    def _similar(self, name: str, kinds: tuple[str, ...]) -> str:
        if len(self.unknown) > MOST_SUGGESTED:
            return ""
        legal = [n for n, e in self.entries.items() if not kinds or e.kind in kinds]
        near = closest_name(name, legal)
        return f"a similar name exists: `{near}`" if near else ""


def article(kind: str) -> str:
    """Return `a valve`, `an isolation valve`."""
    told = {
        "isolation": "isolation valve",
        "tap": "tap",
        "house": "house",
        "turf": "lawn",
        "bed": "planting bed",
        "lot": "lot",
        "paving": "paving",
        "assembly": "backflow assembly",
        "master-valve": "master valve",
        "flow-sensor": "flow sensor",
        "quick-coupler": "quick coupler",
        "blow-out": "blow-out fitting",
        "septic-field": "septic field",
        "septic-tank": "septic tank",
    }.get(kind, kind)
    return f"{'an' if told[0] in 'aeiou' else 'a'} {told}"


def needed(kinds: tuple[str, ...]) -> str:
    """Return what a name must be of, in words."""
    if len(kinds) > 6:
        return "a device or tee"
    return listed(article(k) for k in kinds)
