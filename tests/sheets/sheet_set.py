"""The example designs taken through to sheets, once for each text."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from plangen.hydraulics.analyse import analyse
from plangen.layout.measure import measure
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.compose import compose
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Group, Sheet, SheetSet, Text
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
RESIDENTIAL = (EXAMPLES / "residential" / "design.plan").read_text(encoding="utf-8")


@cache
def composed(*changes: tuple[str, str]) -> tuple[Design, SheetSet]:
    """Return the residential example with texts replaced, read and composed."""
    text = RESIDENTIAL
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return _through(text)


@cache
def composed_example(name: str) -> tuple[Design, SheetSet]:
    """Return another shipped example, read and composed."""
    return _through((EXAMPLES / name / "design.plan").read_text(encoding="utf-8"))


@cache
def composed_text(text: str) -> tuple[Design, SheetSet]:
    """Return any design, read and composed."""
    return _through(text)


def _through(text: str) -> tuple[Design, SheetSet]:
    design = read_design(SourceFile.of("design.plan", text)).value
    assert design is not None
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    layout = measure(design, surface, hydraulics)
    return design, compose(design, surface, hydraulics, layout, ("Pack, 2026",), "0123456789ab")


def sheet(sheets: SheetSet, sheet_id: str) -> Sheet:
    """Return the sheet of that id."""
    return next(s for s in sheets.sheets if s.id == sheet_id)


def texts(group: Group) -> Iterator[Text]:
    """Return every text of a group."""
    for mark in group.marks:
        if isinstance(mark, Text):
            yield mark
        elif isinstance(mark, Group):
            yield from texts(mark)


def groups(group: Group) -> Iterator[Group]:
    """Return a group and all groups within it."""
    yield group
    for mark in group.marks:
        if isinstance(mark, Group):
            yield from groups(mark)


def ink_box(text: Text) -> tuple[float, float, float, float]:
    """Return the box of a text's capitals on its baseline, turned texts included."""
    width = text_width_mm(text.text, text.height, text.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    if text.angle == -90.0:
        return text.x - text.height, text.y - left - width, text.x, text.y - left
    assert text.angle == 0.0
    return text.x + left, text.y - text.height, text.x + left + width, text.y
