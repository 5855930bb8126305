"""The code-check summary laid out: tally, standing, what must be looked at, then all other rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from plangen.annotation.summary_rows import (
    ORDER,
    attention_rows,
    idle_rows,
    met_rows,
    source_keys,
    source_rows,
)
from plangen.checking.finding import Finding
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering, roomy
from plangen.sheets.tables import Column, Row, Table, table_pages, table_panel

STANDING = (
    "This is a check of one design file against the named rule packs. It is not an approval, a"
    " certification or a"
    " substitute for review: local code, the purveyor and licensed practice decide.",
    "Marks on the sheets: F falls short, N not known, P needs a person, W waived; the number is that of"
    " these tables, and"
    " +2 means two more findings about the same object.",
    "Not known never counts as met. A rule that meets for several objects has one row: how many there are,"
    " and the one with the least margin. A rule that does not apply is listed with the others, so that"
    " none is left out unseen.",
    "Numbers in brackets call the list of sources; each source says whether it was read, restated by"
    " another, or is from memory.",
)
_LEAST_ROOM = 10.0  # capitals of room below which a table is not begun

Placed = tuple[Panel, float, float]


@dataclass(slots=True)
class _Flow:
    """Pages filled from top left: whole rows first, then columns of equal width."""

    width: float
    height: float
    gap: float
    pages: list[list[Placed]] = field(default_factory=lambda: [[]])
    top: float = 0.0  # where the columns of this page begin
    column: int = 0
    y: float = 0.0

    def turn(self) -> None:
        """Begin a new page."""
        self.pages.append([])
        self.top, self.column, self.y = 0.0, 0, 0.0

    def put(self, panel: Panel, x: float) -> None:
        self.pages[-1].append((panel, x, self.y))
        self.y += panel.height_mm + self.gap

    def next_column(self, columns: int) -> None:
        if self.column + 1 < columns:
            self.column, self.y = self.column + 1, self.top
        else:
            self.turn()


def summary_pages(
    findings: Sequence[Finding], letters: Lettering, width: float, height: float
) -> tuple[tuple[Placed, ...], ...]:
    """Return each summary sheet as panels with their places, in mm from the top left of the drawing room.

    Lettered as large, up to body height, as costs no further sheet.
    """
    least = _pages(findings, letters, width, height)
    for note in roomy(letters):
        larger = _pages(findings, replace(letters, note=note), width, height)
        if len(larger) == len(least):
            return larger
    return least


def _pages(
    findings: Sequence[Finding], letters: Lettering, width: float, height: float
) -> tuple[tuple[Placed, ...], ...]:
    flow = _Flow(width, height, letters.note * 2)
    tally = _tally(findings, letters)
    beside = tally.width_mm + flow.gap * 2
    standing = notes_panel("Standing of this check", STANDING, width - beside, letters.note)
    flow.pages[0] += [(tally, 0.0, 0.0), (standing, beside, 0.0)]
    flow.y = max(tally.height_mm, standing.height_mm) + flow.gap
    keys = source_keys(findings)
    attention = Table(
        "Must be looked at",
        "code-check",
        _attention_columns(width),
        attention_rows(findings, keys),
        "",
        "Nothing: no rule falls short, is not known, needs a person or is waived.",
    )
    _run(flow, attention, letters, 1)
    flow.top = flow.y
    half = (width - flow.gap) / 2
    for table in (
        Table("Met", "code-check", _met_columns(half), met_rows(findings, keys), "", "No rule is met."),
        Table("Does not apply here", "code-check", _idle_columns(half), idle_rows(findings, keys)),
        Table("Sources", "code-check-sources", _source_columns(half), source_rows(keys)),
    ):
        _run(flow, table, letters, 2)
    return tuple(tuple(page) for page in flow.pages if page)


def _run(flow: _Flow, table: Table, letters: Lettering, columns: int) -> None:
    """Set a table from where the flow stands, cut by the room that each column and page has left."""
    width = (flow.width - (columns - 1) * flow.gap) / columns
    rest, title = table, table.title
    while True:
        if flow.height - flow.y < letters.note * _LEAST_ROOM and flow.y > 0.0:
            flow.next_column(columns)
            continue
        panel = table_pages(rest, letters.note, flow.height - flow.y, width)[0]
        if panel.height_mm > flow.height - flow.y + 1e-6 and flow.y > 0.0:
            flow.next_column(columns)
            continue
        flow.put(panel, flow.column * (width + flow.gap))
        done = sum(1 for entry in panel.drawn if entry.what == "table-row")
        if done >= len(rest.rows):
            return
        rest = replace(rest, title=f"{title} (continued)", rows=rest.rows[done:])
        flow.next_column(columns)


def _attention_columns(width: float) -> tuple[Column, ...]:
    return (
        Column("Mark"),
        Column("Verdict"),
        Column("Kind"),
        Column("Rule and what it says here", widest=width * 0.36),
        Column("Object"),
        Column("Measured", "end", widest=width * 0.09),
        Column("Limit", "end", widest=width * 0.11),
        Column("Margin", "end", widest=width * 0.07),
        Column("Source", widest=width * 0.14),
        Column("Drawn on", widest=width * 0.08),
    )


def _met_columns(width: float) -> tuple[Column, ...]:
    return (
        Column("No.", "end"),
        Column("Kind"),
        Column("Rule", widest=width * 0.27),
        Column("Asked", "end"),
        Column("Tightest"),
        Column("Measured", "end", widest=width * 0.10),
        Column("Limit", "end", widest=width * 0.14),
        Column("Margin", "end", widest=width * 0.08),
        Column("Source", widest=width * 0.22),
    )


def _idle_columns(width: float) -> tuple[Column, ...]:
    return (
        Column("No.", "end"),
        Column("Rule", widest=width * 0.28),
        Column("Asked", "end"),
        Column("Why", widest=width * 0.34),
        Column("Source", widest=width * 0.26),
    )


def _source_columns(width: float) -> tuple[Column, ...]:
    return (
        Column("No.", "end"),
        Column("Law, standard or practice", widest=width * 0.42),
        Column("Edition", widest=width * 0.30),
        Column("Verified", widest=width * 0.12),
    )


def _tally(findings: Sequence[Finding], letters: Lettering) -> Panel:
    rows = []
    for status in ORDER:
        found = [f for f in findings if f.status is status]
        required = sum(f.severity == "required" for f in found)
        rows.append(Row((status.words, str(required), str(len(found) - required), str(len(found)))))
    required = sum(f.severity == "required" for f in findings)
    sums = ("all", str(required), str(len(findings) - required), str(len(findings)))
    rows.append(Row(sums, bold=True))
    columns = (
        Column("Verdict"),
        Column("Required", "end"),
        Column("Advisory", "end"),
        Column("Together", "end"),
    )
    return table_panel(Table("Tally", "code-check-tally", columns, tuple(rows)), letters.note)
