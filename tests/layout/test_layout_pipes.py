"""Crossings, trenches, fittings, takeoff, wire and heights of one small job, each figure worked by hand.

The job, in feet: BF1 at (0, 0) with its critical level 30 in above grade; P1, 1-1/4 in, cover 18 in, runs
BF1 -> (0, 20) -> N1 (40, 20) under a 10 ft drive with a sleeve; P2, 1 in, cover 12 in, N1 -> V1 (40, 30);
from V1 the lateral L1, 1 in, V1 -> N2 (40, 50) and on to an end head at (40, 60) with one head on the way
at (40, 40); L2, 3/4 in, N2 -> (50, 50) to an end head. A gas line crosses P1.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from plangen.layout.crossings import measure_crossings
from plangen.layout.fittings import count_fittings, turn_fittings
from plangen.layout.heights import measure_heights
from plangen.layout.measure import measure
from plangen.layout.takeoff import COLUMNS, takeoff_csv
from plangen.layout.trenches import measure_trenches
from plangen.layout.wire import measure_wire
from plangen.model.design import Control, Design
from plangen.model.site import Utility
from plangen.model.waterworks import Sleeve
from plangen.quantity.dimension import FOOT_M, INCH_M
from tests.layout.layout_hand import (
    SIZES,
    SPAN,
    Slope,
    area,
    box,
    design,
    device,
    ft,
    head,
    pipe,
    q,
    solved,
    spray,
    zone,
)

PART = spray("h", 10, 1.0)


def job(**change: object) -> Design:
    control = Control("C1", SPAN, point=(-10 * FOOT_M, 20 * FOOT_M), wire="18 AWG, one common, one spare")
    things: dict[str, object] = {
        "lot": box(-20, -20, 100, 100),
        "paving": [area("paving", "Drive", box(15, -20, 25, 100))],
        "utilities": [Utility("gas", "G1", (ft(10, 0), ft(10, 40)), q(24, "in"), SPAN)],
        "devices": [
            device("assembly", "BF1", ft(0, 0), height=q(30, "in")),
            device("tee", "N1", ft(40, 20), None),
            device("tee", "N2", ft(40, 50), None),
            device("valve", "V1", ft(40, 30), in_box=True, zone="Z1"),
        ],
        "pipes": [
            pipe("L1", "1", [(ft(40, 30), "V1"), (ft(40, 50), "N2"), (ft(40, 60), "")], zone="Z1"),
            pipe("L2", "3/4", [(ft(40, 50), "N2"), (ft(50, 50), "")], zone="Z1"),
            pipe("P1", "1-1/4", [(ft(0, 0), "BF1"), (ft(0, 20), ""), (ft(40, 20), "N1")], 18, "mainline"),
            pipe("P2", "1", [(ft(40, 20), "N1"), (ft(40, 30), "V1")], 12, "mainline"),
        ],
        "sleeves": [Sleeve("SL1", "P1", "Drive", SIZES["1-1/4"][0], SPAN, q(12, "in"))],
        "zones": [zone("Z1", [], swing=True)],
        "heads": [
            head("H1", PART, ft(40, 40), (0, 0), pipe="L1", along_m=10 * FOOT_M),
            head("H2", PART, ft(40, 60), (0, 0), pipe="L1", along_m=30 * FOOT_M),
            head("H3", PART, ft(50, 50), (0, 0), pipe="L2", along_m=10 * FOOT_M),
        ],
        "control": control,
    }
    return design(**{**things, **change})  # type: ignore[arg-type]


def test_crossing_length_sleeve_and_gas_by_hand() -> None:
    found = measure_crossings(job())
    assert [(c.pipe, c.kind, c.name, c.sleeve) for c in found] == [
        ("P1", "paving", "Drive", "SL1"),
        ("P1", "utility", "G1", ""),
    ]
    assert found[0].length_m == pytest.approx(10 * FOOT_M)
    assert found[0].point == ft(20, 20)
    # gas 24 in deep, pipe 18 in: 6 in
    assert found[1].point == ft(10, 20) and found[1].below_m == pytest.approx(6 * INCH_M)


def test_without_a_sleeve_statement_nothing_is_covered() -> None:
    assert measure_crossings(job(sleeves=[]))[0].sleeve == ""


def test_trench_volume_by_hand() -> None:
    """P1: 50 ft open (60 less 10 under the drive), 18 + 1.66 in deep, 6 in wide = 40.958 cu ft."""
    made = job()
    found = {t.pipe: t for t in measure_trenches(made, measure_crossings(made))}
    assert found["P1"].length_m == pytest.approx(60 * FOOT_M)
    assert found["P1"].under_paving_m == pytest.approx(10 * FOOT_M)
    assert found["P1"].volume_m3 == pytest.approx(50 * (19.66 / 12) * 0.5 * FOOT_M**3)
    bare = job(pipes=[pipe("P9", "1", [(ft(0, 0), "BF1"), (ft(0, 5), "")], None)])
    (unknown,) = measure_trenches(bare, ())
    assert unknown.depth_m is None and unknown.volume_m3 is None
    old = job(pipes=[pipe("P9", "1", [(ft(0, 0), ""), (ft(0, 5), "")], 12, state="existing")])
    assert measure_trenches(old, ()) == ()


def test_fittings_by_hand() -> None:
    found = sorted((f.item, f.size, f.at) for f in count_fittings(job()))
    assert found == sorted(
        [
            ("90 degree ell, PVC", "1-1/4 in", ("P1",)),
            # N1 joins two pipes at a right angle in two sizes; N2 is a true tee
            ("90 degree ell, PVC", "1-1/4 in", ("N1",)),
            ("reducer coupling, PVC", "1-1/4 in x 1 in", ("N1",)),
            ("tee, PVC", "1 in x 1 in x 3/4 in", ("N2",)),
            ("tee, PVC, threaded branch", "1 in x 1 in x 1/2 in", ("H1",)),
            ("90 degree ell, PVC to thread", "1 in x 1/2 in", ("H2",)),
            ("90 degree ell, PVC to thread", "3/4 in x 1/2 in", ("H3",)),
            ("adapter, PVC to thread", "1-1/4 in x 1 in", ("BF1",)),
            ("adapter, PVC to thread", "1 in x 1 in", ("V1",)),
            ("adapter, PVC to thread", "1 in x 1 in", ("V1",)),
        ]
    )


@pytest.mark.parametrize(
    ("turn", "want"),
    [(0, 0), (10, 0), (22.5, 1), (45, 1), (60, 1), (90, 1), (100, 1), (135, 2), (180, 2)],
)
def test_turns_take_fittings_of_the_nearest_made_angle(turn: float, want: int) -> None:
    found = turn_fittings(turn)
    assert len(found) == want
    made = {"90 degree ell": 90.0, "45 degree ell": 45.0, "22-1/2 degree ell": 22.5}
    assert abs(sum(made[f] for f in found) - turn) <= 22.5 + 1e-9


def test_four_ways_are_two_tees() -> None:
    ends = [("A", ft(-9, 0)), ("B", ft(9, 0)), ("C", ft(0, 9)), ("D", ft(0, -9))]
    pipes = [pipe(n, "1", [(ft(0, 0), "N1"), (p, "")]) for n, p in ends]
    found = count_fittings(design(devices=[device("tee", "N1", ft(0, 0), None)], pipes=pipes))
    assert sorted(f.item for f in found if f.at == ("N1",)) == ["tee, PVC", "tee, PVC"]
    assert sum(f.item == "cap, PVC" for f in found) == 4


def line(made: Design, item: str, size: str = "") -> tuple[float, float, str]:
    layout = measure(made, Slope(100.0), solved({}))
    (found,) = [t for t in layout.takeoff if t.item == item and t.size == size]
    return found.quantity, found.net, found.unit


def test_takeoff_pipe_is_the_route_length_with_five_percent_waste() -> None:
    assert line(job(), "PVC schedule 40 pipe, mainline", "1-1/4 in") == (63.0, pytest.approx(60.0), "ft")
    assert line(job(), "PVC schedule 40 pipe, mainline", "1 in") == (11.0, pytest.approx(10.0), "ft")
    assert line(job(), "PVC schedule 40 pipe, lateral", "1 in") == (32.0, pytest.approx(30.0), "ft")
    # riser: 18 in down and 30 in up; sleeve: 10 ft and 12 in beyond on each side
    assert line(job(), "PVC schedule 40 riser at assembly", "1-1/4 in")[1] == pytest.approx(4.0)
    assert line(job(), "PVC schedule 40 sleeve", "1-1/4 in")[1] == pytest.approx(12.0)


def test_existing_pipe_is_not_bought() -> None:
    old = [pipe("P1", "1-1/4", [(ft(0, 0), "BF1"), (ft(40, 20), "N1")], 18, "mainline", state="existing")]
    layout = measure(job(pipes=old), Slope(100.0), solved({}))
    assert not [t for t in layout.takeoff if t.group in ("pipe", "earthwork", "joining")]


def test_takeoff_counts() -> None:
    assert line(job(), "Spray h") == (3.0, 3.0, "each")
    assert line(job(), "swing joint") == (3.0, 3.0, "each")
    assert line(job(), "zone valve", "1 in") == (1.0, 1.0, "each")
    assert line(job(), "valve box, zone valve") == (1.0, 1.0, "each")


def test_cement_by_hand() -> None:
    """Joints 1-1/4 in: ells 3 x 2, reducer 1, adapter 1, bells 2 = 10 at 105 a quart; 1 in: reducer 1,
    tee 2, threaded tee 2, ell 1, adapters 2, bells 1 (30 ft) = 9 at 125; 3/4 in: tee 1, ell 1 at 200.
    Joints a quart: from memory of a trade table.
    """
    quarts = 10 / 105 + 9 / 125 + 2 / 200
    assert line(job(), "solvent cement") == (pytest.approx(quarts / 4, abs=1e-6),) * 2 + ("gal",)


def test_wire_follows_the_main_and_tells_its_own_trench() -> None:
    """C1 is 10 ft from P1's corner (0, 20); then 40 ft along P1 and 10 ft along P2."""
    wiring = measure_wire(job())
    assert wiring is not None
    (run,) = wiring.runs
    assert (run.along_m / FOOT_M, run.off_m / FOOT_M) == (pytest.approx(50), pytest.approx(10))
    assert wiring.common_m == pytest.approx(60 * FOOT_M)
    assert line(job(), "spare wire", "18 AWG")[1] == pytest.approx(60.0)
    assert measure_wire(job(control=Control("C1", SPAN))) is None


