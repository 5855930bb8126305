"""The work in order: what must come before what, and figures from this design alone.

Orders are common practice of the trade, with the sources that `procedure_steps` prints; volumes are checked
against the pipe's geometry (ASTM D1785 bores) and the US gallon of 231 cubic inches.
"""

from __future__ import annotations

import math
import re

import pytest

from plangen.hydraulics.analyse import analyse
from plangen.hydraulics.results import Hydraulics
from plangen.layout.measure import measure
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.sheets.connection_path import connection_pipes, irrigation_side
from plangen.sheets.notes import general_notes
from plangen.sheets.procedure import procedure_panels
from plangen.sheets.procedure_assembly import ASSEMBLY_WORKINGS
from plangen.sheets.procedure_fill import FILL_MS, fill_plan
from plangen.sheets.procedure_steps import procedure_steps, valve_states
from plangen.sheets.procedure_types import Step
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile
from tests.sheets.details_measures import EXAMPLE, ROOM, clashes, of_kind, stages, words

KINDS = ("pvb", "svb", "rp", "dc", "avb", "db", "air-gap")


def steps(*changes: tuple[str, str], system: str = "us") -> tuple[Step, ...]:
    """Return the steps for the residential design with texts replaced."""
    design, _, hydraulics, layout = stages(*changes)
    return procedure_steps(design, hydraulics, layout, system)


ORDER = (
    ("permit", "trench"),
    ("locate", "trench"),
    ("notice", "prove-zero"),
    ("prove-zero", "cut-in"),
    ("cut-in", "restore"),
    ("joints", "fill"),
    ("flush-connection", "set-assembly"),
    ("partial-backfill", "fill"),
    ("wire-valves", "valve-states"),
    ("valve-states", "fill-connection"),
    ("fill-connection", "open-assembly"),
    ("open-assembly", "fill"),
    ("fill", "purge"),
    ("set-assembly", "flush-main"),
    ("flush-main", "wire-valves"),
    ("purge", "pressure-test"),
    ("pressure-test", "inspect"),
    ("inspect", "backfill"),
    ("flush-laterals", "fit-heads"),
    ("assembly-test", "start-up"),
    ("fit-heads", "start-up"),
    ("start-up", "winter"),
)


@pytest.mark.parametrize("kind", KINDS)
def test_order_of_the_work_holds_for_every_kind(kind: str) -> None:
    found = steps(*of_kind(kind))
    place = {s.key: s.number for s in found}
    assert len(place) == len(found)
    assert [s.number for s in found] == list(range(1, len(found) + 1))
    for first, then in ORDER:
        assert place[first] < place[then], (first, then)


def test_every_step_has_figure_caution_and_source() -> None:
    for step in steps():
        assert step.lines
        assert step.figure
        assert step.caution
        assert step.source


@pytest.mark.parametrize("kind", KINDS)
def test_every_valves_first_state_is_said(kind: str) -> None:
    design, _, hydraulics, layout = stages(*of_kind(kind))
    states = valve_states(design, hydraulics, "us")
    turned = design.devices_of("isolation", "assembly", "valve", "master-valve", "drain", "blow-out")
    assert {s.object for s in states} == {d.name for d in turned}
    assert all(s.state for s in states)
    ways = {s.part: s.state for s in states if s.part.startswith("shut-off")}
    # Common practice, no source: the air of the connection leaves at the cocks, the main stays dry.
    assert ways in ({}, {"shut-off No. 1 (inlet)": "open", "shut-off No. 2 (outlet)": "closed"})
    assert all(s.state == "closed" for s in states if s.part in ("zone valve", "isolation valve"))
    step = next(s for s in procedure_steps(design, hydraulics, layout, "us") if s.key == "valve-states")
    told = " ".join(step.lines)
    assert all(d.name in told for d in turned)


