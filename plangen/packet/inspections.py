"""The inspection cards: what must be visible at each visit, with this design's own figures. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking.finding import Finding, Status
from plangen.model.design import Design
from plangen.packet.anchors import finding_anchor
from plangen.packet.code_check import headline
from plangen.packet.contents import Contents
from plangen.packet.tables import Cell, Table, cells
from plangen.packet.tell import written


@dataclass(frozen=True, slots=True)
class Card:
    """One visit. `watch` lists what must be exposed, `figures` what it is held against; results are blank."""

    id: str
    title: str
    when: str
    watch: tuple[str, ...]
    figures: Table
    looks: tuple[Cell, ...]  # findings that need a person at this visit


# Which kinds of objects a visit is about; a kind not listed belongs to the last visit.
_KINDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("card-tap", ("tap", "service", "supply", "meter", "source", "isolation", "connection")),
    (
        "card-trench",
        ("pipe", "sleeve", "crossing", "trench", "lateral", "mainline", "utility", "separation", "wire"),
    ),
    ("card-assembly", ("assembly", "backflow")),
)


_WATCH: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "card-tap": (
        "Tap and tie-in",
        "With the joint exposed, before the service is covered",
        (
            "the joint between service and tap, dry under pressure",
            "material and size of the service found in the ground",
            "the isolation valve, reachable, in its box",
        ),
    ),
    "card-trench": (
        "Open trench and pressure test",
        "With pipes laid and joints visible, before any backfill",
        (
            "every joint, tee, valve and sleeve, uncovered",
            "cover measured from finished grade, bedding free of stones",
            "distance from the sewer and from other lines",
            "the gauge: number, range and date of calibration; pressure at start and at end",
        ),
    ),
    "card-assembly": (
        "Backflow assembly",
        "Installed, before the system is put in use",
        (
            "height and clearances with a tape, against the card",
            "test cocks and shut-offs within reach, the way of discharged water open",
            "the test report of a certified tester",
        ),
    ),
    "card-final": (
        "Final",
        "With turf back and the controller set",
        (
            "each zone running: no spray on paving, buildings or neighbours' ground",
            "rain and freeze sensors stop a running zone",
            "valve boxes at grade and marked; record drawing and controller chart handed over",
        ),
    ),
}


def cards(contents: Contents) -> tuple[Card, ...]:
    """Return the cards in the order of the work; none of a tap that is there and is left alone."""
    design, findings = contents.design, contents.findings
    tables = {
        "card-tap": _device_table(
            design, "tap-figures", "Tap and isolation as designed", ("tap", "isolation", "meter")
        ),
        "card-trench": _pipe_table(design),
        "card-assembly": _device_table(design, "assembly-figures", "Assembly as designed", ("assembly",)),
        "card-final": _zone_table(contents),
    }
    tap = design.standing("tap", "isolation")
    left_alone = bool(tap) and all(d.state == "existing" for d in tap)
    found = (
        Card(key, title, when, watch, tables[key], _looks(findings, key))
        for key, (title, when, watch) in _WATCH.items()
    )
    return tuple(c for c in found if c.looks or c.id != "card-tap" or not left_alone)


def _looks(findings: tuple[Finding, ...], card: str) -> tuple[Cell, ...]:
    return tuple(
        Cell(f"{headline(f)}: {f.look_at or f.message}", finding_anchor(f.id))
        for f in findings
        if f.status in (Status.NEEDS_PERSON, Status.NOT_KNOWN) and _card_of(f) == card
    )


def _card_of(finding: Finding) -> str:
    kind = finding.subject_kind.replace("_", " ").lower()
    return next((card for card, kinds in _KINDS if any(k in kind for k in kinds)), "card-final")


def build_to(findings: tuple[Finding, ...]) -> Table:
    """Return what each measured rule allows, one row for the objects that share rule and limits."""
    rows: dict[tuple[str, str, str], list[tuple[float, str, Finding]]] = {}
    for f in findings:
        if f.measured is None or f.measured.si is None or f.status is Status.NOT_APPLICABLE:
            continue
        limits = (f.at_least.words if f.at_least else "", f.at_most.words if f.at_most else "")
        if any(limits):
            rows.setdefault((f.title, *limits), []).append((f.measured.si, f.measured.words, f))
    table = tuple(
        (
            Cell(title, finding_anchor(found[0][2].id)),
            Cell(", ".join(f.subject for _, _, f in found)),
            Cell(_span([(si, words) for si, words, _ in found]), number=True),
            *(Cell(words, number=True) for words in limits),
            Cell(""),
        )
        for (title, *limits), found in rows.items()
    )
    columns = ("Rule", "Objects", "As designed", "At least", "At most", "As found")
    return Table("build-to", "Build-to figures", columns, table, "No rule has a measured limit.")


def _span(values: list[tuple[float, str]]) -> str:
    """Return the least and the greatest of some values, in words."""
    least, most = min(values)[1], max(values)[1]
    return least if least == most else f"{least} to {most}"


def _device_table(design: Design, table_id: str, caption: str, kinds: tuple[str, ...]) -> Table:
    rows = tuple(
        cells(
            d.name,
            d.label or (d.part.label if d.part else d.kind),
            written(d.size),
            written(d.height),
            written(d.wall_clearance),
            "",
        )
        for d in design.standing(*kinds)
    )
    columns = ("Object", "What", "Size", "Height above grade", "Clearance to wall", "As found")
    return Table(table_id, caption, columns, rows, "The design has none.")


def _pipe_table(design: Design) -> Table:
    sleeves = {s.pipe: s for s in design.sleeves}
    rows = tuple(
        cells(
            p.name,
            f"{p.size.family} {p.nominal.written}",
            written(p.cover),
            f"{sleeves[p.name].name} under {sleeves[p.name].under}" if p.name in sleeves else "",
            "",
        )
        for p in design.pipes
        if p.state != "existing" and not p.above_grade
    )
    columns = ("Pipe", "Kind and size", "Cover as designed", "Sleeve", "As found")
    return Table("trench-figures", "Pipes as designed", columns, rows, "The design has no new pipe.")


def _zone_table(contents: Contents) -> Table:
    design = contents.design
    rows = tuple(
        cells(
            z.name,
            z.label,
            str(len(design.heads_of(z.name))),
            str(sum(d.zone == z.name for d in design.drips)),
            "",
        )
        for z in design.zones
    )
    columns = ("Zone", "Name", "Heads", "Drip areas", "As found")
    return Table("final-figures", "Zones as designed", columns, rows, "The design has no zone.")
