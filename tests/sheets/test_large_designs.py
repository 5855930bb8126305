"""Large designs draw: sheets can be read, each head, device and pipe is lettered; leaders hardly cross."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest

from plangen.render.svg import svg_text
from plangen.sheets.marks import XY, Group, Line, Sheet
from tests.benchmarks.make_design import design_text
from tests.sheets.sheet_set import composed_text

HEADS = (40, pytest.param(1000, marks=pytest.mark.long), pytest.param(2000, marks=pytest.mark.long))


@pytest.mark.parametrize("heads", HEADS)
def test_a_large_design_is_drawn_and_lettered_whole(heads: int) -> None:
    design, found = composed_text(design_text(heads))
    assert len(design.heads) == heads
    assert len({page.id for page in found.sheets}) == len(found.sheets)
    for page in found.sheets:
        assert ElementTree.fromstring(svg_text(page)).tag.endswith("svg"), page.id
    plans = [page for page in found.sheets if page.title.startswith("Irrigation plan")]
    lettered = {noted.object for page in plans for noted in page.inventory if noted.what == "label"}
    # what is drawn is named beside it: common practice, no source
    work = {thing.name for group in (design.heads, design.devices, design.pipes) for thing in group}
    assert not work - lettered
    crossing = [pair for page in plans for pair in combinations(_leaders(page), 2) if _cross(*pair)]
    # common practice, no source: leaders do not cross; in a crowd by a match line a few find no other way
    assert len(crossing) <= heads // 100


def _leaders(page: Sheet) -> list[tuple[XY, XY]]:
    return [run for group in page.marks for line in _lines(group) for run in pairwise(line.points)]


def _lines(group: Group) -> Iterator[Line]:
    for mark in group.marks:
        if isinstance(mark, Group):
            yield from _lines(mark)
        elif isinstance(mark, Line) and group.role == "leader":
            yield mark


def _cross(one: tuple[XY, XY], two: tuple[XY, XY]) -> bool:
    """Return whether each segment has its ends on both sides of the other."""

    def side(p: XY, q: XY, r: XY) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    (a, b), (c, d) = one, two
    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9
