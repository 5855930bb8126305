"""Thirty random trees and loops, solved again by the oracle. Five hundred are in `tests/benchmarks`."""

from __future__ import annotations

import pytest

from plangen.hydraulics.network import Solution
from plangen.hydraulics.solve import solve
from tests.hydraulics.random_networks import random_network

oracle = pytest.importorskip(
    "tests.hydraulics.epanet_oracle", reason="owa-epanet has no wheel for this platform", exc_type=ImportError
)


@pytest.mark.parametrize("seed", range(30))
def test_random_network_agrees_with_the_oracle(seed: int) -> None:
    network = random_network(seed)
    solution = solve(network)
    assert isinstance(solution, Solution), solution
    found = oracle.resolve(network, solution, accuracy=1e-6)
    assert oracle.differences(solution, found) == []
