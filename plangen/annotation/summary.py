"""The code-check summary: every rule that was asked, its verdict, measure, limit and source, in full."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.annotation.markers import mark_of
from plangen.checking.finding import Finding, Status
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering
from plangen.sheets.tables import Column, Row, Table, table_pages, table_panel

STANDING = (
    "This is a check of one design file against the named rule packs. It is not an approval, a"
    " certification or a"
    " substitute for review: local code, the purveyor and licensed practice decide.",
    "Marks on the sheets: F falls short, N not known, P needs a person, W waived; the number is that of"
    " this table, and"
    " +2 means two more findings about the same object.",
    "Not known never counts as met. A rule that does not apply is listed with the others, so that none"
    " is left out"
    " unseen.",
)
_ORDER = (
    Status.FALLS_SHORT,
    Status.NOT_KNOWN,
    Status.NEEDS_PERSON,
    Status.WAIVED,
    Status.MEETS,
    Status.NOT_APPLICABLE,
)


def summary_pages(
    findings: Sequence[Finding], letters: Lettering, width: float, height: float
) -> tuple[tuple[Panel, ...], ...]:
    """Return the panels of each summary sheet; the first holds the tally and the standing of the check."""
    head = (
        _tally(findings, letters),
        notes_panel("Standing of this check", STANDING, width * 0.62, letters.note),
    )
    top = max(p.height_mm for p in head) + letters.note * 3
    rows = tuple(_row(f) for f in sorted(findings, key=lambda f: (_ORDER.index(f.status), f.number)))
    table = Table(
        "Code check, every rule and object", "code-check", _columns(width), rows, "", "No rule was asked."
    )
    # the first page is the shorter one: cut by its room, then cut the rest by the full sheet
    pages = table_pages(table, letters.note, height - top, width)
    if len(pages) == 1:
        return ((*head, pages[0]),)
    first_rows = _rows_on(table, letters, height - top, width)
    rest = Table(table.title + " (continued)", table.kind, table.columns, rows[first_rows:], "", table.empty)
    return ((*head, pages[0]), *((page,) for page in table_pages(rest, letters.note, height, width)))


def _rows_on(table: Table, letters: Lettering, room: float, width: float) -> int:
    """How many rows the first page holds: as many as its inventory lists."""
    page = table_pages(table, letters.note, room, width)[0]
    return sum(1 for entry in page.drawn if entry.what == "table-row")


def _columns(width: float) -> tuple[Column, ...]:
    return (
        Column("Mark"),
        Column("Verdict"),
        Column("Kind"),
        Column("Rule and what it says here", widest=width * 0.34),
        Column("Object"),
        Column("Measured", "end", widest=width * 0.09),
        Column("Limit", "end", widest=width * 0.10),
        Column("Margin", "end", widest=width * 0.07),
        Column("Source", widest=width * 0.22),
        Column("Drawn on", widest=width * 0.08),
    )


def _row(finding: Finding) -> Row:
    return Row(
        (
            mark_of(finding),
            finding.status.words,
            finding.severity,
            f"{finding.title}. {_words(finding)}",
            finding.subject,
            finding.measured.words if finding.measured else "-",
            _limit(finding),
            finding.margin.words if finding.margin else "-",
            _source(finding),
            ", ".join(f"{sheet} {zone}".strip() for sheet, zone in finding.drawn_on[:2]) or "-",
        ),
        finding.id,
    )


def _words(finding: Finding) -> str:
    if finding.status is Status.NEEDS_PERSON and finding.look_at:
        return f"Look at: {finding.look_at}"
    if finding.status is Status.NOT_KNOWN and finding.missing:
        return f"Missing: {', '.join(finding.missing)}"
    if finding.status is Status.WAIVED and finding.waived_by:
        return f"Waived: {finding.waived_by}"
    return finding.message


def _limit(finding: Finding) -> str:
    parts = []
    if finding.at_least:
        parts.append(f"at least {finding.at_least.words}")
    if finding.at_most:
        parts.append(f"at most {finding.at_most.words}")
    return ", ".join(parts) or "-"


def _source(finding: Finding) -> str:
    return "; ".join(
        " ".join(w for w in (s.title, s.section, f"({s.edition})" if s.edition else "", s.verified) if w)
        for s in finding.sources
    )


def _tally(findings: Sequence[Finding], letters: Lettering) -> Panel:
    rows = []
    for status in _ORDER:
        found = [f for f in findings if f.status is status]
        required = sum(f.severity == "required" for f in found)
        rows.append(Row((status.words, str(required), str(len(found) - required), str(len(found)))))
    rows.append(Row(("all", *(str(n) for n in _sums(findings))), bold=True))
    columns = (
        Column("Verdict"),
        Column("Required", "end"),
        Column("Advisory", "end"),
        Column("Together", "end"),
    )
    return table_panel(Table("Tally", "code-check-tally", columns, tuple(rows)), letters.note)


def _sums(findings: Sequence[Finding]) -> tuple[int, int, int]:
    required = sum(f.severity == "required" for f in findings)
    return required, len(findings) - required, len(findings)