@pytest.mark.parametrize("kind", KINDS)
def test_one_order_of_opening_holds_from_the_first_water_to_the_full_main(kind: str) -> None:
    """Common practice, no source: vented by the cocks, shut, opened again, and the outlet last and slowly."""
    found = {s.key: s for s in steps(*of_kind(kind))}
    work = ASSEMBLY_WORKINGS[kind]
    fill, open_, main = (" ".join(found[k].lines) for k in ("fill-connection", "open-assembly", "fill"))
    if work.shutoffs:
        closing = next(x for x in work.filling if x.startswith("Close "))
        cocks = [int(n) for n in re.findall(r"\d", closing.split("then No.")[0])]
        assert cocks == list(range(1, work.cocks + 1)) and closing.endswith("then No. 1.")
        assert all(vent in closing for vent in work.vents)
        assert closing in fill and fill.index(closing) < fill.index("look at every joint")
        assert open_.index("Open No. 1 again") < open_.index("Crack No. 2")
        assert "No. 2" not in fill and "Open No." not in main
        assert main.index("until it runs without air") < main.index("No. 2 (outlet) fully, taking at least 5")
    else:
        told = " ".join((fill, open_, main, *found["winter"].lines, *found["set-assembly"].lines))
        assert not re.search(r"No\. [12]\b|shut-offs|cock \d", told), "it has none to turn"
        held = "valve after the tank shut" if kind == "air-gap" else "nothing holds a test pressure"
        assert held in " ".join(found["pressure-test"].lines)
    assert all(line.format("BF1") in found["assembly-test"].lines for line in work.proved)


def test_air_is_never_a_test_and_test_pressure_is_never_guessed() -> None:
    test = next(s for s in steps() if s.key == "pressure-test")
    said = " ".join(test.lines)
    assert "Never air" in said
    assert "NOT STATED" in said
    winter = next(s for s in steps() if s.key == "winter")
    assert "not a test" in winter.caution
    assert "50 psi" in winter.figure


def test_filling_figures_come_from_bore_and_length() -> None:
    design, _, _, _ = stages()
    plan = fill_plan(design)
    row = next(r for r in plan.rows if r.pipe == "P8")
    # ASTM D1785: 1-1/4 in Sch 40 is 1.660 in outside with 0.140 in wall, so 1.380 in bore.
    area_in2 = math.pi * 1.380**2 / 4
    gallons = area_in2 * row.length_m / 0.0254 / 231
    assert row.volume_m3 / (231 * 0.0254**3) == pytest.approx(gallons, rel=1e-9)
    # 1 ft/s in 1.380 in bore: 0.4085 q / d^2 = v, handbook form, so q = 4.66 gpm.
    assert row.fill_m3s * 60 / (231 * 0.0254**3) == pytest.approx(1.380**2 / 0.4085, rel=1e-3)
    assert row.fill_s == pytest.approx(row.length_m / FILL_MS)
    main = [r for r in plan.rows if r.role != "lateral"]
    assert plan.main is not None
    assert plan.connection is not None
    assert plan.behind is not None
    assert plan.main.held_m3s == min(r.fill_m3s for r in main)
    assert plan.main.volume_m3 == pytest.approx(sum(r.volume_m3 for r in main))
    assert plan.main.volume_m3 == pytest.approx(plan.connection.volume_m3 + plan.behind.volume_m3)
    assert plan.main.time_s == pytest.approx(plan.main.volume_m3 / plan.main.held_m3s)


def test_sides_of_the_assembly_follow_the_flow() -> None:
    design, _, _, _ = stages()
    assert connection_pipes(design) == ("P1", "P2")
    behind = irrigation_side(design)
    assert {"P3", "P9", "L11"} <= behind
    assert not behind & {"S1", "S2", "S3", "P1", "P2"}