def test_heights_against_the_assembly_by_hand() -> None:
    """Grade 100 ft + y / 100: BF1 100 + 2.5 = 102.5 ft; H2 at y 60: 100.6 ft, 1.9 ft below it."""
    ground = Slope(100 * FOOT_M, 0.01)
    outlets, piping = measure_heights(job(), ground)
    found = {h.outlet: h for h in outlets}
    assert sorted(found) == ["H1", "H2", "H3"]
    assert found["H2"].above_m == pytest.approx(1.9 * FOOT_M)
    assert {i.written for i in found["H2"].inputs} == {"30 in", "30.48 m"}
    pipes = {p.pipe: p for p in piping}
    # L1 is highest at y 60: grade 100.6 ft less 12 in of cover
    assert pipes["L1"].elevation_m == pytest.approx(99.6 * FOOT_M)
    assert pipes["L1"].point == ft(40, 60)
    risen = job(heads=[head("H1", PART, ft(40, 40), (0, 0), pipe="L1", riser=q(6, "in"))])
    assert measure_heights(risen, ground)[0][0].above_m == pytest.approx((102.5 - 100.4 - 0.5) * FOOT_M)


def test_height_is_not_known_without_grade_or_height() -> None:
    outlets, piping = measure_heights(job(), Slope(30.0, until_m=50 * FOOT_M))
    known = {h.outlet: h.above_m is not None for h in outlets}
    assert known == {"H1": True, "H2": False, "H3": True}
    assert {p.pipe: p.elevation_m is None for p in piping}["L1"]
    vague = job(devices=[device("assembly", "BF1", ft(0, 0)), *job().devices[1:]])
    assert all(h.above_m is None for h in measure_heights(vague, Slope(30.0))[0])


