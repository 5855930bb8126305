"""What an enlarged view letters is framed on the plan, called by number and sheet, and called back.

That a crowded part is framed and drawn larger elsewhere, and not lettered twice, is common practice, no
source. Scales are read off the titles.
"""

from __future__ import annotations

import re

import pytest

from plangen.sheets.marks import Group, Line, Sheet
from tests.sheets.sheet_set import (
    RESIDENTIAL,
    composed,
    composed_example,
    composed_text,
    groups,
    sheet,
    texts,
)


def _framed(plan: Sheet) -> dict[str, set[str]]:
    """Return what the notes of a plan say is lettered in which view alone."""
    said = " ".join(t.text for g in plan.marks for t in texts(g))
    found = re.findall(r"lettered on the enlarged plan (\d+/LI\d+) alone: ([\w, ]+)\.", said)
    return {view: set(names.split(", ")) for view, names in found}


def _view(page: Sheet, number: str) -> Group:
    views = (g for top in page.marks for g in groups(top) if g.role == "view")
    titled = ((v, next(g for g in groups(v) if g.role == "view-title")) for v in views)
    return next(view for view, title in titled if any(t.text == number for t in texts(title)))


def _labels(of: Group) -> set[str]:
    return {g.object for g in groups(of) if g.role == "label"}


def _denominator(words: str) -> int:
    return int(re.search(r"1:(\d+)", words)[1])  # type: ignore[index]


@pytest.mark.parametrize("example", ["residential", "broken", "unmeasured", "replacement"])
def test_what_is_framed_is_lettered_in_the_view_it_refers_to(example: str) -> None:
    design, found = composed() if example == "residential" else composed_example(example)
    plan = sheet(found, "LI101")
    framed = _framed(plan)
    frames = [
        g for top in plan.marks for g in groups(top) if g.role == "enlarged" and isinstance(g.marks[0], Line)
    ]
    assert framed and len(frames) == len(framed)
    lettered = {name for top in plan.marks for name in _labels(top)}
    for words, names in framed.items():
        number, target = words.split("/")
        view = _view(sheet(found, target), number)
        assert names <= _labels(view) and not names & lettered
        # the view shows it at twice the scale or more, and says which plan calls it
        assert _denominator(" ".join(t.text for t in texts(view))) * 2 <= _denominator(plan.scale)
        assert any(t.text == "CALLED ON LI101" for t in texts(view))
        assert target in {link.to_sheet for link in plan.callouts}
        assert f"SEE {words}" in {t.text for top in plan.marks for t in texts(top)}
    work = (*design.devices, *design.heads, *design.pipes, *design.sleeves, *design.drips)
    assert {thing.name for thing in work} <= lettered.union(*framed.values())


def test_a_frame_holds_what_it_leaves_out_and_only_pipes_and_tees() -> None:
    design, found = composed()
    plan = sheet(found, "LI101")
    ((_, names),) = _framed(plan).items()
    (frame,) = (
        g for top in plan.marks for g in groups(top) if g.role == "enlarged" and isinstance(g.marks[0], Line)
    )
    xs, ys = zip(*frame.marks[0].points, strict=True)  # type: ignore[union-attr]
    for top in plan.marks:
        for group in groups(top):
            if group.object in names and group.role.startswith("pipe-"):
                for line in (m for m in group.marks if isinstance(m, Line)):
                    assert all(min(xs) < x < max(xs) and min(ys) < y < max(ys) for x, y in line.points)
    kinds = {d.name: d.kind for d in design.devices}
    assert {kinds.get(name, "pipe") for name in names} == {"pipe", "tee"}


def test_a_plan_with_room_letters_all_itself() -> None:
    text, count = re.subn(r"(?m)^(  sheet +)\S+$", r"\g<1>arch-d", RESIDENTIAL)
    assert count == 1
    _, found = composed_text(text)
    plan = sheet(found, "LI101")
    assert _denominator(plan.scale) == 60 and not _framed(plan)
    assert {"P3", "N1"} <= {name for top in plan.marks for name in _labels(top)}


def test_what_stands_in_line_behind_the_assembly_is_in_its_view() -> None:
    # master valve, flow sensor and injector follow the assembly before the first tee
    _, found = composed_example("commercial")
    pages = [page for page in found.sheets if page.title.startswith("Connection plan")]
    views = [g for page in pages for top in page.marks for g in groups(top) if g.role == "view"]
    (view,) = (v for v in views if v.title == "CONNECTION AT THE ASSEMBLY")
    assert {"BF1", "MV1", "FS1", "IN1", "N1", "P3", "P4", "P5", "P6"} <= _labels(view)
