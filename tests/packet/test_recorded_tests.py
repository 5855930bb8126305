"""Recorded tests fill the forms, and the next test counts from them.

Source of the fields and least readings: government test forms (Iowa City IA, form of 9/02, read); of the age
of a gauge's calibration: requirements for testers (Austin TX, read: 12 months); of the calendar's format:
RFC 5545, read back by the registry library `icalendar`. Everything else is worked out by hand beside it.
"""

from __future__ import annotations

import dataclasses
import datetime
from pathlib import Path

import pytest

from plangen.checking.duties import Duty
from plangen.hydraulics.analyse import analyse
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.packet.annual_test import NOBODY, Cycle, calendar_text, months_after, next_tests
from plangen.packet.application import application
from plangen.packet.assembly_form import test_forms as forms_of
from plangen.packet.contents import Contents
from plangen.packet.inspections import cards
from plangen.packet.recorded import record_tables, step_records
from plangen.packet.tables import Form, Table
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile, SourceSet
from tests.conftest import RESIDENTIAL

FAILED = """  assembly test BF1, on 2026-06-02, by "Orla Teasdane", licence "QM-BT-0044", gauge "QG-118",
                 calibrated 2025-01-03, air inlet 0.6 psi, check valve 2.1 psi, first shut-off leaked, failed
"""
PASSED = """  assembly test BF1, on 2026-06-03, by "Orla Teasdane", licence "QM-BT-0044", firm "Teasdane",
                 gauge "QG-118", calibrated 2026-01-03, reason "after repair", air inlet 1.6 psi,
                 check valve 2.1 psi, first shut-off tight, second shut-off tight, passed
"""
OTHERS = """  pressure test  "main", on 2026-05-28, by "Tobin Marlesk", pressure 100 psi, held 2 h, loss 3 psi
  flushing       "main", on 2026-05-27, by "Tobin Marlesk", for 10 min
"""


def recorded(*tests: str, changes: str = "", swap: tuple[tuple[str, str], ...] = ()) -> Design:
    """Return the residential design with records put in."""
    text = Path(RESIDENTIAL).read_text(encoding="utf-8")
    for old, new in swap:
        assert old in text
        text = text.replace(old, new)
    blocks = f"records {{\n{''.join(tests)}}}\n\n" if tests else ""
    blocks += f"changes {{\n{changes}}}\n\n" if changes else ""
    read = read_design(SourceFile.of("design.plan", text.replace("control {\n", blocks + "control {\n", 1)))
    assert read.value is not None, read.problems
    return read.value


def bare(design: Design, duties: tuple[Duty, ...] = ()) -> Contents:
    """Return a design with nothing worked out: papers that need no result are the same with it."""
    nothing = Layout((), (), (), (), (), ())
    return Contents(
        design=design, hydraulics=None, layout=nothing, sheets=SheetSet(()), svgs=(), findings=(), packs=(),
        sources=SourceSet(()), digest="", sheet_digests=(), inputs=(), products=(), version="", duties=duties,
    )  # type: ignore[arg-type]  # fmt: skip


def form_of(design: Design) -> Form:
    """Return the report of the design's one assembly."""
    (form,) = forms_of(bare(design))
    return form


def filled(form: Form) -> dict[str, str]:
    return {f.label: f.value for _, facts in form.groups for f in facts}


def readings(form: Form) -> dict[str, list[str]]:
    table = form.tables[0]
    return {row[0].text: [c.text for c in row[3:]] for row in table.rows}


def table(tables: tuple[Table, ...], name: str) -> list[list[str]]:
    return [[c.text for c in row] for t in tables if t.id == name for row in t.rows]


def test_without_a_record_every_reading_is_blank():
    form = form_of(recorded())
    assert form.tables[0].columns[3:] == ("First test", "Test after repair")
    assert all(cells == ["", ""] for cells in readings(form).values())
    for label in ("Assembly passed / failed", "Tester's name", "Gauge maker and serial number"):
        assert filled(form)[label] == ""


