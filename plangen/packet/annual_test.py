"""When each assembly is due for its next test: as words, and as a calendar file (RFC 5545). Pure.

It counts from the latest recorded test where that passed and nothing was changed since. No clock is asked:
until a test is recorded the date counts from the day of issue, and says so.
"""

from __future__ import annotations

import calendar
import datetime
import hashlib
from dataclasses import dataclass

from plangen.model.design import Design
from plangen.packet.recorded import LastTest, last_test

# Yearly is the commonest cycle (uniform plumbing code text, MN, IL); some places ask for 2 or 3 years
# for a system without chemicals (Wamego KS; Harker Heights and San Marcos TX), none read asks for less.
YEAR = 12
_LINE_OCTETS = 75  # RFC 5545, section 3.1


@dataclass(frozen=True, slots=True)
class Cycle:
    """How often an assembly is tested. `words` say who asks for it, or that nobody is known to."""

    months: int
    words: str


NOBODY = Cycle(
    YEAR,
    "The test cycle is not known: ask the authority. No pack in force states one; counted here as yearly, the"
    " shortest cycle of the codes read.",
)


@dataclass(frozen=True, slots=True)
class NextTest:
    """One assembly's next test. `due` is None where no day can be told: `words` then say why."""

    assembly: str
    due: datetime.date | None
    words: str


def next_tests(design: Design, cycle: Cycle) -> tuple[NextTest, ...]:
    """Return the next test of each assembly that stands in the finished work."""
    return tuple(_next(design, a.name, cycle) for a in design.standing("assembly"))


def _next(design: Design, name: str, cycle: Cycle) -> NextTest:
    last = last_test(design, name)
    if last is not None:
        return _after(name, last, cycle)
    issued = design.project.issued
    first = "The first test is due when the assembly is installed, before the system is used."
    if issued is None:
        told = "No day can be told for the next one: no test is recorded, and the design has no day of issue."
        return NextTest(name, None, f"{first} {told} {cycle.words}")
    due = months_after(issued, cycle.months)
    told = (
        f"No test is recorded, so the next one is counted from the day of issue: by {due.isoformat()} at the"
        " latest. Set it anew from the first test that passed."
    )
    return NextTest(name, due, f"{first} {told} {cycle.words}")


def _after(name: str, last: LastTest, cycle: Cycle) -> NextTest:
    """Return the test that follows a recorded one; only one that passed and still holds is counted from."""
    day = last.test.on.isoformat()
    if last.changed:
        why = f"It was {last.changed}, after the test of {day}: it is due now, before the system is used."
        return NextTest(name, None, why)
    if not last.counts:
        said = "failed" if last.test.passed is False else "does not say whether it passed"
        return NextTest(
            name, None, f"The test of {day} {said}: another is due now, before the system is used."
        )
    due = months_after(last.test.on, cycle.months)
    return NextTest(
        name, due, f"Counted from the test of {day}, recorded as passed: by {due.isoformat()}. {cycle.words}"
    )


def months_after(day: datetime.date, months: int) -> datetime.date:
    """Return the same day so many months later; the month's last day where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return datetime.date(year, month + 1, min(day.day, last))


def calendar_text(design: Design, cycle: Cycle) -> str:
    """Return the tests as a calendar file, or nothing where there is no date to give."""
    dated = [(t, t.due) for t in next_tests(design, cycle) if t.due is not None]
    known = [t.on for t in design.records.assembly_tests]
    known += [design.project.issued] if design.project.issued else []
    if not dated:
        return ""
    stamp = max(known)  # the latest day the design tells of: no clock is asked
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//plangen//permit packet//EN", "CALSCALE:GREGORIAN"]
    for test, due in dated:
        lines += _event(design, test, due, stamp, cycle)
    lines.append("END:VCALENDAR")
    return "".join(_folded(line) for line in lines)


def _event(
    design: Design, test: NextTest, due: datetime.date, stamp: datetime.date, cycle: Cycle
) -> list[str]:
    project = design.project
    identity = "\n".join((project.title, project.address, project.parcel, test.assembly))
    return [
        "BEGIN:VEVENT",
        f"UID:{hashlib.sha256(identity.encode()).hexdigest()[:32]}@plangen.invalid",
        f"DTSTAMP:{stamp:%Y%m%d}T000000Z",
        f"DTSTART;VALUE=DATE:{due:%Y%m%d}",
        f"DTEND;VALUE=DATE:{due + datetime.timedelta(days=1):%Y%m%d}",
        *_repeat(due, cycle),
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


def _repeat(due: datetime.date, cycle: Cycle) -> list[str]:
    """Return the rule of repetition; a day that some months lack would be left out of those (3.3.10)."""
    years, rest = divmod(cycle.months, 12)
    if rest == 0:
        return ["RRULE:FREQ=YEARLY" + (f";INTERVAL={years}" if years > 1 else "")]
    return [f"RRULE:FREQ=MONTHLY;INTERVAL={cycle.months}"] if due.day <= 28 else []


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
