"""Working an example out again and again: what does not change is not worked out again.

The studies of the water, the takeoff, the year and the wire are left out: no rule reads them. Networks,
outlines and places on the ground met before keep what was found for them, each by a pure function of values
that compare by what they hold. A rule whose lists of rows are all as they were says again what it said. Where
only numbers are compared, findings are put in no words and gather no evidence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any
from unittest.mock import patch

from plangen.checking.check import _drafts as drafts_of
from plangen.checking.compose_finding import Draft
from plangen.checking.packs import CheckedPack, Rule
from plangen.checking.rows import FactRow, FactRows
from plangen.geometry.point import Point
from plangen.geometry.width import largest_circle
from plangen.hydraulics.solve import solve
from plangen.layout.grid import grid_over, rain
from plangen.terrain.surface import Surface, Weights
from plangen.text.source import Span

_WEIGHTS = Surface._weights
_PLACES: dict[tuple[Any, Point], Weights | None] = {}


def _weights(surface: Surface, point: Point) -> Weights | None:
    """Return what the places of the grades alone decide; heights and triangles stand in no other order."""
    key = (surface.triangles, point)
    if key not in _PLACES:
        _PLACES[key] = _WEIGHTS(surface, point)
    return _PLACES[key]


def _nothing(*_: object) -> None:
    return None


_KEPT: dict[str, Callable[..., Any]] = {
    "plangen.hydraulics.analyse.solve": lru_cache(maxsize=512)(solve),
    "plangen.facts.area_shape.largest_circle": lru_cache(maxsize=512)(largest_circle),
    "plangen.layout.coverage.grid_over": lru_cache(maxsize=512)(grid_over),
    "plangen.layout.coverage.rain": lru_cache(maxsize=4096)(rain),
    "plangen.terrain.surface.Surface._weights": _weights,
    "plangen.hydraulics.analyse.study": _nothing,
    "plangen.layout.measure.measure_takeoff": _nothing,
    "plangen.layout.measure.measure_year": _nothing,
    "plangen.layout.measure.measure_wire_drops": _nothing,
}
_NO_WORDS: dict[str, Callable[..., Any]] = {
    "plangen.checking.compose_finding.gather_evidence": lambda *_: ((), ()),
    "plangen.checking.compose_finding.sentence": lambda *_: "",
}


@contextmanager
def kept(rules: Rules, *, words: bool) -> Iterator[None]:
    """Keep what was worked out before; without `words`, findings have neither sentence nor evidence."""
    with ExitStack() as stack:
        for where, what in (_KEPT if words else _KEPT | _NO_WORDS).items():
            stack.enter_context(patch(where, what))
        stack.enter_context(patch("plangen.checking.check._drafts", rules.drafts))
        yield


@dataclass(frozen=True, slots=True)
class _Told:
    """What a rule said at first, and the lists of rows it looked at to say so."""

    drafts: tuple[Draft, ...]
    lists: dict[str, tuple[list[FactRow], bool]]


class _Watched(FactRows):
    """Rows that note which lists were looked at."""

    __slots__ = ("looked",)

    def __init__(self, facts: FactRows) -> None:
        self._by_relation, self._complete = facts._by_relation, facts._complete
        self.looked: set[str] = set()

    def of(self, relation: str) -> list[FactRow]:
        self.looked.add(relation)
        return super().of(relation)

    def complete(self, relation: str) -> bool:
        self.looked.add(relation)
        return super().complete(relation)


class Rules:
    """The rules of one example: those whose rows are all as they were at first say what they said."""

    def __init__(self) -> None:
        """Begin with nothing said."""
        self.told: dict[tuple[str, str], _Told] = {}

    def drafts(
        self, packs: Sequence[CheckedPack], rows: FactRows, system: str, home: Span | None
    ) -> list[Draft]:
        """Return what the checker's own function of that name does, one rule at a time."""
        same: dict[str, bool] = {}
        found: list[Draft] = []
        seen: set[Rule] = set()
        for pack in packs:
            for rule in (r for r in pack.rules if r not in seen):
                seen.add(rule)
                told, alone = self.told.get((pack.name, rule.name)), replace(pack, rules=(rule,))
                if told is not None and all(_same(r, was, rows, same) for r, was in told.lists.items()):
                    found += told.drafts
                    continue
                watched = _Watched(rows)
                here = drafts_of([replace(alone, switched_off=())], watched, system, home)
                lists = {r: (rows.of(r), rows.complete(r)) for r in watched.looked}
                self.told.setdefault((pack.name, rule.name), _Told(tuple(here), lists))
                found += here
            found += drafts_of([replace(pack, rules=())], rows, system, home)
        return found


def _same(relation: str, was: tuple[list[FactRow], bool], rows: FactRows, known: dict[str, bool]) -> bool:
    if relation not in known:
        known[relation] = was == (rows.of(relation), rows.complete(relation))
    return known[relation]
