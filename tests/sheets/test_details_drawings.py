"""Trench sections, boxes, heads, connection plan: true to the design, and no text on another."""

from __future__ import annotations

import re

import pytest

from plangen.sheets.connection import connection_panels
from plangen.sheets.details import details_panels
from plangen.sheets.marks import Circle, Line
from plangen.sheets.panel import Panel
from tests.sheets.details_measures import ROOM, clashes, groups, stages, words

INCH_MM = 25.4


def all_details(*changes: tuple[str, str], system: str = "us", family: str = "ansi-b") -> tuple[Panel, ...]:
    """Return every detail of the residential design with texts replaced."""
    design, surface, _, layout = stages(*changes)
    return details_panels(design, surface, layout, system, family)


def scale(panel: Panel) -> float:
    """Return the denominator of the scale as lettered."""
    found = re.search(r"1:(\d+)", panel.scale)
    assert found is not None
    return float(found.group(1))


@pytest.mark.parametrize(("system", "family"), [("us", "ansi-b"), ("us", "arch-d"), ("metric", "a3")])
def test_no_text_lies_on_another_in_any_detail(system: str, family: str) -> None:
    for panel in all_details(system=system, family=family):
        assert clashes(panel) == [], panel.title
        assert panel.scale == "NOT TO SCALE" or "1:" in panel.scale


def test_trench_sections_show_each_pairing_once_at_true_diameter() -> None:
    """Pipes of one role and cover share a section, each size drawn; each pipe is named in exactly one."""
    design, _, _, _ = stages()
    panels = [p for p in all_details() if p.group.role == "detail-trench" and p.title.startswith("TRENCH")]
    new = [p for p in design.pipes if p.state == "new" and not p.above_grade]
    assert len(panels) == len({(p.role, p.cover.si if p.cover else None) for p in new})
    assert len({p.scale for p in panels}) == 1
    drawn = []
    for panel in panels:
        grade = next(m for m in next(groups(panel.group, "grade-line")).marks if isinstance(m, Line))
        for group in groups(panel.group, "pipe"):
            pipe = design.pipe(group.object)
            assert pipe is not None
            assert pipe.cover is not None
            circle = next(m for m in group.marks if isinstance(m, Circle))
            assert 2 * circle.radius == pytest.approx(pipe.size.od_m * 1000 / scale(panel), rel=1e-9)
            cover = circle.centre[1] - circle.radius - grade.points[0][1]
            assert cover == pytest.approx(pipe.cover.si * 1000 / scale(panel), rel=1e-9)
            drawn.append((pipe.role, pipe.size, pipe.cover.si))
        assert "TRENCH WIDTH NOT STATED" in words(panel)
    assert (
        len(drawn) == len(set(drawn)) == len({(p.role, p.size, p.cover.si if p.cover else None) for p in new})
    )
    said = " ".join(words(p) for p in panels)
    for name in ("P1", "P2", "P8", "P10", "L11"):
        assert len(re.findall(rf"\b{name}\b", said)) == 1, name


def test_the_drip_set_has_a_box_for_each_device_that_is_in_one() -> None:
    """The example puts valve, strainer and regulator each `in box`; alike sets of two zones share a panel."""
    panel = next(p for p in all_details() if p.group.role == "detail-drip")
    assert len(list(groups(panel.group, "box"))) == 3
    assert "EACH IN A BOX OF ITS OWN" in words(panel)


def test_wire_lies_at_its_own_cover_and_frost_at_its_own_depth() -> None:
    panel = next(p for p in all_details() if p.title == "TRENCH: MAINLINE, COVER 18 in")
    grade = next(m for m in next(groups(panel.group, "grade-line")).marks if isinstance(m, Line))
    wire = next(m for m in next(groups(panel.group, "wire")).marks if isinstance(m, Circle))
    frost = next(m for m in next(groups(panel.group, "frost-line")).marks if isinstance(m, Line))
    assert wire.centre[1] - grade.points[0][1] == pytest.approx(12 * INCH_MM / scale(panel), abs=1e-9)
    assert frost.points[0][1] - grade.points[0][1] == pytest.approx(10 * INCH_MM / scale(panel), abs=1e-9)


