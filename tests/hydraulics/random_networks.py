"""Random irrigation networks for comparing solvers: trees and loops, every outlet law, devices, regulators.

Values stay in the range of small waterworks. Loss curves rise, since the oracle is wrong where they fall.
"""

from __future__ import annotations

import random

from plangen.hydraulics.network import Emitter, Link, Network, Node, SourceNode
from plangen.quantity.dimension import FOOT_M, INCH_M, pressure_to_head_m
from plangen.quantity.quantity import to_si

BORES_IN = (0.824, 1.049, 1.189, 1.380, 1.610, 2.067, 2.149)
PSI_M = pressure_to_head_m(to_si(1.0, "psi"))
GPM = to_si(1.0, "gpm")


def random_network(seed: int) -> Network:
    """Return the network of a seed: a main with branches, in every third case with one to three loops."""
    rng = random.Random(seed)
    count = rng.randint(3, 30)
    head = rng.uniform(45, 90) * PSI_M
    nodes = [Node("S", 0.0)]
    links = [_device("M", "S", "N0", rng), _pipe("P0", "N0", "N1", rng, rng.uniform(1, 60))]
    nodes += [Node("N0", 0.0), Node("N1", rng.uniform(-2, 2))]
    for i in range(2, count):
        parent = f"N{rng.randint(max(1, i - 4), i - 1)}"
        outlet = rng.random() < 0.6
        nodes.append(Node(f"N{i}", rng.uniform(-3, 3), emitter=_emitter(rng) if outlet else None))
        kind = rng.random()
        if kind < 0.12:
            nodes.append(Node(f"V{i}", nodes[-1].elevation_m))
            links.append(_pipe(f"Q{i}", parent, f"V{i}", rng, rng.uniform(1, 20)))
            links.append(_device(f"D{i}", f"V{i}", f"N{i}", rng))
        else:
            links.append(_pipe(f"P{i}", parent, f"N{i}", rng, rng.uniform(1, 60)))
    if seed % 3 == 0 and count > 5:
        for j in range(rng.randint(1, 3)):
            a, b = rng.sample(range(1, count), 2)
            links.append(_pipe(f"L{j}", f"N{a}", f"N{b}", rng, rng.uniform(5, 80)))
    if seed % 4 == 0:
        setting = rng.uniform(15, 30) * PSI_M
        links.append(Link("RG", "N1", "RO", "regulator", "RG", 0.0, 0.02, minor_k=3.0, setting_m=setting))
        nodes.append(Node("RO", nodes[2].elevation_m))
        plain = Emitter(k_m3s_per_m05=0.4 * GPM / PSI_M**0.5)
        nodes.append(Node("RE", rng.uniform(-1, 1), emitter=plain))
        links.append(_pipe("RP", "RO", "RE", rng, 25.0))
    nodes = _without_dead_ends(nodes, links, rng)
    house = Node("HS", rng.uniform(-1, 1), rng.uniform(0, 4) * GPM)
    links.append(_pipe("PH", "N0", "HS", rng, rng.uniform(5, 40)))
    curve = ((0.0, 0.0), (20 * GPM, 2.0), (150 * GPM, 25.0)) if seed % 5 == 0 else ()
    return Network(f"random {seed}", ("Z",), (SourceNode("S", head, curve),), (*nodes, house), tuple(links))


def _without_dead_ends(nodes: list[Node], links: list[Link], rng: random.Random) -> list[Node]:
    """Give every end an outlet: plangen leaves idle ends out, and the oracle's noise there means nothing."""
    meets = [name for link in links for name in (link.start, link.end)]
    ends = {n.id for n in nodes if meets.count(n.id) == 1 and n.emitter is None and n.id != "S"}
    return [Node(n.id, n.elevation_m, n.demand_m3s, _emitter(rng)) if n.id in ends else n for n in nodes]


def _pipe(name: str, start: str, end: str, rng: random.Random, feet: float) -> Link:
    return Link(name, start, end, "pipe", name, feet * FOOT_M, rng.choice(BORES_IN) * INCH_M,
                rng.choice((130.0, 140.0, 150.0)), rng.choice((0.0, 0.6, 1.8, 4.5)))  # fmt: skip


def _device(name: str, start: str, end: str, rng: random.Random) -> Link:
    if rng.random() < 0.4:
        bore = rng.choice((0.025, 0.032, 0.04))
        return Link(name, start, end, "device", name, diameter_m=bore, minor_k=2.5)
    flow, loss = 0.0, 0.0
    points = [(0.0, 0.0)]
    for _ in range(rng.randint(2, 6)):
        flow += rng.uniform(1, 12) * GPM
        loss += rng.uniform(0.1, 2.0) * PSI_M
        points.append((flow, loss))
    points.append((flow + 400 * GPM, loss + 300 * PSI_M))
    return Link(name, start, end, "device", name, curve_m3s_m=tuple(points))


def _emitter(rng: random.Random) -> Emitter:
    k = rng.uniform(0.1, 0.7) * GPM / PSI_M**0.5
    law = rng.randint(0, 3)
    if law == 0:
        return Emitter(k_m3s_per_m05=k)
    if law == 1:
        return Emitter(k_m3s_per_m05=k, regulated_at_m=rng.uniform(25, 45) * PSI_M)
    if law == 2:
        return Emitter(constant_m3s=rng.uniform(0.1, 2) * GPM, constant_from_m=10 * PSI_M)
    heads = [p * PSI_M for p in (15, 25, 35, 45, 60, 100, 160)]
    points = [(p, k * p**0.5 * rng.uniform(0.99, 1.01)) for p in heads]
    return Emitter(table_m_m3s=tuple(points))
