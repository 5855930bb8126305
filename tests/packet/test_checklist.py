"""Each thing permit offices ask for is located in the packet, or the packet says that it is not provided.

Source of the list: submittal checklists and codes of permit offices, gathered and restated in the project's
ledger of rules, section 3 (on the drawing 3A, in the packet 3B; those asked by whom stand on the page). It is
written out here by itself: a thing taken off the page's list, or no longer drawn, is missed.
"""

from __future__ import annotations

import dataclasses
import re
from html import unescape
from types import SimpleNamespace

import pytest

from plangen.model.read import read_design
from plangen.packet.checklist import MISSING, NONE, SHOWN, checklist
from plangen.packet.checklist_items import DRAWING, Item
from plangen.packet.contents import Contents
from plangen.sheets.marks import Drawn, Sheet, SheetSet
from plangen.text.source import SourceFile
from tests.conftest import RESIDENTIAL
from tests.packet.test_recorded_tests import bare

# What is asked, and every place that must be named for the residential design; nothing: not provided.
ON_THE_DRAWING = {
    "scale stated": "LI101",
    "north arrow": "LI101 LI111",
    "title block": "LI101",
    "seal, signature": "G-001 LI101",
    "legend": "LI001",
    "property lines": "LI101",
    "easements": "LI101",
    "buildings": "LI101",
    "walks, drives": "LI101",
    "planted areas": "LI101",
    "water source": "LI101",
    "meter place and size": "LI101 LI641",
    "point of connection": "LI101 LI111",
    "greatest demand": "pressure",
    "service size": "LI111",
    "isolation valve between meter and backflow": "LI111",
    "backflow assembly: place": "LI101 LI111 LI501",
    "height and datum": "LI501",
    "clearance": "LI501",
    "drain": "LI501",
    "frost protection": "LI501",
    "master valve": None,
    "pressure regulator": "LI101",
    "main and lateral routes": "LI101 LI601",
    "material and class": "LI601",
    "wire to each valve": "LI101",
    "sleeves, boxes and depths": "LI121",
    "zone valves with size": "LI101 LI601",
    "heads and emitters": "LI101 LI601",
    "arcs of coverage": "LI101",
    "controller: place": "LI101",
    "rain, freeze": "LI101",
    "quick couplers, hose outlets, filters": "LI101",
    "station table": "LI601 schedules",
    "static pressure at the connection": "G-001 application",
    "how measured": "G-001",
    "pressure-loss calculation": "LI621 pressure",
    "separate zones": "LI601",
    "valve box, head, sleeve": "LI501",
    "detail of the controller": "",
    "statement of compliance": "compliance",
    "least cover": "LI501",
    "shortfalls of coverage": "watering",
    "call before you dig": "LI001",
    "no spray on paving": "LI001",
    "chemicals, septic": "G-001 hazard",
    "reclaimed water": "G-001 hazard",
    "valves dimensioned to fixed points": "LI111",
    "splices and grounding": "",
}
IN_THE_PACKET = {
    "application data": "application",
    "fee": "application",
    "registration or licence": "application",
    "insurance": "",
    "bond": "",
    "survey": "",
    "site plan": "LI101",
    "copy of contract": "",
    "affidavit": "",
    "approved list": "application",
    "hydraulic worksheet": "LI621",
    "irrigation chart": "LI601",
    "water budget": "watering",
    "soil report": "",
    "grading plan": "",
    "seasonal watering schedule": "watering seasonal",
    "separate permits": "",
    "before backfill and final": "inspections",
    "inspection request": "inspections",
    "first test report": "test-report",
    "as-built plan": "",
    "maintenance checklist": "maintenance",
    "walk-through": "walk-through",
    "sticker": "",
    "warranty": "",
}


@pytest.fixture(scope="module")
def rows(packet) -> list[tuple[str, str, str]]:
    """Return the page's list as (number, what is asked for, where shown)."""
    page = (packet / "index.html").read_text(encoding="utf-8")
    section = page[page.index('<section id="checklist"') : page.index('<section id="scope"')]
    row = r'<tr id="item-([AB]\d+)"><th[^>]*>.*?</th><td>(.*?)</td><td>(.*?)</td>'
    return [(n, unescape(asked).lower(), where) for n, asked, where in re.findall(row, section)]


@pytest.mark.parametrize(
    "half, asked", [("A", ON_THE_DRAWING), ("B", IN_THE_PACKET)], ids=["drawing", "packet"]
)
def test_every_item_of_the_ledger_is_located_or_said_not_to_be_provided(rows, packet, half, asked):
    page = (packet / "index.html").read_text(encoding="utf-8")
    for words, places in asked.items():
        found = [where for number, told, where in rows if number.startswith(half) and words in told]
        assert found, f"nothing on the list asks for: {words}"
        links = set(re.findall(r'href="#([^"]+)"', " ".join(found)))
        if not places:
            said = "none in the design" if places is None else "not provided"
            assert not links and all(f"<strong>{said}</strong>" in where for where in found), words
            continue
        wanted = {p if p.islower() else f"sheet-{p}" for p in places.split()}
        more = re.search(r"and \d+ more sheets", " ".join(found))
        assert wanted <= links or (more and links), (words, wanted - links)
        assert all(f'id="{link}"' in page for link in links), words


def test_nothing_on_the_list_is_asked_for_by_nobody(rows):
    known = [*ON_THE_DRAWING, *IN_THE_PACKET]
    assert [told for _, told, _ in rows if not any(words in told for words in known)] == []


def _sheet(*marks: str) -> Sheet:
    drawn = tuple(Drawn(*(m.split("/") if "/" in m else (m, "")), object="", zone="A1") for m in marks)
    return Sheet("LI901", "Made up", 100.0, 100.0, "none", (), drawn)


@pytest.fixture(scope="module")
def nothing() -> Contents:
    """Return the residential design with nothing drawn or worked out."""
    design = read_design(SourceFile.of("design.plan", RESIDENTIAL.read_text(encoding="utf-8"))).value
    assert design is not None
    return dataclasses.replace(bare(design), hydraulics=SimpleNamespace(worst=None))  # type: ignore[arg-type]


@pytest.mark.parametrize("item", [i for i in DRAWING if i.marks], ids=lambda item: item.words[:30])
def test_what_is_no_longer_drawn_is_no_longer_claimed(item: Item, nothing: Contents):
    place = DRAWING.index(item)

    def state(*marks: str) -> str:
        drawn = dataclasses.replace(nothing, sheets=SheetSet((_sheet(*marks),)))
        return checklist(drawn)[0].lines[place].state

    every = (*item.marks, *item.any_marks[:1])
    assert state(*every) == SHOWN
    for mark in every:
        assert state(*(m for m in every if m != mark)) in (MISSING, NONE), mark
