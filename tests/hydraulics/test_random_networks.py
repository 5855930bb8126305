"""Random trees and loops, solved again by the oracle: thirty of them, with `--long` five hundred."""

from __future__ import annotations

import pytest

from plangen.hydraulics.network import Solution
from plangen.hydraulics.solve import solve
from tests.hydraulics.random_networks import random_network

oracle = pytest.importorskip(
    "tests.hydraulics.epanet_oracle", reason="owa-epanet has no wheel for this platform", exc_type=ImportError
)
SEEDS = [pytest.param(seed, marks=[] if seed < 30 else pytest.mark.long) for seed in range(500)]


@pytest.mark.parametrize("seed", SEEDS)
def test_random_network_agrees_with_the_oracle(seed: int) -> None:
    network = random_network(seed)
    solution = solve(network)
    assert isinstance(solution, Solution), solution
    found = oracle.resolve(network, solution, accuracy=1e-6)
    assert oracle.differences(solution, found) == []


@pytest.mark.long
def test_there_are_enough_loops_among_them() -> None:
    networks = [random_network(seed) for seed in range(500)]
    loops = [n for n in networks if len(n.links) > len(n.nodes) - 1]
    assert len(loops) > 100 and len(networks) - len(loops) > 100
