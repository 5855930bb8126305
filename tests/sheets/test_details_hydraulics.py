"""The hydraulics sheet, the profile and the single-line diagram show the solved figures and nothing else."""

from __future__ import annotations

import re
from itertools import pairwise

import numpy as np
import pytest

from plangen.quantity.dimension import GALLON_M3, PSI_PA, head_to_pressure_pa
from plangen.sheets.hydraulic_rows import budget_heads, budget_rows, case_rows, spares
from plangen.sheets.hydraulics_sheet import hydraulics_panels, worst_case
from plangen.sheets.marks import Circle, Line
from plangen.sheets.profile import section_panels
from plangen.sheets.profile_bare import bare_way
from plangen.sheets.profile_course import profile_course
from plangen.sheets.profile_points import profile_points
from plangen.sheets.singleline import singleline_panels
from plangen.sheets.singleline_path import Flows, farthest_outlet, path_to
from tests.hydraulics.test_pumps import PUMP
from tests.sheets.details_measures import ROOM, clashes, groups, stages, words

UNMEASURED = (
    'static 64 psi measured 2026-04-20, lowest 58 psi from standard "Quillmoor Water pressure record 2025", ',
    "",
)


def test_profile_points_are_the_budgets_pressures() -> None:
    design, surface, hydraulics, layout = stages()
    case = worst_case(hydraulics)
    assert case is not None
    assert case.budget is not None
    points = profile_points(design, surface, case)
    assert [p.pressure_m for p in points] == [
        case.budget.source_pressure_m,
        *(line.pressure_after_m for line in case.budget.lines),
    ]
    panel = section_panels(design, surface, hydraulics, layout, "us", "ansi-b", ROOM)[0]
    dots = [m for g in groups(panel.group, "profile-point") for m in g.marks if isinstance(m, Circle)]
    assert len(dots) == len(points)
    # On paper too: heights of the dots are an affine picture of the pressures.
    ys, ps = [d.centre[1] for d in dots], [p.pressure_m for p in points]
    low, high = ps.index(min(ps)), ps.index(max(ps))
    slope = (ys[high] - ys[low]) / (ps[high] - ps[low])
    for y, p in zip(ys, ps, strict=True):
        assert y - ys[low] == pytest.approx(slope * (p - ps[low]), abs=1e-6)
    assert clashes(panel) == []


def test_the_profile_keeps_buried_pipe_at_its_cover_and_never_in_the_air() -> None:
    """Cover is the earth over the pipe (the example states it); only at the assembly does the way surface."""
    design, surface, hydraulics, _ = stages()
    case = worst_case(hydraulics)
    assert case is not None
    points = profile_points(design, surface, case)
    ground, way = profile_course(design, surface, case, points)
    assert [d for d, _ in way] == sorted(d for d, _ in way)
    assert {(round(p.distance_m, 9), round(p.elevation_m or 0.0, 9)) for p in points} <= set(way)

    def over(at_m: float) -> float:
        return float(np.interp(at_m, [d for d, _ in ground], [z for _, z in ground]))

    named = {p.name: p for p in points}
    covers = {"P2": 18, "P8": 18, "L33": 12}
    for before, after in pairwise(points):
        if after.name in covers:
            inside = [over(d) - z for d, z in way if before.distance_m + 1e-3 < d < after.distance_m - 1e-3]
            assert inside, after.name
            assert inside == pytest.approx([covers[after.name] * 0.0254] * len(inside), abs=1e-6)
    highest = max(way, key=lambda p: p[1])
    assert highest == pytest.approx((named["BF1"].distance_m, named["BF1"].elevation_m))
    assert highest[1] - over(highest[0]) == pytest.approx(28 * 0.0254, abs=1e-6)
    in_air = [d for d, z in way if z > over(d) + 1e-6 and d < points[-1].distance_m]
    # risers stand upright: only at the assembly itself is anything above the ground
    assert all(abs(d - named["BF1"].distance_m) < 1e-6 for d in in_air)


def test_the_long_section_is_as_long_and_as_high_as_its_scales_say() -> None:
    """The example: critical level 28 in over grade, cover 18 in, and the lengths of its pipes on the plan."""
    design, surface, hydraulics, layout = stages()
    panel = section_panels(design, surface, hydraulics, layout, "us", "ansi-b", ROOM)[0]
    found = re.fullmatch(r"ACROSS 1 in = (\d+) ft, UPRIGHT 1 in = (\d+) ft", panel.scale)
    assert found
    across, upright = (25.4 / int(n) for n in found.groups())
    way = next(m for m in next(groups(panel.group, "profile-pipe")).marks if isinstance(m, Line)).points
    top = min(way, key=lambda p: p[1])
    foot = max(y for x, y in way if abs(x - top[0]) < 1e-6)
    # the critical level stands 28 in over the grade, the riser's foot 18 in under it
    assert foot - top[1] == pytest.approx((28 + 18) / 12 * upright, abs=0.01)
    end = max(x for x, _ in way)
    # P3, P8, P9, 34.1 ft of L31 and 30 ft of L33 lie behind the assembly
    assert end - top[0] == pytest.approx((1.414 + 50 + 2 + 34.1 + 30) * across, abs=0.1)


