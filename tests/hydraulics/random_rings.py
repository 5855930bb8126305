"""Random rings with check valves in them and two regulators across them, for comparing solvers.

Plain nozzles only, so that the other solver needs to be told no state: what opens, closes and regulates it
finds by itself.
"""

from __future__ import annotations

import random

from plangen.hydraulics.network import Emitter, Link, Network, Node, SourceNode
from plangen.quantity.dimension import INCH_M
from tests.hydraulics.random_networks import BORES_IN, GPM, PSI_M


def random_ring(seed: int) -> Network:
    """Return the ring of a seed: five to nine nodes, a quarter of its pipes with a check valve."""
    rng = random.Random(seed)
    names = [f"N{i}" for i in range(rng.randint(5, 9))]
    level = {name: rng.uniform(-3, 3) for name in names}
    links = [_pipe(rng, "P", "S", "N0")]
    for i, name in enumerate(names):
        ends = (name, names[(i + 1) % len(names)])
        a, b = ends[::-1] if rng.random() < 0.3 else ends
        links.append(_pipe(rng, f"P{i}", a, b, one_way=rng.random() < 0.25))
    held: list[str] = []
    for j in range(2):
        a, b = rng.sample(names[1:], 2)
        if b not in level or b in held:
            continue
        held.append(b)
        level[f"R{j}.out"] = level[b]
        setting = rng.uniform(15, 38) * PSI_M
        links.append(Link(f"R{j}", a, f"R{j}.out", "regulator", f"R{j}", 0.0, 0.025, minor_k=3.0,
                          setting_m=setting))  # fmt: skip
        links.append(_pipe(rng, f"Q{j}", f"R{j}.out", b))
    outlets = set(rng.sample(names[1:], rng.randint(2, 4)))
    nodes = [Node("S", 0.0)]
    for name, height in level.items():
        demand = rng.choice((0.0, 0.0, GPM)) if name in names else 0.0
        nozzle = Emitter(k_m3s_per_m05=rng.uniform(0.3, 1.0) * GPM / PSI_M**0.5)
        nodes.append(Node(name, height, demand, nozzle if name in outlets else None))
    head = rng.uniform(35, 75) * PSI_M
    return Network(f"ring {seed}", (), (SourceNode("S", head),), tuple(nodes), tuple(links))


def _pipe(rng: random.Random, name: str, start: str, end: str, *, one_way: bool = False) -> Link:
    return Link(name, start, end, "pipe", name, rng.uniform(2, 25), rng.choice(BORES_IN) * INCH_M,
                rng.choice((130.0, 140.0, 150.0)), rng.choice((0.0, 0.6, 1.8)), one_way=one_way)  # fmt: skip
