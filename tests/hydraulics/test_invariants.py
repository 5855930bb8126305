"""What must hold in every solved network, whatever its shape: mass, energy, outlet laws, monotone supply."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.hydraulics.network import Emitter, Link, Network, Solution
from plangen.hydraulics.solve import solve
from tests.hydraulics.random_networks import random_network

SEEDS = st.integers(1000, 100_000)


def solved(network: Network) -> Solution:
    solution = solve(network)
    assert isinstance(solution, Solution), solution
    return solution


def law_loss_m(link: Link, flow: float) -> float:
    """The loss written out again in feet, cubic feet a second and 2g = 64.4, apart from the solver's code."""
    q, sign = abs(flow) / 0.3048**3, math.copysign(1.0, flow)
    if link.curve_m3s_m:
        flows, losses = zip(*link.curve_m3s_m, strict=True)
        return sign * float(np.interp(abs(flow), flows, losses))
    d = link.diameter_m / 0.3048
    rough = 0.0
    if link.length_m:
        rough = 4.727 * link.length_m / 0.3048 * q**1.852 / (link.hazen_williams_c**1.852 * d**4.871)
    speed = q / (math.pi * d**2 / 4)
    return sign * 0.3048 * (rough + link.minor_k * speed**2 / 64.4)


def law_flow(emitter: Emitter, pressure: float) -> float:
    if pressure <= 0:
        return 0.0
    if emitter.k_m3s_per_m05 is not None:
        return emitter.k_m3s_per_m05 * math.sqrt(min(pressure, emitter.regulated_at_m or math.inf))
    if emitter.constant_m3s is not None:
        return emitter.constant_m3s * min(1.0, math.sqrt(pressure / emitter.constant_from_m))
    pressures, flows = zip(*emitter.table_m_m3s, strict=True)
    if pressure < pressures[0]:
        return float(flows[0] * math.sqrt(pressure / pressures[0]))
    return float(np.interp(pressure, pressures, flows))


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_mass_energy_and_outlets_balance(seed: int) -> None:
    solution = solved(random_network(seed))
    net = {n.node.id: -n.node.demand_m3s - n.outflow_m3s for n in solution.nodes}
    heads = {n.node.id: n.head_m for n in solution.nodes}
    for r in solution.links:
        net[r.link.start] -= r.flow_m3s
        net[r.link.end] += r.flow_m3s
        assert r.headloss_m == pytest.approx(heads[r.link.start] - heads[r.link.end], abs=1e-12)
        if r.state == "open":
            # Heads shared at nodes and every loss on its law: the losses around any loop sum to nothing.
            assert r.headloss_m == pytest.approx(law_loss_m(r.link, r.flow_m3s), rel=1e-6, abs=1e-6)
        if r.state == "regulating":
            end = next(n for n in solution.nodes if n.node.id == r.link.end)
            assert r.link.setting_m is not None
            assert end.pressure_m == pytest.approx(r.link.setting_m, abs=1e-6)
    assert all(abs(v) < 1e-10 for node, v in net.items() if node != "S")
    for n in solution.nodes:
        if n.node.emitter is not None:
            assert n.outflow_m3s == pytest.approx(law_flow(n.node.emitter, n.pressure_m), rel=1e-6, abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(SEEDS, st.floats(0.5, 15.0))
def test_more_supply_pressure_never_lowers_a_pressure(seed: int, more_m: float) -> None:
    network = random_network(seed)
    raised = tuple(replace(s, head_m=s.head_m + more_m) for s in network.sources)
    before, after = solved(network), solved(replace(network, sources=raised))
    for low, high in zip(before.nodes, after.nodes, strict=True):
        assert high.pressure_m >= low.pressure_m - 1e-5
        assert high.outflow_m3s >= low.outflow_m3s - 1e-9


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.randoms(use_true_random=False))
def test_order_of_nodes_and_links_is_moot(seed: int, rng: object) -> None:
    network = random_network(seed)
    nodes, links = list(network.nodes), list(network.links)
    rng.shuffle(nodes)  # type: ignore[attr-defined]
    rng.shuffle(links)  # type: ignore[attr-defined]
    one, other = solved(network), solved(replace(network, nodes=tuple(nodes), links=tuple(links)))
    theirs = {n.node.id: n.head_m for n in other.nodes}
    for n in one.nodes:
        assert theirs[n.node.id] == pytest.approx(n.head_m, abs=1e-6)
