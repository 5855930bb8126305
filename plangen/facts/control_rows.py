"""Facts of the controller and its sensors. A sensor that is not mentioned is not known to be absent."""

from __future__ import annotations

from plangen.facts.project_rows import frost_expected
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import known, row, said, stated, unknown
from plangen.facts.zone_relations import SENSOR_KINDS
from plangen.model.design import Control


def controller_rows(survey: Survey) -> list[Row]:
    """Return the row of the controller, or none."""
    control = survey.design.control
    if control is None:
        return []
    zones = float(len(survey.design.zones))
    stations = unknown("how many stations the controller has is not stated")
    spare = stations
    if control.stations is not None:
        stations = known(float(control.stations))
        spare = known(float(control.stations) - zones, f"{control.stations} stations, {zones:.0f} zones")
    inputs_given = None not in (control.reference_et, control.water_days, control.window)
    values = {
        "stations": stations,
        "zones": known(zones),
        "spare_stations": spare,
        "place_given": known(bool(control.place) or control.point is not None, control.place),
        "rain_or_soil_sensor": _sensor(control, "rain", "soil"),
        "rain_sensor": _sensor(control, "rain"),
        "soil_sensor": _sensor(control, "soil"),
        "freeze_sensor": _sensor(control, "freeze"),
        "flow_sensor": _flow_sensor(survey, control),
        "frost_expected": frost_expected(survey),
        "wire_described": said(control.wire),
        "wire_cover": stated("wire cover", control.wire_cover, "the cover of the valve wire is not stated"),
        "fits_window": _fits_window(survey),
        "schedule_inputs_given": known(inputs_given),
    }
    return [row("controller", control.name, control.span, values)]


def sensor_rows(survey: Survey) -> list[Row]:
    """Return one row for each sensor."""
    control = survey.design.control
    if control is None:
        return []
    return [
        row("sensor", s.name or s.kind, s.span, {"kind": known(s.kind), "place_given": said(s.place)})
        for s in control.sensors
        if s.kind in SENSOR_KINDS
    ]


def _sensor(control: Control, *kinds: str) -> Value:
    found = [s for s in control.sensors if s.kind in kinds]
    if found:
        return known(True, ", ".join(s.name or s.kind for s in found))
    if all(k in control.none_sensors for k in kinds):
        return known(False, f"the design says: no {' and no '.join(kinds)} sensor")
    return unknown(f"whether a {' or '.join(kinds)} sensor is wired to {control.name} is not stated")


def _flow_sensor(survey: Survey, control: Control) -> Value:
    seen = sorted(d.name for d in survey.path.devices.values() if d.kind == "flow-sensor")
    return known(True, ", ".join(seen)) if seen else _sensor(control, "flow")


def _fits_window(survey: Survey) -> Value:
    window = survey.layout.window
    if window is None or window.fits is None:
        why = window.missing if window else ()
        return unknown(*(survey.rooted(why) or ("the watering days or hours are not stated",)))
    return Value(window.fits, window.inputs, how=f"{window.minutes_per_day or 0:.0f} min on a watering day")
