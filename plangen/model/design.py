"""The design as meant: the frozen value that every later stage reads."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from plangen.model.records import NO_RECORDS, Records
from plangen.model.site import Area, Site
from plangen.model.waterworks import Device, DripArea, Head, HouseDemand, Pipe, Sleeve, Source, Zone
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span


@dataclass(frozen=True, slots=True)
class Preparer:
    """Who drew the plan."""

    name: str
    firm: str = ""
    licence: str = ""
    licence_expires: datetime.date | None = None
    phone: str = ""


# Trades a licence may be of, and the steps of the work that a licence may be asked for.
TRADES = ("irrigator", "plumber", "electrician", "tester", "landscape-architect", "engineer", "contractor")
WORK_STEPS = ("design", "tap", "isolation", "assembly", "irrigation", "wiring", "testing")


@dataclass(frozen=True, slots=True)
class Contractor:
    """Who does some steps of the work (words of `WORK_STEPS`), with the licence of a trade."""

    name: str
    trade: str
    steps: tuple[str, ...]
    span: Span
    firm: str = ""
    licence: str = ""
    licence_expires: datetime.date | None = None


@dataclass(frozen=True, slots=True)
class Revision:
    """One issue of the plan."""

    label: str
    date: datetime.date
    text: str
    answers: str
    span: Span


@dataclass(frozen=True, slots=True)
class Project:
    """What the title block says, and the settings of the whole design."""

    title: str
    span: Span
    address: str = ""
    parcel: str = ""
    owner: str = ""
    purveyor: str = ""
    preparer: Preparer | None = None
    jurisdictions: tuple[str, ...] = ()
    permit: str = ""
    issued: datetime.date | None = None
    revisions: tuple[Revision, ...] = ()
    sheet: str = "ansi-b"
    units: str = "us"
    scope: str = ""
    contractors: tuple[Contractor, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """The author's answer to one hazard question: `none`, or what there is. Silence is no answer."""

    question: str
    none: bool
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Sensor:
    """A rain, freeze, soil or flow sensor wired to a controller."""

    kind: str
    name: str
    span: Span
    place: str = ""
    state: str = "new"


@dataclass(frozen=True, slots=True)
class Control:
    """The controller, its wire and sensors. `place` words say where it hangs."""

    name: str
    span: Span
    place: str = ""
    point: tuple[float, float] | None = None
    stations: int | None = None
    wire: str = ""
    wire_cover: Quantity | None = None
    sensors: tuple[Sensor, ...] = ()
    none_sensors: tuple[str, ...] = ()
    water_days: Quantity | None = None
    window: Quantity | None = None
    reference_et: Quantity | None = None
    state: str = "new"
    monthly_et: tuple[tuple[int, Quantity], ...] = ()  # (month 1 to 12, rate), in the order of months
    monthly_rain: tuple[tuple[int, Quantity], ...] = ()
    rain_credit: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Waiver:
    """A rule waived for one object."""

    rule: str
    subject: str
    reason: str
    by: str
    reference: str
    until: datetime.date | None
    span: Span


@dataclass(frozen=True, slots=True)
class Reading:
    """A pressure read on site while a zone ran; `static` is that of the source before, with no flow."""

    place: str
    side: str  # inlet or outlet
    zone: str
    pressure: Quantity
    static: Quantity
    on: datetime.date | None
    span: Span


@dataclass(frozen=True, slots=True)
class Confirmation:
    """A person's word on a rule that no file can show."""

    rule: str
    subject: str
    by: str
    on: datetime.date | None
    reference: str
    span: Span


@dataclass(frozen=True, slots=True)
class Design:
    """Everything the author said, resolved. Tuples are in the order of names, so statement order is moot."""

    project: Project
    site: Site
    source: Source | None
    house: HouseDemand | None
    devices: tuple[Device, ...]
    pipes: tuple[Pipe, ...]
    sleeves: tuple[Sleeve, ...]
    zones: tuple[Zone, ...]
    heads: tuple[Head, ...]
    drips: tuple[DripArea, ...]
    control: Control | None
    answers: tuple[Answer, ...]
    waivers: tuple[Waiver, ...]
    confirmations: tuple[Confirmation, ...]
    procedure_facts: tuple[tuple[str, Quantity], ...] = ()
    readings: tuple[Reading, ...] = ()
    hazards_span: Span | None = None  # the statement that opens the hazards; None: no such block
    records: Records = NO_RECORDS
    procedure_words: tuple[tuple[str, str], ...] = ()  # what is said of the work in words, by statement

    def device(self, name: str) -> Device | None:
        """Return the device of that name, or None."""
        return next((d for d in self.devices if d.name == name), None)

    def standing(self, *kinds: str) -> tuple[Device, ...]:
        """Return the devices of these kinds that stand in the finished work: all but what is taken out."""
        return tuple(d for d in self.devices_of(*kinds) if d.state != "removed")

    def devices_of(self, *kinds: str) -> tuple[Device, ...]:
        """Return the devices of the given kinds, in the order of names."""
        return tuple(d for d in self.devices if d.kind in kinds)

    def zone(self, name: str) -> Zone | None:
        """Return the zone of that name, or None."""
        return next((z for z in self.zones if z.name == name), None)

    def pipe(self, name: str) -> Pipe | None:
        """Return the pipe of that name, or None."""
        return next((p for p in self.pipes if p.name == name), None)

    def area(self, name: str) -> Area | None:
        """Return the building, paving or planting area of that name, or None."""
        site = self.site
        return next(
            (a for a in (*site.buildings, *site.paving, *site.planting, *site.other) if a.name == name), None
        )

    def heads_of(self, zone: str) -> tuple[Head, ...]:
        """Return the heads of a zone."""
        return tuple(h for h in self.heads if h.zone == zone)
