"""Facts of backflow assemblies, isolation valves and master valves: heights over what they protect, what is
up- and downstream of them. Which assembly is right for which hazard is for the packs to say.
"""

from __future__ import annotations

from plangen.facts.project_rows import frost_expected, hazard
from plangen.facts.record_rows import assembly_passed, assembly_tested, tested_since_changes
from plangen.facts.supply_rows import flow_in_range, greatest_flow_through
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import extreme, given, inputs, known, row, said, stated, unknown
from plangen.model.waterworks import Device
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import DECLARED

_SHUTOFFS = ("valve", "master-valve", "isolation")
_CLOSE_BETWEEN_RUNS = ("valve", "master-valve")


def assembly_rows(survey: Survey) -> list[Row]:
    """Return one row for each backflow assembly."""
    return [_assembly_row(survey, d) for d in survey.path.devices.values() if d.kind == "assembly"]


def isolation_rows(survey: Survey) -> list[Row]:
    """Return one row for each isolation valve."""
    rows = []
    for device in survey.path.devices.values():
        if device.kind != "isolation":
            continue
        below = survey.path.downstream(device.name)
        values = {
            "size": stated("size", device.size, f"the size of {device.name} is not stated"),
            "line_size": _line_size(survey, device),
            "reachable": reachable(device),
            "upstream_of_assembly": known(any(_kind(survey, n) == "assembly" for n in below)),
            "state": known(device.state),
        }
        rows.append(row("isolation", device.name, device.span, values))
    return rows


def master_valve_rows(survey: Survey) -> list[Row]:
    """Return one row for each master valve."""
    rows = []
    for device in survey.path.devices.values():
        if device.kind == "master-valve":
            values = {"downstream_of_assembly": protected(survey, device.name), "state": known(device.state)}
            rows.append(row("master_valve", device.name, device.span, values))
    return rows


def reachable(device: Device) -> Value:
    """Return whether a hand gets to a valve: in a box, or above grade. A buried one without a box is not."""
    if device.in_box:
        return known(True, "in a box")
    if device.height is None:
        return unknown(f"neither a box nor a height above grade is stated for {device.name}")
    height = given("height", device.height)
    return known(device.height.si >= 0, f"no box, height {device.height.written}", height)


def protected(survey: Survey, name: str) -> Value:
    """Return whether every way from the supply to a place passes a backflow assembly."""
    guarded = survey.path.guarded(name, ("assembly",))
    if guarded is None:
        return unknown(f"no path leads from the supply to {name}")
    return known(guarded, "" if guarded else "a way from the supply passes no backflow assembly")


def _assembly_row(survey: Survey, device: Device) -> Row:
    part = device.part
    listing = device.listing or (part.listing if part else "")
    below = survey.path.downstream(device.name)
    shutoffs = sorted(n for n in below if _kind(survey, n) in _SHUTOFFS)
    values = {
        "kind": known(device.assembly_kind)
        if device.assembly_kind
        else unknown(f"the type of assembly {device.name} is not stated"),
        "state": known(device.state),
        "size": stated("size", device.size, f"the size of {device.name} is not stated"),
        "line_size": _line_size(survey, device),
        "height_above_grade": stated(
            "height above grade", device.height, f"the height of {device.name} above grade is not stated"
        ),
        "height_above_highest_outlet": _above_outlets(survey, device),
        "height_above_downstream_piping": _above_piping(survey, device),
        "wall_clearance": stated(
            "clearance", device.wall_clearance, f"the clearance of {device.name} from its wall is not stated"
        ),
        "beside_wall": said(device.wall),
        "insulated": said(device.insulation),
        "enclosed": said(device.enclosure),
        "has_drain": said(device.drain),
        "supported": said(device.supports),
        "listed": said(listing),
        "listing": known(listing) if listing else unknown(f"no listing is stated for {device.name}"),
        "in_box": _in_box(device),
        "frost_expected": frost_expected(survey),
        "isolation_upstream": _isolation_upstream(survey, device),
        "valve_downstream": known(bool(shutoffs), ", ".join(shutoffs[:6])),
        "continuous_pressure": _continuous_pressure(survey, device),
        "master_valve_upstream": known(
            any(_kind(survey, n) == "master-valve" for n in survey.path.upstream(device.name))
        ),
        "winter_drain": _winter_drain(survey, below),
        "backflow_from_outlets": _outlets_higher(survey, device),
        "pump_downstream": _added_downstream(survey, device, "pump", "pump"),
        "chemicals_downstream": _added_downstream(survey, device, "injector", "chemicals"),
        "septic_on_lot": hazard(survey, "septic"),
        "second_source_on_lot": hazard(survey, "second source"),
        "reclaimed_on_lot": hazard(survey, "reclaimed water"),
        "test_recorded": assembly_tested(survey, device),
        "test_passed": assembly_passed(survey, device),
        "tested_since_changes": tested_since_changes(survey, device),
        "flow": greatest_flow_through(survey, device.name),
        "flow_in_range": flow_in_range(survey, device),
    }
    return row("assembly", device.name, device.span, values)


