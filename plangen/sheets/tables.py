"""Ruled tables: columns measured from their texts, cells wrapped, long tables cut into pages."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from plangen.sheets.font import drawable, text_width_mm
from plangen.sheets.marks import Area, Group, Line, Text
from plangen.sheets.panel import Noted, Panel
from plangen.sheets.paragraphs import LINE, wrapped

Cells = tuple[tuple[str, ...], ...]  # the lines of each cell of a row


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, alignment `start`, `middle` or `end`, and widest text width in mm (0: no limit)."""

    head: str
    align: str = "start"
    widest: float = 0.0


@dataclass(frozen=True, slots=True)
class Row:
    """One row of cells. `object` ties it to a design object; `bold` rows are sums."""

    cells: tuple[str, ...]
    object: str = ""
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table before it is set. `note` stands under it; `kind` names it in the inventory."""

    title: str
    kind: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    note: str = ""
    empty: str = field(default="None.")
    continued: bool = False  # the rest of a table cut before
    widths: tuple[float, ...] = ()  # of the columns in mm where another part has set them


def table_panel(table: Table, height: float, width: float = 0.0) -> Panel:
    """Return the whole table as one panel lettered at `height`; `width` spreads it to that many mm."""
    return table_pages(table, height, 0.0, width)[0]


def table_pages(table: Table, height: float, room: float, width: float = 0.0) -> tuple[Panel, ...]:
    """Return the table cut into panels no higher than `room` mm (0: one panel). Heads repeat."""
    whole = measured(table, height, width, room > 0)
    pages: list[list[tuple[Row, Cells]]] = [[]]
    used = whole.head
    last = len(whole.rows) - 1
    for i, (row, cells, need) in enumerate(zip(whole.rows, whole.cells, whole.heights, strict=True)):
        if room and pages[-1] and used + need + (whole.note if i == last else 0.0) > room:
            pages.append([])
            used = whole.head
        pages[-1].append((row, cells))
        used += need
    last = len(pages) - 1
    return tuple(_set_page(table, page, whole.widths, height, i, i == last) for i, page in enumerate(pages))


@dataclass(frozen=True, slots=True)
class Measured:
    """A table measured, not yet set: column widths, rows with their heights, heights of head and note; mm."""

    widths: tuple[float, ...]
    rows: tuple[Row, ...]
    cells: tuple[Cells, ...]
    heights: tuple[float, ...]
    head: float
    note: float

    def size(self, rows: int) -> tuple[float, float]:
        """Return the width and height of the table with so many first rows only, its note under the last."""
        note = self.note if rows == len(self.rows) else 0.0
        return sum(self.widths), self.head + sum(self.heights[:rows]) + note


def measured(table: Table, height: float, width: float = 0.0, cut: bool = False) -> Measured:
    """Return a table measured for letters of that height; `width` spreads it to so many mm.

    Where it will be `cut`, its head is as tall as that of its continuation.
    """
    widths = table.widths or column_widths(table, height, width)
    rows = table.rows or (Row((table.empty, *("",) * (len(table.columns) - 1))),)
    cells = tuple(_cells(row, table.columns, widths, height) for row in rows)
    title = _title_lines(table, table.continued or cut, sum(widths), height)
    head = _title_height(title, height) + _row_height(_head_cells(table, widths, height), height)
    lines = len(wrapped(table.note, sum(widths), height)) if table.note else 0
    return Measured(
        widths,
        rows,
        cells,
        tuple(_row_height(c, height) for c in cells),
        head,
        lines * height * LINE + height if lines else 0.0,
    )


def without_unknown(table: Table, unknown: str, why: str) -> Table:
    """Return the table without the columns whose every cell is `unknown`; its note says so once, and why.

    A table of one row stays as it is.
    """
    last = len(table.columns)
    cells = [row.cells for row in table.rows]
    gone = [i for i in range(1, last) if len(cells) > 1 and all(row[i] == unknown for row in cells)]
    if not gone:
        return table
    kept = [i for i in range(last) if i not in gone]
    said = f"{unknown.upper()} FOR EVERY ROW, SO NOT LISTED: {', '.join(table.columns[i].head for i in gone)}"
    return replace(
        table,
        columns=tuple(table.columns[i] for i in kept),
        rows=tuple(replace(row, cells=tuple(row.cells[i] for i in kept)) for row in table.rows),
        note=" ".join(part for part in (f"{said}: {why}." if why else f"{said}.", table.note) if part),
    )


def widened(table: Table, factor: float) -> Table:
    """Return the table with the limits of its columns that many times as wide."""
    return replace(table, columns=tuple(replace(c, widest=c.widest * factor) for c in table.columns))


def numbered_notes(rows: Sequence[Row], column: int, least: int = 2) -> tuple[tuple[Row, ...], str]:
    """Return the rows with long texts of a column that repeat replaced by numbers, and the texts numbered."""
    counts = Counter(row.cells[column] for row in rows)
    texts = [
        t for t in dict.fromkeys(row.cells[column] for row in rows) if len(t) > 24 and counts[t] >= least
    ]
    numbers = {text: f"[{n}]" for n, text in enumerate(texts, 1)}
    changed = tuple(
        replace(row, cells=tuple(numbers.get(c, c) if i == column else c for i, c in enumerate(row.cells)))
        for row in rows
    )
    return changed, "\n".join(f"{number} {text.rstrip('.')}." for text, number in numbers.items())


def _pad(height: float) -> float:
    return height * 0.55


def column_widths(table: Table, height: float, width: float) -> tuple[float, ...]:
    """Return the widths of the columns in mm: the widest text up to its limit.

    Spare width goes to limited columns, and what is wanting is taken from them.
    """
    out: list[float] = []
    for i, column in enumerate(table.columns):
        texts = [drawable(row.cells[i]) for row in table.rows if i < len(row.cells)]
        body = max((text_width_mm(t, height, bold=True) for t in texts), default=0.0)
        natural = max(
            body if not column.widest else min(body, column.widest), _two_lines(column.head, height)
        )
        out.append(natural + 2 * _pad(height))
    if not table.rows:
        out[0] = max(out[0], text_width_mm(table.empty, height) + 2 * _pad(height))
    spare = width - sum(out)
    if width and spare < 0:
        # too wide: the limited columns wrap their texts sooner, each by its share
        givers = [i for i, c in enumerate(table.columns) if c.widest]
        held = sum(out[i] for i in givers)
        for i in givers:
            least = _two_lines(table.columns[i].head, height) + 2 * _pad(height)
            out[i] = max(least, out[i] + spare * out[i] / held)
    if spare > 0:
        takers = [i for i, c in enumerate(table.columns) if c.widest] or list(range(len(out)))
        for i in takers:
            out[i] += spare / len(takers)
    return tuple(out)


def _two_lines(head: str, height: float) -> float:
    """The least width at which a column's head takes no more than two lines."""
    words = head.split()
    halves = [(" ".join(words[:i]), " ".join(words[i:])) for i in range(1, len(words) + 1)]
    return min((max(text_width_mm(p, height, bold=True) for p in pair) for pair in halves), default=0.0)


