"""Facts of what was found on site. Which reading is good enough is for the packs to say."""

from __future__ import annotations

import datetime

from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import given, known, row, said, stated, unknown, worked
from plangen.model.records import READINGS, AssemblyTest, Change, Flushing, GaugeReading, PressureTest
from plangen.model.waterworks import Device
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import Basis, Provenance
from plangen.text.source import Span

_PRESSURES = ("air inlet", "check valve", "first check", "second check", "relief valve")
_SHUTOFFS = ("first shut-off", "second shut-off")
_DAY_S = 86400.0


def record_rows(survey: Survey) -> list[Row]:
    """Return one row for each recorded test, flushing and change."""
    records = survey.design.records
    found = [
        *(_assembly_test(survey, t) for t in records.assembly_tests),
        *(_pressure_test(survey, t) for t in records.pressure_tests),
        *(_flushing(survey, f) for f in records.flushings),
        *(_change(survey, c) for c in records.changes),
    ]
    return _numbered(found)


def assembly_tested(survey: Survey, device: Device) -> Value:
    """Return whether a field test of an assembly is recorded."""
    latest = _latest(survey, device.name)
    words = f"tested on {latest.on.isoformat()}" if latest else "no test is recorded"
    return known(latest is not None, words, _tested(latest) if latest else None)


def assembly_passed(survey: Survey, device: Device) -> Value:
    """Return whether the latest recorded test of an assembly passed."""
    latest = _latest(survey, device.name)
    return _passed(latest) if latest else unknown(f"no field test of {device.name} is recorded")


def tested_since_changes(survey: Survey, device: Device) -> Value:
    """Return whether the latest test of an assembly is on or after the day of its latest change."""
    latest = _latest(survey, device.name)
    if latest is None:
        return unknown(f"no field test of {device.name} is recorded")
    days = [c.on for c in survey.design.records.changes if c.name == device.name]
    if not days:
        return known(True, f"no change of {device.name} is recorded", _tested(latest))
    words = f"changed on {max(days).isoformat()}, tested on {latest.on.isoformat()}"
    return known(latest.on >= max(days), words, _tested(latest))


def _latest(survey: Survey, assembly: str) -> AssemblyTest | None:
    tests = [t for t in survey.design.records.assembly_tests if t.assembly == assembly]
    return max(tests, key=lambda t: t.on) if tests else None


def _assembly_test(survey: Survey, test: AssemblyTest) -> Row:
    name = f"{test.assembly} on {test.on.isoformat()}"
    device = survey.path.devices.get(test.assembly)
    kind = device.assembly_kind if device else ""
    readings = {r.name: r for r in test.readings}
    values = {
        "assembly": known(test.assembly),
        "kind": known(kind) if kind else unknown(f"the type of assembly {test.assembly} is not stated"),
        "latest": known(_latest(survey, test.assembly) is test),
        "passed": _passed(test),
        "licence_given": said(test.licence),
        "gauge_given": said(test.gauge),
        "calibration_given": known(test.calibrated is not None),
        "calibration_age": _calibration_age(test),
        "readings_complete": _complete(test, kind, readings),
    }
    for lead in _PRESSURES:
        reading = readings.get(lead)
        missing = f"the test {name} has no reading of the {lead}"
        values[lead.replace(" ", "_")] = stated(lead, reading.value if reading else None, missing)
    values["relief_margin"] = _relief_margin(name, readings)
    for lead in _SHUTOFFS:
        reading = readings.get(lead)
        field = f"{lead.replace('-', '').replace(' ', '_')}_tight"
        values[field] = (
            known(reading.words == "tight", f"the {lead} {_saw(reading)}", _tested(test))
            if reading
            else unknown(f"the test {name} does not say whether the {lead} was tight")
        )
    return row("assembly_test", name, test.span, values)


def _saw(reading: GaugeReading) -> str:
    return "was tight" if reading.words == "tight" else reading.words


def _passed(test: AssemblyTest | PressureTest) -> Value:
    what = f"the test of {test.assembly if isinstance(test, AssemblyTest) else test.what}"
    if test.passed is None:
        return unknown(f"{what} on {test.on.isoformat()} does not say passed or failed")
    words = f"{what} on {test.on.isoformat()} {'passed' if test.passed else 'failed'}"
    return known(test.passed, words, _tested(test))


def _tested(test: AssemblyTest | PressureTest) -> Input:
    what = test.assembly if isinstance(test, AssemblyTest) else test.what
    words = f"{test.by}: {_RESULT[test.passed]}"
    return Input(f"test of {what}", words, _on(test.on), test.span)


