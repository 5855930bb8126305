"""The submittal checklist: each thing a permit office asks for, and where this packet shows it. Pure.

What is really drawn counts (the inventory of marks), not a promise. What is not found is said to be not
provided; what the design has none of is said so, for the reviewer to judge.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from plangen.packet.anchors import sheet_anchor
from plangen.packet.checklist_items import DRAWING, PACKET, Item
from plangen.packet.contents import Contents
from plangen.packet.tables import Cell

SHOWN, NONE, MISSING = "shown", "none in the design", "not provided"
_MOST = 4


@dataclass(frozen=True, slots=True)
class Line:
    """One item: its number, what is asked, who asks, how it stands, and where it is shown."""

    id: str
    words: str
    asked: str
    state: str
    where: tuple[Cell, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Part:
    """One half of the list."""

    title: str
    lines: tuple[Line, ...]


def checklist(contents: Contents) -> tuple[Part, ...]:
    """Return the list with each item located in the packet or reported as not provided."""
    halves = (("On the drawing", "A", DRAWING), ("In the packet", "B", PACKET))
    return tuple(
        Part(title, tuple(_line(f"{letter}{n}", item, contents) for n, item in enumerate(items, start=1)))
        for title, letter, items in halves
    )


def _line(number: str, item: Item, contents: Contents) -> Line:
    where = _sheets(item, contents) + _sections(item, contents)
    if not _all_marks(item, contents):
        where = ()
    lacking = NONE if item.kinds and not _has(item, contents) else MISSING
    state = SHOWN if where else lacking
    return Line(number, item.words, item.asked, state, where, item.note)


def _marked(mark: str, contents: Contents) -> list[Cell]:
    """Return the sheets that bear a mark, given as `what` or `what/start of kind`."""
    what, _, kind = mark.partition("/")
    return [
        Cell(f"sheet {s.id}", sheet_anchor(s.id))
        for s in contents.sheets.sheets
        if any(d.what == what and d.kind.startswith(kind) for d in s.inventory)
    ]


def _sheets(item: Item, contents: Contents) -> tuple[Cell, ...]:
    found = dict.fromkeys(cell for mark in (*item.marks, *item.any_marks) for cell in _marked(mark, contents))
    cells = tuple(found)
    more = len(cells) - _MOST
    return (*cells[:_MOST], Cell(f"and {more} more sheets")) if more > 1 else cells


def _all_marks(item: Item, contents: Contents) -> bool:
    """Return whether every mark of the item is drawn, and one of those of which one is enough."""
    every = all(_marked(mark, contents) for mark in item.marks)
    return every and (not item.any_marks or any(_marked(mark, contents) for mark in item.any_marks))


def _sections(item: Item, contents: Contents) -> tuple[Cell, ...]:
    return tuple(
        Cell(words, section_of(anchor)) for anchor, words in item.sections if _filled(anchor, contents)
    )


def _has(item: Item, contents: Contents) -> bool:
    design = contents.design
    kinds = {d.kind for d in design.devices} | {h.part.kind for h in design.heads}
    kinds |= {"sleeve"} if design.sleeves else set()
    return bool(set(item.kinds) & kinds)


# Sections that exist on every page but may have nothing to show: what must be there for them to count.
_CONDITIONS: dict[str, Callable[[Contents], bool]] = {
    "application": lambda c: bool(c.design.project.address and c.design.project.owner),
    "licence": lambda c: bool(c.design.project.preparer and c.design.project.preparer.licence),
    "watering": lambda c: any(s.minutes_per_week is not None for s in c.layout.schedule),
    "season": lambda c: c.layout.year is not None,
    "shortfalls": lambda c: any(a.grid for a in c.layout.coverage),
    "pressure": lambda c: c.hydraulics.worst is not None,
    "listing": lambda c: (
        bool(c.design.standing("assembly"))
        and all(a.listing or (a.part and a.part.listing) for a in c.design.standing("assembly"))
    ),
    "static": lambda c: c.design.source is not None and c.design.source.static is not None,
    "test-report": lambda c: bool(c.design.standing("assembly")),
    "compliance": lambda c: any(d.kind == "compliance" for d in c.duties),
    "fee": lambda c: any(d.kind == "fee" for d in c.duties),
    "scope": lambda c: bool(c.design.project.scope),
    "hazard": lambda c: bool(c.design.answers),
}
# Facts that stand inside a section of another name.
_INSIDE = {
    "licence": "application",
    "fee": "application",
    "listing": "application",
    "static": "application",
    "season": "watering",
    "shortfalls": "watering",
}


def _filled(anchor: str, contents: Contents) -> bool:
    condition = _CONDITIONS.get(anchor)
    return condition is None or condition(contents)


def section_of(anchor: str) -> str:
    """Return the section of the page that an item's anchor leads to."""
    return _INSIDE.get(anchor, anchor)
