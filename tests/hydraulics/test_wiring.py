"""From a design to networks: lengths, elevations and fittings, by hand from the residential example."""

from __future__ import annotations

import re

import pytest

from plangen.hydraulics.fittings import bend, fitting_table
from plangen.hydraulics.network import Link, Network
from plangen.quantity.dimension import FOOT_M, INCH_M, pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.residential import analysed_with


def network(zone: str) -> Network:
    case = analysed_with().case_of_zone(zone)
    assert case is not None
    return case.solution.network


def link(zone: str, name: str) -> Link:
    return next(found for found in network(zone).links if found.id == name)


def elevation_ft(zone: str, node: str) -> float:
    return next(n.elevation_m for n in network(zone).nodes if n.id == node) / FOOT_M


@pytest.mark.parametrize(
    ("zone", "name", "feet"),
    [
        # plan length, then the upright piece between the pipe's cover and the device's height
        ("Z1", "S1", 6.0 + 24 / 12),  # cover 36 in, meter 12 in down
        ("Z1", "S2", 3.0 + 12 / 12),  # cover 24 in, meter 12 in down; the tap stands at the pipe
        ("Z1", "P2", 14.0 + 43.0 + (18 + 28) / 12),  # up to the critical level 28 in above grade
        ("Z1", "P3", 2**0.5 + (18 + 28) / 12),  # from (24, 45) to N1 at (23, 44)
        ("Z1", "L12", 15.0),
        ("Z3", "L32.1", 30.0),
        ("Z3", "L32.2", 30.0),
        ("Z4", "L41.1", 0.8 + 2 / 12),
    ],
)
def test_lengths(zone: str, name: str, feet: float) -> None:
    assert link(zone, name).length_m / FOOT_M == pytest.approx(feet, abs=2e-3)


def test_pipes_carry_their_real_bore_and_their_row_of_the_table() -> None:
    assert link("Z1", "P2").diameter_m / INCH_M == pytest.approx(1.380)  # ASTM D1785
    assert link("Z1", "S1").diameter_m / INCH_M == pytest.approx(0.995)  # ASTM B88
    assert link("Z1", "P2").hazen_williams_c == 150.0


def test_elevations() -> None:
    assert elevation_ft("Z1", "M1.in") == pytest.approx(100.0 - 0.2 / 10 - 1.0, abs=0.01)
    assert elevation_ft("Z1", "BF1.in") == pytest.approx(elevation_ft("Z1", "BF1.out"))
    assert elevation_ft("Z1", "BF1.in") == pytest.approx(101.5 + 28 / 12)  # a grade stands at the assembly
    assert elevation_ft("Z3", "Z3.H34") - elevation_ft("Z3", "N32") == pytest.approx(1.0)  # cover 12 in
    assert elevation_ft("Z1", "W1") == pytest.approx(99.8 + 0.2 * 3 / 10 - 3.0, abs=1e-6)  # main 36 in down


@pytest.mark.parametrize(
    ("zone", "name", "fittings"),
    [
        ("Z1", "P1", {"tee-branch": 1}),  # off the service at a right angle
        ("Z1", "S3", {"tee-run": 1}),  # straight on through the same tee, then a corner at (8, 50)
        ("Z1", "P2", {"bend-90": 3}),  # one corner, a riser with a bend at foot and head
        ("Z1", "L12", {"tee-run": 1}),  # straight on through N12
        ("Z1", "L14", {"tee-branch": 1}),
        ("Z3", "P8", {"bend-90": 2, "tee-run": 1}),
        ("Z1", "Z1.H12", {"tee-branch": 1}),  # a head on a tee that goes on
        ("Z1", "Z1.H14", {"bend-90": 1}),  # a head at the end of its lateral
    ],
)
def test_fittings_come_from_the_course(zone: str, name: str, fittings: dict[str, int]) -> None:
    table = fitting_table()
    if name == "S3":
        fittings = {**fittings, "bend-90": 1}
    assert link(zone, name).minor_k == pytest.approx(sum(table[f].k * n for f, n in fittings.items()))
    for fitting, count in fittings.items():
        assert f"{count} x {table[fitting].label} (K {table[fitting].k:g})" in link(zone, name).fittings


def test_fitting_values_are_the_manuals() -> None:
    """EPANET 2.2 User Manual, chapter 3, minor loss coefficients for selected fittings."""
    stated = {"bend-45": 0.4, "bend-90": 0.9, "tee-run": 0.6, "tee-branch": 1.8, "valve": 0.2}
    assert {name: row.k for name, row in fitting_table().items()} == stated
    assert all(row.source for row in fitting_table().values())
    assert [bend(a) for a in (5, 14)] == ["", ""]
    assert {bend(a) for a in (22, 45, 59)} == {"bend-45"}
    assert {bend(a) for a in (61, 90, 135)} == {"bend-90"}


def test_closed_branches_are_left_out() -> None:
    ids = {n.id for n in network("Z1").nodes} | {found.id for found in network("Z1").links}
    assert {"V1", "Z1.H11", "HS", "M1", "BF1"} <= ids
    assert not ids & {"V2", "V3", "V4", "P6", "P8", "P10", "DR1", "BO1", "L21", "Z2.H21", "D41"}


def test_drip_counts_its_emitters_by_ground() -> None:
    """Border is 19.5 ft by 3 ft; emitters every 12 in, rows every 18 in: 58.5 / 1.5 = 39, each 0.6 gph."""
    drip = next(n for n in network("Z4").nodes if n.id == "Z4.D41").emitter
    assert drip is not None and drip.constant_m3s is not None
    assert drip.constant_m3s == pytest.approx(39 * to_si(0.6, "gph"))
    assert drip.constant_from_m == pytest.approx(pressure_to_head_m(to_si(10, "psi")))