def test_sleeve_section_keeps_the_paving_thickness_unsaid() -> None:
    panel = next(p for p in all_details() if p.title == "SLEEVES SL1, SL2 UNDER WALK")
    assert "THICKNESS NOT STATED" in words(panel)
    sleeve = next(m for m in next(groups(panel.group, "sleeve")).marks if isinstance(m, Circle))
    # ASTM D1785 Table 1: 2-1/2 in pipe is 2.875 in outside.
    assert 2 * sleeve.radius == pytest.approx(2.875 * INCH_MM / scale(panel), rel=1e-6)


def test_pop_up_height_is_to_scale_and_missing_one_is_not() -> None:
    heads = [p for p in all_details() if p.group.role == "detail-head"]
    line = next(m for m in next(groups(heads[0].group, "dimension-pop-up")).marks if isinstance(m, Line))
    drawn = abs(line.points[0][1] - line.points[1][1])
    assert drawn == pytest.approx(4 * INCH_MM / scale(heads[0]), abs=1e-9)
    bare = [p for p in all_details(("pop-up 4 in", "")) if p.group.role == "detail-head"]
    assert all(p.scale == "NOT TO SCALE" and "POP-UP NOT STATED" in words(p) for p in bare)


BOXES = ("detail-zone-valve", "detail-isolation", "detail-drip", "detail-blow-out")


def test_boxes_say_what_no_data_sheet_gives() -> None:
    panels = [p for p in all_details() if p.group.role in BOXES]
    assert {p.group.role for p in panels} == set(BOXES)
    for panel in panels:
        assert "1:" in panel.scale
        assert "SIZE NOT STATED" in words(panel)
        assert "BOX AND FITTINGS NOT TO SCALE" in words(panel)
    bare = all_details(("size 1 in, height -18 in, in box", "size 1 in, in box"))
    isolation = next(p for p in bare if p.group.role == "detail-isolation")
    assert isolation.scale == "NOT TO SCALE"
    assert "DEPTH NOT STATED" in words(isolation)


def test_a_size_that_a_parts_words_hold_is_not_said_again() -> None:
    said = " ".join(words(p) for p in all_details())
    assert "IV1: Full-port ball valve 1 in" in said
    assert "ST4: Strainer 3/4 in, 155 mesh" in said
    assert re.search(r"(\d/\d in|\b\d in) [A-Z][a-z][^,;:]* \1", said) is None


def test_connection_plan_is_to_scale_and_tied_to_named_corners() -> None:
    design, surface, _, layout = stages()
    panels = connection_panels(design, surface, layout, "us", "ansi-b", ROOM)
    views = [p for p in panels if p.scale]
    assert all(24 <= scale(p) <= 60 for p in views)
    assert all(p.width_mm <= ROOM[0] and p.height_mm <= ROOM[1] for p in panels)
    for panel in views:
        assert clashes(panel) == [], panel.title
        places = {name: (x, y) for name, x, y in panel.anchors}
        for a, b in [("M1", "T1"), ("T1", "IV1")]:
            if a in places and b in places:
                one, two = design.device(a), design.device(b)
                assert one is not None
                assert two is not None
                ground = ((one.point.x - two.point.x) ** 2 + (one.point.y - two.point.y) ** 2) ** 0.5
                paper = ((places[a][0] - places[b][0]) ** 2 + (places[a][1] - places[b][1]) ** 2) ** 0.5
                assert paper == pytest.approx(ground * 1000 / scale(panel), rel=1e-6)
    said = " ".join(words(p) for p in panels)
    ties = {t.object: t for t in layout.ties}
    for name in ("T1", "IV1", "BF1"):
        assert ties[name].corner1.replace(".southwest", " SW").replace(".southeast", " SE") in said
        assert next(groups(next(p for p in views if name in {a[0] for a in p.anchors}).group, "tie", name))
    assert "POTABLE SIDE" in said
    assert "IRRIGATION SIDE" in said
    assert "COVER 18 in" in said
