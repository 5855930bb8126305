"""The network that is solved: nodes and links in SI, one for each load case. Plain data, no behaviour.

Ids are the design's names (`Z1.H1`, `BF1.in`), unnamed junctions `Z1.L1.3`. A device is a link between
its `.in` and `.out` node.
"""

from __future__ import annotations

from dataclasses import dataclass

# States of a solved link.
OPEN, CLOSED, REGULATING = "open", "closed", "regulating"


@dataclass(frozen=True, slots=True)
class Emitter:
    """An outlet's law, pressure head in metres against flow in m3/s. Exactly one of the three is given.

    Below its first point a table follows the square root through that point. A constant flow holds from
    `constant_from_m` to `constant_to_m` (None: without end) and follows the square root below.
    """

    k_m3s_per_m05: float | None = None
    table_m_m3s: tuple[tuple[float, float], ...] = ()
    constant_m3s: float | None = None
    regulated_at_m: float | None = None
    constant_from_m: float = 0.0
    constant_to_m: float | None = None


@dataclass(frozen=True, slots=True)
class Node:
    """A junction or outlet; `elevation_m` is the nozzle's for an outlet, the pipe's elsewhere."""

    id: str
    elevation_m: float
    demand_m3s: float = 0.0
    emitter: Emitter | None = None


@dataclass(frozen=True, slots=True)
class Link:
    """A pipe or device. `minor_k` refers to the link's own bore, `object` names the design's object.

    With `free_surface` the water behind it stands open to the air at the height of its end, as behind an air
    gap: it lets through what is drawn there and passes on no pressure. It is a regulator that holds nothing.
    """

    id: str
    start: str
    end: str
    kind: str  # pipe, device, regulator, pump
    object: str
    length_m: float = 0.0
    diameter_m: float = 0.0
    hazen_williams_c: float = 0.0
    minor_k: float = 0.0
    curve_m3s_m: tuple[tuple[float, float], ...] = ()
    setting_m: float | None = None
    one_way: bool = False
    free_surface: bool = False
    fittings: tuple[str, ...] = ()
    loss_source: str = ""


@dataclass(frozen=True, slots=True)
class SourceNode:
    """A node of known head; with `curve_m3s_m` the head falls by the curve's loss at its outflow."""

    node: str
    head_m: float
    curve_m3s_m: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Network:
    """One load case before solving."""

    case: str
    zones: tuple[str, ...]
    sources: tuple[SourceNode, ...]
    nodes: tuple[Node, ...]
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class NodeResult:
    """The solved state of a node: head above datum, outlet flow."""

    node: Node
    head_m: float
    outflow_m3s: float

    @property
    def pressure_m(self) -> float:
        """Return the pressure head in metres."""
        return self.head_m - self.node.elevation_m


@dataclass(frozen=True, slots=True)
class LinkResult:
    """The solved state of a link; flow positive from start to end, loss = head at start - head at end."""

    link: Link
    flow_m3s: float
    headloss_m: float
    velocity_ms: float
    state: str = OPEN


@dataclass(frozen=True, slots=True)
class Solution:
    """A solved load case. `iterations` and `residual_m3s` say how well."""

    network: Network
    nodes: tuple[NodeResult, ...]
    links: tuple[LinkResult, ...]
    iterations: int
    residual_m3s: float

    def node(self, node_id: str) -> NodeResult:
        """Return the result at a node. Raises KeyError if the case has no such node."""
        for n in self.nodes:
            if n.node.id == node_id:
                return n
        raise KeyError(node_id)

    def link(self, link_id: str) -> LinkResult:
        """Return the result of a link. Raises KeyError if the case has no such link."""
        for found in self.links:
            if found.link.id == link_id:
                return found
        raise KeyError(link_id)