_RESULT = {True: "passed", False: "failed", None: "no result stated"}


def _on(day: datetime.date) -> Provenance:
    return Provenance(Basis.MEASURED, day)


def _calibration_age(test: AssemblyTest) -> Value:
    if test.calibrated is None:
        return unknown(f"when the gauge of the test of {test.assembly} was last calibrated is not stated")
    words = f"calibrated {test.calibrated.isoformat()}, tested {test.on.isoformat()}"
    source = Input("gauge calibrated", test.calibrated.isoformat(), _on(test.calibrated), test.span)
    return worked((test.on - test.calibrated).days * _DAY_S, words, (source,))


def _complete(test: AssemblyTest, kind: str, readings: dict[str, GaugeReading]) -> Value:
    wanted = READINGS.get(kind)
    if wanted is None:
        return unknown(f"which readings a test of {test.assembly} takes is not known for its type")
    lacking = [lead for lead in wanted if lead not in readings]
    return known(not lacking, f"lacks {', '.join(lacking)}" if lacking else "", _tested(test))


def _relief_margin(name: str, readings: dict[str, GaugeReading]) -> Value:
    first, relief = readings.get("first check"), readings.get("relief valve")
    if first is None or first.value is None or relief is None or relief.value is None:
        return unknown(f"the test {name} lacks a reading of the first check or the relief valve")
    basis = (given("first check", first.value), given("relief valve", relief.value))
    return worked(
        first.value.si - relief.value.si, "first check less relief valve", tuple(i for i in basis if i)
    )


def _pressure_test(survey: Survey, test: PressureTest) -> Row:
    facts = dict(survey.design.procedure_facts)
    values = {
        "pipes": known(test.what),
        "pressure": stated("test pressure", test.pressure, "the pressure of the test is not stated"),
        "time": stated("time held", test.time, "how long the test was watched is not stated"),
        "loss": stated("loss", test.loss, "how much the pressure fell is not stated"),
        "stated_pressure": stated(
            "test pressure of the procedure",
            facts.get("test pressure"),
            "the procedure states no test pressure",
        ),
        "stated_time": stated(
            "test time of the procedure", facts.get("test time"), "the procedure states no test time"
        ),
        "witnessed": said(test.witness),
        "passed": _passed(test),
    }
    return row("pressure_test", f"{test.what} on {test.on.isoformat()}", test.span, values)


def _flushing(survey: Survey, flushing: Flushing) -> Row:
    tests = survey.design.records.assembly_tests
    earlier = sorted({t.assembly for t in tests if t.on < flushing.on})
    values = {
        "pipes": known(flushing.what),
        "time": stated("time", flushing.time, f"how long {flushing.what} was flushed is not stated"),
        "before_assembly_tests": known(
            not earlier, f"tested before it: {', '.join(earlier)}" if earlier else ""
        ),
    }
    return row("flushing", f"{flushing.what} on {flushing.on.isoformat()}", flushing.span, values)


def _change(survey: Survey, change: Change) -> Row:
    project = survey.design.project
    days = [d for d in (project.issued, *(r.date for r in project.revisions)) if d is not None]
    device = survey.path.devices.get(change.name)
    what = change.name or change.text
    values = {
        "change": known(change.kind),
        "object": known(change.name) if change.name else unknown("the object was not built and has no name"),
        "of": known("assembly" if device is not None and device.kind == "assembly" else "other"),
        "decided_by_given": said(change.by),
        "issued_since": _issued_since(change.on, max(days) if days else None, change.span),
    }
    return row("change", f"{what} {change.kind} on {change.on.isoformat()}", change.span, values)


def _issued_since(day: datetime.date, issued: datetime.date | None, span: Span) -> Value:
    if issued is None:
        return unknown("the issue date is not stated")
    words = f"changed {day.isoformat()}, last issued {issued.isoformat()}"
    return known(issued >= day, words, Input("change", day.isoformat(), _on(day), span))


def _numbered(rows: list[Row]) -> list[Row]:
    """Return rows with names of their own: the second of two that are called alike is numbered."""
    counts: dict[tuple[str, str], int] = {}
    found = []
    for each in rows:
        key = (each.relation, each.name)
        counts[key] = counts.get(key, 0) + 1
        name = each.name if counts[key] == 1 else f"{each.name}, {counts[key]}"
        found.append(Row(each.relation, name, each.span, each.values))
    return found
