"""The plan set's links, the flat copy to submit and the copy to keep, read back with independent readers.

What is asked of them is the project's own contract; keys are those of ISO 32000-1: 7.11 (files), 8.11
(optional content, read as absent), 12.3 (outline, named places), 12.5 (annotations), 12.7 (forms).
Flat, vector, text searchable, bookmarks and page labels: what public offices ask of submitted plans.
"""

from __future__ import annotations

import html
import json
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pytest

from tests.programs import needs_pdf_reader

COPIES = ("plan-set.pdf", "plan-set-submittal.pdf", "plan-set-record.pdf")
Box = tuple[float, float, float, float]


def _links(pdf: pikepdf.Pdf) -> Iterator[tuple[str, str, Box]]:
    """Yield (from sheet, to sheet, box in points from the top left) of each link."""
    labels = [page.label for page in pdf.pages]
    numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages)}
    for page in pdf.pages:
        high = float(page.mediabox[3])
        for note in page.get("/Annots", []):
            assert note.Subtype == "/Link"
            x0, y0, x1, y1 = (float(v) for v in note.Rect)
            yield page.label, labels[numbers[note.Dest[0].objgen]], (x0, high - y1, x1, high - y0)


def _words(pdf: Path) -> list[list[tuple[str, float, float]]]:
    """Return each page's words with the middle of each, by poppler."""
    read = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, check=True)
    pages = read.stdout.decode("utf-8").split("<page ")[1:]
    pattern = r'<word xMin="(\S+)" yMin="(\S+)" xMax="(\S+)" yMax="(\S+)">([^<]*)<'
    return [
        [
            (html.unescape(w), (float(a) + float(c)) / 2, (float(b) + float(d)) / 2)
            for a, b, c, d, w in re.findall(pattern, page)
        ]
        for page in pages
    ]


@needs_pdf_reader
def test_every_link_lies_on_the_name_of_the_sheet_it_leads_to(packet: Path) -> None:
    words = _words(packet / "plan-set.pdf")
    with pikepdf.open(packet / "plan-set.pdf") as pdf:
        labels = [page.label for page in pdf.pages]
        found = list(_links(pdf))
    for start, to, (left, top, right, bottom) in found:
        on = [w for w, x, y in words[labels.index(start)] if left <= x <= right and top <= y <= bottom]
        # a view on another sheet is called by its number: 2/LI111
        assert any(w.strip(",").rpartition("/")[2] == to for w in on), (start, to, on)
    # the index of the cover leads to every sheet it lists (the code check's tables share a row); a plan's
    # callouts lead to details, and those back
    base = [s["id"] for s in json.loads((packet / "manifest.json").read_text(encoding="utf-8"))["sheets"]]
    assert {to for start, to, _ in found if start == "G-001"} >= set(base[1:])
    assert any(start == "LI101" and to.startswith("LI50") for start, to, _ in found)
    assert any(start.startswith("LI50") and to == "LI101" for start, to, _ in found)


def test_every_sheet_is_a_named_place(packet: Path) -> None:
    with pikepdf.open(packet / "plan-set.pdf") as pdf:
        places = pikepdf.NameTree(pdf.Root.Names.Dests)
        assert {name: place[0].objgen for name, place in places.items()} == {
            page.label: page.obj.objgen for page in pdf.pages
        }


def test_the_submittal_copy_is_flat(packet: Path) -> None:
    with pikepdf.open(packet / "plan-set-submittal.pdf") as pdf:
        assert not pdf.is_encrypted
        for key in (
            "/AcroForm",
            "/OCProperties",
            "/Names",
            "/AF",
            "/OpenAction",
            "/AA",
            "/Perms",
            "/Collection",
        ):
            assert key not in pdf.Root, key
        for page in pdf.pages:
            for key in ("/Annots", "/AA", "/Group", "/Rotate", "/UserUnit"):
                assert key not in page.obj, key
            for _, state in page.Resources.get("/ExtGState", {}).items():
                assert "/SMask" not in state and state.get("/ca", 1) == 1 and state.get("/CA", 1) == 1
        subtypes = {
            o.get("/Subtype") for o in pdf.objects if isinstance(o, (pikepdf.Dictionary, pikepdf.Stream))
        }
        assert not subtypes & {"/Link", "/Widget", "/FileAttachment", "/Image"}


def test_the_three_copies_show_the_same(packet: Path) -> None:
    told = []
    for name in COPIES:
        with pikepdf.open(packet / name) as pdf, pdf.open_outline() as outline:
            told.append(
                (
                    [page.Contents.read_bytes() for page in pdf.pages],
                    [[float(v) for v in page.mediabox] for page in pdf.pages],
                    [page.label for page in pdf.pages],
                    [item.title for item in outline.root],
                    {key: str(value) for key, value in pdf.docinfo.items()},
                )
            )
    assert told[0] == told[1] == told[2]
    info = told[0][4]
    assert info["/CreationDate"] == info["/ModDate"] == "D:20260504000000Z"  # the example's `issued`
    assert "Heron Court" in info["/Title"] and "Tobin Marlesk" in info["/Author"]


def test_the_record_copy_holds_the_texts_and_the_report(packet: Path) -> None:
    with pikepdf.open(packet / "plan-set-record.pdf") as pdf:
        held = {name: pdf.attachments[name].get_file() for name in pdf.attachments}
        files = {name: file.read_bytes() for name, file in held.items()}
        assert {file.creation_date for file in held.values()} == {file.mod_date for file in held.values()}
        assert all(
            f.creation_date and f.creation_date.isoformat().startswith("2026-05-04") for f in held.values()
        )
        assert len(pdf.Root.AF) == len(files)
    source = {
        p.relative_to(packet).as_posix(): p.read_bytes()
        for p in (packet / "source").rglob("*")
        if p.is_file()
    }
    assert files == {**source, "report.json": (packet / "report.json").read_bytes()}


@pytest.mark.parametrize("name", COPIES)
def test_an_independent_reader_finds_nothing_wrong(packet: Path, name: str) -> None:
    with pikepdf.open(packet / name) as pdf:
        assert pdf.check_pdf_syntax() == []
