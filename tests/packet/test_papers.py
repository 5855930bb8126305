"""Forms, cards, the checklist, the plots and the calendar of the packet, from the residential design.

Source of the calendar's rules: RFC 5545, sections 3.1, 3.3 and 3.6; of the form's fields: government test
forms (Iowa City IA, form of 9/02; Austin TX).
"""

from __future__ import annotations

import dataclasses
import re
from html import unescape

import pytest

from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.packet.annual_test import NOBODY, calendar_text
from plangen.packet.assembly_form import test_forms as forms_of
from plangen.packet.assembly_readings import READINGS
from plangen.packet.drawings import _linked
from plangen.packet.shared_groups import share_groups
from plangen.packet.tables import Form
from plangen.text.source import SourceFile
from tests.packet.test_recorded_tests import bare, recorded


@pytest.fixture(scope="module")
def design(packet) -> Design:
    text = (packet / "source" / "design.plan").read_text(encoding="utf-8")
    found = read_design(SourceFile.of("design.plan", text)).value
    assert found is not None
    return found


@pytest.fixture(scope="module")
def page(packet) -> str:
    return (packet / "index.html").read_text(encoding="utf-8")


def unfolded(data: bytes) -> list[str]:
    """Return content lines as RFC 5545, section 3.1 has them: CRLF, at most 75 octets, folds undone."""
    assert data.endswith(b"\r\n") and b"\n" not in data.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    return data.decode("utf-8").replace("\r\n ", "").split("\r\n")[:-1]


def properties(lines: list[str]) -> list[tuple[str, str]]:
    found = []
    for line in lines:
        assert re.match(r"[A-Z-]+(;[A-Z-]+=[^;:]+)*:", line), line
        name, _, value = line.partition(":")
        found.append((name, value))
    return found


def test_the_calendar_holds_to_the_rules(packet):
    told = properties(unfolded((packet / "annual-test.ics").read_bytes()))
    names = [name for name, _ in told]
    assert told[0] == ("BEGIN", "VCALENDAR") and told[-1] == ("END", "VCALENDAR")
    assert names.count("VERSION") == names.count("PRODID") == 1
    assert [v for n, v in told if n == "BEGIN"] == ["VCALENDAR", "VEVENT", "VALARM"]
    event = dict(told[names.index("BEGIN", 1) : len(told) - 1])
    assert re.fullmatch(r"\d{8}T\d{6}Z", event["DTSTAMP"])
    assert event["UID"] and event["DTSTART;VALUE=DATE"] == "20270504"
    assert event["DTSTAMP"] == "20260504T000000Z", "from the day of issue, not from a clock"


def test_hostile_text_in_the_calendar_stays_in_its_line(design):
    project = dataclasses.replace(
        design.project, address="a;b,c\\d\r\nBEGIN:VEVENT\n\x00\x07end", purveyor="\u202e" + "é" * 200
    )
    data = calendar_text(dataclasses.replace(design, project=project), NOBODY).encode()
    told = properties(unfolded(data))
    assert [v for n, v in told if n == "BEGIN"] == ["VCALENDAR", "VEVENT", "VALARM"]
    assert dict(told)["LOCATION"] == "a\\;b\\,c\\\\d\\nBEGIN:VEVENT\\nend"


def test_no_date_no_calendar(design):
    project = dataclasses.replace(design.project, issued=None)
    assert calendar_text(dataclasses.replace(design, project=project), NOBODY) == ""


@pytest.mark.parametrize("kind", ["pvb", "svb", "rp", "dc"])
def test_each_kind_has_its_own_readings(kind):
    """Source: Iowa City IA, test form of 9/02: least accepted readings (psid)."""
    least = {words: value for words, value, _ in READINGS[kind]}
    expected = {
        "pvb": {"Air inlet opened at (psid)": "1.0 psid", "Check valve held at (psid)": "1.0 psid"},
        "svb": {"Check valve held at (psid)": "1.0 psid", "Air inlet began to open at (psid)": "1.0 psid"},
        "rp": {
            "Check valve 1 held at (psid)": "5.0 psid",
            "Relief valve opened at (psid)": "2.0 psid",
            "Buffer: check 1 less relief (psid)": "3.0 psid",
            "Check valve 2 held at (psid)": "1.0 psid",
        },
        "dc": {"Check valve 1 held at (psid)": "1.0 psid", "Check valve 2 held at (psid)": "1.0 psid"},
    }[kind]
    assert expected.items() <= least.items()


