"""Tests, flushing and changes that the design records, as tables and as the last word on an assembly. Pure.

A record is what its author wrote down: it is shown as such, with what the packs in force say of it beside it.
Nothing is judged here.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking.finding import Finding
from plangen.model.design import Design
from plangen.model.records import AssemblyTest, PressureTest
from plangen.packet.anchors import finding_anchor
from plangen.packet.tables import NOT_STATED, Cell, Table, cells
from plangen.packet.tell import written

RESULTS = {True: "passed", False: "failed", None: "result not stated"}
# The relation of the facts that a rule about a record is written for.
ASSEMBLY_TEST, PRESSURE_TEST = "assembly_test", "pressure_test"
_EARLIER = ("none", "not judged", "a later test of this assembly is recorded")
_NOT_JUDGED = "no pack in force judges this record: ask the authority"


@dataclass(frozen=True, slots=True)
class LastTest:
    """The latest test of an assembly, and whether the assembly was changed since (which asks for another)."""

    test: AssemblyTest
    changed: str  # what was changed on a later day, in words, or empty

    @property
    def counts(self) -> bool:
        """Return whether a cycle may be counted from it: it passed, and nothing was changed since."""
        return self.test.passed is True and not self.changed


def tests_of(design: Design, assembly: str) -> tuple[AssemblyTest, ...]:
    """Return the recorded tests of an assembly, oldest first."""
    return tuple(t for t in design.records.assembly_tests if t.assembly == assembly)


def last_test(design: Design, assembly: str) -> LastTest | None:
    """Return the latest recorded test of an assembly, or None where none is recorded."""
    found = tests_of(design, assembly)
    if not found:
        return None
    last = found[-1]
    later = [c for c in design.records.changes if c.name == assembly and c.on > last.on]
    return LastTest(last, f"{later[-1].kind} on {later[-1].on.isoformat()}" if later else "")


def judged(findings: tuple[Finding, ...], kind: str, name: str) -> tuple[Finding, ...]:
    """Return the findings about a record; `name` is what its subject begins with."""
    return tuple(
        f
        for f in findings
        if f.subject_kind == kind and (f.subject == name or f.subject.startswith(f"{name}, "))
    )


def verdict_table(design: Design, findings: tuple[Finding, ...], assembly: str) -> Table:
    """Return what the packs in force say of each recorded test of an assembly."""
    rows: list[tuple[Cell, ...]] = []
    tests = tests_of(design, assembly)
    for test in tests:
        name = f"{assembly} on {test.on.isoformat()}"
        found = judged(findings, ASSEMBLY_TEST, name)
        rows += [
            (Cell(name), Cell(f.title, finding_anchor(f.id)), Cell(f.status.words), Cell(f.message))
            for f in found
        ] or [cells(name, *(("none", "not known", _NOT_JUDGED) if test is tests[-1] else _EARLIER))]
    caption = f"What the packs say of the recorded tests of {assembly}"
    return Table(f"judged-{assembly}", caption, ("Test", "Rule", "Verdict", "Why"), tuple(rows))


def record_tables(design: Design, findings: tuple[Finding, ...]) -> tuple[Table, ...]:
    """Return the tables of everything recorded, each only where there is something in it."""
    records = design.records
    tests = tuple(
        (
            *cells(t.assembly, t.on.isoformat(), _who(t)),
            Cell("; ".join(f"{r.name} {written(r.value) if r.value else r.words}" for r in t.readings)),
            Cell(RESULTS[t.passed]),
            Cell("Report", f"test-{t.assembly}"),
        )
        for t in records.assembly_tests
    )
    flushed = tuple(cells(f.what, f.on.isoformat(), f.by, written(f.time)) for f in records.flushings)
    changed = tuple(
        cells(c.name or "not built", c.kind, c.text, c.on.isoformat(), c.by or NOT_STATED)
        for c in records.changes
    )
    tables = (
        Table(
            "recorded-assembly-tests",
            "Recorded tests of assemblies",
            ("Assembly", "Day", "Tester", "Readings", "Result as recorded", "Form"),
            tests,
        ),
        _pressure_table(design, findings),
        Table("recorded-flushing", "Recorded flushing", ("Pipes", "Day", "By", "For"), flushed),
        Table(
            "recorded-changes",
            "Recorded changes of the work as built",
            ("Object", "Change", "What is different", "Day", "By"),
            changed,
        ),
    )
    return tuple(t for t in tables if t.rows)


def _who(test: AssemblyTest) -> str:
    licence = f"certificate {test.licence}" if test.licence else "no certificate stated"
    return ", ".join(w for w in (test.by, test.firm, licence) if w)


def _pressure_table(design: Design, findings: tuple[Finding, ...]) -> Table:
    stated = dict(design.procedure_facts)
    facts = [q.written for q in (stated.get("test pressure"), stated.get("test time")) if q is not None]
    asked = " for ".join(facts) if len(facts) == 2 else ", ".join(facts) or NOT_STATED
    rows = tuple(
        (
            *cells(t.what, t.on.isoformat(), t.by),
            *(Cell(written(q), number=True) for q in (t.pressure, t.time, t.loss)),
            *cells(asked, t.witness or NOT_STATED, RESULTS[t.passed], _pressure_verdict(findings, t)),
        )
        for t in design.records.pressure_tests
    )
    columns = (
        *("Pipes", "Day", "By", "Pressure", "Held", "Loss"),
        *("The design asks", "Witness", "Result as recorded", "What the packs say"),
    )
    return Table("recorded-pressure-tests", "Recorded pressure tests", columns, rows)


def _pressure_verdict(findings: tuple[Finding, ...], test: PressureTest) -> str:
    found = judged(findings, PRESSURE_TEST, f"{test.what} on {test.on.isoformat()}")
    return "; ".join(f"{f.title}: {f.status.words}" for f in found) or _NOT_JUDGED


def step_records(design: Design) -> dict[str, tuple[str, ...]]:
    """Return what is recorded of the steps of the work, by the key of the step."""
    records = design.records
    found = {
        "assembly-test": tuple(
            f"{t.assembly} tested {t.on.isoformat()} by {t.by}: {RESULTS[t.passed]}"
            for t in records.assembly_tests
        ),
        "pressure-test": tuple(
            f"{t.what} at {written(t.pressure)} for {written(t.time)} on {t.on.isoformat()} by {t.by}:"
            f" {RESULTS[t.passed]}"
            for t in records.pressure_tests
        ),
        "flush-main": tuple(f"{f.what} flushed {f.on.isoformat()} by {f.by}" for f in records.flushings),
        "record": tuple(
            f"{c.name or 'omitted'}: {c.kind}, {c.text}, {c.on.isoformat()}" for c in records.changes
        ),
    }
    return {key: words for key, words in found.items() if words}