def test_without_pressure_the_long_section_still_shows_ground_and_pipe() -> None:
    """Two ways from source to outlet agree: by the budget of a solved case, and by the pipes alone."""
    design, surface, hydraulics, layout = stages()
    case = worst_case(hydraulics)
    assert case is not None
    solved = {p.name: (p.distance_m, p.ground_m) for p in profile_points(design, surface, case)}
    found = bare_way(*stages(UNMEASURED)[:2])
    assert found is not None
    # the rotor at the end of the longest lateral: 60 ft of L32 or L33, each behind N31 at (5, 83)
    assert found.outlet in ("H33", "H36")
    bare = {p.name: (p.distance_m, p.ground_m) for p in found.points}
    for name in ("M1", "IV1", "BF1", "V3"):
        assert bare[name] == pytest.approx(solved[name]), name
    design, surface, hydraulics, layout = stages(UNMEASURED)
    panels = section_panels(design, surface, hydraulics, layout, "us", "ansi-b", ROOM)
    section = next(p for p in panels if p.group.role == "long-section")
    assert list(groups(section.group, "profile-ground")) and list(groups(section.group, "profile-pipe"))
    assert "PRESSURE NOT SOLVED" in section.title
    assert all(p.width_mm <= ROOM[0] + 0.01 and p.height_mm <= ROOM[1] + 0.01 for p in panels)


def test_budget_worksheet_balances_line_by_line() -> None:
    """Pressure after = pressure before - loss - rise (energy along a streamline, any hydraulics text)."""
    _, _, hydraulics, _ = stages()
    case = worst_case(hydraulics)
    assert case is not None
    assert case.budget is not None
    rows = budget_rows(case.budget, "us")
    heads = budget_heads("us")
    after, loss, rise = heads.index("After psi"), heads.index("Loss psi"), heads.index("Rise psi")
    for before, row in pairwise(rows):
        assert float(row[after]) == pytest.approx(
            float(before[after]) - float(row[loss]) - float(row[rise]), abs=0.021
        )


def test_worst_outlet_has_the_least_spare_of_all() -> None:
    _, _, hydraulics, _ = stages()
    ranked = spares(hydraulics)
    assert ranked[0].case == hydraulics.worst
    every = [o.spare_m for c in hydraulics.cases for o in c.outlets if o.spare_m is not None]
    assert ranked[0].spare_m == min(every)
    assert len(ranked) == len(every)
    assert len(case_rows(hydraulics, "us")) == len(hydraulics.cases) + len(hydraulics.failures)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_hydraulics_sheet_names_runner_up_and_fits_the_room(system: str) -> None:
    design, surface, hydraulics, layout = stages()
    panels = hydraulics_panels(design, hydraulics, system, "ansi-b", ROOM)
    said = " ".join(words(p) for p in panels)
    assert "Runner-up" in said
    assert "NOT SOLVED" not in said
    for panel in (*panels, *section_panels(design, surface, hydraulics, layout, system, "ansi-b", ROOM)):
        assert panel.width_mm <= ROOM[0] + 0.01
        assert panel.height_mm <= ROOM[1] + 0.01
        assert clashes(panel) == []


def test_unmeasured_pressure_is_not_solved_and_no_number_is_invented() -> None:
    design, surface, hydraulics, layout = stages(UNMEASURED)
    assert not hydraulics.cases
    sheets = (
        hydraulics_panels(design, hydraulics, "us", "ansi-b", ROOM),
        section_panels(design, surface, hydraulics, layout, "us", "ansi-b", ROOM),
        singleline_panels(design, surface, hydraulics, "us", "ansi-b", ROOM),
    )
    for panels in sheets:
        said = " ".join(words(p) for p in panels)
        assert "NOT SOLVED" in said
        assert hydraulics.failures[0].message.split()[0] in said
        assert not list(groups(panels[0].group, "profile-pressure"))
        assert re.search(r"\d psi", said) is None, said


def test_single_line_tells_a_pump_s_gain_and_no_loss() -> None:
    """By hand: 12 psi at no flow and 4 psi at 40 gpm, so 12 - 0.2 psi for each gpm through it."""
    design, surface, hydraulics, _ = stages(*PUMP)
    case = worst_case(hydraulics)
    assert case is not None
    gpm = case.solution.link("PU1").flow_m3s / (GALLON_M3 / 60.0)
    said = " ".join(words(p) for p in singleline_panels(design, surface, hydraulics, "us", "ansi-b", ROOM))
    assert f"GAIN {12.0 - 0.2 * gpm:.2f} psi" in said
    assert said.count("GAIN ") == 1


def test_single_line_shows_every_node_of_the_way_with_its_solved_pressure() -> None:
    design, surface, hydraulics, _ = stages()
    case = worst_case(hydraulics)
    assert case is not None
    far = farthest_outlet(case)
    assert far is not None
    way = path_to(Flows.of(case.solution), far[1])
    assert way[0].node.id == case.solution.network.sources[0].node
    assert way[-1].node.id == far[1]
    panels = singleline_panels(design, surface, hydraulics, "us", "ansi-b", ROOM)
    said = " ".join(words(p) for p in panels)
    for p in way:
        psi = head_to_pressure_pa(case.solution.node(p.node.id).pressure_m) / PSI_PA
        name = re.sub(r"^(.+)\.(in|out)$", r"\1 \2let", p.node.id.removeprefix("Z3.")).upper()
        name = re.sub(r"^(L\d+)\.\d+$", r"ON \1", name).replace(".END", " END")
        assert "." not in name
        assert re.search(rf"(^| ){re.escape(name)} EL ", said), name
        assert f"{psi:.2f} psi" in said
    for panel in panels:
        assert clashes(panel) == []
        assert panel.width_mm <= ROOM[0]
    drawn = [g for p in panels for g in groups(p.group, "node")]
    assert all(any(isinstance(m, Line) for m in g.marks) for g in drawn)
    for link in (g for p in panels for g in groups(p.group, "link")):
        pipe = next((m for m in link.marks if isinstance(m, Line) and m.pen == "mainline"), None)
        for a, b in pairwise(pipe.points) if pipe is not None else ():
            assert a[0] == pytest.approx(b[0]) or a[1] == pytest.approx(b[1])  # level or upright, never slant
