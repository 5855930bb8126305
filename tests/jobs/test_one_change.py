"""One edit of the residential job moves what depends on it, and nothing else.

The expected sets follow from the design by hand: what the edited object is part of, and what water
reaches through it. Values are compared as printed.
"""

from __future__ import annotations

import pytest

from tests.jobs.variants import changed_findings, changed_takeoff, job, moved_objects

PLAN = "LI101"
HEIGHT = ("critical level 28 in above grade", "critical level 31 in above grade")
COVER = ("N13 -> (2.5, 4), cover 12 in", "N13 -> (2.5, 4), cover 15 in")
SIZE = ("lateral L13    pvc-sch40 3/4 in", "lateral L13    pvc-sch40 1 in")
HEAD = ("H15       spray-15h, at (2.5, 19)", "H15       spray-15h, at (4.5, 19)")


def rules_changed(edit: tuple[str, str]) -> set[str]:
    return changed_findings(job(), job(edit))


def measured_in(edit: tuple[str, str] | None, finding_id: str) -> float:
    run = job(edit) if edit else job()
    finding = next(f for f in run.findings if f.id == finding_id)
    assert finding.measured is not None and finding.measured.si is not None
    return finding.measured.si / 0.0254


def test_three_inches_more_height_raise_the_assembly_by_three_inches_in_every_rule_on_its_height() -> None:
    for rule in ("assembly-above-outlets/BF1", "assembly-above-snow/BF1"):
        assert measured_in(HEIGHT, rule) - measured_in(None, rule) == pytest.approx(3.0, abs=1e-6)


def test_height_changes_no_rule_but_those_on_the_assembly_and_on_pressure_behind_it() -> None:
    others = {f for f in rules_changed(HEIGHT) if not f.startswith(("assembly-", "head-", "drip-"))}
    assert others == set()
    # pressures behind the assembly only feel six inches more of riser: a hundredth of a psi
    for finding in rules_changed(HEIGHT):
        if finding.startswith("head-"):
            before, after = measured_in(None, finding) * 0.0254, measured_in(HEIGHT, finding) * 0.0254
            assert abs(before - after) / 6894.757 < 0.05


def test_height_moves_the_assembly_alone_on_the_plan_and_only_its_riser_in_the_takeoff() -> None:
    assert moved_objects(job(), job(HEIGHT), PLAN) <= {"BF1"}
    assert {(group, size) for group, _, size in changed_takeoff(job(), job(HEIGHT))} == {("pipe", "1-1/4 in")}
    assert all("riser" in item for _, item, _ in changed_takeoff(job(), job(HEIGHT)))


def test_cover_changes_that_laterals_rules_and_the_earthwork() -> None:
    assert rules_changed(COVER) == {
        "lateral-cover/L15",
        "pipe-rating/L15",
        "pipe-surge/L15",
    } or rules_changed(COVER) == {"lateral-cover/L15", "pipe-rating/L15"}
    assert measured_in(COVER, "lateral-cover/L15") == pytest.approx(15.0, abs=1e-6)
    assert {group for group, _, _ in changed_takeoff(job(), job(COVER))} == {"earthwork"}


def test_cover_moves_nothing_on_the_plan() -> None:
    assert moved_objects(job(), job(COVER), PLAN) <= {"L15"}


def test_pipe_size_changes_its_own_velocity_and_nothing_in_another_zone() -> None:
    changed = rules_changed(SIZE)
    assert "plastic-velocity/L13" in changed
    elsewhere = {
        f for f in changed if f.split("/")[1][:2] in ("H2", "H3", "L2", "L3", "L4", "V2", "V3", "V4")
    }
    assert elsewhere == set()


def test_pipe_size_relabels_that_pipe_alone_and_moves_its_length_to_the_other_size() -> None:
    assert moved_objects(job(), job(SIZE), PLAN) == {"L13"}
    net = {
        run is job(SIZE): {
            line.size: line.net
            for line in run.layout.takeoff
            if line.group == "pipe" and "lateral" in line.item
        }
        for run in (job(), job(SIZE))
    }
    length_ft = 17 - 2.5  # L13 runs from (17, 34) to (2.5, 34) in the design
    assert net[True]["1 in"] - net[False]["1 in"] == pytest.approx(length_ft, abs=0.051)
    assert net[False]["3/4 in"] - net[True]["3/4 in"] == pytest.approx(length_ft, abs=0.051)


def test_a_head_two_feet_further_in_moves_its_own_symbol_and_its_area() -> None:
    moved = moved_objects(job(), job(HEAD), PLAN)
    assert "H15" in moved and moved <= {"H15", "Z1", "T1"}  # lettering beside it makes way
    assert moved_objects(job(), job(HEAD), PLAN, lettering=False) == {"H15"}
    changed = rules_changed(HEAD)
    assert "head-spacing/H15" in changed and "area-uniformity/Front" in changed
    assert {f.split("/")[1] for f in changed} <= {"H15", "H12", "H14", "H16", "Front"}


def test_a_head_two_feet_further_in_leaves_pipe_lengths_and_head_counts_alone() -> None:
    assert {group for group, _, _ in changed_takeoff(job(), job(HEAD))} <= {"fitting", "joining"}


@pytest.mark.long
def test_the_same_job_twice_is_the_same_in_every_part() -> None:
    again = job.__wrapped__()
    assert changed_findings(job(), again) == set()
    assert changed_takeoff(job(), again) == set()
    assert again.sheets == job().sheets
