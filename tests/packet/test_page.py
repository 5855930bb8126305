"""The packet's page: in itself complete, every link met, every section there, nothing let through.

Source of every expectation: the project's own contract for the packet; element and attribute names from
the HTML Living Standard, sections 4.2 to 4.8 (what an element can fetch).
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from plangen.checking.finding import Evidence, Measure
from plangen.layout.results import Layout, TakeoffLine
from plangen.packet.bill import csv_text
from plangen.packet.notes import note_html
from plangen.packet.page import SECTIONS
from plangen.packet.provenance import whence
from plangen.quantity.quantity import DECLARED

# Attributes by which a page fetches something.
FETCHING = {
    "src",
    "srcset",
    "poster",
    "data",
    "background",
    "action",
    "formaction",
    "manifest",
    "ping",
    "cite",
}
VOID = {"meta", "br", "hr", "img", "input", "link", "area", "base", "col", "embed", "source", "track", "wbr"}


class Reader(HTMLParser):
    """Collects elements, ids and text, and holds the page to closing what it opens."""

    def __init__(self) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.faults: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, {k: v or "" for k, v in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.elements.append((tag, {k: v or "" for k, v in attrs}))

    def handle_endtag(self, tag):
        if not self.open or self.open[-1] != tag:
            self.faults.append(f"</{tag}> at {self.getpos()} closes {self.open[-3:]}")
        if tag in self.open:
            while self.open.pop() != tag:
                pass

    def handle_data(self, data):
        self.text.append(data)


@pytest.fixture(scope="module")
def page(packet) -> Reader:
    reader = Reader()
    reader.feed((packet / "index.html").read_text(encoding="utf-8"))
    reader.close()
    return reader


def test_what_is_opened_is_closed(page):
    assert page.faults == [] and page.open == []


def test_nothing_is_fetched(page, packet):
    for tag, attributes in page.elements:
        assert tag not in ("link", "iframe", "object", "embed", "base", "img", "audio", "video"), tag
        assert not FETCHING & set(attributes), (tag, attributes)
        for name in ("href", "xlink:href"):
            value = attributes.get(name, "#")
            if tag == "a":
                assert not re.match(r"[a-z]+:|//|/", value), value
            else:
                assert value.startswith("#"), (tag, value)
    text = (packet / "index.html").read_text(encoding="utf-8")
    loads = re.findall(r"url\(([^)]{0,40})", text) + re.findall(r"@import[^;]{0,40}", text)
    assert all(load.startswith(("data:", "#")) for load in loads)
    outside = set(re.findall(r"https?://[^\s\"'<>)]*", text))
    assert outside <= {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}
    assert not re.search(r"\b(fetch|XMLHttpRequest|WebSocket|EventSource|sendBeacon|importScripts)\b", text)


def test_every_link_meets_its_place(page, packet):
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids)), sorted({i for i in ids if ids.count(i) > 1})
    for _, attributes in page.elements:
        target = attributes.get("href", "")
        if target.startswith("#"):
            assert target[1:] in ids, target
        elif target:
            assert (packet / target).is_file(), target
        for name in ("aria-labelledby", "aria-describedby", "for"):
            assert all(i in ids for i in attributes.get(name, "").split()), (name, attributes)


def test_every_section_is_there_and_said_in_the_menu(page):
    ids = {attributes.get("id") for _, attributes in page.elements}
    links = {attributes.get("href") for tag, attributes in page.elements if tag == "a"}
    for anchor, _ in SECTIONS:
        assert anchor in ids and f"#{anchor}" in links


def test_findings_and_drawings_link_both_ways(page, packet):
    report = json.loads((packet / "report.json").read_text(encoding="utf-8"))
    articles = {a["id"] for tag, a in page.elements if tag == "article"}
    assert len(articles) == len(report["findings"])
    links = [a["href"] for tag, a in page.elements if tag == "a" and "href" in a]
    drawn = [f for f in report["findings"] if f["drawn_on"]]
    assert drawn
    reached = {link[1:] for link in links} & articles
    assert len(reached) >= len(drawn)
    sheets = {d["sheet"] for f in drawn for d in f["drawn_on"]}
    for sheet in sheets:
        assert any(link == f"#sheet-{sheet}" or link.startswith(f"#{sheet}-") for link in links)


def test_status_is_told_by_word_and_shape(page):
    shapes = {a["id"] for tag, a in page.elements if tag == "symbol"}
    for status in ("meets", "falls_short", "not_known", "needs_person", "waived", "not_applicable"):
        assert f"shape-{status}" in shapes
    text = " ".join(" ".join(page.text).split())
    for words in ("falls short", "not known", "needs a person", "waived", "meets", "does not apply"):
        assert words in text


def test_cautions_stand_on_top_and_in_the_foot_of_every_printed_page(page, packet):
    text = (packet / "index.html").read_text(encoding="utf-8")
    assert text.index('class="cautions"') < text.index("<h1>")
    assert "Local code, the water purveyor and licensed practice decide" in " ".join(page.text)
    assert re.search(
        r"@media print \{.*footer\.running \{ display: table-footer-group; break-inside: avoid", text, re.S
    )


def test_readings_of_the_test_report_are_blank(packet):
    text = (packet / "index.html").read_text(encoding="utf-8")
    form = text[text.index("Readings of BF1, to be filled in") :]
    form = form[: form.index("</table>")]
    rows = [re.findall(r"<td[^>]*>(.*?)</td>", row, re.S) for row in form.split("<tr>")[2:]]
    assert len(rows) == 4 and all(cell.strip() == "" for row in rows for cell in row[2:])
    assert [len(row) for row in rows] == [4] * 4


def test_the_page_says_its_title_language_and_digest(page, packet):
    digest = json.loads((packet / "manifest.json").read_text(encoding="utf-8"))["digest"]
    attributes = dict(page.elements)
    assert attributes["html"]["lang"] == "en"
    assert f"14 Heron Court, Quillmoor: permit packet, revision A, {digest[:12]}" in " ".join(page.text)
    for svg in (packet / "sheets").glob("*.svg"):
        assert digest[:12] in svg.read_text(encoding="utf-8")


def test_tables_are_real_tables(page):
    """Source: WCAG 2.2, success criterion 1.3.1 and technique H63 (scope) and H39 (caption)."""
    tags = [tag for tag, _ in page.elements]
    assert tags.count("table") == tags.count("caption")
    assert all("scope" in a for tag, a in page.elements if tag == "th")


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        '<img src="http://example.org/x.png">',
        "[words](javascript:alert(1))",
        "![picture](http://example.org/x.png)",
        "<http://example.org>",
        "[one]\n\n[one]: http://example.org",
        "a <b onclick='x()'>bold</b> word",
    ],
)
def test_a_note_lets_nothing_through(text):
    html = str(note_html(text))
    assert not re.search(r"<(?!/?(p|ul|ol|li|strong|em|code|pre|br|h\d|blockquote|hr)\b)[a-z]", html, re.I)
    assert "href" not in html.replace("&lt;", "").lower() or "<a" not in html
    assert "src=" not in re.sub(r"&lt;.*?&gt;", "", html)


def test_a_note_keeps_its_markup():
    assert str(note_html("one **two**")) == "<p>one <strong>two</strong></p>"


def test_a_spreadsheet_runs_nothing_of_the_takeoff():
    """Source: OWASP, CSV injection (from memory): cells that begin with = + - @ are run as formulas."""
    line = TakeoffLine("pipe", '=HYPERLINK("x")', "1 in", 3.0, "ft", 2.5, "+1", ("P1", "P2"))
    text = csv_text(Layout((), (), (), (), (), (line,)))
    assert text.splitlines()[1] == 'pipe,"\'=HYPERLINK(""x"")",1 in,3,ft,2.5,\'+1,P1 P2'


def test_what_is_not_known_comes_from_nobody():
    """The project's own rule: what is not known is never told as if somebody had said it."""
    known = Evidence("velocity", Measure("7 ft/s"), DECLARED)
    assert whence(known) == "declared by the designer"
    assert whence(replace(known, value=Measure("not known"))) == "-"
