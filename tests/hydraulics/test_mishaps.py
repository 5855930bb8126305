"""Relief valve open, main broken, supply lost, the closed house."""

from __future__ import annotations

import math

import pytest

from plangen.hydraulics.mishaps import broken_network, carried_on, drain_flow_m3s, least_slope
from plangen.hydraulics.network import Network, Solution
from plangen.hydraulics.solve import solve
from plangen.hydraulics.studies import Studies
from plangen.quantity.dimension import FOOT_M, INCH_M, pressure_to_head_m
from plangen.quantity.quantity import to_si
from tests.hydraulics.epanet_oracle import differences, resolve
from tests.hydraulics.ready import ready_with
from tests.hydraulics.residential import analysed_with

PSI_M = pressure_to_head_m(to_si(1, "psi"))
GPM = to_si(1, "gpm")
# The vacuum breaker of the example made a reduced-pressure assembly.
RP = (
    ("assembly BF1 pvb-1, pvb,", "assembly BF1 pvb-1, rp,"),
    ("critical level 28 in above grade", "relief port 28 in above grade"),
    ('listing "ASSE 1020"', 'listing "ASSE 1013"'),
    ("assembly        pvb", "assembly        rp"),
)


def studied(*changes: tuple[str, str]) -> Studies:
    found = analysed_with(*changes).studies
    assert found is not None
    return found


def test_a_drain_carries_what_the_plumbing_code_tables() -> None:
    """4 in at 1/8 in per ft: 78.2 gpm by the International Plumbing Code 2012 (table 1106.3, from its roof
    areas), 115 gpm by that of 2021 (table 1106.2): they differ in roughness. Ours lies between them.
    """
    four = drain_flow_m3s(4 * INCH_M, INCH_M / 8 / FOOT_M) / GPM
    assert 78.2 <= four <= 115
    # Manning in US units: Q = 1.486/n A R^(2/3) S^(1/2) in ft3/s (textbook form)
    radius = 4 / 12 / 4
    area = math.pi / 4 * (4 / 12) ** 2
    cfs = 1.486 / 0.013 * area * radius ** (2 / 3) * (1 / 96) ** 0.5
    assert four == pytest.approx(cfs * 448.831, rel=1e-3)


def test_the_least_slope_is_that_of_the_code() -> None:
    """Chicago Plumbing Code 18-29-704.1: 1/4 in per ft to 2-1/2 in, 1/8 for 3 to 6 in, 1/16 from 8 in."""
    for inches, rise in ((2, 1 / 4), (2.5, 1 / 4), (3, 1 / 8), (6, 1 / 8), (8, 1 / 16)):
        assert least_slope(inches * INCH_M) == pytest.approx(rise / 12)


def test_relief_flow_goes_with_the_root_of_the_pressure() -> None:
    """A 3/4 in assembly lets out about 95 gpm at 60 psi when its relief valve stays open (published figure of
    a testing firm); through one opening flow goes with the root of the pressure (Torricelli)."""
    flow = ('listing "ASSE 1020"', 'listing "ASSE 1013"\n  relief flow 95 gpm at 60 psi')
    changes = [c for c in RP if c[0] != flow[0]] + [flow, ('drain "spills', 'drain size 3 in, drain "spills')]
    (relief,) = studied(*changes).reliefs
    assert relief.missing == () and relief.flow_m3s is not None and relief.drain_m3s is not None
    # static: 64 psi at the source's ground, less the height of the port above it
    point = next(p for p in analysed_with(*changes).static_points if p.object == "BF1")
    assert relief.flow_m3s / GPM == pytest.approx(95 * math.sqrt(point.pressure_m / PSI_M / 60))
    assert relief.carried is False  # 3 in carries some 40 gpm


def test_what_a_relief_needs_and_is_not_stated_is_named() -> None:
    (relief,) = studied(*RP).reliefs
    assert relief.flow_m3s is None and relief.carried is None and len(relief.missing) == 2
    assert studied().reliefs == ()  # a vacuum breaker has no relief valve