@pytest.mark.parametrize(("system", "family"), [("us", "ansi-b"), ("metric", "a3")])
def test_procedure_sheet_fits_signs_off_and_cautions(system: str, family: str) -> None:
    design, _, hydraulics, layout = stages()
    panels = procedure_panels(design, hydraulics, layout, system, family, ROOM)
    said = " ".join(words(p) for p in panels)
    assert said.count("Date ____") == len(procedure_steps(design, hydraulics, layout, system))
    assert "HOLD" in said
    assert "local code" in said
    for panel in panels:
        assert panel.width_mm <= ROOM[0] + 0.01
        assert panel.height_mm <= ROOM[1] + 0.01
        assert clashes(panel) == []


def test_pipe_of_polyethylene_is_never_told_to_be_cemented() -> None:
    """Solvent cement does not hold on polyethylene: plastic pipe trade, common knowledge, from memory."""
    path = EXAMPLE.parents[1] / "commercial" / "design.plan"
    design = read_design(SourceFile.of("design.plan", path.read_text(encoding="utf-8"))).value
    assert design is not None
    assert {p.size.family.split("-")[0] for p in design.pipes} == {"pe100"}
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    work = procedure_steps(design, hydraulics, measure(design, surface, hydraulics), "metric")
    # its weakest parts, regulators of 10 bar, stand behind zone valves that are shut while the main is tested
    assert design.device("RG7") is not None
    test = next(s for s in work if s.key == "pressure-test")
    assert "12 bar (BF1" in " ".join(test.lines) and "RG7" not in " ".join(test.lines)
    filled = " ".join(line for s in work if s.key.startswith("fill") for line in s.lines)
    assert "0.30 m/s (1 ft/s)" in filled  # the unit of the project first: 1 ft is 0.3048 m
    joints = next(s for s in work if s.key == "joints")
    for said in (" ".join(joints.lines), joints.title, joints.source, joints.hold):
        assert not re.search(r"primer|[Cc]ure|F656", said), said
    assert "never cemented" in " ".join(joints.lines)
    assert not any("Solvents" in n or "maker of the cement" in n for n in general_notes(design))


def test_pipe_of_vinyl_is_cemented_and_its_copper_soldered() -> None:
    """ASTM D2855 (joining of PVC), ASTM B828 (soldering of copper), from memory: the example has both."""
    joints = next(s for s in steps() if s.key == "joints")
    assert "D2855" in joints.source and "B828" in joints.source
    assert joints.hold == "Cure time over"
    assert any("Solvents" in n for n in general_notes(stages()[0]))


def test_only_what_is_new_is_worked_on() -> None:
    """Common practice, no source: what is there stays. A job that replaces an assembly cuts no tap."""
    design, _, work = of_example("replacement")
    found = {s.key: s for s in work}
    absent = {"expose", "cut-in", "restore", "wire-valves", "flush-laterals", "fit-heads"}
    assert not absent & set(found)
    order = (
        "notice",
        "prove-zero",
        "take-out",
        "joints",
        "set-assembly",
        "flush-main",
        "fill",
        "assembly-test",
    )
    assert [s.key for s in work if s.key in order] == list(order)
    assert "Close IV1" in " ".join(found["prove-zero"].lines) and "BF0" in found["take-out"].lines[0]
    assert "New: no head, no zone valve, 1 pipe" in found["stake"].figure
    assert "zone valve shut" in found["flush-main"].lines[0]
    assert not any("BF0" in " ".join((*s.lines, s.figure)) for s in work if s.key != "take-out")
    assert not any("NOT STATED" in found[k].figure for k in ("flush-connection", "fill-connection", "fill"))
    # The emptied main is filled again: 35.05 mm bore (ASTM D1785, 1-1/4 in Sch 40) over the length of P2.
    row = next(r for r in fill_plan(design).rows if r.pipe == "P2")
    assert row.volume_m3 == pytest.approx(math.pi / 4 * 0.03505**2 * row.length_m, rel=1e-3)
    plain = {s.key for s in steps()}
    assert absent <= plain and "take-out" not in plain


