"""The test report of each backflow assembly: site and assembly filled in, every reading blank. Pure.

Fields after government test forms (Iowa City IA form of 9/02; Burnaby BC form), restated. No acceptance
number is printed as a result: the tester's authority sets them.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.waterworks import Device
from plangen.packet.tables import Fact

# Readings of each kind, in the order in which they are taken.
READINGS: dict[str, tuple[str, ...]] = {
    "pvb": (
        "Air inlet opened at (psid)",
        "Check valve held at (psid)",
        "Shut-off 1 leaked",
        "Shut-off 2 leaked",
    ),
    "svb": (
        "Air inlet opened at (psid)",
        "Check valve held at (psid)",
        "Shut-off 1 leaked",
        "Shut-off 2 leaked",
    ),
    "rp": (
        "Check valve 1 held at (psid)",
        "Relief valve opened at (psid)",
        "Buffer: check 1 less relief (psid)",
        "Check valve 2 held at (psid)",
        "Shut-off 1 leaked",
        "Shut-off 2 leaked",
    ),
    "dc": (
        "Check valve 1 held at (psid)",
        "Check valve 2 held at (psid)",
        "Shut-off 1 leaked",
        "Shut-off 2 leaked",
    ),
    "air-gap": (
        "Diameter of the supply outlet",
        "Gap above the flood level rim",
        "Gap at least twice the diameter",
    ),
    "avb": ("Inspected: air inlet opens when the supply is shut", "Inspected: no valve stands downstream"),
}
COLUMNS = ("Reading", "First test", "After repair")


@dataclass(frozen=True, slots=True)
class TestForm:
    """One assembly's form. `known` says whether the kind is one whose readings are listed."""

    id: str
    name: str
    kind: str
    facts: tuple[Fact, ...]
    readings: tuple[str, ...]
    blanks: tuple[str, ...]


BLANKS = (
    "Date and time",
    "Reason (new, yearly, after repair)",
    "Line pressure",
    "Gauge number",
    "Gauge calibrated on",
    "Repairs and parts",
    "Result (passed / failed)",
    "Tester's name",
    "Tester's certificate",
    "Firm and telephone",
    "Tester's signature",
    "Next test due",
)


def test_forms(design: Design) -> tuple[TestForm, ...]:
    """Return a form for each assembly of the design."""
    return tuple(_form(design, a) for a in design.devices_of("assembly"))


def _form(design: Design, assembly: Device) -> TestForm:
    part = assembly.part
    kind = assembly.assembly_kind or (part.assembly_kind if part else "")
    project = design.project
    meters = ", ".join(m.name for m in design.devices_of("meter"))
    place = f"at the wall {assembly.wall}" if assembly.wall else ""
    facts = (
        Fact("Service address", project.address),
        Fact("Customer", project.owner),
        Fact("Water purveyor", project.purveyor),
        Fact("Permit", project.permit),
        Fact("Meter", meters),
        Fact("Assembly", assembly.name),
        Fact("Kind", ASSEMBLY_KINDS.get(kind, kind)),
        Fact("Size", assembly.size.written if assembly.size else ""),
        Fact("Serial number", assembly.serial),
        Fact("Listing", assembly.listing or (part.listing if part else "")),
        Fact("New or existing", assembly.state),
        Fact("Place", place),
        Fact("Height above grade", assembly.height.written if assembly.height else ""),
        Fact("Protects against", "lawn irrigation"),
        Fact("Frost protection", assembly.insulation or assembly.enclosure),
    )
    return TestForm(
        f"test-{assembly.name}",
        assembly.name,
        ASSEMBLY_KINDS.get(kind, kind),
        facts,
        READINGS.get(kind, ()),
        BLANKS,
    )
