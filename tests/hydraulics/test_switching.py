"""Check valves, regulators, outlets and sources that open, close, hold or run out, each failure by name."""

from __future__ import annotations

import math

import pytest

from plangen.hydraulics.network import Emitter, Link, Network, Node, Solution, SourceNode
from plangen.hydraulics.results import Failure
from plangen.hydraulics.solve import solve


def pipe(name: str, start: str, end: str, length: float = 10.0, **more: object) -> Link:
    return Link(name, start, end, "pipe", name, length, 0.02664, 150.0, **more)  # type: ignore[arg-type]


def solved(network: Network) -> Solution:
    solution = solve(network)
    assert isinstance(solution, Solution), solution
    return solution


def net(head: float, nodes: tuple[Node, ...], links: tuple[Link, ...]) -> Network:
    return Network("case", (), (SourceNode("S", head),), (Node("S", 0.0), *nodes), links)


REGULATOR = Link("R", "A", "B", "regulator", "R", curve_m3s_m=((0.0, 0.0), (1e-3, 5.0)), setting_m=20.0)
NOZZLE = Emitter(k_m3s_per_m05=5e-5)


def test_regulator_holds_its_setting_and_opens_when_the_supply_is_low() -> None:
    nodes = (Node("A", 0.0), Node("B", 1.0), Node("C", 0.0, emitter=NOZZLE))
    links = (pipe("P", "S", "A"), REGULATOR, pipe("Q", "B", "C"))
    high, low = solved(net(45.0, nodes, links)), solved(net(15.0, nodes, links))
    assert high.link("R").state == "regulating"
    assert high.node("B").pressure_m == pytest.approx(20.0, abs=1e-9)
    assert low.link("R").state == "open"
    flow = low.link("R").flow_m3s
    assert low.link("R").headloss_m == pytest.approx(5000 * flow, rel=1e-6)  # its curve: 5 m at 1e-3 m3/s


def test_regulator_in_a_ring_closes_against_higher_pressure() -> None:
    """The way around keeps the far side above the setting, so nothing passes the regulator."""
    nodes = (Node("A", 0.0), Node("B", 0.0), Node("C", 0.0, emitter=NOZZLE))
    links = (pipe("P", "S", "A"), REGULATOR, pipe("W", "S", "B"), pipe("Q", "B", "C"))
    solution = solved(net(45.0, nodes, links))
    assert solution.link("R").state == "closed"
    assert solution.link("R").flow_m3s == 0.0
    assert solution.node("B").pressure_m > 20.0


def test_check_valve_stops_backward_flow() -> None:
    """Two sources: the lower one stands behind a check valve and must not take water."""
    nodes = (Node("S", 0.0), Node("T", 0.0), Node("A", 0.0, 1e-4))
    links = (pipe("P", "S", "A"), Link("C", "T", "A", "pipe", "C", 10.0, 0.02664, 150.0, one_way=True))
    sources = (SourceNode("S", 40.0), SourceNode("T", 30.0))
    solution = solved(Network("two", (), sources, nodes, links))
    assert solution.link("C").state == "closed"
    assert solution.link("P").flow_m3s == pytest.approx(1e-4, rel=1e-9)


@pytest.mark.parametrize("head", [5.0, 12.0, 21.0, 21.2, 30.0, 60.0])
def test_regulated_body_follows_the_lesser_of_pressure_and_setting(head: float) -> None:
    law = Emitter(k_m3s_per_m05=5e-5, regulated_at_m=21.0)
    solution = solved(net(head, (Node("A", 0.0, emitter=law),), (pipe("P", "S", "A"),)))
    pressure = solution.node("A").pressure_m
    assert solution.node("A").outflow_m3s == pytest.approx(5e-5 * math.sqrt(min(pressure, 21.0)), rel=1e-9)


@pytest.mark.parametrize("head", [3.0, 7.0, 7.1, 20.0, 31.0])
def test_compensating_drip_is_constant_in_its_range_and_a_square_root_below(head: float) -> None:
    law = Emitter(constant_m3s=2e-5, constant_from_m=7.0, constant_to_m=31.5)
    solution = solved(net(head, (Node("A", 0.0, emitter=law),), (pipe("P", "S", "A"),)))
    share = min(1.0, math.sqrt(solution.node("A").pressure_m / 7.0))
    assert solution.node("A").outflow_m3s == pytest.approx(2e-5 * share, rel=1e-9)


TABLE = ((20.0, 8e-5), (30.0, 9.8e-5), (40.0, 11.3e-5))


@pytest.mark.parametrize(("head", "flow"), [(25.0, 8.9e-5), (30.0, 9.8e-5), (39.0, 11.15e-5), (5.0, 4e-5)])
def test_table_is_linear_between_points_and_a_square_root_before_the_first(head: float, flow: float) -> None:
    short = Link("P", "S", "A", "device", "P", minor_k=1e-9, diameter_m=0.05)
    solution = solved(net(head, (Node("A", 0.0, emitter=Emitter(table_m_m3s=TABLE)),), (short,)))
    assert solution.node("A").outflow_m3s == pytest.approx(flow, rel=1e-6)


def failure_of(network: Network) -> Failure:
    found = solve(network)
    assert isinstance(found, Failure)
    return found


def test_pressure_beyond_the_table_is_named() -> None:
    outlet = Node("A", 0.0, emitter=Emitter(table_m_m3s=TABLE))
    found = failure_of(net(60.0, (outlet,), (pipe("P", "S", "A"),)))
    assert (found.code, found.objects) == ("curve-left", ("A",))


def test_flow_beyond_the_residual_test_is_named() -> None:
    curve = ((0.0, 0.0), (1e-4, 10.0))
    source = (SourceNode("S", 50.0, curve),)
    pipes = (pipe("P", "S", "A"),)
    inside = solved(Network("r", (), source, (Node("S", 0.0), Node("A", 0.0, 5e-5)), pipes))
    assert inside.node("S").head_m == pytest.approx(45.0, abs=1e-9)
    beyond = failure_of(Network("r", (), source, (Node("S", 0.0), Node("A", 0.0, 2e-4)), pipes))
    assert beyond.code == "curve-left"


def test_a_node_without_a_way_to_the_source_is_named() -> None:
    found = failure_of(net(40.0, (Node("A", 0.0), Node("B", 0.0, 1e-4)), (pipe("P", "S", "A"),)))
    assert (found.code, found.objects) == ("cut-off", ("B",))


def test_a_demand_that_pulls_pressure_below_zero_is_named() -> None:
    found = failure_of(net(5.0, (Node("A", 0.0, 5e-3),), (pipe("P", "S", "A", 100.0),)))
    assert (found.code, found.objects) == ("demand-not-met", ("A",))


def test_an_idle_symmetric_ring_settles() -> None:
    """Both halves equal: the link across carries nothing, the case other solvers may never finish."""
    nodes = tuple(Node(n, 0.0, d) for n, d in (("A", 0.0), ("B", 1e-4), ("C", 1e-4), ("D", 0.0)))
    links = (pipe("P", "S", "A"), pipe("AB", "A", "B"), pipe("AC", "A", "C"), pipe("BC", "B", "C"),
             pipe("BD", "B", "D"), pipe("CD", "C", "D"))  # fmt: skip
    solution = solved(net(40.0, nodes, links))
    assert solution.link("BC").flow_m3s == pytest.approx(0.0, abs=1e-9)
    assert solution.link("AB").flow_m3s == pytest.approx(1e-4, rel=1e-6)