def test_heads_regulated_by_table_and_by_root() -> None:
    spray = next(n for n in network("Z1").nodes if n.id == "Z1.H12").emitter
    rotor = next(n for n in network("Z3").nodes if n.id == "Z3.H32").emitter
    assert spray is not None and rotor is not None
    held = pressure_to_head_m(to_si(30, "psi"))
    assert spray.regulated_at_m == pytest.approx(held)
    assert spray.k_m3s_per_m05 == pytest.approx(to_si(3.70, "gpm") / held**0.5)
    assert rotor.table_m_m3s[1] == pytest.approx((pressure_to_head_m(to_si(40, "psi")), to_si(3.0, "gpm")))


LOW = 'lowest 58 psi from standard "Quillmoor Water pressure record 2025"'
STATED = (f"static 64 psi measured 2026-04-20, {LOW}, ", "")


@pytest.mark.parametrize(
    ("change", "code", "named"),
    [
        (STATED, "no-pressure-given", "W1"),
        (("route IV1 -> (24, 2) -> BF1, cover 18 in", "route IV1 -> (24, 2) -> BF1"), "cover-missing", "P2"),
        (("flow 1.85 gpm at 30 psi", ""), "flow-law-missing", "H11"),
        (("set 30 psi, ", ""), "setting-missing", "RG4"),
        (("critical level 28 in above grade, ", ""), "height-missing", "BF1"),
        (("emitter spacing 12 in", ""), "flow-law-missing", "D41"),
        (("size 1 in, height -18 in, in box", "size 1 in, height -18 in, in box, closed"), "cut-off", "V1"),
    ],
)
def test_what_is_not_known_is_named(change: tuple[str, str], code: str, named: str) -> None:
    failures = analysed_with(change).failures
    assert (code, named) in {(f.code, name) for f in failures for name in f.objects}


def test_a_failed_case_leaves_the_flow_of_shared_pipes_open() -> None:
    """Without its regulator's setting zone Z4 is not solved: what it shares may carry more than seen."""
    found = analysed_with(("set 30 psi, ", ""))
    known = {p.pipe: p.flow_known for p in found.pipes}
    assert {f.case for f in found.failures} == {"Z4"}
    assert known["L11"] and not known["L41"] and not known["P2"]
    assert all(p.flow_known for p in analysed_with().pipes)


def test_an_outlet_off_the_spot_grades_is_named() -> None:
    failures = analysed_with(("grade (70, 118) 102.4 ft measured 2026-04-20", "")).failures
    assert {f.case for f in failures} == {"Z3"}
    assert {f.code for f in failures} == {"no-elevation"}
    assert "H36" in {name for f in failures for name in f.objects}


def test_the_basis_of_the_design_pressure_is_told() -> None:
    low = analysed_with()
    assert "lowest" in low.pressure_basis and "58 psi" in low.pressure_basis
    without = analysed_with((LOW, "allowance 6 psi"))
    assert without.design_pressure_m == pytest.approx(pressure_to_head_m(to_si(58, "psi")))
    assert "64 psi" in without.pressure_basis and "less 6 psi allowance" in without.pressure_basis


def test_one_reading_alone_is_no_pressure_to_design_by() -> None:
    """Neither the year's lowest nor an allowance: nothing runs at a static pressure; still water is known."""
    plain, whole = analysed_with((f", {LOW}", "")), analysed_with()
    assert plain.design_pressure_m is None and plain.cases == ()
    ((code, message),) = {(f.code, f.message) for f in plain.failures}
    assert code == "no-pressure-given" and message.startswith("the lowest pressure of the year at W1")
    assert [p.told_static_m for p in plain.pipes] == [p.told_static_m for p in whole.pipes]
    assert {(p.told_flow_m3s, p.told_velocity_ms, p.told_surge_m) for p in plain.pipes} == {(None,) * 3}
    none = analysed_with((f", {LOW}", ", allowance 0 psi"))
    assert none.design_pressure_m == none.static_pressure_m and len(none.cases) == len(whole.cases)


@pytest.mark.parametrize(
    ("gone", "code", "name", "zones"),
    [
        (", demand 4 gpm", "demand-missing", "HS", {"Z1", "Z2", "Z3", "Z4"}),
        ("size 3/4 in, height -12 in, existing", "height-missing", "M1", {"Z1", "Z2", "Z3", "Z4"}),
        ("valve V1       valve-1, at (20, 36.5), size 1 in, height -10 in", "height-missing", "V1", {"Z1"}),
    ],
)
def test_silence_on_the_way_of_the_water_is_named(gone: str, code: str, name: str, zones: set[str]) -> None:
    """A house that is shut, or pipe that does not rise to a device, would be the better case."""
    kept = re.sub(r", (demand|height) [^,]*", "", gone)
    failures = analysed_with((gone, kept)).failures
    assert {(f.code, f.objects) for f in failures} == {(code, (name,))}
    assert {f.case for f in failures} == zones


def test_no_house_at_all_draws_nothing_and_is_noted() -> None:
    found = analysed_with(("house HS at (14, 50), demand 4 gpm", "tee HS at (14, 50)"))
    assert any("No house is drawn" in note for note in found.notes) and found.cases


def test_inputs_of_a_case_are_its_own() -> None:
    """A lateral's cover reaches the case of its zone and no other; the assembly reaches all."""
    names = {c.case: {i.name for i in c.inputs} for c in analysed_with().cases}
    assert "cover of L31" in names["Z3"]
    assert "cover of L31" not in names["Z1"] | names["Z2"] | names["Z4"]
    shared = {"loss of pvb-1", "lowest pressure of W1", "house demand at HS", "fittings"}
    assert all(shared <= found for found in names.values())
