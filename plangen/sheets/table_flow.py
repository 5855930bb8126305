"""Tables and notes flowing over sheets: a table that does not fit goes on where there is room.

The panels come out in the order and sizes that `page.packed` places in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from plangen.sheets.page import Placed, free_spot
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import LINE
from plangen.sheets.tables import Measured, Table, column_widths, measured, table_panel

LEAST_ROWS = 6  # no part of a cut table has fewer


def flow(items: Sequence[Table | Panel], height: float, room: tuple[float, float]) -> tuple[Panel, ...]:
    """Return the items as panels for pages of `room` (width, height in mm); tables are cut to fill gaps."""
    page: list[Placed] = []
    out: list[Panel] = []
    queue = list(items)
    while queue:
        item = queue.pop(0)
        if isinstance(item, Table):
            item, *rest = _parts(item, height, page, room)
            queue[:0] = rest
            panel = table_panel(item, height)
        else:
            panel = item
        spot = free_spot(page, panel.width_mm, panel.height_mm, *room)
        if spot is None:
            page, spot = [], (0.0, 0.0)
        page.append(Placed(panel, *spot))
        out.append(panel)
    return tuple(out)


def _parts(
    table: Table, height: float, page: Sequence[Placed], room: tuple[float, float]
) -> tuple[Table, ...]:
    """A table as what comes next of it, and the rest if it does not fit the page."""
    most = int(room[1] / (height * LINE)) + 1  # no page holds more rows, so no more are measured
    widths = table.widths or column_widths(table, height, 0.0)
    head = measured(replace(table, rows=table.rows[:most], widths=widths), height)

    def fits(on: Sequence[Placed]) -> bool:
        return len(table.rows) <= most and free_spot(on, *head.size(len(head.rows)), *room) is not None

    if fits(page):
        return (table,)
    parts = _cut(table, head, page, room)
    if parts is None and page and not fits([]):
        parts = _cut(table, head, [], room)
    return parts or (table,)


def _cut(
    table: Table, head: Measured, page: Sequence[Placed], room: tuple[float, float]
) -> tuple[Table, Table] | None:
    """Return the longest first part that fits a page, and the rest; None where none is worth its head."""
    low, high = 0, min(len(head.rows), len(table.rows) - (LEAST_ROWS if page else 1))
    while low < high:
        middle = (low + high + 1) // 2
        fits = free_spot(page, *head.size(middle), *room) is not None
        low, high = (middle, high) if fits else (low, middle - 1)
    if low < (LEAST_ROWS if page else 1):
        return None
    first = replace(table, rows=table.rows[:low], note="", widths=head.widths)
    return first, replace(table, rows=table.rows[low:], continued=True, widths=head.widths)
