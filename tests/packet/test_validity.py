"""The page is valid HTML and every drawing well-formed XML, read by parsers of others.

Source: the HTML Living Standard, section 13.2.2 (parse errors), as html5lib reports them; XML 1.0 as the
standard library's parser reads it.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

html5lib = pytest.importorskip("html5lib")


def test_the_page_has_no_parse_error(packet):
    text = (packet / "index.html").read_text(encoding="utf-8")
    parser = html5lib.HTMLParser(strict=False)
    parser.parse(text)
    assert [(place, name) for place, name, _ in parser.errors[:5]] == []


def test_the_parser_would_tell(packet):
    parser = html5lib.HTMLParser(strict=False)
    parser.parse("<!DOCTYPE html><p><table></p></div>")
    assert parser.errors


def test_every_drawing_is_xml(packet):
    files = sorted((packet / "sheets").glob("*.svg"))
    assert files
    for path in files:
        root = ElementTree.fromstring(path.read_bytes())
        assert root.tag == "{http://www.w3.org/2000/svg}svg"


def test_every_drawing_inside_the_page_is_xml(packet):
    text = (packet / "index.html").read_text(encoding="utf-8")
    drawings = re.findall(r"<svg\b.*?</svg>", text, re.S)
    assert len(drawings) > 20
    for drawing in drawings:
        ElementTree.fromstring(drawing)


def test_every_reference_inside_a_drawing_is_met(packet):
    """A group drawn once and used again must be found, by its own name and only once."""
    text = (packet / "index.html").read_text(encoding="utf-8")
    used = set(re.findall(r'<use href="#([^"]+)"', text))
    assert used
    for name in used:
        assert text.count(f'id="{name}"') == 1, name
