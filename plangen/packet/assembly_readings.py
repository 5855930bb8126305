"""The readings of an assembly test: which each kind has, the least one city accepts, what is recorded. Pure.

The least accepted are those of Iowa City IA, test form of 9/02 (read). The authority's own numbers govern, so
a reading under them is pointed out and one over them is never called a pass.
"""

from __future__ import annotations

from plangen.model.records import AssemblyTest
from plangen.packet.tables import Cell, Table
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import number
from plangen.quantity.quantity import si_to, to_si

SOURCE = "Iowa City IA, test form of 9/02"
_TYPE_DB = "UK water industry, glossary: type DB (read)"
_LEAKED = (("Shut-off 1 leaked (yes / no)", "", ""), ("Shut-off 2 leaked (yes / no)", "", ""))
# Readings of each kind, in the order in which they are taken: what is read, the least one city accepts,
# and where that is from.
READINGS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "pvb": (
        ("Air inlet opened at (psid)", "1.0 psid", SOURCE),
        ("Check valve held at (psid)", "1.0 psid", SOURCE),
        *_LEAKED,
    ),
    "svb": (
        ("Check valve held at (psid)", "1.0 psid", SOURCE),
        ("Air inlet began to open at (psid)", "1.0 psid", SOURCE),
        ("Air inlet fully open when the body was empty (yes / no)", "yes", SOURCE),
        *_LEAKED,
    ),
    "rp": (
        ("Check valve 1 held at (psid)", "5.0 psid", SOURCE),
        ("Relief valve opened at (psid)", "2.0 psid", SOURCE),
        ("Buffer: check 1 less relief (psid)", "3.0 psid", SOURCE),
        ("Check valve 2 held at (psid)", "1.0 psid", SOURCE),
        ("Check valve 2 held against backpressure (yes / no)", "yes", SOURCE),
        *_LEAKED,
    ),
    "dc": (
        ("Check valve 1 held at (psid)", "1.0 psid", SOURCE),
        ("Check valve 2 held at (psid)", "1.0 psid", SOURCE),
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
    "db": (
        ("Vent opens when the supply is shut (yes / no)", "yes", _TYPE_DB),
        ("No valve stands downstream (yes / no)", "yes", _TYPE_DB),
        ("Water leaves it straight down (yes / no)", "yes", _TYPE_DB),
    ),
}
FIRST, AGAIN = "First test", "Test after repair"
# Rows of the form by the words of a record.
_RECORDED = {
    "Air inlet opened at (psid)": "air inlet",
    "Air inlet began to open at (psid)": "air inlet",
    "Check valve held at (psid)": "check valve",
    "Check valve 1 held at (psid)": "first check",
    "Check valve 2 held at (psid)": "second check",
    "Relief valve opened at (psid)": "relief valve",
    "Shut-off 1 leaked (yes / no)": "first shut-off",
    "Shut-off 2 leaked (yes / no)": "second shut-off",
}
_BUFFER = "Buffer: check 1 less relief (psid)"
_SHUTOFF = {"tight": "no", "leaked": "yes"}
_EXACT = 1e-9  # a reading as written in psi may differ from the limit by rounding alone


def readings_table(name: str, kind: str, tests: tuple[AssemblyTest, ...], units: str) -> Table:
    """Return the readings of an assembly: a column for each recorded test, empty ones for those to come."""
    heads = [
        f"{FIRST}, {t.on.isoformat()}" if n == 0 else f"Test of {t.on.isoformat()}"
        for n, t in enumerate(tests)
    ]
    heads += [] if tests else [FIRST]
    heads += [] if tests and tests[-1].passed else [AGAIN]
    empty = len(heads) - len(tests)
    rows = tuple(
        (
            Cell(_label(what, units)),
            Cell(_least(least, units), number=bool(least)),
            Cell(source),
            *(Cell(_found(t, what, least, units)) for t in tests),
            *(Cell("") for _ in range(empty)),
        )
        for what, least, source in READINGS.get(kind, ())
    )
    caption = f"Readings of {name}, " + (
        "as recorded in the design" if tests else "to be filled in by the tester"
    )
    note = "Recorded by whoever wrote the design; the tester's signed report is what counts." if tests else ""
    columns = ("Reading", "Least accepted", "After", *heads)
    return Table(f"readings-{name}", caption, columns, rows, "Not listed: the kind is not stated.", note)


def _label(what: str, units: str) -> str:
    return what if units == "us" else what.replace("(psid)", "(bar)")


def _least(least: str, units: str) -> str:
    if units == "us" or not least.endswith("psid"):
        return least
    return f"{number(si_to(_pascal(least), Dimension.PRESSURE, 'bar'), 3)} bar ({least})"


def _pascal(least: str) -> float:
    return to_si(float(least.removesuffix(" psid")), "psi")


def _found(test: AssemblyTest, what: str, least: str, units: str) -> str:
    """Return what a test found of one reading, with a word where it is under the least accepted."""
    held = {r.name: r for r in test.readings}
    if what == _BUFFER:
        first, relief = (held.get(n) for n in ("first check", "relief valve"))
        if not first or not relief or first.value is None or relief.value is None:
            return ""
        si = first.value.si - relief.value.si
        unit = "psi" if units == "us" else "bar"
        words = f"{number(si_to(si, Dimension.PRESSURE, unit), 1 if units == 'us' else 3)} {unit}"
        return words + _under(si, least)
    reading = held.get(_RECORDED.get(what, ""))
    if reading is None:
        return ""
    if reading.value is None:
        return f"{_SHUTOFF.get(reading.words, reading.words)} ({reading.words})"
    return reading.value.written + _under(reading.value.si, least)


def _under(si: float, least: str) -> str:
    if not least.endswith("psid") or si >= _pascal(least) * (1 - _EXACT):
        return ""
    return f" (UNDER {least})"
