"""The test report of each backflow assembly: filled from the design, readings blank unless recorded. Pure.

Fields after government test forms, restated: Iowa City IA, form of 9/02; Austin TX, test and maintenance
report (reason for protection, owner's mailing address and representative, gauge number); Burnaby BC form.
"""

from __future__ import annotations

from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.records import AssemblyTest
from plangen.model.waterworks import Device
from plangen.packet.annual_test import months_after, next_tests
from plangen.packet.assembly_readings import READINGS, SOURCE, readings_table
from plangen.packet.contents import Contents
from plangen.packet.duties import duty_facts
from plangen.packet.recorded import RESULTS, last_test, tests_of, verdict_table
from plangen.packet.tables import Cell, Fact, Form, Table, blank
from plangen.packet.tell import Tell

_COMPONENTS: dict[str, tuple[str, ...]] = {
    "pvb": ("Air inlet", "Check valve", "Shut-offs and test cocks"),
    "svb": ("Check valve", "Air inlet", "Shut-offs and test cocks"),
    "rp": ("Check valve 1", "Check valve 2", "Relief valve", "Shut-offs and test cocks"),
    "dc": ("Check valve 1", "Check valve 2", "Shut-offs and test cocks"),
}


def test_forms(contents: Contents) -> tuple[Form, ...]:
    """Return a form for each assembly that stands in the finished work."""
    return tuple(_form(contents, a) for a in contents.design.standing("assembly"))


def kind_of(assembly: Device) -> str:
    """Return the short word of an assembly's kind, or nothing if it is not stated."""
    return assembly.assembly_kind or (assembly.part.assembly_kind if assembly.part else "")


def _form(contents: Contents, assembly: Device) -> Form:
    design, layout = contents.design, contents.layout
    kind = kind_of(assembly)
    words = ASSEMBLY_KINDS.get(kind, kind)
    tests = tests_of(design, assembly.name)
    last = tests[-1] if tests else None
    intro = (
        ()
        if kind in READINGS
        else ("The kind of this assembly is not stated, so its readings cannot be listed.",)
    )
    return Form(
        id=f"test-{assembly.name}",
        title=f"Assembly {assembly.name}" + (f": {words}" if words else ""),
        intro=(*intro, *_standing(design, assembly.name)),
        groups=(
            ("Site and account", _site(design)),
            ("Assembly", _assembly(design, layout, assembly, words)),
            ("Test", _test(last)),
            ("Certification", _certification(contents, assembly.name, last)),
        ),
        tables=(
            readings_table(assembly.name, kind, tests, contents.units),
            _repairs(assembly.name, kind),
            *((verdict_table(design, contents.findings, assembly.name),) if tests else ()),
        ),
        ticks=("The owner was told of the result, and of what must be done if it failed",),
        source=(
            f"fields: {SOURCE}; Austin TX test report; Burnaby BC form. The least accepted readings are those"
            " of one city's form: the authority's own form and limits govern"
        ),
        sign=("Tester's signature and date", "Owner or owner's representative, signature and date"),
    )


def _standing(design: Design, name: str) -> tuple[str, ...]:
    """Return how the latest record stands, in words that never read as a pass by this packet."""
    last = last_test(design, name)
    if last is None:
        return ()
    test = last.test
    told = f"Recorded in the design: tested on {test.on.isoformat()} by {test.by}, {RESULTS[test.passed]}."
    if last.changed:
        told += f" It was {last.changed}, after that test: it is to be tested again before use."
    elif test.passed is None:
        told += " Until the tester says so it has not passed."
    elif not test.passed:
        told += " It stays shut off until it is repaired and a new test has passed."
    return (told,)


def _filled(label: str, value: str, note: str = "") -> Fact:
    """Return a recorded value, or a line to write on where none is recorded."""
    return Fact(label, value, note) if value else blank(label)


def _test(last: AssemblyTest | None) -> tuple[Fact, ...]:
    calibrated = last.calibrated.isoformat() if last and last.calibrated else ""
    return (
        Fact("Date and time", last.on.isoformat(), "the hour is not recorded")
        if last
        else blank("Date and time"),
        _filled("Test is (first, yearly, after repair)", last.reason if last else ""),
        blank("Supply line pressure"),
        _filled("Gauge maker and serial number", last.gauge if last else ""),
        _filled("Gauge calibrated on (not older than 12 months)", calibrated, _age(last)),
    )


