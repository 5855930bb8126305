"""Water that runs back: outlets that could siphon, a closed house.

Heights only; nothing is solved. A height that is not known is told as such.
"""

from __future__ import annotations

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.network import Link
from plangen.hydraulics.studies import Siphon


def siphons(ready: Assembly) -> tuple[Siphon, ...]:
    """Return the outlets above the source, the house or their assembly, the highest first.

    When the supply is lost, water above a place that is open to the air runs down to it unless a device on
    the way stops it. An outlet above its vacuum breaker also presses back on it.
    """
    levels = {name: e.m for name, e in ready.elevations.items()}
    house = ready.design.house
    low_house = levels.get(house.name) if house is not None else None
    source = levels.get(ready.supply.node)
    behind = _assemblies_before(ready)
    found = []
    for node, tapping in ready.wiring.tappings.items():
        top = levels.get(node)
        assembly = behind.get(tapping.joint, "")
        critical = levels.get(f"{assembly}.in") if assembly else None
        over_source, over_house, over_assembly = (
            None if top is None or level is None else top - level for level in (source, low_house, critical)
        )
        if any(a is None or a > 0 for a in (over_source, over_house, over_assembly)):
            name = tapping.outlet.name
            found.append((-(top or 0.0), Siphon(name, over_source, over_house, over_assembly, assembly)))
    return tuple(s for _, s in sorted(found, key=lambda f: (f[0], f[1].outlet)))


def _assemblies_before(ready: Assembly) -> dict[str, str]:
    """Return for each node behind an assembly the nearest one, in the direction of the pipes."""
    after: dict[str, list[str]] = {}
    for leg in ready.wiring.legs.values():
        after.setdefault(leg.start, []).append(leg.end)
    bridges = sorted(ready.wiring.bridges.values(), key=lambda b: b.device.name)
    for bridge in bridges:
        if bridge.device.kind != "assembly":
            after.setdefault(bridge.start, []).append(bridge.end)
    queue = [(b.end, b.device.name) for b in bridges if b.device.kind == "assembly"]
    behind = dict(queue)
    for node, name in queue:
        for other in after.get(node, ()):
            if other not in behind:
                behind[other] = name
                queue.append((other, name))
    return behind


def expansion(ready: Assembly) -> str:
    """Return what is to be said on thermal expansion: is the house's service closed, and the answer."""
    house = ready.design.house
    if house is None:
        return "No house is stated: whether its service is closed by a check valve is not known."
    closing = _closing_devices(ready, house.name)
    if closing is None:
        return f"No water path leads to {house.name}: whether its service is closed is not known."
    if not closing:
        return (
            f"Nothing between the source and {house.name} stops water from going back, so the irrigation"
            " assembly does not close the house's service: heated water may expand to the main. A meter or"
            " service with a check valve of its own would change that; ask the purveyor."
        )
    answer = next((a for a in ready.design.answers if a.question == "heater expansion"), None)
    said = "nothing is stated" if answer is None else "none" if answer.none else f'"{answer.text}"'
    return (
        f"{', '.join(closing)} closes the service of {house.name}: heated water cannot expand to the main."
        f" How it is taken up (heater expansion): {said}."
    )


def _closing_devices(ready: Assembly, house: str) -> tuple[str, ...] | None:
    """Return the one-way devices that every way from the source to the house passes; None without a way."""
    near: dict[str, list[tuple[str, str]]] = {}
    for edge, link in ready.links.items():
        if isinstance(link, Link) and edge not in ready.wiring.tappings:
            name = link.object if link.one_way or link.kind in ("regulator", "pump") else ""
            near.setdefault(link.start, []).append((link.end, name))
            near.setdefault(link.end, []).append((link.start, name))
    start = ready.supply.node
    came: dict[str, tuple[str, str]] = {start: ("", "")}
    queue = [(start, False)]
    # Ways without a closing device first: only what cannot be gone round counts.
    later: list[tuple[str, str, str]] = []
    while queue or later:
        if not queue:
            before, name, node = later.pop(0)
            if node in came:
                continue
            came[node] = (before, name)
            queue.append((node, True))
        here = queue.pop(0)[0]
        for other, name in sorted(near.get(here, ())):
            if other in came:
                continue
            if name:
                later.append((here, name, other))
            else:
                came[other] = (here, "")
                queue.append((other, False))
    if house not in came:
        return None
    found, at = [], house
    while at != start:
        at, name = came[at]
        if name:
            found.append(name)
    return tuple(reversed(found))
