"""Tables and notes flowing over sheets: a table that does not fit goes on where there is room.

The panels come out in the order and sizes that `page.packed` places in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from plangen.sheets.page import Placed, free_spot
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import LINE
from plangen.sheets.tables import Table, column_widths, table_panel

LEAST_ROWS = 6  # no part of a cut table has fewer


def flow(items: Sequence[Table | Panel], height: float, room: tuple[float, float]) -> tuple[Panel, ...]:
    """Return the items as panels for pages of `room` (width, height in mm); tables are cut to fill gaps."""
    page: list[Placed] = []
    out: list[Panel] = []
    queue = list(items)
    while queue:
        item = queue.pop(0)
        panel = item if isinstance(item, Panel) else table_panel(item, height)
        spot = free_spot(page, panel, *room)
        if spot is None and isinstance(item, Table):
            parts = _cut(item, height, page, room)
            if parts is None and page and free_spot([], panel, *room) is None:
                parts = _cut(item, height, [], room)
            if parts is not None:
                panel, rest = table_panel(parts[0], height), parts[1]
                spot = free_spot(page, panel, *room)
                queue.insert(0, rest)
        if spot is None:
            page, spot = [], (0.0, 0.0)
        page.append(Placed(panel, *spot))
        out.append(panel)
    return tuple(out)


def _cut(
    table: Table, height: float, page: Sequence[Placed], room: tuple[float, float]
) -> tuple[Table, Table] | None:
    """Return the longest first part that fits a page, and the rest; None where none is worth its head."""
    widths = table.widths or column_widths(table, height, 0.0)

    def first(rows: int) -> Table:
        return replace(table, rows=table.rows[:rows], note="", widths=widths)

    most = int(room[1] / (height * LINE)) + 1  # no page holds more, so no longer part is set to try it
    low, high = 0, min(most, len(table.rows) - (LEAST_ROWS if page else 1))
    while low < high:
        middle = (low + high + 1) // 2
        fits = free_spot(page, table_panel(first(middle), height), *room) is not None
        low, high = (middle, high) if fits else (low, middle - 1)
    if low < (LEAST_ROWS if page else 1):
        return None
    return first(low), replace(table, rows=table.rows[low:], continued=True, widths=widths)
