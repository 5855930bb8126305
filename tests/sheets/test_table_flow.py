"""Tables over sheets: every row once and in order, none outside the room; what no row knows is said once."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.sheets.hydraulic_rows import NOT_KNOWN, pipe_rows
from plangen.sheets.hydraulics_sheet import TO_STATE, hydraulics_panels
from plangen.sheets.marks import Group
from plangen.sheets.page import packed
from plangen.sheets.panel import Panel
from plangen.sheets.schedules import schedule_panels
from plangen.sheets.table_flow import flow
from plangen.sheets.tables import Column, Row, Table, numbered_notes, table_panel, without_unknown
from tests.sheets.details_measures import ROOM, stages, texts, words

HEIGHT = 2.0
SIZES = st.lists(st.integers(0, 60), min_size=1, max_size=5)


def _table(name: str, rows: int) -> Table:
    listed = tuple(Row((f"{name}{i}", "x" * (i % 7), "9")) for i in range(rows))
    return Table(name, "test", (Column("No."), Column("Text"), Column("Figure", "end")), listed, "A note.")


@settings(max_examples=6, deadline=None)
@given(SIZES)
def test_every_row_stands_once_in_order_inside_its_sheet(sizes: list[int]) -> None:
    tables = [_table(f"T{n}-", rows) for n, rows in enumerate(sizes)]
    panels = flow(tables, HEIGHT, ROOM)
    names = [t.text for p in panels for t in texts(p.group)]
    wanted = [row.cells[0] for table in tables for row in table.rows]
    assert [n for n in names if n.startswith("T") and n[-1].isdigit()] == wanted
    assert names.count("A note.") == len(tables)
    for page in packed(panels, *ROOM):
        for placed in page:
            assert placed.x + placed.panel.width_mm <= ROOM[0] + 1e-6
            assert placed.y + placed.panel.height_mm <= ROOM[1] + 1e-6
        boxes = [(p.x, p.y, p.x + p.panel.width_mm, p.y + p.panel.height_mm) for p in page]
        for i, a in enumerate(boxes):
            assert not any(
                a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] for b in boxes[i + 1 :]
            )


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(1, 90), min_size=3, max_size=8))
def test_the_rest_of_a_table_is_read_after_its_beginning(sizes: list[int]) -> None:
    panels = flow([_table(f"T{n}-", rows) for n, rows in enumerate(sizes)], HEIGHT, ROOM)
    for page in packed(panels, *ROOM):
        for one, two in pairwise(page):
            if two.panel.continues:
                right = two.x >= one.x + one.panel.width_mm
                assert right or (two.x >= one.x and two.y >= one.y + one.panel.height_mm)


def test_a_long_table_shares_a_sheet_with_itself() -> None:
    panels = flow([_table("L", 90)], HEIGHT, ROOM)
    assert len(panels) > 1
    assert len(packed(panels, *ROOM)) == 1
    assert len({p.width_mm for p in panels}) == 1
    assert "(continued)" in words(panels[1])


def test_a_table_little_longer_than_its_sheet_is_halved() -> None:
    whole = table_panel(_table("L", 10), HEIGHT)
    row = table_panel(_table("L", 11), HEIGHT).height_mm - whole.height_mm
    most = 10 + int((ROOM[1] - whole.height_mm) / row)
    panels = flow([_table("L", most + 7)], HEIGHT, ROOM)
    rows = [sum(1 for t in texts(p.group) if t.text.startswith("L")) for p in panels]
    # the heading begins with the same letter in both parts
    assert len(rows) == 2 and sum(rows) == most + 7 + 2
    assert abs(rows[0] - rows[1]) <= 1
    assert len(packed(panels, *ROOM)) == 1


def test_the_rest_of_a_table_is_halved_on_its_next_sheet_too() -> None:
    table = _table("L", 100)
    half = replace(table, rows=tuple(replace(r, cells=(r.cells[0], "x" * 80, "9")) for r in table.rows))
    panel = table_panel(half, HEIGHT)
    assert ROOM[0] / 3 < panel.width_mm < ROOM[0] / 2 - 10.0  # two of them stand side by side
    on_a_sheet = int(ROOM[1] / (panel.height_mm / 100)) - 3
    over = Panel(Group("notes", ()), (), ROOM[0], ROOM[1] / 2)
    # half a sheet twice, then somewhat more than one column
    rows = 2 * (on_a_sheet // 2) + on_a_sheet + 10
    more = replace(half, rows=tuple(half.rows[i % 100] for i in range(rows)))
    last = packed(flow([over, more], HEIGHT, ROOM), *ROOM)[-1]
    parts = [sum(1 for t in texts(p.panel.group) if t.text.startswith("L")) for p in last]
    assert len(parts) == 2 and abs(parts[0] - parts[1]) <= 1, parts


def test_what_no_row_knows_is_said_once() -> None:
    table = _table("U", 3)
    blind = replace(table, rows=tuple(replace(r, cells=(r.cells[0], "a", "not known")) for r in table.rows))
    said = words(table_panel(without_unknown(blind, "not known", "state it"), HEIGHT))
    assert said.count("NOT KNOWN") == 1
    assert "Figure: state it." in said
    assert "not known" not in said
    half = replace(blind, rows=(table.rows[0], *blind.rows[1:]))
    assert words(table_panel(without_unknown(half, "not known", "state it"), HEIGHT)).count("not known") == 2


def test_long_words_of_a_column_are_numbered_and_told_under_the_table() -> None:
    long, short = "by a table of the trade, from memory", "each"
    rows, notes = numbered_notes([Row(("a", long)), Row(("b", short)), Row(("c", long))], 1)
    assert [r.cells[1] for r in rows] == ["[1]", short, "[1]"]
    assert notes == f"[1] {long}."


UNMEASURED = (
    'static 64 psi measured 2026-04-20, lowest 58 psi from standard "Quillmoor Water pressure record 2025", ',
    "",
)
WARM = (', temperature 77 degF from standard "Quillmoor Water quality report 2025"', "")


@pytest.mark.parametrize("change", [UNMEASURED, WARM], ids=["pressure", "temperature"])
def test_a_missing_input_is_named_once_with_what_to_state(change: tuple[str, str]) -> None:
    design, _, hydraulics, layout = stages(change)
    panels = (
        *hydraulics_panels(design, hydraulics, "us", "ansi-b", ROOM, layout),
        *schedule_panels(design, hydraulics, layout, "ansi-b", ROOM),
    )
    said = " ".join(words(p) for p in panels)
    if change is UNMEASURED:
        assert TO_STATE.split("`")[1] in said
        assert "neither a static nor a lowest" in said
    else:
        checks = next(p for p in panels if p.group.title.startswith("Pipe checks"))
        assert "Holds" not in [t.text for t in texts(checks.group)]
        assert "`temperature` of the source" in said
    # three devices of the example have no rating; that is not what was left out here
    assert said.count("not known") <= 4 + 3


def test_a_pipe_whose_cases_are_not_solved_shows_no_flow() -> None:
    """One static reading alone: still water is told, a flow of nothing would read as a result."""
    _, _, hydraulics, _ = stages((', lowest 58 psi from standard "Quillmoor Water pressure record 2025"', ""))
    rows = dict(pipe_rows(hydraulics, "us"))
    assert len(rows) > 20 and {row[2:4] for row in rows.values()} == {(NOT_KNOWN, NOT_KNOWN)}
    assert float(rows["P2"][4]) > 60
