"""What the water does when things are not as designed, the year and the valve wire, as the page shows them.

The tables are those of the hydraulics sheet, cell for cell: sheet and page can not tell two figures. Pure.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.packet.anchors import slug
from plangen.packet.contents import Contents
from plangen.packet.tables import Cell, Table
from plangen.sheets import tables as drawn
from plangen.sheets.hydraulic_studies import reading_table, study_notes, study_tables
from plangen.sheets.hydraulic_year import year_notes, year_tables


@dataclass(frozen=True, slots=True)
class StudyView:
    """Tables and the words under them; `first` is the line for the day, go or no-go."""

    first: str
    tables: tuple[Table, ...]
    notes: tuple[str, ...]


def study_view(contents: Contents) -> StudyView | None:
    """Return the studies of a solved design; None where there is no water to study."""
    studies = contents.hydraulics.studies
    if studies is None:
        return None
    units = contents.units
    first, *notes = study_notes(studies, units)
    found = study_tables(contents.design, contents.hydraulics, contents.layout, units, 0.0)
    tables = (*found, reading_table(studies, units))
    return StudyView(first, tuple(_shown(t) for t in tables), tuple(notes))


def year_view(contents: Contents) -> StudyView:
    """Return the water of the year and the drop of the valve wire."""
    tables = year_tables(contents.design, contents.layout, contents.units)
    return StudyView("", tuple(_shown(t) for t in tables), year_notes(contents.layout))


def _shown(table: drawn.Table) -> Table:
    """Return a table of a sheet as one of the page."""
    numbers = [c.align == "end" for c in table.columns]
    rows = tuple(
        tuple(Cell(text, number=number) for text, number in zip(row.cells, numbers, strict=True))
        for row in table.rows
    )
    heads = tuple(c.head for c in table.columns)
    return Table(f"study-{slug(table.kind)}", table.title, heads, rows, table.empty, table.note)