def _cells(row: Row, columns: Sequence[Column], widths: Sequence[float], height: float) -> Cells:
    return tuple(
        wrapped(text, w - 2 * _pad(height) + 1e-6, height, row.bold)
        for text, w, _ in zip(row.cells, widths, columns, strict=True)
    )


def _head_cells(table: Table, widths: Sequence[float], height: float) -> Cells:
    return tuple(
        wrapped(c.head, w - 2 * _pad(height) + 1e-6, height, bold=True)
        for c, w in zip(table.columns, widths, strict=True)
    )


def _row_height(cells: Sequence[Sequence[str]], height: float) -> float:
    return max(len(c) for c in cells) * height * LINE + height * 0.55


def _title_lines(table: Table, continued: bool, width: float, height: float) -> tuple[str, ...]:
    """The lines of a table's heading, none wider than the table."""
    if not table.title:
        return ()
    words = table.title.upper() + (" (continued)" if continued else "")
    return wrapped(words, width, height * 1.25, bold=True)


def _title_height(lines: Sequence[str], height: float) -> float:
    return len(lines) * height * 1.25 * LINE + height * 0.5 if lines else 0.0


def _set_page(
    table: Table,
    rows: Sequence[tuple[Row, Cells]],
    widths: Sequence[float],
    height: float,
    page: int,
    last: bool,
) -> Panel:
    total = sum(widths)
    marks: list[Text | Line | Area | Group] = []
    drawn: list[Noted] = [Noted("table", table.kind, "", 0.0, 0.0)]
    titles = _title_lines(table, bool(page) or table.continued, total, height)
    top = _title_height(titles, height)
    for i, title in enumerate(titles):
        marks.append(Text(0.0, height * 1.25 * (1.0 + i * LINE), title, height * 1.25, bold=True))
    heads = _head_cells(table, widths, height)
    y = top + _row_height(heads, height)
    marks.append(Area(((0.0, top), (total, top), (total, y), (0.0, y)), "", "pale"))
    marks.extend(_row_texts(heads, table.columns, widths, top, height, bold=True))
    lines = [(top, "table-head"), (y, "table-head")]
    for row, cells in rows:
        texts = _row_texts(cells, table.columns, widths, y, height, row.bold)
        if row.object:
            marks.append(Group("table-row", texts, object=row.object, title=row.object))
            drawn.append(Noted("table-row", table.kind, row.object, 0.0, y))
        else:
            marks.extend(texts)
        y += _row_height(cells, height)
        lines.append((y, "table"))
    marks.extend(Line(((0.0, ly), (total, ly)), pen) for ly, pen in lines)
    x = 0.0
    for w in (0.0, *widths):
        x += w
        marks.append(Line(((x, top), (x, y)), "table"))
    if table.note and last:
        for i, text in enumerate(wrapped(table.note, total, height)):
            marks.append(Text(0.0, y + height * 1.8 + i * height * LINE, text, height))
        y += height + len(wrapped(table.note, total, height)) * height * LINE
    return Panel(
        Group("table", tuple(marks), title=table.title),
        tuple(drawn),
        total,
        y,
        continues=bool(page) or table.continued,
    )


def _row_texts(
    cells: Sequence[Sequence[str]],
    columns: Sequence[Column],
    widths: Sequence[float],
    y: float,
    height: float,
    bold: bool,
) -> tuple[Text, ...]:
    out: list[Text] = []
    x = 0.0
    for lines, column, w in zip(cells, columns, widths, strict=True):
        at = {"start": x + _pad(height), "middle": x + w / 2, "end": x + w - _pad(height)}[column.align]
        for i, text in enumerate(lines):
            if text:
                out.append(Text(at, y + height * (1.42 + i * LINE), text, height, column.align, bold))
        x += w
    return tuple(out)
