"""When each assembly is due for its next test: as words, and as a calendar file (RFC 5545). Pure.

No clock is asked: until a test is recorded the date counts from the day of issue, and says so.
"""

from __future__ import annotations

import datetime
import hashlib
from dataclasses import dataclass

from plangen.model.design import Design
from plangen.model.waterworks import Device

# Yearly is the commonest cycle (uniform plumbing code text, MN, IL); some places ask for 2 or 3 years
# for a system without chemicals (Wamego KS; Harker Heights and San Marcos TX), none read asks for less.
CYCLE_YEARS = 1
CYCLE_SOURCE = "yearly: the commonest cycle of codes read; the authority's own governs"
_LINE_OCTETS = 75  # RFC 5545, section 3.1


@dataclass(frozen=True, slots=True)
class NextTest:
    """One assembly's next test. `due` is None where the design says no date to count from."""

    assembly: str
    due: datetime.date | None
    words: str


def next_tests(design: Design) -> tuple[NextTest, ...]:
    """Return the next test of each assembly."""
    return tuple(_next(design, a) for a in design.devices_of("assembly"))


def _next(design: Design, assembly: Device) -> NextTest:
    issued = design.project.issued
    first = "The first test is due when the assembly is installed, before the system is used."
    if issued is None:
        return NextTest(
            assembly.name,
            None,
            f"{first} The next one is due one year after it: no date, since the design states none.",
        )
    due = a_year_after(issued)
    return NextTest(
        assembly.name,
        due,
        f"{first} No test is recorded, so the next one is counted from the day of issue: by {due.isoformat()}"
        f" at the latest. Set it to one year after the first test that passed ({CYCLE_SOURCE}).",
    )


def a_year_after(day: datetime.date) -> datetime.date:
    """Return the same day of the next year; 28 February for the 29th."""
    year = day.year + CYCLE_YEARS
    try:
        return day.replace(year=year)
    except ValueError:
        return day.replace(year=year, day=28)


def calendar_text(design: Design) -> str:
    """Return the tests as a calendar file, or nothing where there is no date to give."""
    dated = [(t, t.due) for t in next_tests(design) if t.due is not None]
    issued = design.project.issued
    if not dated or issued is None:
        return ""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//plangen//permit packet//EN", "CALSCALE:GREGORIAN"]
    for test, due in dated:
        lines += _event(design, test, due, issued)
    lines.append("END:VCALENDAR")
    return "".join(_folded(line) for line in lines)


def _event(design: Design, test: NextTest, due: datetime.date, issued: datetime.date) -> list[str]:
    project = design.project
    identity = "\n".join((project.title, project.address, project.parcel, test.assembly))
    return [
        "BEGIN:VEVENT",
        f"UID:{hashlib.sha256(identity.encode()).hexdigest()[:32]}@plangen.invalid",
        f"DTSTAMP:{issued:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{due:%Y%m%d}",
        f"DTEND;VALUE=DATE:{due + datetime.timedelta(days=1):%Y%m%d}",
        "RRULE:FREQ=YEARLY",
        f"SUMMARY:{_text(f'Backflow assembly {test.assembly}: test due')}",
        f"LOCATION:{_text(project.address)}",
        "DESCRIPTION:"
        + _text(
            f"{test.words} By a tester certified for it; the report goes to"
            f" {project.purveyor or 'the water purveyor'}. Local code, the water purveyor and licensed"
            " practice decide."
        ),
        "TRANSP:TRANSPARENT",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        "TRIGGER:-P30D",
        f"DESCRIPTION:{_text(f'Backflow assembly {test.assembly}: test due in 30 days')}",
        "END:VALARM",
        "END:VEVENT",
    ]


def _text(words: str) -> str:
    """Return a text value: escaped as RFC 5545, section 3.3.11 asks, without control characters."""
    kept = "".join(ch for ch in words.replace("\r\n", "\n") if ch == "\n" or (ch >= " " and ch != "\x7f"))
    return kept.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _folded(line: str) -> str:
    """Return a content line in pieces of at most 75 octets, none cut inside a character."""
    pieces: list[str] = []
    piece, room = "", _LINE_OCTETS
    for ch in line:
        size = len(ch.encode())
        if size > room:
            pieces.append(piece)
            piece, room = "", _LINE_OCTETS - 1
        piece, room = piece + ch, room - size
    return "\r\n ".join([*pieces, piece]) + "\r\n"