# The ledger of rules, TST-05 (Iowa City IA, form of 9/02, read) and TST-06 (Austin TX, read): each field
# that a test form asks for, and the words under which our form has it.
LEDGER = {
    "customer number": "Customer or account number",
    "service address": "Service address",
    "device location": "Exact place",
    "date and time": "Date and time",
    "supply pressure": "Supply line pressure",
    "type": "Kind",
    "maker": "Maker",
    "model": "Model",
    "size": "Size",
    "serial number": "Serial number",
    "height off floor": "Height above grade",
    "freeze protection": "Protected from frost",
    "flood protection": "Protected from flooding (yes / no)",
    "new": "New, existing or replacement",
    "gauge calibration date": "Gauge calibrated on (not older than 12 months)",
    "initial readings": "First test",
    "final readings": "Test after repair",
    "repairs": "Parts replaced",
    "certification": "Assembly passed / failed",
    "tester's number": "Tester's certificate number",
    "owner's signature": "Owner or owner's representative, signature and date",
    "tester's signature": "Tester's signature and date",
    "reason for protection": "Reason for protection",
    "owner's mailing address": "Owner's mailing address",
    "owner's representative": "Owner or owner's representative, signature and date",
    "gauge serial number": "Gauge maker and serial number",
    "when it is due": "Report due",
}
KINDS = {"pvb": "critical level", "svb": "critical level", "rp": "relief port", "dc": "height",
         "avb": "critical level"}  # fmt: skip


def labels(form: Form) -> set[str]:
    """Return every label of a form: of its facts, its columns and its lines to sign."""
    facts = {f.label for _, held in form.groups for f in held}
    return facts | {c for t in form.tables for c in t.columns} | set(form.sign)


@pytest.mark.parametrize("kind", KINDS)
def test_the_test_report_of_each_kind_has_every_field_of_the_ledger(kind):
    swap = (
        ("pvb-1, pvb, at", f"pvb-1, {kind}, at"),
        ("  assembly        pvb\n", f"  assembly        {kind}\n"),
        ("critical level 28 in", f"{KINDS[kind]} 28 in"),
    )
    (form,) = forms_of(bare(recorded(swap=swap)))
    assert {field for field, label in LEDGER.items() if label not in labels(form)} == set()
    assert {row[0].text for row in form.tables[0].rows} == {words for words, _, _ in READINGS[kind]}


def test_the_page_prints_every_field_of_the_ledger(page):
    report = unescape(page[page.index('<section id="test-report"') : page.index('<section id="forms"')])
    assert {field for field, label in LEDGER.items() if label not in report} == set()


@pytest.mark.parametrize(
    "card",
    ["shut-off", "controller-card", "seasonal", "walk-through", "maintenance", "winterise", "spring",
     "next-test", "locate", "compliance", "test-BF1"],
)  # fmt: skip
def test_every_paper_is_there_with_this_designs_own_names(page, card):
    start = page.index(f'id="{card}"')
    text = page[
        start : page.index('<div class="card', start + 1) if '<div class="card' in page[start + 1 :] else None
    ]
    names = {"shut-off": "IV1", "controller-card": "Z4", "walk-through": "BO1", "maintenance": "ST4",
             "winterise": "DR1", "spring": "BF1", "next-test": "2027-05-04", "locate": "gas G1",
             "compliance": "QM-IR-0187", "seasonal": "Z3", "test-BF1": "ASSE 1020"}  # fmt: skip
    assert names[card] in text


def test_spring_opens_the_assembly_as_the_sequence_of_work_does(page):
    """One order for each kind of assembly, told the same everywhere."""
    spring = page[page.index('id="spring"') :]
    spring = spring[: spring.index("Source:")]
    places = []
    for key in ("fill-connection", "open-assembly"):
        step = page[page.index(f'id="step-{key}"') :]
        lines = re.findall(r"<p>(.*?)</p>", step[: step.index("<p><strong>Here")])
        assert lines
        places += [spring.index(f"<li>{line}</li>") for line in lines]
    assert places == sorted(places)
    assert spring.index("shut-off No. 1 (inlet) open") < places[0], "as before the first water"


def test_every_plot_has_words_and_a_table(page):
    plots = re.findall(r'<figure class="plot[^"]*">.*?</figure>', page, re.S)
    assert len(plots) >= 6, "a profile for each zone, the spread, the map"
    for plot in plots:
        assert re.search(r'role="img" aria-labelledby="\S+ \S+"', plot)
        assert len(re.findall(r"<desc[^>]*>[^<]{20,}</desc>", plot)) == 1
    for table in ("pressure-spread", "rain-shares", "load-cases", "budget-Z1"):
        assert f'<table id="{table}"' in page


def test_the_page_is_small_enough(packet):
    assert (packet / "index.html").stat().st_size < 3_000_000


def test_a_link_around_an_object_without_words_has_a_name():
    """Source: WCAG 2.2, success criterion 2.4.4, as axe-core's rule link-name tests it."""
    svg = '<g data-object="P1" id="a"><path/></g><g data-object="P2" id="b"><title>P2</title></g></svg>'
    linked = _linked(svg, {"P1": "finding-x", "P2": "finding-y"})
    assert '<a href="#object-P1" tabindex="-1" aria-label="P1"><g' in linked
    assert '<a href="#object-P2" tabindex="-1"><g' in linked and linked.count("</a>") == 2


def test_equal_groups_are_drawn_once():
    inner = "<path d='M0 0'/>" * 40
    one, other = (
        f"<svg><g class='x'>{inner}</g></svg>",
        f"<svg><g class='x'>{inner}</g><g id='y'>{inner}</g></svg>",
    )
    first, second = share_groups([one, other])
    assert first.count("<g id=\"shared-1\" class='x'>") == 1
    assert second == f"<svg><use href=\"#shared-1\"/><g id='y'>{inner}</g></svg>"
