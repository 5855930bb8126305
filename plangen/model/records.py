"""What was found and done on site: tests of assemblies and pipes, flushing, changes."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from plangen.quantity.quantity import Quantity
from plangen.text.source import Span

# Pressures that a field test of each kind of assembly reads (its checks and vents).
# Source: Iowa City IA, backflow test form of 9/02 (read), its columns for PVB, SVB, RP and DC. Its two other
# rows (a vacuum breaker opens fully, the second check holds backpressure) are no pressures.
READINGS: dict[str, tuple[str, ...]] = {
    "pvb": ("air inlet", "check valve"),
    "svb": ("air inlet", "check valve"),
    "rp": ("first check", "second check", "relief valve"),
    "dc": ("first check", "second check"),
}


@dataclass(frozen=True, slots=True)
class GaugeReading:
    """One figure or finding of an assembly test: `name` is that of the language (`relief valve`).

    A pressure has a `value`, a shut-off has `words` (tight, leaked).
    """

    name: str
    value: Quantity | None
    words: str = ""


@dataclass(frozen=True, slots=True)
class AssemblyTest:
    """A field test of one backflow assembly. `passed` is None where the tester did not say."""

    assembly: str
    on: datetime.date
    by: str
    span: Span
    licence: str = ""
    firm: str = ""
    gauge: str = ""
    calibrated: datetime.date | None = None
    reason: str = ""
    readings: tuple[GaugeReading, ...] = ()
    passed: bool | None = None


@dataclass(frozen=True, slots=True)
class PressureTest:
    """A test of pipes under pressure: held for a time, with the loss that was seen."""

    what: str
    on: datetime.date
    by: str
    span: Span
    pressure: Quantity | None = None
    time: Quantity | None = None
    loss: Quantity | None = None
    witness: str = ""
    passed: bool | None = None


@dataclass(frozen=True, slots=True)
class Flushing:
    """A run of water through pipes until it came clear."""

    what: str
    on: datetime.date
    by: str
    span: Span
    time: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """How the work as built differs from the plan as issued.

    `kind` is `moved`, `changed`, `added` or `omitted`; `name` is an object of the design, or empty.
    """

    kind: str
    name: str
    text: str
    on: datetime.date
    span: Span
    by: str = ""


@dataclass(frozen=True, slots=True)
class Records:
    """The records of a job, each kind in the order of day and object."""

    assembly_tests: tuple[AssemblyTest, ...] = ()
    pressure_tests: tuple[PressureTest, ...] = ()
    flushings: tuple[Flushing, ...] = ()
    changes: tuple[Change, ...] = ()


NO_RECORDS = Records()