def test_only_what_is_downstream_counts() -> None:
    """H9 hangs on a pipe that begins before the assembly; a second assembly is not climbed through."""
    before = [
        pipe("S1", "1", [(ft(-5, 0), "T1"), (ft(0, 0), "BF1")], role="service"),
        pipe("S2", "1", [(ft(-5, 0), "T1"), (ft(-5, 9), "BF2")], role="service"),
        pipe("S3", "1", [(ft(-5, 9), "BF2"), (ft(40, 20), "N1")], role="mainline"),
        pipe("S4", "1", [(ft(-5, 0), "T1"), (ft(-9, 0), "")], role="service"),
    ]
    second = device("assembly", "BF2", ft(-5, 9), height=q(30, "in"))
    made = job(
        pipes=[*job().pipes, *before],
        devices=[*job().devices, second],
        heads=[*job().heads, head("H9", PART, ft(-9, 0), (0, 0), pipe="S4")],
    )
    found = {(h.assembly, h.outlet) for h in measure_heights(made, Slope(30.0))[0]}
    assert found == {(a, h) for a in ("BF1", "BF2") for h in ("H1", "H2", "H3")}


def test_csv_ties_to_the_lines() -> None:
    made = job()
    layout = measure(made, Slope(100.0), solved({}))
    text = takeoff_csv(layout, made)
    rows = text.splitlines()
    assert rows[0] == ",".join(COLUMNS)
    assert len(rows) == len(layout.takeoff) + 1
    assert text.endswith("\n") and "\r" not in text
    assert 'pipe,"PVC schedule 40 pipe, mainline",1-1/4 in,63,ft,60,' in text


