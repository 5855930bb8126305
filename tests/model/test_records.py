"""Records of a job: what was tested, flushed and built otherwise, and the figures of the work."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from plangen.model.read import read_design
from plangen.quantity.quantity import Basis
from plangen.text.source import SourceFile

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "examples" / "residential" / "design.plan").read_text(encoding="utf-8")
RECORDS = """
procedure {
  test pressure  100 psi from standard "Quillmoor Building Ordinance 4-9"
  test time      2 h
  cure time      24 h
}

records {
  assembly test BF1, on 2026-06-02, by "Orla Teasdane", licence "QM-BT-0044", gauge "QG-118",
                 calibrated 2026-01-10, air inlet 1.6 psi, check valve 2.1 psi, first shut-off tight,
                 second shut-off tight, passed
  pressure test  "main, P3 to P11", on 2026-05-28, by "Tobin Marlesk", pressure 100 psi, held 2 h,
                 loss 0 psi, passed
  flushing       "main and zones", on 2026-05-29, by "Tobin Marlesk", for 10 min
}

changes {
  moved BF1      "1 ft east, clear of the gas meter", on 2026-05-27, by "Tobin Marlesk"
  omitted        "the drain at N2", on 2026-05-27
}
"""


def read(old: str = "", new: str = ""):
    """Return what reading the residential example with records gives, after one change of the records."""
    assert not old or RECORDS.count(old) == 1
    return read_design(
        SourceFile.of("design.plan", TEXT + RECORDS.replace(old, new) if old else TEXT + RECORDS)
    )


def test_records_are_read_with_their_days() -> None:
    outcome = read()
    assert not outcome.problems and outcome.value is not None
    records = outcome.value.records
    (test,) = records.assembly_tests
    assert (test.assembly, test.on, test.passed) == ("BF1", datetime.date(2026, 6, 2), True)
    assert [(r.name, r.value.written if r.value else r.words) for r in test.readings] == [
        ("air inlet", "1.6 psi"),
        ("check valve", "2.1 psi"),
        ("first shut-off", "tight"),
        ("second shut-off", "tight"),
    ]
    value = test.readings[0].value
    assert value is not None and value.provenance.basis is Basis.MEASURED and value.provenance.date == test.on
    assert [t.what for t in records.pressure_tests] == ["main, P3 to P11"]
    assert [f.time.written for f in records.flushings if f.time] == ["10 min"]
    assert [(c.kind, c.name) for c in records.changes] == [("omitted", ""), ("moved", "BF1")]


def test_figures_of_the_work_are_found_by_their_names() -> None:
    design = read().value
    assert design is not None
    assert {name: q.written for name, q in design.procedure_facts} == {
        "cure time": "24 h",
        "test pressure": "100 psi",
        "test time": "2 h",
    }


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("test BF1", "test BF2", "PG2014"),
        ("test BF1", "test V1", "PG2015"),
        ("air inlet 1.6 psi", "relief valve 2.6 psi", "PG2029"),  # a vacuum breaker has no relief valve
        ("calibrated 2026-01-10", "calibrated 2026-07-10", "PG2030"),
        ("first shut-off tight", "first shut-off right", "PG2012"),
        (", held 2 h", "", "PG2010"),
        ("moved BF1", "moved BX1", "PG2014"),
        ('gas meter", on 2026-05-27', 'gas meter"', "PG2010"),
        ('by "Orla Teasdane", ', "", "PG2010"),
        ("cure time      24 h", "cure time      24 psi", "PG2006"),
    ],
)
def test_a_slip_is_told_once(old: str, new: str, code: str) -> None:
    assert [p.code for p in read(old, new).problems] == [code]
