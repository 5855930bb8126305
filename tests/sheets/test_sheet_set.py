"""The composed set of the residential example, measured as a reviewer would: with a scale and a ruler."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest

from plangen.quantity.dimension import FOOT_M
from plangen.render.svg import svg_text
from plangen.sheets.marks import Area, Group, Line, Sheet, SheetSet
from plangen.sheets.paper import paper
from plangen.sheets.pens import lettering
from tests.benchmarks.make_design import design_text
from tests.sheets.sheet_set import composed, composed_example, composed_text, groups, ink_box, sheet, texts

METRIC = (("sheet          ansi-b", "sheet          a3"), ("units          us", "units          metric"))


@pytest.fixture(scope="module")
def sheets() -> SheetSet:
    return composed()[1]


def _outside(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[2] <= b[0] + 0.05 or b[2] <= a[0] + 0.05 or a[3] <= b[1] + 0.05 or b[3] <= a[1] + 0.05


def _all_texts(page: Sheet) -> list[tuple[str, tuple[float, float, float, float]]]:
    return [(t.text, ink_box(t)) for group in page.marks for t in texts(group) if t.text.strip()]


def test_two_house_corners_are_at_the_right_distance_on_paper(sheets: SheetSet) -> None:
    # the example's house is 48 ft by 32 ft; at 1 in = 10 ft its diagonal is 5.769 in (arithmetic)
    plan = sheet(sheets, "LI101")
    house = next(g for top in plan.marks for g in groups(top) if g.role == "area-building")
    outline = next(m for m in house.marks if isinstance(m, Area) and m.pen == "building").points
    diagonal = math.dist(outline[0], outline[2])
    assert plan.paper_per_ground == pytest.approx(1000 / 120)
    assert diagonal == pytest.approx(math.hypot(48, 32) * FOOT_M * 1000 / 120, abs=0.1)


LARGE = (("sheet          ansi-b", "sheet          arch-d"),)
EXAMPLES = {
    "residential": lambda: composed(),
    "residential on A3, metric": lambda: composed(*METRIC),
    "residential on ARCH D": lambda: composed(*LARGE),
    "commercial": lambda: composed_example("commercial"),
    "unmeasured": lambda: composed_example("unmeasured"),
    # three hundred heads stand in the browser's lint, with --long
    "forty heads": lambda: composed_text(design_text(40)),
}


@pytest.mark.parametrize("example", EXAMPLES)
def test_no_text_lies_on_text_nor_outside_its_sheet(example: str) -> None:
    _, found = EXAMPLES[example]()
    for page in found.sheets:
        boxes = _all_texts(page)
        for words, box in boxes:
            assert box[0] > 0 and box[2] < page.width_mm, (page.id, words)
            assert box[1] > 0 and box[3] < page.height_mm, (page.id, words)
        for (a, box_a), (b, box_b) in combinations(boxes, 2):
            assert _outside(box_a, box_b), (page.id, a, b)


def test_nothing_is_lettered_below_the_floor(sheets: SheetSet) -> None:
    floor = lettering(sheets.family).floor
    assert min(t.height for page in sheets.sheets for g in page.marks for t in texts(g)) >= floor - 1e-9


def test_legend_lists_the_symbols_used_and_no_other(sheets: SheetSet) -> None:
    roles = {
        g.role for page in sheets.sheets if page.id != "LI001" for top in page.marks for g in groups(top)
    }
    used = {role.removeprefix("symbol-") for role in roles if role.startswith("symbol-")}
    lines = {d.kind for page in sheets.sheets for d in page.inventory if d.what == "line"}
    listed = {d.kind for d in sheet(sheets, "LI001").inventory if d.what == "legend-entry"}
    assert listed == used | lines


def test_every_object_of_the_work_is_lettered_on_the_plan_or_in_the_view_that_enlarges_it() -> None:
    # what stands in a frame of the plan is lettered in its enlarged view: see test_enlarged
    design, found = composed()
    entries = (*sheet(found, "LI101").inventory, *sheet(found, "LI111").inventory)
    lettered = {d.object for d in entries if d.what == "label"}
    for thing in (*design.devices, *design.heads, *design.pipes, *design.sleeves, *design.drips):
        assert thing.name in lettered, thing.name
    sized = {d.object for d in entries if d.what == "pipe-size" or d.kind.startswith("pipe-")}
    assert {p.name for p in design.pipes} <= sized


def test_every_sheet_has_frame_caution_and_blank_agency_room(sheets: SheetSet) -> None:
    for page in sheets.sheets:
        kinds = {d.what for d in page.inventory}
        assert {"title-block", "caution", "approval-box", "seal-box", "revision-block"} <= kinds, page.id


def test_sheet_ids_are_unique_and_start_with_the_cover(sheets: SheetSet) -> None:
    ids = [page.id for page in sheets.sheets]
    assert len(set(ids)) == len(ids)
    assert ids[0] == "G-001" and ids[-1] == "LI801"


def test_moving_one_head_moves_only_its_own_marks_on_the_plan() -> None:
    # half a foot along its lateral; nothing else of the design changes
    _, before = composed()
    _, after = composed(
        ("head H35       rotor-30h, at (35, 113)", "head H35       rotor-30h, at (35.5, 113)")
    )

    def by_object(found: SheetSet) -> dict[str, list[Group]]:
        out: dict[str, list[Group]] = {}
        for top in sheet(found, "LI101").marks:
            for group in groups(top):
                if group.object:
                    out.setdefault(group.object, []).append(group)
        return out

    old, new = by_object(before), by_object(after)
    changed = {name for name in old if old[name] != new.get(name)}
    # the zone's tag stands at the middle of its heads
    assert changed <= {"H35", "Z3"} and "H35" in changed


def test_svg_is_well_formed_the_same_each_time_and_of_the_page_size(sheets: SheetSet) -> None:
    for page in sheets.sheets:
        text = svg_text(page)
        assert text == svg_text(page)
        root = ET.fromstring(text)
        assert root.get("width") == f"{page.width_mm:g}mm"
        ids = [e.get("id") for e in root.iter() if e.get("id")]
        assert len(ids) == len(set(ids)), page.id


def test_plan_marks_stay_inside_the_frame(sheets: SheetSet) -> None:
    left, top, right, bottom = paper(sheets.family).frame
    for page in sheets.sheets:
        for group in page.marks[1:]:
            for words, box in [(t.text, ink_box(t)) for t in texts(group)]:
                assert left < box[0] and box[2] < right and top < box[1] and box[3] < bottom, (page.id, words)


def test_a_label_without_room_gets_a_key_and_the_lot_stays_on_one_sheet() -> None:
    # the crowded lots of the examples fit one sheet at 1 in = 10 ft: what finds no room is keyed and told
    for example in ("unmeasured", "broken"):
        design, found = composed_example(example)
        plans = [page.id for page in found.sheets if page.title.startswith("Irrigation plan")]
        assert plans == ["LI101"], example
        lines = {t.text for g in sheet(found, "LI101").marks for t in texts(g)}
        keys = {line for line in lines if re.fullmatch(r"K\d+", line)}
        told = " ".join(line for line in lines if line.startswith("Keys: "))
        assert all(f"{key} " in told for key in keys)
        entries = (*sheet(found, "LI101").inventory, *sheet(found, "LI111").inventory)
        lettered = {d.object for d in entries if d.what == "label"}
        assert {p.name for p in design.pipes} <= lettered
        sized = (d for d in entries if d.what == "pipe-size" or d.kind.startswith("pipe-"))
        assert {p.name for p in design.pipes} <= {d.object for d in sized}


def test_states_are_told_apart_and_explained_by_the_legend() -> None:
    _, found = composed(
        ("on L13, arc east to south", "on L13, arc east to south, removed"),
        ("on L11, full circle", "on L11, full circle, existing"),
        ("on L15, arc north to east", "on L15, arc north to east, relocated"),
    )
    entries = {(d.kind, d.object) for d in sheet(found, "LI101").inventory if d.what == "line"}
    assert {("state-removed", "H14"), ("state-existing", "H12"), ("state-relocated", "H16")} <= entries
    listed = {d.kind for d in sheet(found, "LI001").inventory if d.what == "legend-entry"}
    assert {"state-removed", "state-existing", "state-relocated"} <= listed
    drawn = {
        g.object: {getattr(m, "pen", "") for m in g.marks}
        for top in sheet(found, "LI101").marks
        for g in groups(top)
        if g.role == "symbol-spray"
    }
    assert "cross" in drawn["H14"] and "symbol-existing" in drawn["H12"]
    assert "symbol-relocated" in drawn["H16"] and drawn["H11"] == {"symbol", ""}


def test_the_wire_is_drawn_from_the_controller_round_the_house_to_a_trench(sheets: SheetSet) -> None:
    # C1 is at (62, 48) on the east wall, x = 62 from y = 46 to y = 78; L32 runs along y = 83 from x = 65 (by
    # hand): 0.3 m off the wall and 35 ft north, and not through the house
    page = sheet(sheets, "LI101")
    lines = [m for top in page.marks for g in groups(top) if g.role == "wire" for m in g.marks]
    (way,) = (m.points for m in lines if isinstance(m, Line))
    length_m = sum(math.dist(a, b) for a, b in pairwise(way)) / (1000 / 120)
    assert length_m == pytest.approx(0.3 + 35 * FOOT_M, abs=0.01)
    house = next(g for top in page.marks for g in groups(top) if g.role == "area-building")
    outline = next(m for m in house.marks if isinstance(m, Area) and m.pen == "building").points
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    for a, b in pairwise(way):
        for i in range(101):
            x, y = (a[k] + (b[k] - a[k]) * i / 100 for k in (0, 1))
            assert not (min(xs) + 0.1 < x < max(xs) - 0.1 and min(ys) + 0.1 < y < max(ys) - 0.1)