def _age(last: AssemblyTest | None) -> str:
    """Return how old the calibration was on the day of the test, pointed out where it was over a year."""
    if last is None or last.calibrated is None:
        return ""
    old = last.on > months_after(last.calibrated, 12)
    days = f"{(last.on - last.calibrated).days} days before the test"
    return f"{days}: OLDER THAN 12 MONTHS" if old else days


def _certification(contents: Contents, name: str, last: AssemblyTest | None) -> tuple[Fact, ...]:
    due = next(t for t in next_tests(contents.design, contents.cycle) if t.assembly == name)
    return (
        _filled("Assembly passed / failed", RESULTS[last.passed] if last else ""),
        _filled("Tester's name", last.by if last else ""),
        _filled("Tester's certificate number", last.licence if last else ""),
        _filled("Firm and telephone", last.firm if last else "", "telephone not recorded" if last else ""),
        *duty_facts(contents.duties, "report", "Report due"),
        blank("Report filed with the purveyor on"),
        _filled("Next test due", due.due.isoformat() if last and due.due else ""),
    )


def _site(design: Design) -> tuple[Fact, ...]:
    project = design.project
    meters = ", ".join(
        f"{m.name}, {m.size.written}" if m.size else m.name for m in design.devices_of("meter")
    )
    return (
        _filled("Customer", project.owner),
        blank("Customer or account number"),
        _filled("Service address", project.address),
        blank("Occupant, telephone"),
        blank("Owner's mailing address"),
        _filled("Water purveyor", project.purveyor),
        _filled("Permit number", project.permit),
        Fact("Meter", meters),
        blank("Meter number"),
    )


def _assembly(design: Design, layout: Layout, assembly: Device, words: str) -> tuple[Fact, ...]:
    part = assembly.part
    old = _replaced(design)
    return (
        Fact("Kind", words),
        blank("Maker"),
        _filled("Model", assembly.label or (part.label if part else "")),
        _filled("Size", assembly.size.written if assembly.size else ""),
        _filled("Serial number", assembly.serial),
        Fact("Listing", assembly.listing or (part.listing if part else "")),
        Fact(
            "New, existing or replacement",
            f"{assembly.state}, replaces {old.name}" if old else assembly.state,
        ),
        _filled("Serial number of the one it replaces", old.serial if old else ""),
        blank("Installed on"),
        Fact("Exact place", place_of(design, layout, assembly)),
        _filled("Height above grade", assembly.height.written if assembly.height else ""),
        Fact("Reason for protection", "lawn irrigation; see the hazard reasoning"),
        Fact("Zones served", ", ".join(z.name for z in design.zones)),
        _filled("Protected from frost", assembly.insulation or assembly.enclosure),
        blank("Protected from flooding (yes / no)"),
    )


def _replaced(design: Design) -> Device | None:
    """Return the one assembly that is taken out, where one comes in its place."""
    found = design.devices_of("assembly")
    removed = [d for d in found if d.state == "removed"]
    return removed[0] if len(removed) == 1 and len(found) == 2 else None


def place_of(design: Design, layout: Layout, device: Device) -> str:
    """Return where a device is: its wall, and its distances from two corners that can be found again."""
    tell = Tell(design.project.units)
    tie = next((t for t in layout.ties if t.object == device.name), None)
    words = [f"at the wall {device.wall}"] if device.wall else []
    if tie is not None:
        pairs = ((tie.distance1_m, tie.corner1), (tie.distance2_m, tie.corner2))
        words += [f"{tell.length(d)} from {_corner(name)}" for d, name in pairs if d is not None]
    return ", ".join(words)


def _corner(name: str) -> str:
    """Return a corner as people say it: `House.southwest` is the southwest corner of House."""
    thing, _, corner = name.rpartition(".")
    return f"the {corner} corner of {thing}" if thing else name


def _repairs(name: str, kind: str) -> Table:
    rows = tuple((Cell(c), Cell(""), Cell("")) for c in _COMPONENTS.get(kind, ("Assembly",)))
    return Table(f"repairs-{name}", f"Repairs of {name}", ("Component", "Cleaned", "Parts replaced"), rows)
