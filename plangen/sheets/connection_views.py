"""The windows of the connection plan: one about meter, tap and isolation valve, one about the assembly.

Both become one where a common window fits at an enlarged scale. Chooses scales; draws nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from plangen.geometry.point import Point, at, bounds, distance
from plangen.layout.ties import Corner, corners
from plangen.model.design import Design
from plangen.model.waterworks import Device
from plangen.sheets.connection_path import in_line
from plangen.sheets.viewport import Viewport, choose_scale

# Enlarged scales of the connection plan, 1:24 to 1:60 (metric 1:20 and 1:50).
SCALES: dict[str, tuple[int, ...]] = {"us": (24, 48, 60), "metric": (20, 50)}
PAD_M = 1.1
# A fixed corner nearer than this to an object is taken into its view.
CORNER_REACH_M = 4.0
# Views farther apart than this in scale terms are drawn apart.
_LEAST_MM = 70.0


@dataclass(frozen=True, slots=True)
class ConnectionView:
    """One window: its title, viewport, and the devices it is about."""

    title: str
    view: Viewport
    devices: tuple[str, ...]


def fixed_corners(design: Design) -> tuple[Corner, ...]:
    """Return the named corners of buildings and lot."""
    site = design.site
    areas = [*site.buildings, *([site.lot] if site.lot else [])]
    return tuple(c for area in areas for c in corners(area))


def connection_views(
    design: Design, system: str, room: tuple[float, float], under: float = 0.0
) -> tuple[ConnectionView, ...]:
    """Return the views of the connection, largest standard scale that fits, none larger than `room` (mm).

    Two views fill the room side by side, save `under` mm at its foot unless a scale is gained there.
    """
    meter = [d for d in design.devices if d.kind in ("meter", "tap", "isolation") and d.state != "removed"]
    assembly = list(design.standing("assembly"))
    groups = [
        ("CONNECTION AT THE METER", [(d.name, d.point) for d in meter]),
        ("CONNECTION AT THE ASSEMBLY", [(d.name, d.point) for d in assembly]),
    ]
    groups = [g for g in groups if g[1]]
    if not groups:
        return ()
    near = fixed_corners(design)
    everything = ("CONNECTION PLAN", [item for _, items in groups for item in items])
    # one view of both is worth its room only where it leaves some for the rest of the sheet
    modest = (room[0] * 0.62, room[1] * 0.8)
    whole = _view(*everything, near, SCALES[system][1:], modest, strict=True)
    half = (room[0] / 2 - 4.0, room[1])
    behind = {groups[-1][0]: _behind(design, assembly)}
    found = [
        _view(title, items, near, SCALES[system], half, False, room[1] - under, behind.get(title, ()))
        for title, items in groups
    ]
    halves = tuple(v for v in found if v is not None)
    # two views are worth the cut where each gains a scale by it
    if whole is not None and any(v.view.denominator >= whole.view.denominator for v in halves):
        return (whole,)
    return halves


def _behind(design: Design, assemblies: Sequence[Device]) -> tuple[Point, ...]:
    """Places of what stands in line behind the assemblies, up to a tee: filters, injectors, master valves.

    Nothing where the first that the water meets is that tee.
    """
    lines = [[design.device(name) for name in in_line(design, a.name)] for a in assemblies]
    met = [d for line in lines for d in line if d is not None]
    return tuple(d.point for d in met) if any(d.kind != "tee" for d in met) else ()


def _view(
    title: str,
    items: Sequence[tuple[str, Point]],
    near: Sequence[Corner],
    scales: Sequence[int],
    room: tuple[float, float],
    strict: bool,
    fill: float = 0.0,
    behind: Sequence[Point] = (),
) -> ConnectionView | None:
    """The view of some items with the corners near them, and as much of what stands `behind` them as fits."""
    points = [p for _, p in items]
    taken = [c.point for c in near if any(distance(c.point, p) <= CORNER_REACH_M for p in points)]
    for more in range(len(behind), -1, -1):
        extent = bounds([*points, *taken, *behind[:more]])
        width, height = extent[2] - extent[0] + 2 * PAD_M, extent[3] - extent[1] + 2 * PAD_M
        denominator = choose_scale(width, height, room[0], room[1], scales)
        if denominator is not None:
            break
    if denominator is None:
        if strict:
            return None
        denominator = scales[-1]
    per_m = 1000.0 / denominator
    wide = min(room[0], max(width * per_m, room[0] * (1.0 if fill else 0.9)))
    tall = min(room[1], max(height * per_m, _LEAST_MM, fill or room[1] * 0.62))
    centre = at((extent[0] + extent[2]) / 2, (extent[1] + extent[3]) / 2)
    return ConnectionView(
        title, Viewport(denominator, centre, (0.0, 0.0, wide, tall)), tuple(n for n, _ in items)
    )
