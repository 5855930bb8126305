"""What stands on a sheet beside its drawing: bars, arrows, cautions, title block, and no colour.

Sources beside each check. The figures are the example's own.
"""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from plangen.model.read import read_design
from plangen.render.svg import svg_text
from plangen.sheets.frame import CAUTION, Identity, frame_marks
from plangen.sheets.legend import legend_panels
from plangen.sheets.marks import XY, Area, Circle, Group, Line, Sheet, Text
from plangen.sheets.paper import paper
from plangen.sheets.pens import lettering
from plangen.text.source import SourceFile
from tests.sheets.sheet_set import RESIDENTIAL, composed, groups, sheet, texts

REVISED = (
    '  revision A     2026-05-04 "Issued for permit review"',
    '  revision A     2026-05-04 "Issued for permit review"\n'
    '  revision B     2026-05-20 "Relief valve shown" answers comment 7',
)
INCH_MM, FOOT_MM = 25.4, 304.8


def _of(page: Sheet, role: str) -> list[Group]:
    return [g for top in page.marks for g in groups(top) if g.role == role]


def _corners(group: Group) -> list[XY]:
    return [p for mark in group.marks if isinstance(mark, Area) for p in mark.points]


def test_each_scale_of_a_sheet_has_its_bar() -> None:
    """A graphic scale for every scale on that sheet: Navy facilities A-E guide, aeg_c0071 (read)."""
    seen = 0
    for page in composed()[1].sheets:
        bars = {group.title.removeprefix("Bar scale, "): group for group in _of(page, "scale-bar")}
        for drawn in page.inventory:
            if drawn.what != "view-scale" or not re.search(r"1:\d+\)?$", drawn.kind):
                continue
            bar = bars[drawn.kind]
            xs = [x for x, _ in _corners(bar)]
            value, unit = next(t.text for t in texts(bar) if re.search(r" (in|ft)$", t.text)).split()
            denominator = int(drawn.kind.rstrip(")").split("1:")[-1])
            ground = float(value) * (INCH_MM if unit == "in" else FOOT_MM)
            assert max(xs) - min(xs) == pytest.approx(ground / denominator, abs=1e-6), (page.id, drawn.kind)
            seen += 1
    assert seen > 15


def test_every_plan_has_north_bar_and_calibration_mark() -> None:
    """North arrow and bar on every plan view: Ada County plat review guide; Clark County (read)."""
    for page_id in ("LI101", "LI111", "LI121"):
        kinds = {d.what for d in sheet(composed()[1], page_id).inventory}
        assert {"north-arrow", "scale-bar", "calibration-mark"} <= kinds, page_id
        # two short strokes an inch apart
        strokes = [m for g in _of(sheet(composed()[1], page_id), "scale-bar") for m in g.marks]
        level = [m for m in strokes if isinstance(m, Line) and m.points[0][1] == m.points[1][1]]
        assert any(abs(m.points[0][0] - m.points[1][0]) == pytest.approx(INCH_MM) for m in level)


def test_every_sheet_says_what_it_is_of_and_leaves_two_areas_blank() -> None:
    """Approval and seal room stay blank: Culver City; Ohio Adm. Code 4703:1-3-01 (read)."""
    design, sheets = composed()
    form = paper("ansi-b")
    left, top, right, _ = form.strip_rect
    for page in sheets.sheets:
        said = " ".join(t.text for g in page.marks for t in texts(g))
        for words in ("0123456789ab", "Codes: Pack, 2026", f"OF {len(sheets.sheets)}", page.id):
            assert words in said, (page.id, words)
        assert CAUTION.replace(" ", "") in said.replace(" ", "")
        assert "Heron Court 14 lawn irrigation" in said and "QM-IR-0187" in said
        scale = next(t.text for g in _of(page, "scale") for t in texts(g))
        assert scale == f"SCALE {page.scale or 'none'}"
        # from the top of the strip to the line for the signature: two boxes with their words and nothing else
        seal = next(iter(_of(page, "seal-box")))
        foot = next(t for t in _strip_texts(page) if t.text == "SIGNED").y
        for mark in _strip_marks(page):
            x, y = _place(mark)
            if left + 0.1 < x < right - 0.1 and top + 0.1 < y < foot - 3.5 and not isinstance(mark, Line):
                assert isinstance(mark, Text) and mark in {*texts(seal), *_box_texts(page)}, page.id
    assert design.project.title == "Heron Court 14 lawn irrigation"


def _strip_marks(page: Sheet) -> list[Text | Line | Area | Circle]:
    block = next(iter(_of(page, "title-block")))
    return [m for g in groups(block) for m in g.marks if isinstance(m, Text | Line | Area | Circle)]


def _strip_texts(page: Sheet) -> list[Text]:
    return [m for m in _strip_marks(page) if isinstance(m, Text)]


def _box_texts(page: Sheet) -> set[Text]:
    return {t for g in _of(page, "approval-box") for t in texts(g)}


def _place(mark: Text | Line | Area | Circle) -> XY:
    if isinstance(mark, Text):
        return mark.x, mark.y
    return mark.centre if isinstance(mark, Circle) else mark.points[0]


def test_the_revision_block_names_the_comment_a_revision_answers() -> None:
    """Deltas: Hawaii County notice of 2023 (read); the comment answered: this project's contract."""
    assert REVISED[0] in RESIDENTIAL
    design = read_design(SourceFile.of("design.plan", RESIDENTIAL.replace(*REVISED))).value
    assert design is not None
    who = Identity("LI101", "Irrigation plan", "1:120", 3, 21, "0123456789ab", ())
    frame, _ = frame_marks(paper("ansi-b"), design.project, who)
    block = next(g for g in groups(frame) if g.role == "revision-block")
    said = " ".join(t.text for t in texts(block))
    assert "2026-05-20 Relief valve shown (answers 7)" in " ".join(said.split())
    deltas = [next(iter(texts(g))).text for g in groups(block) if g.role == "delta"]
    assert deltas == ["A", "B"]


def test_no_sheet_has_a_colour() -> None:
    """Black and half-tones alone: UFC 1-300-09N (read), plots are monochrome unless colour is asked for."""
    for page in composed()[1].sheets:
        found = set(re.findall(r'(?:stroke|fill)="(#[0-9a-fA-F]+|[a-z]+)"', svg_text(page)))
        for colour in found - {"none"}:
            digits = colour.removeprefix("#")
            parts = re.findall("..", digits) if len(digits) == 6 else list(digits)
            assert colour.startswith("#") and len(set(parts)) == 1, (page.id, colour)


def _levels(group: Group) -> list[float]:
    """Return the upper and lower edges of the lines, areas and circles of a sample, in mm."""
    found: list[float] = []
    for one in groups(group):
        for mark in one.marks:
            if isinstance(mark, Line | Area):
                found += [y for _, y in mark.points]
            if isinstance(mark, Circle):
                found += [mark.centre[1] - mark.radius, mark.centre[1] + mark.radius]
    return found


def test_no_sample_of_the_legend_reaches_into_its_neighbour() -> None:
    """A relief port's drain reaches down, an air inlet's arrow up: in two rows of the legend they met."""
    kinds = ("assembly-rp", "assembly-pvb", "assembly-svb", "isolation", "meter")
    (panel,) = legend_panels(kinds, ("mainline", "lateral"), lettering("ansi-b"), 100.0, 200.0)
    samples = [_levels(g) for g in groups(panel.group) if g.role == "legend-sample"]
    assert len(samples) == 7
    for above, below in pairwise(samples):
        assert max(above) < min(below)