def test_a_record_fills_the_report():
    form = form_of(recorded(FAILED, PASSED))
    assert form.tables[0].columns[3:] == ("First test, 2026-06-02", "Test of 2026-06-03")
    found = readings(form)
    # 0.6 psid is under the 1.0 psid that the form accepts, 1.6 and 2.1 are not.
    assert found["Air inlet opened at (psid)"] == ["0.6 psi (UNDER 1.0 psid)", "1.6 psi"]
    assert found["Check valve held at (psid)"] == ["2.1 psi", "2.1 psi"]
    assert found["Shut-off 1 leaked (yes / no)"] == ["yes (leaked)", "no (tight)"]
    assert found["Shut-off 2 leaked (yes / no)"] == ["", "no (tight)"]
    told = filled(form)
    assert told["Date and time"] == "2026-06-03" and told["Tester's name"] == "Orla Teasdane"
    assert told["Gauge maker and serial number"] == "QG-118"
    assert told["Tester's certificate number"] == "QM-BT-0044"
    assert told["Test is (first, yearly, after repair)"] == "after repair"
    assert told["Assembly passed / failed"] == "passed" and told["Next test due"] == "2027-06-03"
    assert "Signature" not in "".join(told), "nothing is signed by a record"


def test_what_failed_never_reads_as_passed():
    form = form_of(recorded(FAILED))
    assert form.tables[0].columns[-1] == "Test after repair"
    assert filled(form)["Assembly passed / failed"] == "failed" and filled(form)["Next test due"] == ""
    assert "stays shut off" in form.intro[0]
    silent = form_of(recorded(FAILED.replace(", failed", "")))
    assert filled(silent)["Assembly passed / failed"] == "result not stated"
    assert "has not passed" in silent.intro[0]


def test_an_old_calibration_is_pointed_out():
    """2025-01-03 to 2026-06-02 is more than 12 months; 2026-01-03 to 2026-06-03 is not: 151 days."""
    age = {f.label: f.source for _, facts in form_of(recorded(FAILED)).groups for f in facts}
    assert "OLDER THAN 12 MONTHS" in age["Gauge calibrated on (not older than 12 months)"]
    age = {f.label: f.source for _, facts in form_of(recorded(PASSED)).groups for f in facts}
    assert age["Gauge calibrated on (not older than 12 months)"] == "151 days before the test"


def test_a_reduced_pressure_assembly_has_its_buffer():
    """Iowa City IA: check 1 less relief at least 3.0 psid. 8.1 - 3.0 = 5.1; 5.5 - 3.0 = 2.5."""
    rp = (("pvb-1, pvb, at", "pvb-1, rp, at"), ("critical level 28", "relief port 28"),
          ("  assembly        pvb\n", "  assembly        rp\n"))  # fmt: skip
    line = '  assembly test BF1, on 2026-06-02, by "O", first check {} psi, relief valve 3 psi\n'
    good, poor = (readings(form_of(recorded(line.format(x), swap=rp))) for x in (8.1, 5.5))
    assert good["Buffer: check 1 less relief (psid)"][0] == "5.1 psi"
    assert poor["Buffer: check 1 less relief (psid)"][0] == "2.5 psi (UNDER 3.0 psid)"


def test_metric_projects_read_in_bar():
    """1 psi = 0.068948 bar (NIST SP 811, appendix B.8)."""
    form = form_of(recorded(swap=(("units          us", "units          metric"),)))
    assert [c.text for c in form.tables[0].rows[0][:2]] == [
        "Air inlet opened at (bar)",
        "0.069 bar (1.0 psid)",
    ]


def test_other_records_have_their_tables_and_stand_at_their_steps():
    design = recorded(FAILED, OTHERS, changes='  moved V1 "1 ft east", on 2026-05-29, by "Tobin Marlesk"\n')
    tables = record_tables(design, ())
    (pressure,) = table(tables, "recorded-pressure-tests")
    assert pressure[:6] == ["main", "2026-05-28", "Tobin Marlesk", "100 psi", "2 h", "3 psi"]
    assert pressure[8] == "result not stated" and "ask the authority" in pressure[9]
    assert table(tables, "recorded-flushing") == [["main", "2026-05-27", "Tobin Marlesk", "10 min"]]
    assert table(tables, "recorded-changes")[0][:3] == ["V1", "moved", "1 ft east"]
    assert set(step_records(design)) == {"assembly-test", "pressure-test", "flush-main", "record"}
    assert record_tables(recorded(), ()) == ()


