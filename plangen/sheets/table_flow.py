"""Tables and notes flowing over sheets: a table that does not fit goes on where there is room.

The panels come out in the order and sizes that `page.packed` places in the same way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from plangen.sheets.marks import Group
from plangen.sheets.page import Placed, free_spot
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import LINE
from plangen.sheets.tables import Measured, Table, column_widths, measured, table_panel

LEAST_ROWS = 6  # no part of a cut table has fewer


def flow(
    items: Sequence[Table | Panel], height: float, room: tuple[float, float], most_pages: float = math.inf
) -> tuple[Panel, ...]:
    """Return the items as panels for pages of `room` (width, height in mm); tables are cut to fill gaps.

    No panel at all is returned where they need more than `most_pages`; none has been set then.
    """
    page: list[Placed] = []
    pages = 1
    out: list[Table | Panel] = []
    queue = list(items)
    while queue:
        item = queue.pop(0)
        continues = isinstance(item, Table) and item.continued
        if isinstance(item, Table):
            item, size, rest = _next(item, height, page, room, not queue)
            queue[:0] = rest
        else:
            size = item.width_mm, item.height_mm
        spot = free_spot(page, *size, *room, continues)
        if spot is None:
            pages += bool(page)
            page, spot = [], (0.0, 0.0)
            if pages > most_pages:
                return ()
        page.append(Placed(Panel(Group("table", ()), (), *size), *spot))
        out.append(item)
    return tuple(table_panel(item, height) if isinstance(item, Table) else item for item in out)


def _next(
    table: Table, height: float, page: Sequence[Placed], room: tuple[float, float], last: bool
) -> tuple[Table, tuple[float, float], tuple[Table, ...]]:
    """What comes next of a table with its size, and the rest of it if it does not fit the page.

    Only the `last` of all is halved: under another's halves there would be less room for what follows.
    """
    most = int(room[1] / (height * LINE)) + 1  # no page holds more rows, so no more are measured
    widths = table.widths or column_widths(table, height, 0.0)
    long = len(table.rows) > most
    head = measured(replace(table, rows=table.rows[:most], widths=widths), height)
    size = head.size(len(head.rows))

    def fits(on: Sequence[Placed]) -> bool:
        return not long and free_spot(on, *size, *room, table.continued) is not None

    if fits(page):
        return table, size, ()
    rows = _fitting(table, head, page, room)
    if not rows and page and not fits([]):
        page = []
        rows = _fitting(table, head, page, room)
    if not rows:
        return table, size if not long else measured(table, height).size(len(table.rows)), ()
    if last:
        rows = _evened(table, head, height, rows, page, room)
    first = replace(table, rows=table.rows[:rows], note="", widths=widths)
    return first, head.size(rows), (replace(table, rows=table.rows[rows:], continued=True, widths=widths),)


def _evened(
    table: Table,
    head: Measured,
    height: float,
    rows: int,
    page: Sequence[Placed],
    room: tuple[float, float],
) -> int:
    """Return half the rows, where both halves stand side by side: a column of a few last rows looks lost."""
    half = (len(table.rows) + 1) // 2
    if half >= rows:
        return rows
    spot = free_spot(page, *head.size(half), *room)
    if spot is None:
        return rows
    first = Placed(Panel(Group("table", ()), (), *head.size(half)), *spot)
    last = replace(table, rows=table.rows[half:], continued=True, widths=head.widths)
    rest = measured(last, height).size(len(last.rows))
    beside = free_spot((*page, first), *rest, *room, continues=True)
    return half if beside is not None and beside[0] > spot[0] else rows


def _fitting(table: Table, head: Measured, page: Sequence[Placed], room: tuple[float, float]) -> int:
    """Return how many first rows of a table fit a page at most; 0 where they are not worth its head."""
    most = len(table.rows) - LEAST_ROWS
    low, high = 0, min(len(head.rows), most if page else max(most, 1))
    while low < high:
        middle = (low + high + 1) // 2
        fits = free_spot(page, *head.size(middle), *room, table.continued) is not None
        low, high = (middle, high) if fits else (low, middle - 1)
    return low if low >= (LEAST_ROWS if page else 1) else 0
