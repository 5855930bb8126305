"""The takeoff as a table for the page and as rows for the spreadsheet file. Pure."""

from __future__ import annotations

from plangen.layout.results import Layout, TakeoffLine
from plangen.packet.tables import Cell, Table, cells
from plangen.quantity.display import number

CSV_HEAD = ("group", "item", "size", "quantity", "unit", "net", "note", "objects")
# A spreadsheet takes a cell that begins so for a formula and runs it.
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def bill_table(layout: Layout) -> Table:
    """Return the takeoff as a table."""
    rows = tuple(
        (
            *cells(t.group, t.item, t.size),
            Cell(number(t.quantity, 1), number=True),
            Cell(t.unit),
            Cell(number(t.net, 1), number=True),
            *cells(t.note, ", ".join(t.objects)),
        )
        for t in layout.takeoff
    )
    columns = ("Group", "Item", "Size", "Quantity", "Unit", "Net", "Note", "For")
    note = "Net is what the drawing measures; quantity is what to order. Verify on site before buying."
    return Table(
        "takeoff-table", "Takeoff, measured from the drawing", columns, rows, "Nothing to take off.", note
    )


def csv_text(layout: Layout) -> str:
    """Return the takeoff as comma-separated text, one line an item, safe to open in a spreadsheet."""
    lines = [CSV_HEAD, *(_csv_row(t) for t in layout.takeoff)]
    return "".join(",".join(_field(text) for text in line) + "\n" for line in lines)


def _csv_row(t: TakeoffLine) -> tuple[str, ...]:
    words = [_inert(text) for text in (t.group, t.item, t.size)]
    tail = [_inert(t.note), _inert(" ".join(t.objects))]
    return (*words, number(t.quantity, 3), t.unit, number(t.net, 3), *tail)


def _inert(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def _field(text: str) -> str:
    return '"' + text.replace('"', '""') + '"' if any(ch in text for ch in ',"\n\r') else text