# A vacuum breaker with no shut-off stands behind each zone valve, none on the main.
VENTED = (
    ("route IV1 -> (24, 2) -> BF1", "route IV1 -> (24, 2) -> N1"),
    ("pipe P3 pvc-sch40 1-1/4 in, route BF1 -> N1, cover 18 in", ""),
    (
        "assembly BF1 pvb-1, pvb, at 10 ft east and 1 ft south of House.southwest,",
        "assembly BF1 pvb-1, avb, at (17, 35.8),",
    ),
    (
        "sleeve SL1",
        "assembly BF2 pvb-1, avb, at (31.5, 35.8), size 1 in, critical level 28 in above grade\n sleeve SL1",
    ),
    (
        "lateral L11 pvc-sch40 1 in, route V1 ->",
        "lateral L10 pvc-sch40 1 in, route V1 -> BF1, cover 12 in\n lateral L11 pvc-sch40 1 in, route BF1 ->",
    ),
    (
        "lateral L21 pvc-sch40 1 in, route V2 ->",
        "lateral L20 pvc-sch40 1 in, route V2 -> BF2, cover 12 in\n lateral L21 pvc-sch40 1 in, route BF2 ->",
    ),
    ("assembly pvb size", "assembly avb\n  size"),
)


def test_vented_assemblies_behind_the_valves_are_set_and_opened_after_them() -> None:
    """Common practice, no source; no valve after an atmospheric vacuum breaker: model plumbing codes."""
    work = steps(*VENTED)
    found = {s.key: s for s in work}
    order = (
        "flush-main",
        "wire-valves",
        "flush-connection",
        "set-assembly",
        "fill-connection",
        "pressure-test",
        "backfill",
        "open-assembly",
        "flush-laterals",
    )
    assert [s.key for s in work if s.key in order] == list(order)
    assert "fill" not in found, "nothing stands filled behind it"
    assert "BF1, BF2" in found["set-assembly"].lines[0] and "BF1, BF2" in found["open-assembly"].title
    assert "vent (BO1" in " ".join(found["fill-connection"].lines)
    assert "No air at BO1" in " ".join(found["winter"].lines) and "No purge by air" in found["winter"].figure
    assert "NOT STATED" not in found["flush-main"].figure + found["fill-connection"].figure


def test_an_air_gap_is_a_gap_and_not_a_body_in_the_line() -> None:
    """Twice the bore and 1 in at least: EPA 816-R-03-002, air gap, from memory."""
    found = {s.key: s for s in steps(*of_kind("air-gap"))}
    said = " ".join(found["set-assembly"].lines)
    assert "twice its bore" in said and "1 in" in said and "flow arrow" not in said
    assert "valve after the tank" in " ".join(found["flush-main"].lines)


def test_without_an_isolation_valve_none_is_told_to_be_closed() -> None:
    found = {s.key: s for s in of_example("broken")[2]}
    said = " ".join((*found["cut-in"].lines, *found["restore"].lines))
    assert "No isolation valve is drawn" in said and "NOT STATED" not in said


def test_a_master_valve_is_opened_by_hand_wherever_water_must_pass_it() -> None:
    """Common practice, no source: it is closed without current, and the controller is off."""
    found = {s.key: " ".join(s.lines) for s in of_example("commercial")[2]}
    assert "MV1 open by hand, IN1 out of line" in found["flush-main"]
    assert "OPEN BY HAND: MV1" in found["valve-states"]
    assert "open MV1 and a zone valve by hand" in found["winter"]
    assert "opened by hand back" in found["sensors"]


def of_example(name: str) -> tuple[Design, Hydraulics, tuple[Step, ...]]:
    """Return a shipped example, its water and the work it takes."""
    path = EXAMPLE.parents[1] / name / "design.plan"
    design = read_design(SourceFile.of("design.plan", path.read_text(encoding="utf-8"))).value
    assert design is not None
    surface = Surface.of(design)
    hydraulics = analyse(design, surface)
    return design, hydraulics, procedure_steps(design, hydraulics, measure(design, surface, hydraulics), "us")
