"""A design whose every text is hostile: each product of the packet shows it as text, and runs nothing of it.

Source: HTML Living Standard, 13.2 (as html5lib reads it); XML 1.0; RFC 4180, and OWASP on formulas in CSV
(from memory: cells that begin with = + - @ are run); RFC 5545 by `icalendar`; SARIF 2.1.0 is JSON.
"""

from __future__ import annotations

import csv
import json
import re
import subprocess
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from plangen.build.page_texts import read_page_texts
from plangen.cli.main import main
from plangen.packet.annual_test import NOBODY, calendar_text
from plangen.packet.assembly_form import test_forms as forms_of
from plangen.packet.compliance import compliance_form
from plangen.packet.locate import locate_form
from plangen.packet.templating import quoted, templates
from tests.conftest import RESIDENTIAL
from tests.packet.test_recorded_tests import bare, recorded
from tests.programs import PDF_READER, needs_pdf_reader

HOSTILE = "=1+1;<script>alert(1)</script> ]]> &amp; 'q' {{7*7}} \u202etfel <b onclick=x>"


def hostile(text: str) -> str:
    """Return a design with that before each of its texts."""
    lines = text.split("\n")
    return "\n".join(
        line if line.startswith("#") else re.sub(r'"([^"\n]*)"', lambda m: f'"{HOSTILE} {m[1]}"', line)
        for line in lines
    )


def runs_nothing(page: str, scripts: int) -> None:
    """Hold a page to its own scripts: no element and no attribute comes from a text."""
    html5lib = pytest.importorskip("html5lib")
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    assert len(list(tree.iter("script"))) == scripts
    for element in tree.iter():
        if isinstance(element.tag, str):
            assert not any(name.lower().startswith("on") for name in element.attrib), element.attrib
    shown = " ".join("".join(tree.itertext()).split())
    assert "<script>alert(1)</script>" in shown and "{{7*7}}" in shown and "&amp;" in shown


def test_forms_and_calendar_show_it_as_text():
    """The sample that always runs: the papers through the page's own templates."""
    plain = RESIDENTIAL.read_text(encoding="utf-8")
    marked = hostile(plain)
    design = recorded(swap=((plain, marked),))
    contents = bare(design)
    texts = read_page_texts()
    environment = templates(texts.templates)
    environment.filters["slug"] = str
    form: Any = environment.get_template("parts.html").module.form
    papers = (locate_form(contents), compliance_form(contents), *forms_of(contents))
    runs_nothing("".join(str(form(paper)) for paper in papers), scripts=0)
    icalendar = pytest.importorskip("icalendar")
    read = icalendar.Calendar.from_ical(calendar_text(design, NOBODY).encode())
    assert len(read.walk("VEVENT")) == 1 and HOSTILE in str(read.walk("VEVENT")[0]["location"])


@pytest.mark.long
@needs_pdf_reader
def test_every_product_shows_it_as_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    path, out = tmp_path / "design.plan", tmp_path / "packet"
    path.write_text(hostile(RESIDENTIAL.read_text(encoding="utf-8")), encoding="utf-8")
    assert main(["build", str(path), "--out", str(out)]) in (0, 1)
    runs_nothing((out / "index.html").read_text(encoding="utf-8"), scripts=2)
    for file in sorted((out / "sheets").glob("*.svg")):
        root = ElementTree.fromstring(file.read_bytes())
        assert not [e for e in root.iter() if e.tag.endswith("script")]
        assert not [k for e in root.iter() for k in e.attrib if k.lower().startswith("on")]
    with (out / "takeoff.csv").open(encoding="utf-8", newline="") as held:
        cells = [cell for row in csv.reader(held) for cell in row]
    assert any(HOSTILE.split(" ")[0] in c for c in cells) and not [
        c for c in cells if c[:1] in "=+-@\t\r" and c
    ]
    said = subprocess.run([str(PDF_READER), str(out / "plan-set.pdf"), "-"], capture_output=True, check=True)
    assert "alert(1)" in said.stdout.decode()
    assert b"/JavaScript" not in (out / "plan-set.pdf").read_bytes()
    json.loads((out / "report.json").read_bytes())
    capsys.readouterr()
    assert main(["check", str(path), "--output", "sarif"]) in (0, 1)
    assert json.loads(capsys.readouterr().out)["version"] == "2.1.0"
    assert main(["verify", str(out)]) == 0


def test_a_column_s_name_stays_inside_its_quotes():
    """CSS Syntax Level 3, section 4.3.5: quote, backslash and line end are escaped in a string."""
    assert quoted("it's \\ two\nlines") == "it\\27 s \\5c  two\\a lines"
