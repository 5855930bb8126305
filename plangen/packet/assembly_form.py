"""The test report of each backflow assembly: site and assembly filled in, every reading blank. Pure.

Fields after government test forms, restated: Iowa City IA, form of 9/02; Austin TX, test and maintenance
report (reason for protection, owner's mailing address and representative, gauge number); Burnaby BC form.
"""

from __future__ import annotations

from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.waterworks import Device
from plangen.packet.tables import Cell, Fact, Form, Table, blank
from plangen.packet.tell import Tell

_CITY = "Iowa City IA, test form of 9/02"
_LEAKED = (("Shut-off 1 leaked (yes / no)", "", ""), ("Shut-off 2 leaked (yes / no)", "", ""))
# Readings of each kind, in the order in which they are taken: what is read, the least one city accepts
# (Iowa City IA, form of 9/02, read), and where that is from. The authority's own numbers govern.
READINGS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "pvb": (
        ("Air inlet opened at (psid)", "1.0 psid", _CITY),
        ("Check valve held at (psid)", "1.0 psid", _CITY),
        *_LEAKED,
    ),
    "svb": (
        ("Check valve held at (psid)", "1.0 psid", _CITY),
        ("Air inlet began to open at (psid)", "1.0 psid", _CITY),
        ("Air inlet fully open when the body was empty (yes / no)", "yes", _CITY),
        *_LEAKED,
    ),
    "rp": (
        ("Check valve 1 held at (psid)", "5.0 psid", _CITY),
        ("Relief valve opened at (psid)", "2.0 psid", _CITY),
        ("Buffer: check 1 less relief (psid)", "3.0 psid", _CITY),
        ("Check valve 2 held at (psid)", "1.0 psid", _CITY),
        ("Check valve 2 held against backpressure (yes / no)", "yes", _CITY),
        *_LEAKED,
    ),
    "dc": (
        ("Check valve 1 held at (psid)", "1.0 psid", _CITY),
        ("Check valve 2 held at (psid)", "1.0 psid", _CITY),
        *_LEAKED,
    ),
    "air-gap": (
        ("Diameter of the supply outlet", "", ""),
        ("Gap above the flood level rim", "twice the diameter", "common code text, from memory"),
    ),
    "avb": (
        ("Air inlet opens when the supply is shut (yes / no)", "yes", "common practice, no source"),
        ("No valve stands downstream (yes / no)", "yes", "common code text, from memory"),
    ),
}
COLUMNS = ("Reading", "Least accepted", "After", "First test", "Test after repair")
_COMPONENTS: dict[str, tuple[str, ...]] = {
    "pvb": ("Air inlet", "Check valve", "Shut-offs and test cocks"),
    "svb": ("Check valve", "Air inlet", "Shut-offs and test cocks"),
    "rp": ("Check valve 1", "Check valve 2", "Relief valve", "Shut-offs and test cocks"),
    "dc": ("Check valve 1", "Check valve 2", "Shut-offs and test cocks"),
}
_TEST = (
    "Date and time",
    "Test is (first, yearly, after repair)",
    "Supply line pressure",
    "Gauge maker and serial number",
    "Gauge calibrated on (not older than 12 months)",
)
_CERTIFIED = (
    "Assembly passed / failed",
    "Tester's name",
    "Tester's certificate number",
    "Firm and telephone",
    "Report filed with the purveyor on",
    "Next test due",
)


def test_forms(design: Design, layout: Layout) -> tuple[Form, ...]:
    """Return a form for each assembly of the design."""
    return tuple(_form(design, layout, a) for a in design.devices_of("assembly"))


def kind_of(assembly: Device) -> str:
    """Return the short word of an assembly's kind, or nothing if it is not stated."""
    return assembly.assembly_kind or (assembly.part.assembly_kind if assembly.part else "")


def _form(design: Design, layout: Layout, assembly: Device) -> Form:
    kind = kind_of(assembly)
    words = ASSEMBLY_KINDS.get(kind, kind)
    return Form(
        id=f"test-{assembly.name}",
        title=f"Assembly {assembly.name}" + (f": {words}" if words else ""),
        intro=()
        if kind in READINGS
        else ("The kind of this assembly is not stated, so its readings cannot be listed.",),
        groups=(
            ("Site and account", _site(design)),
            ("Assembly", _assembly(design, layout, assembly, words)),
            ("Test", tuple(blank(label) for label in _TEST)),
        ),
        tables=(_readings(assembly.name, kind), _repairs(assembly.name, kind)),
        ticks=("The owner was told of the result, and of what must be done if it failed",),
        source=(
            f"fields: {_CITY}; Austin TX test report; Burnaby BC form. The least accepted readings are those"
            " of one city's form: the authority's own form and limits govern"
        ),
        sign=(
            *_CERTIFIED,
            "Tester's signature and date",
            "Owner or owner's representative, signature and date",
        ),
    )


def _site(design: Design) -> tuple[Fact, ...]:
    project = design.project
    meters = ", ".join(
        f"{m.name}, {m.size.written}" if m.size else m.name for m in design.devices_of("meter")
    )
    return (
        Fact("Customer", project.owner),
        blank("Customer or account number"),
        Fact("Service address", project.address),
        blank("Occupant, telephone"),
        blank("Owner's mailing address"),
        Fact("Water purveyor", project.purveyor),
        Fact("Permit number", project.permit),
        Fact("Meter", meters),
        blank("Meter number"),
    )


def _assembly(design: Design, layout: Layout, assembly: Device, words: str) -> tuple[Fact, ...]:
    part = assembly.part
    return (
        Fact("Kind", words),
        blank("Maker"),
        Fact("Model", assembly.label or (part.label if part else "")),
        Fact("Size", assembly.size.written if assembly.size else ""),
        Fact("Serial number", assembly.serial),
        Fact("Listing", assembly.listing or (part.listing if part else "")),
        Fact("New, existing or replacement", assembly.state),
        blank("Serial number of the one it replaces"),
        blank("Installed on"),
        Fact("Exact place", place_of(design, layout, assembly)),
        Fact("Height above grade", assembly.height.written if assembly.height else ""),
        Fact("Reason for protection", "lawn irrigation; see the hazard reasoning"),
        Fact("Zones served", ", ".join(z.name for z in design.zones)),
        Fact("Protected from frost", assembly.insulation or assembly.enclosure),
        blank("Protected from flooding (yes / no)"),
    )


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


def _readings(name: str, kind: str) -> Table:
    rows = tuple(
        (Cell(what), Cell(least, number=bool(least)), Cell(source), Cell(""), Cell(""))
        for what, least, source in READINGS.get(kind, ())
    )
    caption = f"Readings of {name}, to be filled in by the tester"
    return Table(f"readings-{name}", caption, COLUMNS, rows, "Not listed: the kind is not stated.")


def _repairs(name: str, kind: str) -> Table:
    rows = tuple((Cell(c), Cell(""), Cell("")) for c in _COMPONENTS.get(kind, ("Assembly",)))
    return Table(f"repairs-{name}", f"Repairs of {name}", ("Component", "Cleaned", "Parts replaced"), rows)
