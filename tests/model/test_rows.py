"""Heads in a row, and places said by other places. Expected places are worked out by hand beside each."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.model.formatted import format_text
from plangen.model.read import read_design
from plangen.model.same import meaning
from plangen.text.source import SourceFile

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "examples" / "residential" / "design.plan").read_text(encoding="utf-8")
ROW = (
    "  head H31       rotor-30q, at (5, 83), on L31, arc north to east\n"
    "  head H32       rotor-30h, at (35, 83), on L32, arc west to east\n"
    "  head H33       rotor-30q, at (65, 83), on L32, arc west to north\n"
)
FOOT_M = 0.3048


def read(old: str, new: str):
    """Return what reading the residential example gives after one change."""
    assert TEXT.count(old) == 1
    return read_design(SourceFile.of("design.plan", TEXT.replace(old, new)))


# L32 runs from (5, 83) to (65, 83) by way of (35, 83), so the three heads stand at 5, 35 and 65 ft.
@pytest.mark.parametrize(
    "where",
    ["from 0 ft every 30 ft", "between (5, 83) and (65, 83)", "between N31 and 30 ft east of (35, 83)"],
)
def test_heads_in_a_row_are_heads_one_by_one(where: str) -> None:
    row = read(ROW, f"  heads H31, H32, H33 rotor-30q, on L32, {where}, arc west to east\n")
    assert not row.problems
    single = "".join(
        f"  head {name} rotor-30q, at ({x}, 83), on L32, arc west to east\n"
        for name, x in (("H31", 5), ("H32", 35), ("H33", 65))
    )
    alone = read(ROW, single)
    assert row.value is not None and alone.value is not None
    assert meaning(row.value.heads) == meaning(alone.value.heads)


def test_a_head_put_in_renames_none() -> None:
    row = read(
        ROW, "  heads H31, H37, H32, H33 rotor-30q, on L32, between (5, 83) and (65, 83), full circle\n"
    )
    assert row.value is not None
    # Four heads over 60 ft stand 20 ft apart.
    found = {h.name: round(h.point.x / FOOT_M, 3) for h in row.value.heads if h.zone == "Z3"}
    assert [found[name] for name in ("H31", "H37", "H32", "H33")] == [5, 25, 45, 65]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("heads H31, H32, H33 rotor-30q, on L32, from 0 ft every 40 ft", "PG3004"),
        ("heads H31, H32, H33 rotor-30q, on L32, between (5, 90) and (65, 90)", "PG3005"),
        ("heads H31, H32, H33 rotor-30q, on L32", "PG2010"),
        ("heads H31, H32, H33 rotor-30q, on L32, from 0 ft every 9 ft, between N31 and N32", "PG2011"),
        ("heads H31 rotor-30q, on L32, between (5, 83) and (65, 83)", "PG2008"),
        ("heads H31, H32, H34 rotor-30q, on L32, between (5, 83) and (65, 83)", "PG2013"),
        ("heads H31, H32, H33 rotor-30q, on L11, between (5, 83) and (65, 83)", "PG2015"),
        ("heads H31, H32, H33 rotor-9, on L32, between (5, 83) and (65, 83)", "PG2017"),
    ],
)
def test_a_slip_in_a_row_is_told_once(line: str, code: str) -> None:
    assert [p.code for p in read(ROW, f"  {line}\n").problems] == [code]


def test_names_in_a_row_are_laid_out_side_by_side() -> None:
    line = "  heads          H31, H32, H33 rotor-30q, on L32, from 0 ft every 30 ft, arc west to east\n"
    text = format_text(SourceFile.of("design.plan", TEXT.replace(ROW, line.replace("          ", " ")))).value
    assert text is not None and line in text


# The house is the rectangle (14, 46) to (62, 78) in ft; P8 passes from (12, 44) to (12, 80).
@pytest.mark.parametrize(
    ("place", "x", "y"),
    [
        ("midway between House.southwest and House.northeast", 38, 62),
        ("opposite House.southwest on P8", 12, 46),
        ("opposite (30, 90) on House", 30, 78),
        ("12 ft from House.southwest toward House.southeast", 26, 46),
        ("1 ft south of midway between House.southwest and House.southeast", 38, 45),
    ],
)
def test_places_said_by_other_places(place: str, x: float, y: float) -> None:
    found = read("at (23, 35.5)", f"at {place}")
    assert not found.problems and found.value is not None
    drain = found.value.device("DR1")
    assert drain is not None
    assert (drain.point.x / FOOT_M, drain.point.y / FOOT_M) == pytest.approx((x, y), abs=1e-5)


@pytest.mark.parametrize(
    ("place", "code"),
    [
        (
            "opposite House.southwest on Walk",
            "PG3004",
        ),  # the walk lies farther east: no side faces that corner
        ("50 ft from House.southwest toward House.southeast", "PG3004"),  # the wall is 48 ft long
        ("midway between House.southwest", "PG2008"),
        ("midway House.southwest and House.southeast", "PG2007"),
        ("opposite House.southwest on", "PG2008"),
        ("opposite House.southwest", "PG2008"),
    ],
)
def test_a_place_that_cannot_be_is_told_once(place: str, code: str) -> None:
    assert [p.code for p in read("at (23, 35.5)", f"at {place}").problems] == [code]


def test_a_quick_coupler_stands_on_the_mainline() -> None:
    part = (
        'part coupler-1 {\n  kind quick coupler\n  label "Quick coupler 1 in"\n  flow 10 gpm at 50 psi\n}\n'
    )
    more = (
        "  blow-out BO1 ",
        "  quick coupler QC1 coupler-1, at (7, 81), size 1 in, in box\n"
        "  pipe P12 pvc-sch40 1 in, route N3 -> QC1, cover 14 in\n  blow-out BO1 ",
    )
    text = TEXT.replace(*more) + part
    design = read_design(SourceFile.of("design.plan", text)).value
    assert design is not None
    coupler = design.device("QC1")
    assert coupler is not None and coupler.kind == "quick-coupler" and coupler.zone == ""
    assert coupler.part is not None and coupler.part.kind == "quick-coupler"