def _kind(survey: Survey, name: str) -> str:
    device = survey.path.devices.get(name)
    return device.kind if device else ""


def _in_box(device: Device) -> Value:
    if device.in_box:
        return known(True, "in a box")
    if device.height is None:
        return unknown(f"the height of {device.name} above grade is not stated")
    return known(device.height.si < 0, f"height {device.height.written}", given("height", device.height))


def _winter_drain(survey: Survey, below: frozenset[str]) -> Value:
    seen = sorted(n for n in below if _kind(survey, n) in ("drain", "blow-out"))
    return known(bool(seen), ", ".join(seen) or "no drain or blow-out fitting stands downstream")


def _line_size(survey: Survey, device: Device) -> Value:
    pipes = survey.path.feeding_pipes(device.name)
    if not pipes:
        return unknown(f"no pipe feeds {device.name}")
    sizes = ((p.nominal.si, f"pipe {p.name}", inputs(given(f"size of {p.name}", p.nominal))) for p in pipes)
    return extreme(sizes, largest=True)


def _isolation_upstream(survey: Survey, device: Device) -> Value:
    path = survey.path
    above = path.upstream(device.name)
    starts = sorted(n for n in above if _kind(survey, n) == "meter") or (
        [path.source] if path.source in above else []
    )
    if not starts:
        return unknown(f"no path leads from the supply to {device.name}")
    open_from = [s for s in starts if path.open_way(s, device.name, ("isolation",))]
    valves = sorted(n for n in above if _kind(survey, n) == "isolation")
    if open_from:
        return known(False, f"the way from {', '.join(open_from)} passes no isolation valve")
    return known(True, ", ".join(valves))


def _continuous_pressure(survey: Survey, device: Device) -> Value:
    guarded = survey.path.guarded(device.name, _CLOSE_BETWEEN_RUNS)
    if guarded is None:
        return unknown(f"no path leads from the supply to {device.name}")
    return known(
        not guarded, "a valve upstream closes between runs" if guarded else "no valve upstream closes"
    )


def _added_downstream(survey: Survey, device: Device, kind: str, question: str) -> Value:
    seen = sorted(n for n in survey.path.downstream(device.name) if _kind(survey, n) == kind)
    if seen:
        found = survey.path.devices[seen[0]]
        source = Input(found.name, found.label or kind, DECLARED, found.span)
        return known(True, f"{kind} {seen[0]} stands downstream", source)
    if any(d.kind == kind for d in survey.path.devices.values()):
        # One is drawn, but not downstream: the drawing answers for this assembly.
        return known(False, f"the {kind} on the plan is not downstream of {device.name}")
    return hazard(survey, question)


def _above_outlets(survey: Survey, device: Device) -> Value:
    heights = [h for h in survey.layout.heights if h.assembly == device.name]
    if not heights:
        return unknown(f"no outlet is known downstream of {device.name}")
    items = [(h.above_m, h.outlet, h.inputs) for h in heights]
    return _least_height(device, items, "highest outlet")


def _above_piping(survey: Survey, device: Device) -> Value:
    heights = [h for h in survey.layout.piping if h.assembly == device.name]
    if not heights:
        return unknown(f"no piping is known downstream of {device.name}")
    items = [(h.above_m, h.pipe, h.inputs) for h in heights]
    return _least_height(device, items, "highest piping")


def _least_height(
    device: Device, items: list[tuple[float | None, str, tuple[Input, ...]]], what: str
) -> Value:
    """Return how far the device stands above the highest of some things, or what hinders knowing it."""
    if device.height is None:
        return unknown(f"the height of {device.name} above grade is not stated")
    blind = sorted(name for above, name, _ in items if above is None)
    if blind:
        more = f" and {len(blind) - 4} more" if len(blind) > 4 else ""
        return unknown(
            f"the level of {', '.join(blind[:4])}{more} against {device.name} cannot be worked out"
        )
    told = ((a, f"{what} {n}", i) for a, n, i in sorted(items, key=lambda t: t[1]) if a is not None)
    return extreme(told, largest=False)


def _outlets_higher(survey: Survey, device: Device) -> Value:
    above = _above_outlets(survey, device)
    if not isinstance(above.value, float):
        return above
    return Value(above.value < 0, above.inputs, how=above.how)
