"""The networks of `report.json` say enough: from their numbers alone another solver finds the same."""

from __future__ import annotations

import json
from typing import Any

import pytest

from plangen.hydraulics.network import (
    Emitter,
    Link,
    LinkResult,
    Network,
    Node,
    NodeResult,
    Solution,
    SourceNode,
)
from plangen.hydraulics.report import networks_json
from tests.hydraulics.residential import analysed_with

oracle = pytest.importorskip(
    "tests.hydraulics.epanet_oracle", reason="owa-epanet has no wheel for this platform", exc_type=ImportError
)


def as_written(found: dict[str, Any]) -> Solution:
    """Return what one entry of the report says, as a network with its claimed solution."""
    nodes, links = [], []
    for n in found["nodes"]:
        law = n.get("emitter")
        emitter = None
        if law is not None:
            table = tuple(tuple(p) for p in law.get("table_m_m3s", ()))
            k, constant = law.get("k_m3s_per_m05"), law.get("constant_m3s")
            emitter = Emitter(k, table, constant, n.get("regulated_at_m"))
        node = Node(n["id"], n["elevation_m"], n["demand_m3s"], emitter)
        nodes.append(NodeResult(node, n["head_m"], n["outflow_m3s"]))
    for item in found["links"]:
        link = Link(
            item["id"], item["from"], item["to"], item["kind"], item["id"],
            item.get("length_m", 0.0), item.get("diameter_m", 0.0), item.get("hazen_williams_c", 0.0),
            item.get("minor_k", 0.0), tuple(tuple(p) for p in item.get("curve_m3s_m", ())),
            item.get("setting_m"), item.get("one_way", False),
        )  # fmt: skip
        links.append(
            LinkResult(link, item["flow_m3s"], item["headloss_m"], item["velocity_ms"], item["state"])
        )
    sources = tuple(
        SourceNode(s["node"], s["head_m"], tuple(tuple(p) for p in s.get("curve_m3s_m", ())))
        for s in found["sources"]
    )
    parts = tuple(n.node for n in nodes), tuple(r.link for r in links)
    network = Network(found["case"], tuple(found["zones"]), sources, *parts)
    return Solution(network, tuple(nodes), tuple(links), 0, 0.0)


CHANGES = {
    "as it is": (),
    "low supply": (("lowest 58 psi", "lowest 33 psi"),),
    "together": (("days 3", "days 3\n  together Z1, Z4"),),
    "residual test": (("depth 36 in", "residual 45 psi at 30 gpm, depth 36 in"),),
}


@pytest.mark.parametrize("name", CHANGES)
def test_report_can_be_recomputed(name: str) -> None:
    hydraulics = analysed_with(*CHANGES[name])
    assert not hydraulics.failures, hydraulics.failures
    for found in json.loads(json.dumps(networks_json(hydraulics))):
        written = as_written(found)
        assert oracle.differences(written, oracle.resolve(written.network, written)) == [], found["case"]
