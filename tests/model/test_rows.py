"""Heads in a row, and places said by other places. Expected places are worked out by hand beside each."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.diagnostics.diagnostic import Outcome
from plangen.model.design import Design
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
        ("heads H31, H32, H33 rotor-30q, from 0 ft every 30 ft", "PG2010"),
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


LIST_OF = """  heads spray-15h, on L11, arc east to west: H11 at (17, 34),
    H12 at (17, 19), full circle, H13 at (17, 4), on L12, arc west to east
"""
LISTED = re.compile(r"  head H11 .*\n  head H12 .*\n  head H13 .*\n")


def listed(text: str) -> Outcome[Design]:
    """Return what the example reads as with the three heads on L11 and L12 listed after a colon."""
    whole, count = LISTED.subn(text, TEXT)
    assert count == 1
    return read_design(SourceFile.of("design.plan", whole))


def test_heads_listed_after_a_colon_share_what_stands_before_it() -> None:
    found = listed(LIST_OF)
    assert not found.problems and found.value is not None
    heads = {h.name: h for h in found.value.heads}
    told = [
        (h.part.name, h.pipe, h.arc_start_deg, h.arc_end_deg) for h in map(heads.get, ("H11", "H13")) if h
    ]
    # Bearings clockwise from north: east 90, west 270. A full circle has equal bearings.
    assert told == [("spray-15h", "L11", 90, 270), ("spray-15h", "L12", 270, 90)]
    full = heads["H12"]
    assert full.arc_known and full.arc_start_deg == full.arc_end_deg
    assert round(full.point.y / FOOT_M, 6) == 19


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        (": H11 at", ": at", "PG2027"),
        ("H11 at (17, 34)", "H11", "PG2010"),
        (", on L11", "", "PG2010"),
        ("west: H11", "west: : H11", "PG1001"),
        ("H12 at (17, 19)", "H11 at (17, 19)", "PG2013"),
        ("full circle", "ful circle", "PG2003"),
        ("spray-15h", "spray-15x", "PG2017"),
    ],
)
def test_a_slip_in_a_list_is_told_once(old: str, new: str, code: str) -> None:
    assert LIST_OF.count(old) == 1
    assert [p.code for p in listed(LIST_OF.replace(old, new)).problems] == [code]


def test_a_colon_elsewhere_is_told_where_it_stands() -> None:
    text = TEXT.replace("cover 36 in, existing", "cover: 36 in, existing", 1)
    (problem,) = read_design(SourceFile.of("design.plan", text)).problems
    assert problem.code == "PG1001" and text[problem.span.start : problem.span.end] == ":"


@pytest.mark.parametrize("line", ["plangn 1", "cover 1", "plangen 2"])
def test_the_version_line_says_plangen(line: str) -> None:
    text = TEXT.replace("plangen 1\n", f"{line}\n")
    assert [p.code for p in read_design(SourceFile.of("design.plan", text)).problems] == ["PG1010"]
