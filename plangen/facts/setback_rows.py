"""Facts of distances from septic systems, wells and banks, and of hydrozones. Judges nothing."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from plangen.facts.assembly_rows import protected
from plangen.facts.separation_rows import path_distance
from plangen.facts.setback_relations import SETBACK_REACH_M
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import given, inputs, known, row, unknown, worked
from plangen.geometry.point import Point, inside, nearest_on_path, polygon_area
from plangen.model.site import Area, Tree
from plangen.model.waterworks import DripArea, Zone
from plangen.text.source import Span

GROUND_FEATURES = {"septic-field": "septic-field", "water": "pond", "bank": "bank"}


@dataclass(frozen=True, slots=True)
class _Feature:
    kind: str
    name: str
    state: str
    points: tuple[Point, ...]  # one point, or the outline of an area


@dataclass(frozen=True, slots=True)
class _Thing:
    kind: str
    name: str
    state: str
    span: Span
    path: tuple[Point, ...]  # one point, or the course of a pipe
    fed_at: str
    buried: Value


def setback_rows(survey: Survey) -> list[Row]:
    """Return one row for each thing within 100 ft of a feature of the ground."""
    rows = []
    features = _features(survey)
    things = tuple(_things(survey)) if features else ()
    for feature in features:
        near = [(gap, t) for t in things if (gap := _gap(feature.points, t.path)) <= SETBACK_REACH_M]
        rows += [_setback(survey, feature, thing, gap) for gap, thing in _one_of_each(near)]
    return rows


def _features(survey: Survey) -> tuple[_Feature, ...]:
    site = survey.design.site
    areas = [
        _Feature(GROUND_FEATURES[a.kind], a.name, a.state, a.outline)
        for a in site.other
        if a.kind in GROUND_FEATURES
    ]
    return (*areas, *(_Feature(m.kind, m.name, m.state, (m.point,)) for m in site.landmarks))


def _things(survey: Survey) -> Iterable[_Thing]:
    for pipe in survey.path.pipes.values():
        course: tuple[Point, ...] = tuple(s.point for s in pipe.route)
        start = survey.path.pipe_start(pipe)
        yield _Thing("pipe", pipe.name, pipe.state, pipe.span, course, start, known(not pipe.above_grade))
    for device in survey.path.devices.values():
        if device.kind == "assembly":
            height = device.height
            buried = known(height.si < 0) if height else unknown(f"the height of {device.name} is not stated")
            course = (device.point,)
            yield _Thing("assembly", device.name, device.state, device.span, course, device.name, buried)
    for zone in survey.design.zones:
        name = f"outlets of {zone.name}"
        for head in survey.design.heads_of(zone.name):
            riser = head.riser
            silent = unknown(f"the height of {head.name} is not stated")
            buried = known(riser.si < 0) if riser else silent
            yield _Thing("outlets", name, head.state, head.span, (head.point,), zone.valve, buried)
        for drip in _drips(survey, zone):
            area = survey.design.area(drip.area)
            course = (*area.outline, area.outline[0]) if area else (drip.point,)
            silent = unknown(f"the height of {drip.name} is not stated")
            yield _Thing("outlets", name, drip.state, drip.span, course, zone.valve, silent)


def _drips(survey: Survey, zone: Zone) -> tuple[DripArea, ...]:
    return tuple(d for d in survey.design.drips if d.zone == zone.name)


def _one_of_each(near: list[tuple[float, _Thing]]) -> Iterable[tuple[float, _Thing]]:
    """Return the nearest of the things of each name."""
    nearest: dict[str, tuple[float, _Thing]] = {}
    for gap, thing in near:
        if thing.name not in nearest or gap < nearest[thing.name][0]:
            nearest[thing.name] = (gap, thing)
    return nearest.values()


def _gap(feature: tuple[Point, ...], path: tuple[Point, ...]) -> float:
    """Return the least distance in plan, nothing where the path enters the area."""
    if len(feature) > 2 and any(inside(p, feature) for p in path):
        return 0.0
    edge = [*feature, feature[0]] if len(feature) > 2 else list(feature)
    if len(edge) > 1 and len(path) > 1:
        return path_distance(edge, list(path))
    point, line = (edge[0], list(path)) if len(edge) == 1 else (path[0], edge)
    return math.dist(point, line[0]) if len(line) == 1 else nearest_on_path(point, line)[0]


def _setback(survey: Survey, feature: _Feature, thing: _Thing, gap: float) -> Row:
    values = {
        "feature": known(feature.kind),
        "feature_state": known(feature.state),
        "object": known(thing.kind),
        "object_state": known(thing.state),
        "buried": thing.buried,
        "downstream_of_assembly": protected(survey, thing.fed_at),
        "distance": known(gap, "in plan, from the stated places"),
        "inside": known(len(feature.points) > 2 and gap == 0.0),
    }
    return row("setback", f"{thing.name} at {feature.name}", thing.span, values)


def hydrozone_rows(survey: Survey) -> list[Row]:
    """Return one row for each hydrozone that a zone names or the site defines."""
    zones: dict[str, list[Zone]] = {h.name: [] for h in survey.design.site.hydrozones}
    spans = {h.name: h.span for h in survey.design.site.hydrozones}
    for zone in survey.design.zones:
        name = zone.hydrozone_name or zone.hydrozone
        if name:
            zones.setdefault(name, []).append(zone)
            spans.setdefault(name, zone.span)
    defined = {h.name for h in survey.design.site.hydrozones}
    return [
        row("hydrozone", name, spans[name], _hydrozone(survey, name, zones[name], name in defined))
        for name in zones
    ]


def _hydrozone(survey: Survey, name: str, zones: list[Zone], defined: bool) -> dict[str, Value]:
    names = sorted({n for z in zones for n in z.areas})
    areas = [a for n in names if (a := survey.design.area(n)) is not None]
    watered = {n for z in zones for n in z.trees}
    trees = [t for t in survey.design.site.trees if t.name in watered]
    heads = {h.part.kind for z in zones for h in survey.design.heads_of(z.name)}
    drips = {"drip" for z in zones if _drips(survey, z)}
    return {
        "zones": known(float(len(zones)), ", ".join(z.name for z in zones)),
        "defined": known(defined),
        "planted_area": worked(sum(abs(polygon_area(a.outline)) for a in areas), ", ".join(names), ())
        if areas
        else unknown(f"no zone of {name} names planting that it waters"),
        "plant_factor": _factors(name, [*areas, *trees], spread=False),
        "plant_factor_spread": _factors(name, [*areas, *trees], spread=True),
        "kinds_of_plant": _kinds(areas, "plant"),
        "kinds_of_exposure": _kinds(areas, "exposure"),
        "outlet_kinds": known(tuple(sorted(heads | drips))),
    }


def _factors(name: str, areas: list[Area | Tree], *, spread: bool) -> Value:
    lacking = [a.name for a in areas if a.plant_factor is None]
    if lacking or not areas:
        missing = (f"the plant factor of {a} is not stated" for a in lacking)
        return unknown(*(missing if lacking else (f"no zone of {name} names what it waters",)))
    stated = {a.name: a.plant_factor for a in areas if a.plant_factor is not None}
    values = [q.si for q in stated.values()]
    basis = inputs(*(given(f"plant factor of {n}", q) for n, q in stated.items()))
    return worked(max(values) - min(values) if spread else max(values), ", ".join(stated), basis)


def _kinds(areas: list[Area], what: str) -> Value:
    lacking = [a.name for a in areas if not getattr(a, what)]
    if lacking:
        return unknown(*(f"the {what} of {a} is not stated" for a in lacking))
    kinds = sorted({getattr(a, what) for a in areas})
    return known(float(len(kinds)), ", ".join(kinds))
