"""Border zones, scales and the two ways of counting them."""

from __future__ import annotations

import pytest

from plangen.geometry.point import Point
from plangen.sheets.paper import PAPERS, paper
from plangen.sheets.viewport import Viewport, choose_scale, scale_name


@pytest.mark.parametrize(
    ("family", "width", "height"),
    [
        ("ansi-b", 17 * 25.4, 11 * 25.4),  # ANSI/ASME Y14.1 size B
        ("arch-d", 36 * 25.4, 24 * 25.4),  # ARCH D, common practice
        ("a3", 420.0, 297.0),  # ISO 216 A3
        ("a1", 841.0, 594.0),  # ISO 216 A1
    ],
)
def test_sheet_sizes(family: str, width: float, height: float) -> None:
    assert paper(family).width == pytest.approx(width)
    assert paper(family).height == pytest.approx(height)


def test_us_zones_count_from_the_title_block_corner() -> None:
    # source: ASME Y14.1, from memory: numerals right to left, letters bottom to top
    sheet = paper("ansi-b")
    assert sheet.zone_of(sheet.width - 12, sheet.height - 12) == "A1"
    assert sheet.zone_of(20, 12) == "D8"


def test_iso_zones_count_from_the_corner_opposite_the_title_block() -> None:
    # source: ISO 5457, from memory: letters from the top, numerals from the left, 8 by 6 on A3
    sheet = paper("a3")
    assert sheet.zone_of(22, 12) == "A1"
    assert sheet.zone_of(sheet.width - 12, sheet.height - 12) == "F8"


def test_no_zone_is_lettered_i_or_o() -> None:
    # source: ISO 5457, from memory
    for sheet in PAPERS.values():
        assert not {"I", "O"} & {sheet.row_name(i) for i in range(sheet.rows)}


def test_viewport_is_true_to_scale_upright_and_turned() -> None:
    # arithmetic: 12 m at 1:120 are 100 mm
    for turn in (0.0, 270.0):
        view = Viewport(120, Point(0.0, 0.0), (0.0, 0.0, 400.0, 300.0), turn)
        (ax, ay), (bx, by) = view.paper(Point(0.0, 0.0)), view.paper(Point(0.0, 12.0))
        assert abs(ax - bx) + abs(ay - by) == pytest.approx(100.0)
        assert (by < ay) if turn == 0.0 else (bx < ax)  # north up, or to the left


def test_scale_names_and_choice() -> None:
    # 1:120 is 1 in to 10 ft: 10 ft are 120 in
    assert scale_name(120, "us") == "1 in = 10 ft (1:120)"
    assert scale_name(24, "us") == "1/2 in = 1 ft (1:24)"
    assert choose_scale(39.0, 20.0, 330.0, 230.0, (60, 120, 240)) == 120
    assert choose_scale(390.0, 20.0, 330.0, 230.0, (60, 120, 240)) is None
