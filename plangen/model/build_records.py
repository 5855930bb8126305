"""The blocks procedure, records and changes to their values."""

from __future__ import annotations

import datetime
from dataclasses import replace

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bound import Bound, BoundBlock, Ref
from plangen.model.names import NameTable, natural
from plangen.model.records import (
    READINGS,
    AssemblyTest,
    Change,
    Flushing,
    GaugeReading,
    PressureTest,
    Records,
)
from plangen.model.schema.job import PRESSURES, SHUTOFFS
from plangen.quantity.quantity import DECLARED, Basis, Provenance, Quantity


def read_procedure(block: BoundBlock | None) -> tuple[tuple[str, Quantity], ...]:
    """Return the stated figures of the work by their names, in the order of names."""
    found = [(b.kind, b.get("value")) for b in (block.statements if block else ())]
    return tuple(sorted(((k, v) for k, v in found if v is not None), key=lambda item: item[0]))


def read_procedure_words(block: BoundBlock | None) -> tuple[tuple[str, str], ...]:
    """Return what is said of the work in words by statement, in the order of names."""
    found = [(b.kind, b.get("text")) for b in (block.statements if block else ())]
    return tuple(sorted((kind, words) for kind, words in found if words))


def read_records(
    records: BoundBlock | None, changes: BoundBlock | None, names: NameTable, problems: Problems
) -> Records:
    """Return the records of a job; what could not be read is left out after its message."""
    tests, pressures, flushings, found = [], [], [], []
    for bound in records.statements if records else ():
        if bound.kind == "assembly test":
            test = _assembly_test(bound, names, problems)
            tests += [test] if test else []
        elif bound.broken:
            continue
        elif bound.kind == "pressure test":
            pressures.append(_pressure_test(bound))
        else:
            time = _measured(bound.get("time"), bound.get("on"))
            flushings.append(Flushing(bound.get("what"), bound.get("on"), bound.get("by"), bound.span, time))
    for bound in changes.statements if changes else ():
        ref: Ref | None = bound.get("name")
        known = bound.kind == "omitted" or (
            ref is not None and names.find(ref, (), "an object of the design")
        )
        if known and not bound.broken:
            name = ref.name if ref is not None else ""
            text, day = bound.get("text"), bound.get("on")
            found.append(Change(bound.kind, name, text, day, bound.span, bound.get("by") or ""))
    return Records(
        tuple(sorted(tests, key=lambda t: (t.on, natural(t.assembly)))),
        tuple(sorted(pressures, key=lambda t: (t.on, t.what))),
        tuple(sorted(flushings, key=lambda t: (t.on, t.what))),
        tuple(sorted(found, key=lambda c: (c.on, natural(c.name), c.text))),
    )


def _assembly_test(bound: Bound, names: NameTable, problems: Problems) -> AssemblyTest | None:
    ref: Ref | None = bound.get("assembly")
    if ref is None or names.find(ref, ("assembly",), "a backflow assembly") is None or bound.broken:
        return None
    entry = names.entries[ref.name]
    kind: str = (entry.bound.get("assembly_kind") if entry.bound else "") or ""
    wrong = [lead for lead in PRESSURES if kind in READINGS and lead not in READINGS[kind]]
    for lead in wrong:
        value = bound.get(lead.replace(" ", "_"))
        if value is not None:
            problems.error(
                "PG2029",
                f"`{ref.name}` is of kind `{kind}` and has no {lead}",
                value.span or bound.head,
                expected=f"readings of {', '.join(f'`{r}`' for r in READINGS[kind])}",
                labels=(Label(entry.span, "the assembly"),),
            )
            return None
    day = bound.get("on")
    if bound.get("calibrated") is not None and bound.get("calibrated") > day:
        problems.error(
            "PG2030",
            f"the gauge was calibrated on {bound.get('calibrated')}, after the test of {day}",
            bound.at("calibrated"),
            help="correct one of the days",
            labels=(Label(bound.at("on"), "the test"),),
        )
        return None
    readings = [
        GaugeReading(lead, _measured(value, day))
        for lead in PRESSURES
        if (value := bound.get(lead.replace(" ", "_"))) is not None
    ]
    readings += [
        GaugeReading(lead, None, words) for lead in SHUTOFFS if (words := bound.get(lead.replace(" ", "_")))
    ]
    return AssemblyTest(
        ref.name,
        day,
        bound.get("by"),
        bound.span,
        bound.get("licence") or "",
        bound.get("firm") or "",
        bound.get("gauge") or "",
        bound.get("calibrated"),
        bound.get("reason") or "",
        tuple(readings),
        _passed(bound),
    )


def _pressure_test(bound: Bound) -> PressureTest:
    day = bound.get("on")
    return PressureTest(
        bound.get("what"),
        day,
        bound.get("by"),
        bound.span,
        _measured(bound.get("pressure"), day),
        _measured(bound.get("time"), day),
        _measured(bound.get("loss"), day),
        bound.get("witness") or "",
        _passed(bound),
    )


def _passed(bound: Bound) -> bool | None:
    said = bound.get("result")
    return None if said is None else said == "passed"


def _measured(value: Quantity | None, day: datetime.date) -> Quantity | None:
    """Return a reading as measured on its day, unless its author said otherwise."""
    if value is None or value.provenance != DECLARED:
        return value
    return replace(value, provenance=Provenance(Basis.MEASURED, day))
