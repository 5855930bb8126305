"""Callouts lead from the plan to a detail and from the detail back, in words and as links."""

from __future__ import annotations

import re

import pytest

from plangen.sheets.marks import Group, Sheet, SheetSet
from tests.sheets.sheet_set import composed, composed_example, groups, sheet, texts


def _named(page: Sheet, role: str) -> list[Group]:
    return [g for top in page.marks for g in groups(top) if g.role == role]


def _details(page: Sheet) -> dict[str, Group]:
    """Return the numbered views of a sheet by the number in their bubble."""
    found = {}
    for view in _named(page, "view"):
        title = next(g for g in groups(view) if g.role == "view-title")
        found[next(t.text for t in texts(title))] = view
    return found


@pytest.mark.parametrize("example", ["residential", "broken", "unmeasured"])
def test_every_callout_resolves_to_a_detail_of_its_object_and_back(example: str) -> None:
    found: SheetSet = composed()[1] if example == "residential" else composed_example(example)[1]
    plans = [page for page in found.sheets if page.paper_per_ground > 0]
    called = set()
    for plan in plans:
        for bubble in _named(plan, "callout"):
            number, target = (t.text for t in texts(bubble))
            view = _details(sheet(found, target))[number]
            assert bubble.object in {g.object for g in groups(view)}
            back = " ".join(t.text for g in groups(view) if g.role == "called-on" for t in g.marks)  # type: ignore[union-attr]
            assert plan.id in back
            assert target in {link.to_sheet for link in plan.callouts}
            assert plan.id in {link.to_sheet for link in sheet(found, target).callouts}
            called.add((target, number))
    assert called
    for page in found.sheets:
        if not page.id.startswith("LI5"):
            continue
        for number, view in _details(page).items():
            back = " ".join(t.text for g in groups(view) if g.role == "called-on" for t in texts(g))
            callers = re.findall(r"LI\d+", back)
            assert callers, f"nothing leads to {number}/{page.id}"
            for caller in callers:
                named = [t.text for g in sheet(found, caller).marks for t in texts(g)]
                bubbled = caller == "LI101" and (page.id, number) in called
                assert bubbled or any(f"{number}/{page.id}" in words for words in named)


def test_the_assembly_is_called_where_it_stands() -> None:
    plan = sheet(composed()[1], "LI101")
    bubble = next(g for g in _named(plan, "callout") if g.object == "BF1")
    assert [t.text for t in texts(bubble)] == ["1", "LI501"]
