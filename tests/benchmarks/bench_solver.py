"""Solver benchmarks: time against the package `owa-epanet` as a ratio, and 500 random networks compared.

Run by hand: `python -m tests.benchmarks.bench_solver`. Figures are ratios within one run, so they hold on
any machine: building and solving the same network in memory, both ways, the best of several rounds.
Goals: a 12-head zone at most 1 time, 300 heads at most 5 times; 5,000 heads show how that grows.
"""

from __future__ import annotations

import os
import random
import time
from collections.abc import Callable

from epanet import toolkit as en

from plangen.hydraulics.network import Emitter, Link, Network, Node, Solution, SourceNode
from plangen.hydraulics.solve import solve
from plangen.quantity.dimension import FOOT_M, INCH_M
from tests.hydraulics.epanet_oracle import add_link, differences, resolve
from tests.hydraulics.random_networks import GPM, PSI_M, random_network

NOZZLE = Emitter(k_m3s_per_m05=0.4 * GPM / PSI_M**0.5)


def zone(heads: int) -> Network:
    """Return a source, meter, main and valve with laterals of six heads, each on its joint."""
    rng = random.Random(heads)
    curve = ((0.0, 0.0), (heads * GPM, 2 * PSI_M), (9 * heads * GPM, 15 * PSI_M))
    wide = max(1.380, 0.4 * heads**0.5) * INCH_M
    nodes = [Node(n, 0.0) for n in ("S", "M.in", "M.out", "V.in", "V.out")]
    links = [
        Link("P1", "S", "M.in", "pipe", "P1", 10.0, wide, 150.0),
        Link("M", "M.in", "M.out", "device", "M", curve_m3s_m=curve),
        Link("P2", "M.out", "V.in", "pipe", "P2", 20.0, wide, 150.0, 2.7),
        Link("V", "V.in", "V.out", "device", "V", curve_m3s_m=curve),
    ]
    before = "V.out"
    for i in range(heads):
        if i % 6 == 0:
            start = before if i == 0 else f"T{i - 6}"
            nodes.append(Node(f"T{i}", 0.0))
            links.append(Link(f"R{i}", start, f"T{i}", "pipe", "R", 4.5, wide, 150.0, 0.6))
            before = f"T{i}"
        nodes.append(Node(f"J{i}", rng.uniform(-0.5, 0.5)))
        nodes.append(Node(f"H{i}", rng.uniform(-0.5, 0.5), emitter=NOZZLE))
        links.append(Link(f"L{i}", before, f"J{i}", "pipe", "L", 15 * FOOT_M, 1.049 * INCH_M, 150.0, 0.6))
        links.append(Link(f"H{i}", f"J{i}", f"H{i}", "device", "H", diameter_m=1.049 * INCH_M, minor_k=1.8))
        before = f"J{i}"
    return Network(f"{heads} heads", ("Z",), (SourceNode("S", 60 * PSI_M),), tuple(nodes), tuple(links))


def best(work: Callable[[], object], rounds: int) -> float:
    """Return the least time in milliseconds of several rounds."""
    found = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return min(found) * 1e3


def build_and_solve(network: Network) -> None:
    """Build and solve a network of `zone` in the other solver, with nothing read back."""
    project = en.createproject()
    en.init(project, os.devnull, "", en.LPS, en.HW)
    en.setoption(project, en.ACCURACY, 1e-6)
    for node in network.nodes:
        kind = en.RESERVOIR if node.id == "S" else en.JUNCTION
        i = en.addnode(project, node.id, kind)
        level = network.sources[0].head_m if node.id == "S" else node.elevation_m
        en.setnodevalue(project, i, en.ELEVATION, level)
        if node.emitter is not None and node.emitter.k_m3s_per_m05 is not None:
            en.setnodevalue(project, i, en.EMITTER, node.emitter.k_m3s_per_m05 * 1e3)
    for link in network.links:
        add_link(project, link)
    en.openH(project)
    en.initH(project, en.NOSAVE)
    en.runH(project)
    en.closeH(project)
    en.deleteproject(project)


def compare_times() -> None:
    """Print own time, the other's time and their ratio by size."""
    for heads, rounds in ((12, 200), (300, 20), (5000, 2)):
        network = zone(heads)
        solution = solve(network)
        assert isinstance(solution, Solution), solution
        own = best(lambda n=network: solve(n), rounds)  # type: ignore[misc]
        other = best(lambda n=network: build_and_solve(n), rounds)  # type: ignore[misc]
        found = differences(solution, resolve(network, solution, accuracy=1e-6))
        print(
            f"{heads:5d} heads: own {own:8.3f} ms, other {other:8.3f} ms, ratio {own / other:5.2f}, "
            f"{solution.iterations} turns, {len(found)} differences"
        )


def compare_answers(count: int = 500) -> None:
    """Print how many random networks agree with the oracle within the project's bounds."""
    agreed, turns = 0, []
    for seed in range(count):
        network = random_network(seed)
        solution = solve(network)
        if not isinstance(solution, Solution):
            print(f"seed {seed}: {solution.code}: {solution.message}")
            continue
        turns.append(solution.iterations)
        found = differences(solution, _resolved(network, solution))
        agreed += not found
        for line in found[:3]:
            print(f"seed {seed}: {line}")
    mean = sum(turns) / len(turns)
    print(f"{agreed} of {count} random networks agree; turns: mean {mean:.1f}, most {max(turns)}")


def _resolved(network: Network, solution: Solution):  # type: ignore[no-untyped-def]
    """Resolve at the finest accuracy the other solver reaches."""
    try:
        return resolve(network, solution, accuracy=1e-8)
    except Exception:  # it reports an unbalanced ring by raising a plain Exception
        return resolve(network, solution, accuracy=1e-6)


if __name__ == "__main__":
    compare_times()
    compare_answers()
