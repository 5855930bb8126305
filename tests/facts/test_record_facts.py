"""Facts of recorded tests, flushing and changes: worked out by hand from the records beside them."""

from __future__ import annotations

import pytest

from plangen.facts.values import Value
from plangen.quantity.quantity import Basis
from tests.facts.facts_run import FactRun, run

# 1 psi = 6894.757 Pa (NIST SP 811, appendix B.8).
PSI_PA = 6894.757
DAY_S = 86400.0
RECORDS = """control {
  controller C1"""
BLOCKS = """procedure {
  test pressure  100 psi
}

records {
  assembly test BF1, on 2026-06-02, by "Orla Teasdane", licence "QM-BT-0044",
                 calibrated 2026-01-03, air inlet 1.6 psi, first shut-off leaked, failed
  assembly test BF1, on 2026-06-03, by "Orla Teasdane", licence "QM-BT-0044", gauge "QG-118",
                 calibrated 2026-01-03, air inlet 1.6 psi, check valve 2.1 psi, first shut-off tight,
                 second shut-off tight, passed
  pressure test  "main", on 2026-05-28, by "Tobin Marlesk", pressure 100 psi, held 2 h, loss 3 psi
  flushing       "main", on 2026-06-03, by "Tobin Marlesk", for 10 min
}

changes {
  moved BF1      "1 ft east", on 2026-06-04, by "Tobin Marlesk"
  omitted        "the drain at N2", on 2026-04-27
}

control {
  controller C1"""


@pytest.fixture(scope="module")
def recorded() -> FactRun:
    return run((RECORDS, BLOCKS))


@pytest.fixture(scope="module")
def silent() -> FactRun:
    return run()


def value(
    found: FactRun, relation: str, name: str, field: str
) -> float | bool | str | tuple[str, ...] | None:
    """Return the bare value of a fact."""
    return found.value(relation, name, field).value


def test_each_test_is_a_row_and_only_the_last_is_the_latest(recorded: FactRun) -> None:
    rows = recorded.facts.of("assembly_test")
    assert [r.name for r in rows] == ["BF1 on 2026-06-02", "BF1 on 2026-06-03"]
    assert [r.get("latest").value for r in rows] == [False, True]
    assert [r.get("passed").value for r in rows] == [False, True]
    assert [r.get("readings_complete").value for r in rows] == [False, True]
    assert [r.get("gauge_given").value for r in rows] == [False, True]
    assert [r.get("first_shutoff_tight").value for r in rows] == [False, True]
    assert recorded.value("assembly_test", rows[0].name, "second_shutoff_tight").missing


def test_readings_are_measured_on_the_day_of_the_test(recorded: FactRun) -> None:
    inlet: Value = recorded.value("assembly_test", "BF1 on 2026-06-03", "air_inlet")
    assert inlet.value == pytest.approx(1.6 * PSI_PA, rel=1e-3)
    assert inlet.inputs[0].provenance.basis is Basis.MEASURED
    assert str(inlet.inputs[0].provenance.date) == "2026-06-03"
    # 3 January to 3 June 2026: 28 + 28 + 31 + 30 + 31 + 3 days.
    assert value(recorded, "assembly_test", "BF1 on 2026-06-03", "calibration_age") == 151 * DAY_S


def test_what_a_vacuum_breaker_has_not_is_not_known(recorded: FactRun) -> None:
    for field in ("first_check", "second_check", "relief_valve", "relief_margin"):
        found = recorded.value("assembly_test", "BF1 on 2026-06-03", field)
        assert found.value is None and found.missing


def test_the_assembly_knows_of_its_tests_and_changes(recorded: FactRun, silent: FactRun) -> None:
    assert value(recorded, "assembly", "BF1", "test_recorded") is True
    assert value(recorded, "assembly", "BF1", "test_passed") is True
    # It was moved the day after the last test.
    assert value(recorded, "assembly", "BF1", "tested_since_changes") is False
    assert value(recorded, "project", "project", "records_given") is True
    assert value(silent, "assembly", "BF1", "test_recorded") is False
    assert silent.value("assembly", "BF1", "test_passed").missing
    assert value(silent, "project", "project", "records_given") is False
    assert not silent.facts.of("assembly_test") and "assembly_test" in silent.facts.complete


def test_a_pressure_test_stands_beside_what_the_procedure_states(recorded: FactRun) -> None:
    (row,) = recorded.facts.of("pressure_test")
    assert row.get("pressure").value == row.get("stated_pressure").value
    assert row.get("loss").value == pytest.approx(3 * PSI_PA, rel=1e-3)
    assert row.get("time").value == 2 * 3600
    assert row.get("stated_time").missing and row.get("passed").missing
    assert row.get("witnessed").value is False


def test_flushing_and_changes_have_rows(recorded: FactRun) -> None:
    (flushing,) = recorded.facts.of("flushing")
    assert flushing.get("before_assembly_tests").value is False  # BF1 was tested on the day before it
    moved, omitted = (
        next(r for r in recorded.facts.of("change") if w in r.name) for w in ("moved", "omitted")
    )
    assert (moved.get("object").value, moved.get("of").value) == ("BF1", "assembly")
    # The plan was issued on 2026-05-04: before the move, after the omission.
    assert (moved.get("issued_since").value, omitted.get("issued_since").value) == (False, True)
    assert omitted.get("object").missing and omitted.get("decided_by_given").value is False


def test_a_reduced_pressure_assembly_has_a_margin_over_its_relief_valve() -> None:
    found = run(
        ("pvb-1, pvb, at", "pvb-1, rp, at"),
        ("critical level 28 in above grade", "relief port 28 in above grade"),
        ("  assembly        pvb\n", "  assembly        rp\n"),
        (
            RECORDS,
            'records {\n  assembly test BF1, on 2026-06-02, by "Orla Teasdane", first check 8.1 psi,\n'
            "    second check 2.0 psi, relief valve 3.0 psi, passed\n}\n\n" + RECORDS,
        ),
    )
    margin = found.value("assembly_test", "BF1 on 2026-06-02", "relief_margin")
    assert margin.value == pytest.approx((8.1 - 3.0) * PSI_PA, rel=1e-3)
    assert {i.name for i in margin.inputs} == {"first check", "relief valve"}
    assert found.value("assembly_test", "BF1 on 2026-06-02", "readings_complete").value is True
