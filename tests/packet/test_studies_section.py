"""The page shows the studies, the year and the wire that the report holds.

Oracle: `report.json`, which is worked out by itself and held to its schema elsewhere.
"""

from __future__ import annotations

import html
import json
import math
import re
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture(scope="module")
def page(packet: Path) -> str:
    return html.unescape((packet / "index.html").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def report(packet: Path) -> dict[str, Any]:
    return json.loads((packet / "report.json").read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def table(page: str, caption: str) -> list[list[str]]:
    """Return the cells of the one table of a caption, row by row."""
    (found,) = re.findall(rf"<table[^>]*>\s*<caption>{caption}.*?</table>", page, re.DOTALL)
    rows = re.findall(r"<tr.*?</tr>", found, re.DOTALL)
    cut = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL) for row in rows]
    return [[re.sub(r"<[^>]*>", "", cell).strip() for cell in cells] for cells in cut]


def test_every_reading_to_expect_stands_on_the_page(page: str, report: dict[str, Any]) -> None:
    foretold = report["hydraulics"]["studies"]["predicted"]
    rows = table(page, "Readings to expect")
    assert foretold and len(rows) == len(foretold) + 1
    shown = [(r[0], r[1], float(r[4])) for r in rows[1:]]
    for told, (case, at, psi) in zip(foretold, shown, strict=True):
        assert (told["case"], told["object"]) == (case, at)
        assert psi == pytest.approx(told["pressure"]["value"], abs=0.051)


def test_the_line_for_the_day_and_each_question_stand_there(page: str, report: dict[str, Any]) -> None:
    studies = report["hydraulics"]["studies"]
    assert page.count("<strong>GO OR NO-GO: with nothing running") == 1
    # what must be there is told rounded up
    least = math.ceil(studies["least"]["gauge"]["value"] * 10) / 10
    assert f"at M1 must show at least {least:.1f} psi" in page
    asked = [r[0] for r in table(page, "If one thing changes")[1:]]
    assert asked == [w["question"] for w in studies["what_ifs"]]


def test_year_and_wire_stand_there(page: str, report: dict[str, Any]) -> None:
    rows = {r[0]: r for r in table(page, "Water through the year")[1:]}
    assert {c["case"] for c in report["hydraulics"]["cases"]} <= rows.keys()
    wires = {r[0] for r in table(page, "Voltage drop of valve wire")[1:]}
    assert wires == {w["device"] for w in report["wire"]}