def test_a_broken_main_is_solved_like_the_other_solver_does() -> None:
    """EPANET 2.3 through owa-epanet: the open end as an emitter of its bore, loss curves carried on."""
    ready, found = ready_with()
    network = broken_network(ready, found, "BF1.out", "P3")
    assert isinstance(network, Network)
    solution = solve(network)
    assert isinstance(solution, Solution)
    assert differences(solution, resolve(network, solution, accuracy=1e-6)) == []
    (broken,) = studied().breaks
    assert broken.flow_m3s == pytest.approx(solution.node("BF1.out").outflow_m3s)
    # never more than the whole head would drive through the bare bore (Torricelli)
    bore = 1.380 * INCH_M
    most = math.pi / 4 * bore**2 * math.sqrt(2 * 9.80665 * 58 * PSI_M)
    assert 0 < (broken.flow_m3s or 0) < most
    assert broken.beyond == ("M1",)  # the meter's curve ends at 30 gpm


def test_curves_are_carried_on_by_the_square() -> None:
    """P = k q2 beyond a last point: twice the flow, four times the loss (turbulent local loss)."""
    curve = carried_on(((0.0, 0.0), (1.0, 2.0)))
    assert (2.0, 8.0) in curve and curve[:2] == ((0.0, 0.0), (1.0, 2.0))
    assert carried_on(()) == ()


def test_a_break_is_noticed_between_ordinary_flow_and_the_break() -> None:
    tee = "pipe P1        copper-k 1 in, route T1 -> IV1, cover 18 in"
    sensor = (
        "pipe P1 copper-k 1 in, route T1 -> FL1, cover 18 in\n"
        "  flow sensor FL1 fs-1, at (9, 2), size 1 in, height -18 in, in box, trips at {} gpm\n"
        "  pipe P0 copper-k 1 in, route FL1 -> IV1, cover 18 in"
    )
    part = "part spray-15q {"
    fs = (
        'part fs-1 {\n  kind flow sensor\n  label "Flow sensor"\n  size 1 in\n'
        '  loss (0 gpm, 0 psi) (30 gpm, 0.5 psi)\n  from data sheet "FS-1"\n}\n\n'
    )
    for trip, noticed in (("25", True), ("8", False), ("60", False)):
        changes = ((tee, sensor.format(trip)), (part, fs + part))
        (broken,) = studied(*changes).breaks
        assert broken.sensor == "FL1" and broken.noticed is noticed


def test_the_house_keeps_what_the_solution_says() -> None:
    hydraulics = analysed_with()
    assert hydraulics.studies is not None
    for left in hydraulics.studies.house:
        case = next(c for c in hydraulics.cases if c.case == left.case)
        assert left.pressure_m == case.solution.node("HS").pressure_m
        assert left.static_m is not None and left.pressure_m < left.static_m


def test_outlets_above_the_assembly_stand_out() -> None:
    """The vacuum breaker at 28 in stands above every outlet; at 6 in the back lawn lies above it."""
    usual = {s.outlet: s for s in studied().siphons}
    assert all((s.above_assembly_m or 0) < 0 and s.assembly == "BF1" for s in usual.values())
    low = {s.outlet: s for s in studied(("critical level 28 in", "critical level 6 in")).siphons}
    over = {name for name, s in low.items() if (s.above_assembly_m or 0) > 0}
    assert {"H34", "H35", "H36"} <= over and "H13" not in over


def test_the_house_is_closed_only_by_what_stands_before_it() -> None:
    assert "does not close" in studied().expansion
    before = (
        "service S3     copper-k 1 in, route T1 -> (8, 50) -> HS",
        "service S4 copper-k 1 in, route T1 -> RG9, cover 24 in, existing\n"
        "  regulator RG9 drip-regulator, at (8, 10), size 3/4 in, height -24 in, set 55 psi, existing\n"
        "  service S3 copper-k 1 in, route RG9 -> (8, 50) -> HS",
    )
    said = studied(before).expansion
    assert "RG9 closes the service of HS" in said and "expansion tank" in said
