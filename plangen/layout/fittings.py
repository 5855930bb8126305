"""Fittings counted from what really meets and turns: tees, ells by angle, reducers, adapters, caps.

In: the joints of the piping. Out: one `Fitting` for each piece. A fitting is new when a new pipe or outlet
meets at it. Reducing tees are told by their sizes; a plain tee with bushings serves as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from plangen.layout.legs import Joint, Leg, is_new, joints
from plangen.model.design import Design
from plangen.model.waterworks import Device

# (greatest turn in degrees, fittings); half-way between the angles that are made. Common practice, no source.
TURNS: tuple[tuple[float, tuple[str, ...]], ...] = (
    (11.25, ()),
    (33.75, ("22-1/2 degree ell",)),
    (67.5, ("45 degree ell",)),
    (112.5, ("90 degree ell",)),
    (157.5, ("90 degree ell", "45 degree ell")),
    (180.0, ("90 degree ell", "90 degree ell")),
)
INLINE_KINDS = (
    "assembly", "blow-out", "drain", "flow-sensor", "injector", "isolation", "master-valve", "meter", "pump",
    "quick-coupler", "regulator", "strainer", "valve",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fitting:
    """One fitting. `sockets_m` are the nominal sizes of its cemented sockets, `at` what it serves."""

    item: str
    size: str
    material: str
    sockets_m: tuple[float, ...]
    at: tuple[str, ...]


def count_fittings(design: Design) -> tuple[Fitting, ...]:
    """Return every new fitting of the piping."""
    found: list[Fitting] = []
    ends = {design.source.name if design.source else "", design.house.name if design.house else ""}
    devices = {d.name: d for d in design.devices}
    for joint in joints(design):
        device = devices.get(joint.node)
        if not any(leg.new for leg in joint.legs) or (joint.node and joint.node in ends):
            continue
        if device is not None and device.kind in INLINE_KINDS:
            found.extend(_adapters(device, joint))
        elif device is None or (device.kind == "tee" and is_new(device.state)):
            found.extend(_junction(joint))
    return tuple(found)


def turn_fittings(turn_deg: float) -> tuple[str, ...]:
    """Return the fittings that make a turn of so many degrees (0 is straight on)."""
    return next(items for most, items in TURNS if turn_deg <= most + 1e-9)


def _adapters(device: Device, joint: Joint) -> Iterator[Fitting]:
    """Return an adapter from pipe to thread for each new pipe at an inline device."""
    size = device.size or (device.part.size if device.part else None)
    for leg in joint.legs:
        if leg.new and leg.bearing_deg is not None:
            words = f"{leg.size} x {size.written if size else leg.size}"
            item = f"adapter, {leg.material} to thread"
            yield Fitting(item, words, leg.material, (leg.size_m,), (device.name,))


def _junction(joint: Joint) -> Iterator[Fitting]:
    pipes = [leg for leg in joint.legs if leg.bearing_deg is not None]
    outlets = [leg for leg in joint.legs if leg.bearing_deg is None]
    at = (joint.node,) if joint.node else ()
    if not pipes:
        return
    if len(pipes) == 1 and not outlets:
        leg = pipes[0]
        yield Fitting(f"cap, {leg.material}", leg.size, leg.material, (leg.size_m,), at or (leg.object,))
    elif len(pipes) == 1 and len(outlets) == 1:
        leg = pipes[0]
        size = f"{leg.size} x {outlets[0].size}"
        item = f"90 degree ell, {leg.material} to thread"
        yield Fitting(item, size, leg.material, (leg.size_m,), at or (outlets[0].object,))
    elif len(pipes) == 2 and not outlets:
        yield from _turn(pipes[0], pipes[1], at or (pipes[0].object,))
        yield from _change(pipes[0], pipes[1], at or (pipes[0].object,))
    else:
        yield from _tees(pipes, outlets, at)


def _turn(a: Leg, b: Leg, at: tuple[str, ...]) -> Iterator[Fitting]:
    """Return the ells of the turn from one pipe to another, in the larger size."""
    larger = max(a, b, key=lambda leg: (leg.size_m, leg.object))
    for item in turn_fittings(_turn_deg(a, b)):
        words = f"{item}, {larger.material}"
        yield Fitting(words, larger.size, larger.material, (larger.size_m, larger.size_m), at)


def _change(a: Leg, b: Leg, at: tuple[str, ...]) -> Iterator[Fitting]:
    """Return what joins two pipes of unlike size or material, or two pipes end to end."""
    large, small = sorted((a, b), key=lambda leg: (-leg.size_m, leg.object))
    if a.material != b.material:
        item = f"transition coupling, {large.material} to {small.material}"
        yield Fitting(item, f"{large.size} x {small.size}", large.material, (), at)
    elif a.size != b.size:
        sockets = (large.size_m, small.size_m)
        item = f"reducer coupling, {large.material}"
        yield Fitting(item, f"{large.size} x {small.size}", large.material, sockets, at)
    elif a.object != b.object and not turn_fittings(_turn_deg(a, b)):
        item = f"coupling, {large.material}"
        yield Fitting(item, large.size, large.material, (large.size_m, large.size_m), at)


def _tees(pipes: Sequence[Leg], outlets: Sequence[Leg], at: tuple[str, ...]) -> Iterator[Fitting]:
    """Return the tees where three or more legs meet, one for each leg that is not the run."""
    if len(pipes) >= 2:
        run = min(
            combinations(sorted(pipes, key=lambda leg: leg.object), 2),
            key=_run_order,
        )
        branches = [leg for leg in (*pipes, *outlets) if leg not in run] or list(outlets)
        yield from _turn(run[0], run[1], at or (run[0].object,))
    else:
        run = (pipes[0], outlets[0])
        branches = list(outlets[1:])
    first, second = sorted(run, key=lambda leg: (-leg.size_m, leg.object))
    branches.sort(key=lambda leg: (leg.bearing_deg is None, -leg.size_m, leg.object))
    for i, branch in enumerate(branches):
        end = second if i == len(branches) - 1 else first
        where = at or ((branch.object,) if branch.bearing_deg is None else (first.object,))
        yield _tee(first, end, branch, where)
        if branch.bearing_deg is not None:
            yield from _branch_turn(first, branch, where)


def _run_order(pair: tuple[Leg, Leg]) -> tuple[float, float, str, str]:
    """Order pairs of pipes as the run of a tee: the largest pair first, of like pairs the straightest."""
    a, b = pair
    return -min(a.size_m, b.size_m), round(_turn_deg(a, b), 3), a.object, b.object


def _tee(first: Leg, end: Leg, branch: Leg, at: tuple[str, ...]) -> Fitting:
    threaded = branch.bearing_deg is None
    item = f"tee, {first.material}, threaded branch" if threaded else f"tee, {first.material}"
    sockets = tuple(leg.size_m for leg in (first, end, branch) if leg.bearing_deg is not None)
    return Fitting(item, f"{first.size} x {end.size} x {branch.size}", first.material, sockets, at)


def _branch_turn(run: Leg, branch: Leg, at: tuple[str, ...]) -> Iterator[Fitting]:
    """Return the ell that a branch needs when it does not leave at a right angle."""
    if run.bearing_deg is None:
        return
    for item in turn_fittings(abs(90.0 - _turn_deg(run, branch))):
        words = f"{item}, {branch.material}"
        yield Fitting(words, branch.size, branch.material, (branch.size_m, branch.size_m), at)


def _turn_deg(a: Leg, b: Leg) -> float:
    """Return how far the way from one leg into another turns: 0 is straight on, 180 is straight back."""
    between = abs((a.bearing_deg or 0.0) - (b.bearing_deg or 0.0)) % 360.0
    return 180.0 - min(between, 360.0 - between)
