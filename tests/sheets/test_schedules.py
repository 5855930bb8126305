"""The schedules hold what plan offices ask for: every device by its tag, every zone's plants and ground.

Figures are worked out here from the example's own text (areas by side times side, spacing over throw).
"""

from __future__ import annotations

import re

from plangen.sheets.schedules import schedule_panels
from plangen.sheets.schedules_parts import equipment_table, hydrozone_table
from plangen.sheets.schedules_pipe import takeoff_table
from plangen.sheets.tables import Row
from tests.sheets.details_measures import EXAMPLE, ROOM, stages, words

TEXT = EXAMPLE.read_text(encoding="utf-8")
TAGGED = "isolation|assembly|valve|strainer|regulator|meter|drain|blow-out"


def _row(rows: tuple[Row, ...], name: str) -> tuple[str, ...]:
    return next(r.cells for r in rows if name in re.split(r"[, ]+", r.cells[0]))


def test_every_device_stands_in_the_equipment_schedule_by_its_tag() -> None:
    design, _, _, _ = stages()
    rows = equipment_table(design).rows
    tags = [tag for row in rows for tag in row.cells[0].split(", ")]
    said = re.findall(rf"^  (?:{TAGGED}) +([A-Z]+\d+)", TEXT, re.M)
    assert sorted(tags) == sorted(said)
    assert _row(rows, "BF1")[1:6] == (
        "Pressure vacuum breaker assembly 1 in",
        "1 in",
        "28 in",
        "150 psi",
        "ASSE 1020",
    )
    assert _row(rows, "V3")[3] == "-10 in"
    assert _row(rows, "M1")[-1] == "existing"


def test_every_zone_tells_its_plants_sun_soil_slope_and_ground() -> None:
    design, _, _, layout = stages()
    rows = hydrozone_table(design, layout).rows
    # Front is 43.5 ft by 30 ft, Back 60 ft by 30 ft, Border 19.5 ft by 3 ft
    assert _row(rows, "Z1")[1:] == (
        "Front lawn",
        "cool-season turf",
        "80%",
        "full sun",
        "loam",
        "2%",
        "1305 sqft",
    )
    assert _row(rows, "Z3")[-1] == "1800 sqft"
    assert _row(rows, "Z4")[-1] in ("58 sqft", "59 sqft")


def test_head_spacing_is_told_as_a_share_of_the_throw() -> None:
    design, _, hydraulics, layout = stages()
    said = " ".join(words(p) for p in schedule_panels(design, hydraulics, layout, "ansi-b", ROOM))
    assert "14.5 ft to H14 97%" in said  # 14.5 / 15
    assert "30.0 ft to H32 100%" in said


def test_the_takeoff_on_the_sheet_has_every_line_of_the_list() -> None:
    _, _, _, layout = stages()
    table = takeoff_table(layout)
    assert [r.cells[0] for r in table.rows] == [line.item for line in layout.takeoff]
    for row, line in zip(table.rows, layout.takeoff, strict=True):
        note = row.cells[-1]
        told = re.search(rf"{re.escape(note)} (.*)", table.note) if note.startswith("[") else None
        assert (float(row.cells[2].strip("< ")) > 0) == (line.quantity > 0), line
        assert line.note.rstrip(".") in (told[1] if told else note), line
