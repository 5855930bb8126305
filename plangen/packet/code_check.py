"""Each finding as the page shows it: verdict, figures, evidence, sources, links to its drawing. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.annotation.markers import mark_of
from plangen.checking.finding import Finding, Measure, Status
from plangen.packet.anchors import finding_anchor
from plangen.packet.contents import Contents
from plangen.packet.provenance import whence
from plangen.packet.tables import Cell, Table, cells
from plangen.packet.waiting import Waiting

ORDER = (
    Status.FALLS_SHORT,
    Status.NOT_KNOWN,
    Status.NEEDS_PERSON,
    Status.WAIVED,
    Status.MEETS,
    Status.NOT_APPLICABLE,
)
_FOLDED = (Status.MEETS.value, Status.NOT_APPLICABLE.value)
_MOST_NAMES = 6
# The rest of a long chain of inputs stands in the report file and under Provenance.
_MOST_EVIDENCE = 10
# A page that links to a drawing takes the anchor of (sheet, object) from here; empty: nothing drawn.
Drawn = dict[tuple[str, str], str]


@dataclass(frozen=True, slots=True)
class Entry:
    """One finding, ready for the template. `key` is its status."""

    anchor: str
    mark: str
    key: str
    words: str
    severity: str
    title: str
    rule: str
    pack: str
    subject: str
    object: str  # the bare name, or empty
    about: str
    message: str
    figures: tuple[tuple[str, str], ...]
    why: str
    remedy: str
    told: bool  # else the remedy says what would settle it
    look_at: str
    missing: tuple[str, ...]
    waived_by: str
    steps: tuple[str, ...]
    others: tuple[tuple[str, str], ...]
    sources: tuple[str, ...]
    evidence: Table
    evidence_more: int
    at: str
    rule_at: str
    drawn_on: tuple[Cell, ...]
    sheet: str  # where it is drawn first, or empty
    zone: str


def entries(contents: Contents, drawn: Drawn) -> tuple[Entry, ...]:
    """Return all findings, what must be acted on first; within a status in the order of the check."""
    ordered = [f for status in ORDER for f in contents.findings if f.status is status]
    return tuple(_entry(f, contents, drawn) for f in ordered)


@dataclass(frozen=True, slots=True)
class Group:
    """Findings shown together. `folded` ones are those of one rule that need no action: shown on request.

    So are those that wait for one missing thing, which is said above them. `alike` if rule, reason and
    sources are the same for all, so that the group can say them once.
    """

    title: str
    key: str
    words: str
    rule: str
    summary: str
    folded: bool
    alike: bool
    entries: tuple[Entry, ...]
    waiting: Waiting | None = None


def groups(found: tuple[Entry, ...], causes: tuple[Waiting, ...] = ()) -> tuple[Group, ...]:
    """Return the entries in groups: one for each status to act on and for each cause that many wait for, then
    one for each other rule.
    """
    waits = {anchor: cause for cause in causes for anchor in cause.findings}
    grouped: dict[tuple[str, str, str], list[Entry]] = {}
    for entry in found:
        cause = waits.get(entry.anchor)
        rule = entry.rule if entry.key in _FOLDED else ""
        grouped.setdefault((entry.key, rule, cause.anchor if cause else ""), []).append(entry)
    return tuple(
        replace(_group(key, rule, tuple(entries)), waiting=waits.get(entries[0].anchor))
        for (key, rule, _), entries in grouped.items()
    )


def _group(key: str, rule: str, entries: tuple[Entry, ...]) -> Group:
    first, count = entries[0], len(entries)
    title = first.title if rule else f"{count} {'finding' if count == 1 else 'findings'}"
    names = ", ".join(e.subject for e in entries[:_MOST_NAMES])
    more = f" and {count - _MOST_NAMES} more" if count > _MOST_NAMES else ""
    grounds = {(e.pack, e.severity, e.rule_at, e.why, e.sources) for e in entries}
    alike = bool(rule) and len(grounds) == 1
    return Group(title, key, first.words, rule, names + more, bool(rule), alike, entries)


def _entry(f: Finding, contents: Contents, drawn: Drawn) -> Entry:
    at, rule_at = contents.sources.place(f.at), contents.sources.place(f.rule_at)
    return Entry(
        anchor=finding_anchor(f.id),
        mark=mark_of(f),
        key=f.status.value,
        words=f.status.words,
        severity=f.severity,
        title=f.title,
        rule=f.rule,
        pack=f.pack,
        subject=f.subject or f"any {f.subject_kind.replace('_', ' ')}",
        object=f.subject,
        about=about(f),
        message=f.message,
        figures=figures(f),
        why=f.why,
        remedy=f.remedy if f.status.value not in _FOLDED else "",
        told=f.told,
        look_at=f.look_at if f.look_at.lower() not in f.message.lower() else "",
        missing=f.missing,
        waived_by=f.waived_by,
        steps=f.steps,
        others=tuple((o.pack, o.words) for o in f.others),
        sources=tuple(_source(s.title, s.section, s.edition, s.verified) for s in f.sources),
        evidence=_evidence(f, contents),
        evidence_more=max(0, len(f.evidence) - _MOST_EVIDENCE),
        at=f"{at.file}, line {at.line}",
        rule_at=f"{rule_at.file}, line {rule_at.line}",
        drawn_on=tuple(_drawn_link(f, sheet, zone, drawn) for sheet, zone in f.drawn_on),
        sheet=f.drawn_on[0][0] if f.drawn_on else "",
        zone=f.drawn_on[0][1] if f.drawn_on else "",
    )


def about(f: Finding) -> str:
    """Return what a finding is about: its kind and name, each once."""
    kind = f.subject_kind.replace("_", " ")
    return f"any {kind}" if not f.subject else kind if kind == f.subject else f"{kind} {f.subject}"


def headline(f: Finding) -> str:
    """Return a finding's title with the object it speaks of."""
    return f"{f.title} ({f.subject})" if f.subject else f.title


def figures(f: Finding) -> tuple[tuple[str, str], ...]:
    """Return the measured value, its limits and the margin with its sign."""
    pairs = (
        ("Measured", f.measured),
        ("At least", f.at_least),
        ("At most", f.at_most),
        ("Margin", _signed(f.margin)),
    )
    return tuple((label, measure.words) for label, measure in pairs if measure is not None)


def _signed(margin: Measure | None) -> Measure | None:
    if margin is None or margin.si is None or margin.si <= 0 or margin.words.startswith("+"):
        return margin
    return Measure(f"+{margin.words}", margin.si, margin.dimension, margin.small)


def _source(title: str, section: str, edition: str, verified: str) -> str:
    return ", ".join(part for part in (title, section, edition) if part) + (
        f" ({verified})" if verified else ""
    )


def _evidence(f: Finding, contents: Contents) -> Table:
    rows = []
    for e in f.evidence[:_MOST_EVIDENCE]:
        place = contents.sources.place(e.span) if e.span else None
        where = f"{place.file}, line {place.line}" if place else ""
        rows.append(cells(e.name, e.value.words, whence(e), where))
    columns = ("Value", "Reads", "Where it comes from", "Said at")
    return Table("", f"Evidence for {f.title}, {f.subject}", columns, tuple(rows))


def _drawn_link(f: Finding, sheet: str, zone: str, drawn: Drawn) -> Cell:
    words = f"sheet {sheet}, zone {zone}" if zone else f"sheet {sheet}"
    return Cell(words, drawn.get((sheet, f.subject)) or drawn.get((sheet, ""), ""))
