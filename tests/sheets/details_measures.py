"""Reading marks back: groups by role, texts, boxes of texts. For the tests of details and diagrams only."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from plangen.hydraulics.analyse import analyse
from plangen.hydraulics.results import Hydraulics
from plangen.layout.measure import measure
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Group, Text
from plangen.sheets.panel import AnyMark, Panel
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile

EXAMPLE = Path(__file__).parents[2] / "examples" / "residential" / "design.plan"
ROOM = (330.0, 215.0)
Stages = tuple[Design, Surface, Hydraulics, Layout]


@cache
def stages(*changes: tuple[str, str]) -> Stages:
    """Return the stages of the residential design with texts replaced, each of which must be there."""
    design, surface = drawn_from(*changes)
    hydraulics = analyse(design, surface)
    return design, surface, hydraulics, measure(design, surface, hydraulics)


@cache
def drawn_from(*changes: tuple[str, str]) -> tuple[Design, Surface]:
    """Return the residential design with texts replaced, each of which must be there, and its ground."""
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        # a line break or a wider column in the example changes nothing that is meant here
        pattern = re.compile(r"\s+".join(map(re.escape, old.split())))
        assert pattern.search(text), f"the example no longer says {old!r}"
        text = pattern.sub(new.strip().replace("\\", r"\\"), text)
    outcome = read_design(SourceFile.of("design.plan", text))
    design = outcome.value
    assert design is not None, outcome
    return design, Surface.of(design)


def of_kind(kind: str) -> tuple[tuple[str, str], ...]:
    """Return the changes that turn the example's assembly into another kind."""
    words = {"rp": "relief port 28 in above grade", "dc": "height 28 in", "air-gap": "height 28 in"}
    said = kind.replace("-", " ")
    return (
        ("assembly BF1 pvb-1, pvb,", f"assembly BF1 pvb-1, {said},"),
        ("assembly pvb size", f"assembly {said}\n  size"),
        ("critical level 28 in above grade", words.get(kind, "critical level 28 in above grade")),
    )


def groups(mark: AnyMark, role: str, name: str | None = None) -> Iterator[Group]:
    """Yield the groups of a role (and object) inside a mark."""
    if isinstance(mark, Group):
        if mark.role == role and (name is None or mark.object == name):
            yield mark
        for inner in mark.marks:
            yield from groups(inner, role, name)


def texts(mark: AnyMark) -> Iterator[Text]:
    """Yield every text inside a mark."""
    if isinstance(mark, Group):
        for inner in mark.marks:
            yield from texts(inner)
    elif isinstance(mark, Text):
        yield mark


def words(panel: Panel) -> str:
    """Return all the texts of a panel as one."""
    return " ".join(t.text for t in texts(panel.group))


def box(text: Text) -> tuple[float, float, float, float]:
    """Return (left, top, right, bottom) of a text, capitals only, turned as it stands."""
    width = text_width_mm(text.text, text.height, text.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    angle = math.radians(text.angle)
    corners = [(x, y) for x in (left, left + width) for y in (-text.height, 0.0)]
    xs = [text.x + x * math.cos(angle) - y * math.sin(angle) for x, y in corners]
    ys = [text.y + x * math.sin(angle) + y * math.cos(angle) for x, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def clashes(panel: Panel) -> list[tuple[str, str]]:
    """Return pairs of texts that lie on one another, and texts outside the panel paired with ''."""
    found = [(t.text, box(t)) for t in texts(panel.group)]
    out = []
    for i, (one, a) in enumerate(found):
        if a[0] < -0.3 or a[1] < -0.3 or a[2] > panel.width_mm + 0.3 or a[3] > panel.height_mm + 0.3:
            out.append((one, ""))
        for two, b in found[i + 1 :]:
            if a[0] < b[2] - 0.05 and b[0] < a[2] - 0.05 and a[1] < b[3] - 0.05 and b[1] < a[3] - 0.05:
                out.append((one, two))
    return out
