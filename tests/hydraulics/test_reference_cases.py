"""Small networks with stated answers, and the loss of a lateral with many outlets against the published F.

The answers c1, c3 and c7 were computed with the public-domain solver behind `owa-epanet` 2.3.5
(Hazen-Williams, emitter exponent 0.5, accuracy 1e-8). F factors: Washington State Univ., "Pressure Loss With
Outlets", F = 1/(m+1) + 1/(2N) + sqrt(m-1)/(6 N^2), whose exact sum is (1^m + .. + N^m) / N^(m+1).
"""

from __future__ import annotations

import pytest

from plangen.hydraulics.network import Emitter, Link, Network, Node, Solution, SourceNode
from plangen.hydraulics.solve import solve
from plangen.quantity.dimension import FOOT_M, INCH_M, pressure_to_head_m
from plangen.quantity.quantity import to_si

PSI_M = pressure_to_head_m(to_si(1.0, "psi"))
GPM = to_si(1.0, "gpm")
NOZZLE = Emitter(k_m3s_per_m05=0.5 * GPM / PSI_M**0.5)  # 0.5 gpm at 1 psi


def pipe(name: str, start: str, end: str, feet: float, bore_in: float) -> Link:
    return Link(name, start, end, "pipe", name, feet * FOOT_M, bore_in * INCH_M, 150.0)


def solved(network: Network) -> Solution:
    solution = solve(network)
    assert isinstance(solution, Solution), solution
    return solution


def psi(solution: Solution, node: str) -> float:
    return solution.node(node).pressure_m / PSI_M


def test_c1_level_lateral_with_six_heads() -> None:
    nodes = [Node("R", 0.0), *(Node(f"H{i}", 0.0, emitter=NOZZLE) for i in range(1, 7))]
    links = [pipe("P1", "R", "H1", 15, 1.189)]
    links += [pipe(f"P{i}", f"H{i - 1}", f"H{i}", 30, 1.189) for i in range(2, 7)]
    solution = solved(Network("c1", (), (SourceNode("R", 40 * PSI_M),), tuple(nodes), tuple(links)))
    stated = {
        "H1": (39.3927, 3.13818), "H2": (38.5317, 3.10369), "H3": (37.9646, 3.08077),
        "H4": (37.6327, 3.06728), "H5": (37.4763, 3.06090), "H6": (37.4330, 3.05913),
    }  # fmt: skip
    for name, (pressure, flow) in stated.items():
        assert psi(solution, name) == pytest.approx(pressure, rel=5e-4)
        assert solution.node(name).outflow_m3s / GPM == pytest.approx(flow, rel=1e-3)
    assert solution.link("P1").flow_m3s / GPM == pytest.approx(18.50995, rel=1e-3)
    assert solution.link("P1").velocity_ms / FOOT_M == pytest.approx(5.348, rel=1e-3)
    assert solution.link("P6").velocity_ms / FOOT_M == pytest.approx(0.884, abs=1e-3)


def test_c3_looped_main_with_fixed_demands() -> None:
    """Ring of 200/150/180/240 ft with a take-off, here level: elevations move no flow of fixed demands."""
    links = (
        pipe("P1", "R", "N1", 60, 2.149),
        pipe("P2", "N1", "N2", 200, 2.149), pipe("P3", "N2", "N3", 150, 1.720),
        pipe("P4", "N3", "N4", 180, 1.720), pipe("P5", "N4", "N1", 240, 2.149),
        pipe("P6", "N3", "N5", 90, 1.189),
    )  # fmt: skip
    demands = {"N2": 18.0, "N4": 22.0, "N5": 5.0}
    nodes = [Node("R", 0.0), *(Node(f"N{i}", 0.0, demands.get(f"N{i}", 0.0) * GPM) for i in range(1, 6))]
    solution = solved(Network("c3", (), (SourceNode("R", 70 * PSI_M),), tuple(nodes), links))
    stated = {"P1": 45.0, "P2": 22.8823, "P3": 4.8823, "P4": -0.1177, "P5": -22.1177, "P6": 5.0}
    for name, flow in stated.items():
        assert solution.link(name).flow_m3s / GPM == pytest.approx(flow, rel=1e-3, abs=2e-4)
    assert solution.link("P1").velocity_ms / FOOT_M == pytest.approx(3.980, rel=1e-3)
    assert solution.link("P5").velocity_ms / FOOT_M == pytest.approx(1.956, rel=1e-3)


def uphill(last: Node) -> Network:
    """Case c7: 12 psi, heads each 25 ft of 3/4 in further and 6 ft higher."""
    nodes = [Node("R", 0.0), *(Node(f"H{i}", 6 * i * FOOT_M, emitter=NOZZLE) for i in range(1, 5)), last]
    links = [pipe(f"P{i}", "R" if i == 1 else f"H{i - 1}", f"H{i}", 25, 0.824) for i in range(1, 6)]
    return Network("c7", (), (SourceNode("R", 12 * PSI_M),), tuple(nodes), tuple(links))


def test_c7_with_the_inflow_the_other_solver_allows() -> None:
    """The stated answer draws 0.5977 gpm in at the top head; given that as an inflow, all else must agree."""
    solution = solved(uphill(Node("H5", 30 * FOOT_M, -0.59770 * GPM)))
    stated = {
        "H1": (9.0968, 1.50804), "H2": (6.3826, 1.26319), "H3": (3.7600, 0.96954), "H4": (1.1604, 0.53860),
    }  # fmt: skip
    for name, (pressure, flow) in stated.items():
        assert psi(solution, name) == pytest.approx(pressure, rel=5e-4, abs=0.002)
        assert solution.node(name).outflow_m3s / GPM == pytest.approx(flow, rel=1e-3)
    assert psi(solution, "H5") == pytest.approx(-1.4290, abs=0.002)


def test_c7_a_head_below_zero_pressure_draws_nothing_in() -> None:
    solution = solved(uphill(Node("H5", 30 * FOOT_M, emitter=NOZZLE)))
    assert psi(solution, "H5") < 0
    assert solution.node("H5").outflow_m3s == 0.0
    assert solution.link("P5").flow_m3s == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("count", "factor"),
    [(2, 0.6385), (3, 0.5342), (4, 0.4852), (5, 0.4568), (8, 0.4155), (10, 0.4022), (20, 0.3760)],
)
def test_lateral_with_equal_outlets_loses_the_published_share(count: int, factor: float) -> None:
    """F for m = 1.852 with the first outlet a full spacing from the inlet; outlets as equal fixed demands."""
    each = 0.5 * GPM
    nodes = [Node("N0", 0.0), *(Node(f"N{i}", -90.0, each) for i in range(1, count + 1))]
    links = tuple(pipe(f"P{i}", f"N{i - 1}", f"N{i}", 10, 1.049) for i in range(1, count + 1))
    solution = solved(Network("f", (), (SourceNode("N0", 10.0),), tuple(nodes), links))
    lost = 10.0 - solution.node(f"N{count}").head_m
    plain = solved(
        Network("p", (), (SourceNode("A", 10.0),), (Node("A", 0.0), Node("B", -9e3, each * count)),
                (pipe("P", "A", "B", 10 * count, 1.049),))
    )  # fmt: skip
    assert lost / plain.link("P").headloss_m == pytest.approx(factor, abs=6e-5)
