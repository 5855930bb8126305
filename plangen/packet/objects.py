"""Every object that is drawn or spoken of: its figures, its places on the sheets, its findings. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.annotation.markers import mark_of
from plangen.packet.anchors import finding_anchor, object_anchor
from plangen.packet.code_check import ORDER
from plangen.packet.contents import Contents
from plangen.packet.drawings import drawn_places
from plangen.packet.tables import Cell
from plangen.packet.tell import Tell


@dataclass(frozen=True, slots=True)
class Told:
    """Findings of one status, each a link."""

    words: str
    links: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class ObjectRow:
    """One object. `figures` are its numbers in a line; `places` lead to it on the sheets."""

    anchor: str
    name: str
    figures: str
    places: tuple[Cell, ...]
    findings: tuple[Told, ...]


def object_rows(contents: Contents) -> tuple[ObjectRow, ...]:
    """Return every object with a finding, in the order of names."""
    drawn, figures = drawn_places(contents), object_figures(contents)
    names = sorted({f.subject for f in contents.findings if f.subject})
    return tuple(
        ObjectRow(
            object_anchor(name),
            name,
            figures.get(name, ""),
            tuple(Cell(sheet, place) for (sheet, held), place in drawn.items() if held == name),
            _findings(name, contents),
        )
        for name in names
    )


def _findings(name: str, contents: Contents) -> tuple[Told, ...]:
    groups = []
    for status in ORDER:
        about = [f for f in contents.findings if f.subject == name and f.status is status]
        links = tuple(Cell(f"{mark_of(f)} {f.title}".strip(), finding_anchor(f.id)) for f in about)
        if links:
            groups.append(Told(status.words, links))
    return tuple(groups)


def object_figures(contents: Contents) -> dict[str, str]:
    """Return the figures of heads, pipes, devices, zones and drip areas as one line each."""
    design, water, tell = contents.design, contents.hydraulics, Tell(contents.units)
    figures: dict[str, list[str]] = {}
    for device in design.devices:
        label = device.label or (device.part.label if device.part else device.kind.replace("-", " "))
        size = device.size.written if device.size else ""
        height = f"{device.height.written} above grade" if device.height else ""
        figures[device.name] = [label, size, height]
    for head in design.heads:
        figures[head.name] = [head.part.label or head.part.name, f"zone {head.zone}"]
    for drip in design.drips:
        figures[drip.name] = [drip.part.label or drip.part.name, f"over {drip.area}"]
    for zone in design.zones:
        case = water.case_of_zone(zone.name)
        flow = tell.flow(case.total_flow_m3s) if case else ""
        figures[zone.name] = [zone.label, zone.kind, flow]
    for pipe in design.pipes:
        cover = f"cover {pipe.cover.written}" if pipe.cover else ""
        figures[pipe.name] = [f"{pipe.size.family} {pipe.nominal.written}", pipe.role, cover]
    for check in water.pipes:
        if check.pipe in figures:
            numbers = (
                tell.length(check.length_m),
                tell.flow(check.told_flow_m3s),
                tell.velocity(check.told_velocity_ms),
            )
            figures[check.pipe] += numbers
    for case in water.cases:
        for outlet in case.outlets if len(case.zones) == 1 else ():
            if outlet.name in figures:
                figures[outlet.name] += [tell.pressure(outlet.pressure_m), tell.flow(outlet.flow_m3s)]
    return {name: ", ".join(word for word in words if word) for name, words in figures.items()}
