"""An air gap parts the water: what comes to it drives nothing behind it; what is drawn behind it must come.

An air gap is an unobstructed fall between the outlet of the supply and the flood level of what it fills (ASME
A112.1.2, from memory); so the water behind starts at no pressure at the height of the gap. The oracle solves
the two halves as two networks that know nothing of each other.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from plangen.hydraulics.mishaps import BEHIND_A_GAP
from plangen.hydraulics.network import Network, SourceNode
from plangen.hydraulics.results import CaseResult, Hydraulics
from plangen.hydraulics.solve import solve
from plangen.hydraulics.still_water import static_heads
from plangen.quantity.dimension import head_to_pressure_pa, pressure_to_head_m
from plangen.quantity.quantity import Dimension, si_to
from tests.hydraulics.epanet_oracle import resolve
from tests.hydraulics.ready import ready_with
from tests.hydraulics.residential import analysed_with

ASSEMBLY = (
    "assembly BF1 pvb-1, pvb, at 10 ft east and 1 ft south of House.southwest, size 1 in,"
    " critical level 28 in above grade, wall House, clearance 12 in,"
    ' insulation "fitted foam jacket, vents left open", supports "two galvanised posts",'
    ' drain "spills to grade, slopes away from the wall"'
)
GAP = (
    ASSEMBLY,
    "assembly BF1 at 10 ft east and 1 ft south of House.southwest, air gap, size 1 in, height 28 in",
)
PUMP = (
    (
        "pipe P3 pvc-sch40 1-1/4 in, route BF1 -> N1, cover 18 in",
        "pipe P3 pvc-sch40 1-1/4 in, route BF1 -> PU1, cover 18 in\n"
        "  pump PU1 pump-1, at (23.5, 44.6), size 1 in, height 6 in\n"
        "  pipe P3b pvc-sch40 1-1/4 in, route PU1 -> N1, cover 18 in",
    ),
    (
        "part spray-15q {",
        'part pump-1 {\n  kind pump\n  label "Pump of the tank"\n  size 1 in\n'
        '  gain (0 gpm, 62 psi) (40 gpm, 50 psi)\n  from data sheet "PU-1"\n}\n\npart spray-15q {',
    ),
)
BEHIND = (GAP, *PUMP)


def _street(static: str, lowest: str) -> tuple[tuple[str, str], ...]:
    return (
        ("static 64 psi measured 2026-04-20", f"static {static} measured 2026-04-20"),
        ("lowest 58 psi", f"lowest {lowest}"),
    )


def _pressures(found: Hydraulics) -> dict[str, float]:
    assert not found.failures, found.failures
    return {o.node: o.pressure_m for c in found.cases for o in c.outlets}


def test_the_street_s_pressure_changes_nothing_behind_a_gap() -> None:
    weak = _pressures(analysed_with(*BEHIND, *_street("50 psi", "44 psi")))
    strong = _pressures(analysed_with(*BEHIND, *_street("90 psi", "84 psi")))
    assert weak == pytest.approx(strong, abs=1e-6)
    assert min(weak.values()) > 0.0


@pytest.mark.parametrize("zone", ["Z1", "Z4"])
def test_the_two_sides_are_two_networks(zone: str) -> None:
    case = next(c for c in analysed_with(*BEHIND).cases if c.case == zone)
    drawn = case.solution.link("BF1").flow_m3s
    assert drawn == pytest.approx(case.total_flow_m3s, rel=1e-6)
    for side in (_behind(case), _before(case, drawn)):
        alone = solve(side)
        assert not hasattr(alone, "code"), alone
        oracle = resolve(side, alone)
        together = {n.node.id: n.pressure_m for n in case.solution.nodes}
        for node, pressure_m in oracle.pressure_m.items():
            assert together[node] == pytest.approx(pressure_m, abs=0.02), node


def _behind(case: CaseResult) -> Network:
    network = case.solution.network
    level = next(n.elevation_m for n in network.nodes if n.id == "BF1.out")
    kept = _joined(network, "BF1.out")
    return _part(network, kept, SourceNode("BF1.out", level))


def _before(case: CaseResult, drawn_m3s: float) -> Network:
    network = case.solution.network
    side = _part(network, _joined(network, network.sources[0].node), network.sources[0])
    nodes = tuple(replace(n, demand_m3s=drawn_m3s) if n.id == "BF1.in" else n for n in side.nodes)
    return replace(side, nodes=nodes)


def _part(network: Network, kept: set[str], source: SourceNode) -> Network:
    nodes = tuple(n for n in network.nodes if n.id in kept)
    links = tuple(k for k in network.links if k.start in kept and k.end in kept)
    return replace(network, sources=(source,), nodes=nodes, links=links)


def _joined(network: Network, start: str) -> set[str]:
    near: dict[str, list[str]] = {}
    for link in network.links:
        if link.id != "BF1":
            near.setdefault(link.start, []).append(link.end)
            near.setdefault(link.end, []).append(link.start)
    found, queue = {start}, [start]
    while queue:
        for other in near.get(queue.pop(), ()):
            if other not in found:
                found.add(other)
                queue.append(other)
    return found


def test_without_a_pump_a_gap_leaves_only_its_height() -> None:
    for case in analysed_with(GAP).cases:
        gap = next(n for n in case.solution.nodes if n.node.id == "BF1.out")
        assert gap.pressure_m == pytest.approx(0.0, abs=1e-6)
        assert all(o.pressure_m < gap.node.elevation_m - 29.0 for o in case.outlets), "the datum is 100 ft"


def test_what_ends_at_a_gap_is_no_reserve_of_the_outlets() -> None:
    for case in analysed_with(*BEHIND).cases:
        for outlet in case.outlets:
            assert outlet.regulator_m == pytest.approx(0.0, abs=1e-9) or case.case == "Z4"


def test_a_supply_that_cannot_fill_is_told_and_not_sucked_from() -> None:
    found = analysed_with(*BEHIND, *_street("64 psi", "6 psi"))
    assert {(f.case, f.code, f.objects) for f in found.failures} == {
        (zone, "demand-not-met", ("BF1",)) for zone in ("Z1", "Z2", "Z3")
    }
    assert [c.case for c in found.cases] == ["Z4"], "a zone that draws little is still filled"


def test_still_water_behind_a_gap_stands_at_what_the_pump_gains_at_no_flow() -> None:
    ready, _ = ready_with(*BEHIND)
    heads = static_heads(ready)
    level = ready.elevations["BF1.out"].m
    assert level is not None
    gain_m = pressure_to_head_m(62 * 6894.757293168)
    assert heads["BF1.out"] == pytest.approx(level)
    assert heads["V1.in"] == pytest.approx(level + gain_m)


def test_still_water_behind_a_pump_alone_has_the_street_s_pressure_and_the_gain() -> None:
    with_pump, without = (static_heads(ready_with(*changes)[0]) for changes in (PUMP, ()))
    gained = si_to(head_to_pressure_pa(with_pump["V1.in"] - without["V1.in"]), Dimension.PRESSURE, "psi")
    assert gained == pytest.approx(62.0, abs=1e-6)
    assert with_pump["BF1.in"] == pytest.approx(without["BF1.in"])


def test_a_gain_that_is_not_told_at_no_flow_leaves_the_still_pressure_unknown() -> None:
    late = (PUMP[0], (PUMP[1][0], PUMP[1][1].replace("(0 gpm, 62 psi)", "(4 gpm, 61 psi)")))
    pipes = {p.pipe: p for p in analysed_with(*late).pipes}
    assert pipes["P1"].static_known
    assert pipes["P3b"].static_missing == ("the gain of PU1 at no flow is not stated",)


def test_a_broken_main_behind_a_gap_has_no_figure() -> None:
    studies = analysed_with(*BEHIND).studies
    assert studies is not None
    assert [(b.flow_m3s, b.missing) for b in studies.breaks] == [(None, BEHIND_A_GAP)]


def test_a_device_without_a_height_stands_at_one_level() -> None:
    """Nothing rises inside a device: both ends lie at the depth of the deeper of its two pipes."""
    deep = (
        PUMP[0][0],
        PUMP[0][1].replace("BF1 -> PU1, cover 18 in", "BF1 -> PU1, cover 30 in").replace(", height 6 in", ""),
    )
    ready, _ = ready_with((deep[0], deep[1]), PUMP[1])
    ends = [ready.elevations[node].m for node in ("PU1.in", "PU1.out")]
    assert ends[0] == ends[1]
    ground = ready.surface.elevation_m(ready.wiring.places["PU1.in"].point)
    assert ground is not None and ends[0] == pytest.approx(ground - 30 * 0.0254)