@pytest.mark.parametrize(
    ("day", "months", "due"),
    [("2028-02-29", 12, "2029-02-28"), ("2026-05-04", 12, "2027-05-04"), ("2026-08-31", 6, "2027-02-28"),
     ("2027-08-31", 6, "2028-02-29"), ("2026-12-15", 1, "2027-01-15"), ("2026-06-03", 36, "2029-06-03")],
)  # fmt: skip
def test_months_are_counted_by_the_calendar(day, months, due):
    """Source: the Gregorian calendar: 2028 is a leap year, 2027 and 2029 are not."""
    assert months_after(datetime.date.fromisoformat(day), months) == datetime.date.fromisoformat(due)


def test_the_next_test_counts_from_the_last_that_passed():
    assert next_tests(recorded(FAILED, PASSED), NOBODY)[0].due == datetime.date(2027, 6, 3)
    assert next_tests(recorded(PASSED), Cycle(36, "x"))[0].due == datetime.date(2029, 6, 3)
    failed = next_tests(recorded(FAILED), NOBODY)[0]
    assert failed.due is None and "due now" in failed.words
    moved = next_tests(recorded(PASSED, changes='  moved BF1 "1 ft", on 2026-06-04\n'), NOBODY)[0]
    assert moved.due is None and "moved on 2026-06-04" in moved.words
    before = next_tests(recorded(PASSED, changes='  moved BF1 "1 ft", on 2026-06-03\n'), NOBODY)[0]
    assert before.due == datetime.date(2027, 6, 3)
    assert "not known: ask the authority" in before.words


@pytest.mark.parametrize(
    ("cycle", "repeated"), [(12, ("YEARLY", None)), (36, ("YEARLY", 3)), (6, ("MONTHLY", 6))]
)
def test_the_calendar_is_read_by_another(cycle, repeated):
    icalendar = pytest.importorskip("icalendar")
    design = recorded(PASSED)
    project = dataclasses.replace(design.project, address="1; Heron, Court\\ \u202eé" + "long " * 30)
    text = calendar_text(dataclasses.replace(design, project=project), Cycle(cycle, "As the authority says."))
    read = icalendar.Calendar.from_ical(text.encode())
    (event,) = read.walk("VEVENT")
    assert event.decoded("dtstart") == months_after(datetime.date(2026, 6, 3), cycle)
    assert event.decoded("dtend") - event.decoded("dtstart") == datetime.timedelta(days=1)
    # The latest day that the design tells of, not the day of the build.
    assert event.decoded("dtstamp") == datetime.datetime(2026, 6, 3, tzinfo=datetime.UTC)
    assert str(event["location"]) == project.address
    rule = event["rrule"]
    assert (rule["FREQ"][0], rule.get("INTERVAL", [None])[0]) == repeated
    assert event.errors == [] and read.errors == []


def test_no_day_no_entry():
    assert calendar_text(recorded(FAILED), NOBODY) == ""


def test_what_is_taken_out_is_not_told_as_part_of_the_work():
    """The project's own rule: papers are of the finished work; what is not said is a line to write on."""
    path = RESIDENTIAL.parents[1] / "replacement" / "design.plan"
    design = read_design(SourceFile.of("design.plan", path.read_text(encoding="utf-8"))).value
    assert design is not None
    contents = dataclasses.replace(bare(design), hydraulics=analyse(design, Surface.of(design)))
    told = {f.label: f.value for _, facts in application(contents) for f in facts}
    assert told["BF0: kind"].endswith(", taken out") and "BF0: size" not in told and "BF1: size" in told
    shown = cards(contents)
    assert "card-tap" not in {c.id for c in shown}, "the tap is there and is left alone"
    assert not any("BF0" in row[0].text for c in shown for row in c.figures.rows)
    (form,) = forms_of(contents)
    serial = next(f for _, facts in form.groups for f in facts if f.label == "Serial number")
    assert serial.fill and not serial.value
