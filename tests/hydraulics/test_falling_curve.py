"""Operating points on a falling stretch of a loss curve, against scipy's bracketing root-finder `brentq`.

A reduced-pressure assembly loses more at low flow than at its best flow (USC Foundation for Cross-Connection
Control, newsletter vol. 10 no. 4, 1992: loss below rated flow can exceed that at rated flow). The curve is
invented.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from plangen.hydraulics.friction import friction_factor
from plangen.hydraulics.network import Emitter, Link, Network, Node, Solution, SourceNode
from plangen.hydraulics.results import Failure
from plangen.hydraulics.solve import solve
from plangen.quantity.dimension import FOOT_M, INCH_M
from tests.hydraulics.random_networks import GPM, PSI_M

RP_PSI = ((0, 12.0), (5, 11.0), (10, 10.5), (20, 10.8), (30, 12.0), (40, 14.0), (50, 17.0))
CURVE = tuple((q * GPM, p * PSI_M) for q, p in RP_PSI)
PIPE = Link("P", "B", "C", "pipe", "P", 80 * FOOT_M, 1.049 * INCH_M, 150.0)


def network(supply_psi: float, k_gpm: float) -> Network:
    nozzle = Emitter(k_m3s_per_m05=k_gpm * GPM / PSI_M**0.5)
    nodes = (Node("A", 0.0), Node("B", 0.0), Node("C", 0.0, emitter=nozzle))
    assembly = Link("RP", "A", "B", "device", "RP", curve_m3s_m=CURVE, one_way=True)
    return Network("falling", (), (SourceNode("A", supply_psi * PSI_M),), nodes, (assembly, PIPE))


@pytest.mark.parametrize("supply_psi", [13, 15, 20, 30, 45, 60, 80])
@pytest.mark.parametrize("k_gpm", [0.2, 0.8, 2.0])
def test_operating_point_is_on_the_curve(supply_psi: float, k_gpm: float) -> None:
    friction = friction_factor(PIPE.length_m, PIPE.diameter_m, 150.0)
    k = k_gpm * GPM / PSI_M**0.5
    flows, losses = zip(*CURVE, strict=True)

    def left_over(q: float) -> float:
        return supply_psi * PSI_M - float(np.interp(q, flows, losses)) - friction * q**1.852 - (q / k) ** 2

    expected = brentq(left_over, 0.0, flows[-1], xtol=1e-16, rtol=1e-14)
    solution = solve(network(supply_psi, k_gpm))
    assert isinstance(solution, Solution), solution
    found = solution.link("RP")
    assert found.flow_m3s == pytest.approx(expected, rel=1e-6)
    assert found.headloss_m == pytest.approx(float(np.interp(expected, flows, losses)), abs=1e-5)


def test_the_cases_above_do_stand_on_the_falling_stretch() -> None:
    flows = [solve(network(p, k)).link("RP").flow_m3s / GPM for p, k in ((15, 0.8), (20, 0.8), (20, 2.0))]
    assert all(0 < q < 10 for q in flows)


def test_below_the_loss_at_no_flow_nothing_runs() -> None:
    """11 psi cannot open an assembly that takes 12 psi at no flow: the outlet stays dry."""
    solution = solve(network(11, 0.8))
    assert isinstance(solution, Solution)
    assert solution.node("C").outflow_m3s == 0.0
    assert solution.link("RP").flow_m3s == pytest.approx(0.0, abs=1e-12)


def test_flow_beyond_the_last_point_is_a_named_failure() -> None:
    short = Link("RP", "A", "B", "device", "RP", curve_m3s_m=CURVE[:2], one_way=True)
    base = network(80, 2.0)
    failure = solve(Network("short", (), base.sources, base.nodes, (short, PIPE)))
    assert isinstance(failure, Failure)
    assert (failure.code, failure.objects) == ("curve-left", ("RP",))
