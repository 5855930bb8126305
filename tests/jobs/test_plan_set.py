"""The plan set of the residential job as a reviewer's PDF viewer sees it: every sheet, named, searchable."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

import pikepdf
import pytest

from tests.programs import needs_pdf_reader

pytestmark = needs_pdf_reader

DESIGN = (Path(__file__).resolve().parents[2] / "examples" / "residential" / "design.plan").read_text(
    encoding="utf-8"
)


def said(pattern: str) -> list[str]:
    found = re.findall(pattern, DESIGN, re.M)
    assert found
    return found


@pytest.fixture(scope="module")
def words(packet: Path) -> list[str]:
    """Return the text of each page, by an independent PDF reader (poppler)."""
    read = subprocess.run(
        ["pdftotext", "-layout", str(packet / "plan-set.pdf"), "-"], capture_output=True, check=True
    )
    return read.stdout.decode("utf-8").split("\f")[:-1]


def test_every_sheet_is_a_page_with_its_bookmark_and_label(packet: Path) -> None:
    drawn = {path.stem for path in (packet / "sheets").glob("*.svg")}
    base = [s["id"] for s in json.loads((packet / "manifest.json").read_text(encoding="utf-8"))["sheets"]]
    with pikepdf.open(packet / "plan-set.pdf") as pdf:
        with pdf.open_outline() as outline:
            titles = [item.title for item in outline.root]
        ids = [title.split()[0] for title in titles]
        assert set(ids) == drawn and len(ids) == len(drawn) == len(pdf.pages)
        assert [i for i in ids if i in base] == base and len(base) >= 8
        assert [page.label for page in pdf.pages] == ids


def test_the_text_is_found_by_search(words: list[str]) -> None:
    whole = "\n".join(words)
    address = said(r'^  address +"([^"]+)"')[0]
    zones = said(r'^zone \w+ "([^"]+)"')
    assert address in whole
    assert [zone for zone in zones if zone not in whole] == []
    assert "BF1" in whole


def test_every_sheet_says_that_code_purveyor_and_licensed_practice_decide(packet: Path) -> None:
    # in reading order, not as laid out: there a line of the drawing may stand between two of the caution
    read = subprocess.run(["pdftotext", str(packet / "plan-set.pdf"), "-"], capture_output=True, check=True)
    pages = read.stdout.decode("utf-8").split("\f")[:-1]
    assert len(pages) >= 8
    for page in pages:
        flat = " ".join(page.split())
        assert "CAUTION" in flat
        for who in ("Local code", "water purveyor", "licensed"):
            assert who in flat, flat[:300]


def test_every_sheet_is_ansi_b(packet: Path) -> None:
    # ASME Y14.1: size B is 11 x 17 in, so 1224 x 792 points on its side
    with pikepdf.open(packet / "plan-set.pdf") as pdf:
        for page in pdf.pages:
            box = [float(v) for v in page.mediabox]
            assert box[2] - box[0] == pytest.approx(1224, abs=0.01)
            assert box[3] - box[1] == pytest.approx(792, abs=0.01)


def test_every_font_is_embedded(packet: Path) -> None:
    listed = subprocess.run(
        ["pdffonts", str(packet / "plan-set.pdf")], capture_output=True, text=True, check=True
    )
    rows = listed.stdout.splitlines()[2:]
    assert rows
    for row in rows:
        assert row.split()[-5:-3] == ["yes", "yes"], row  # emb, sub
