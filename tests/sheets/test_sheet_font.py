"""The advance table against the shipped faces, read by a general-purpose font library."""

from __future__ import annotations

import json

import pytest

from plangen.sheets.font import drawable, missing_glyphs, text_width_mm
from plangen.shipped.folders import shipped_folder

FONTS = shipped_folder("site") / "fonts"


@pytest.mark.parametrize("face", ["Regular", "Bold"])
def test_advances_are_those_of_the_faces(face: str) -> None:
    # source: the hmtx and cmap tables of the shipped face, read by fontTools
    ttlib = pytest.importorskip("fontTools.ttLib")
    font = ttlib.TTFont(FONTS / f"IBMPlexSansCondensed-{face}.ttf")
    cmap, metrics = font.getBestCmap(), font["hmtx"]
    table = json.loads((FONTS / "advances.json").read_text(encoding="utf-8"))
    assert table["cap_height"] == font["OS/2"].sCapHeight
    for char, advance in table[face.lower()].items():
        assert metrics[cmap[ord(char)]][0] == advance
    assert not {chr(c) for c in cmap if chr(c).isprintable()} - set(table[face.lower()])


def test_width_is_the_sum_of_advances_at_the_capital_height() -> None:
    # source: advances and capital height of the regular face, read by fontTools
    ttlib = pytest.importorskip("fontTools.ttLib")
    font = ttlib.TTFont(FONTS / "IBMPlexSansCondensed-Regular.ttf")
    cmap, words = font.getBestCmap(), "VALVE 1-1/4 in"
    units = sum(font["hmtx"][cmap[ord(c)]][0] for c in words)
    assert text_width_mm(words, 2.5) == pytest.approx(units * 2.5 / font["OS/2"].sCapHeight)


def test_a_character_the_face_lacks_is_named_and_replaced() -> None:
    assert missing_glyphs("A\u2300B\u2300") == "\u2300"
    assert drawable("A\u2300B\x07") == "A?B?"


def test_licence_stands_beside_the_faces() -> None:
    assert "SIL OPEN FONT LICENSE" in (FONTS / "OFL.txt").read_text(encoding="utf-8")