def test_metric_projects_are_told_in_metres() -> None:
    quantity, net, unit = line(job(units="metric"), "PVC schedule 40 pipe, mainline", "1-1/4 in")
    assert (unit, net) == ("m", pytest.approx(60 * FOOT_M, abs=1e-5))
    assert quantity == math.ceil(60 * FOOT_M * 1.05)


def test_the_run_of_a_tee_is_the_larger_pair() -> None:
    """Two 1-1/4 in pipes at a right angle with a 3/4 in branch straight on from one of them."""
    ends = [("A", "1-1/4", ft(-9, 0)), ("B", "1-1/4", ft(0, 9)), ("C", "3/4", ft(9, 0))]
    pipes = [pipe(n, s, [(ft(0, 0), "N1"), (p, "")]) for n, s, p in ends]
    found = count_fittings(design(devices=[device("tee", "N1", ft(0, 0), None)], pipes=pipes))
    tees = [f.size for f in found if f.item == "tee, PVC"]
    assert tees == ["1-1/4 in x 1-1/4 in x 3/4 in"]


def test_a_sleeve_under_a_garden_wall_is_found_too() -> None:
    made = job(paving=[], sleeves=[Sleeve("SL2", "P1", "Fence", SIZES["1-1/4"][0], SPAN, q(6, "in"))])
    wall = area("wall", "Fence", box(30, -20, 31, 100))
    made = replace(made, site=replace(made.site, other=(wall,)))
    (found,) = [c for c in measure_crossings(made) if c.kind != "utility"]
    assert (found.kind, found.name, found.sleeve) == ("wall", "Fence", "SL2")
    # 1 ft of wall and 6 in on each side
    assert line(made, "PVC schedule 40 sleeve", "1-1/4 in")[1] == pytest.approx(2.0)


def test_trenches_as_stated_by_hand() -> None:
    """4 in wide with 3 in of bedding: a foot of trench takes 1/3 x 1/4 = 1/12 cu ft, and is 3 in deeper."""
    plain, plain_layout = job(), measure(job(), Slope(100.0), solved({}))
    said = (("bedding", q(3, "in")), ("trench width", q(4, "in")), ("warning tape", q(12, "in")))
    made = replace(
        plain, procedure_facts=said, procedure_words=(("bedding", "sand"), ("warning tape", "blue"))
    )
    found = measure(made, Slope(100.0), solved({}))
    for before, after in zip(plain_layout.trenches, found.trenches, strict=True):
        assert before.depth_m is not None and after.depth_m is not None
        assert after.width_m == pytest.approx(4 * INCH_M)
        assert after.depth_m - before.depth_m == pytest.approx(3 * INCH_M)
    lengths = {t.pipe: (t.length_m - t.under_paving_m) / FOOT_M for t in found.trenches}
    assert line(made, "bedding, sand", "3 in deep")[0] == pytest.approx(sum(lengths.values()) / 12)
    assert line(made, "warning tape, blue")[0] == pytest.approx(lengths["P1"] + lengths["P2"])
    notes = {t.note for t in found.takeoff if t.item == "open trench"}
    assert all(n.startswith("4 in wide;") for n in notes)
    assert all(
        "6 in wide (common practice" in t.note for t in plain_layout.takeoff if t.item == "open trench"
    )
    assert not [t for t in plain_layout.takeoff if "bedding" in t.item or "tape" in t.item]
