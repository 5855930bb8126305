"""Relations about what waters: zone valves, zones, heads, drip areas, control, coverage."""

from __future__ import annotations

from plangen.facts.fields import (
    DIG_DEPTH_M,
    SET_HEAD_M,
    count,
    length,
    quantity,
    ratio,
    small_length,
    text,
    truth,
    word,
    words,
)
from plangen.facts.project_relations import STATE
from plangen.facts.values import Relation
from plangen.quantity.dimension import Dimension

HEAD_KINDS = ("spray", "rotor", "bubbler", "quick-coupler")
ZONE_KINDS = ("spray", "rotor", "bubbler", "drip", "mixed")
SENSOR_KINDS = ("rain", "freeze", "soil", "flow", "wind")

VALVE = Relation(
    "valve",
    "a zone valve",
    (
        small_length("size", "nominal size"),
        truth("reachable", "it stands in a box or above grade"),
        truth("has_zone", "a zone names it as its valve"),
        quantity("flow", Dimension.FLOW, "greatest flow of any load case"),
        truth("flow_in_range", "every load case's flow through it lies in its data sheet's range"),
        STATE,
    ),
)

ZONE = Relation(
    "zone",
    "a zone: the outlets one valve feeds",
    (
        word("kind", "what the zone waters with", *ZONE_KINDS),
        words("outlet_kinds", "the kinds of outlet really in it", *HEAD_KINDS, "drip"),
        count("kinds_of_outlet", "how many kinds of outlet are in it"),
        truth("protected", "every way from the supply to its valve passes a backflow assembly"),
        truth("solved", "its load case could be solved"),
        quantity("flow", Dimension.FLOW, "flow of all its outlets when it runs alone"),
        quantity("least_pressure", Dimension.PRESSURE, "least pressure at an outlet", "the outlet"),
        quantity(
            "least_spare_pressure",
            Dimension.PRESSURE,
            "what the worst outlet has over the least pressure of its data sheet",
            "the outlet",
        ),
        ratio(
            "pressure_spread",
            "greatest less least nozzle pressure over the mean; a regulating body at its setting",
        ),
        ratio("flow_spread", "greatest less least share of its data-sheet flow that an outlet gives"),
        ratio(
            "rate_spread",
            "greatest less least application rate of its heads, over the mean, each over its own pattern",
        ),
        quantity("application_rate", Dimension.RATE, "mean rate over the ground it waters"),
        count("kinds_of_plant", "how many kinds of plant its areas state"),
        count("kinds_of_exposure", "how many exposures its areas state"),
        truth("areas_given", "it names the planting it waters"),
        quantity(
            "low_head_volume",
            Dimension.VOLUME,
            "the most that its piping lets out of its lowest outlets each time it stops",
            "its lowest outlet without a check valve",
        ),
    ),
)

HEAD = Relation(
    "head",
    "a sprinkler head, bubbler or quick coupler",
    (
        word("kind", "the kind of outlet", *HEAD_KINDS),
        text("zone", "the zone it belongs to"),
        STATE,
        quantity("pressure", Dimension.PRESSURE, "least pressure of any load case", "the nozzle"),
        quantity("highest_pressure", Dimension.PRESSURE, "greatest pressure of any load case", "the nozzle"),
        quantity("least_pressure_stated", Dimension.PRESSURE, "the least pressure of its data sheet"),
        quantity("most_pressure_stated", Dimension.PRESSURE, "the greatest pressure of its data sheet"),
        truth("pressure_range_known", "its data sheet gives a least and a most pressure"),
        quantity("best_pressure_stated", Dimension.PRESSURE, "the best pressure of its data sheet"),
        quantity(
            "nozzle_pressure",
            Dimension.PRESSURE,
            "least pressure of any load case past its regulating body, if it has one",
            "the nozzle",
        ),
        truth("check_valve", "a check valve that keeps its lateral from draining is in it"),
        small_length("below_highest_of_zone", "how far its outlet lies under the highest outlet of its zone"),
        length("radius", "radius of throw at the pressure really there", "", 0.0),
        length("spacing", "distance to the nearest head of its zone", "", SET_HEAD_M),
        ratio("spacing_over_radius", "distance to the nearest head of its zone over its radius"),
        small_length(
            "overspray", "how far it wets beyond its planting onto paving, a building or a neighbour"
        ),
        text("overspray_onto", "what it wets that it should not"),
        small_length(
            "hardscape_distance",
            "distance to the nearest paving or building",
            "edge of the paving",
            SET_HEAD_M,
        ),
        truth("arc_known", "its arc is stated or follows from its part"),
        truth("matches_zone", "its kind is the kind its zone states"),
    ),
)

DRIP = Relation(
    "drip",
    "dripline over a planting bed",
    (
        text("zone", "the zone it belongs to"),
        quantity("pressure", Dimension.PRESSURE, "least pressure of any load case", "where it is fed"),
        quantity(
            "highest_pressure", Dimension.PRESSURE, "greatest pressure of any load case", "where it is fed"
        ),
        quantity("least_pressure_stated", Dimension.PRESSURE, "the least pressure of its data sheet"),
        quantity("most_pressure_stated", Dimension.PRESSURE, "the greatest pressure of its data sheet"),
        truth("strained", "every way from the supply to it passes a strainer"),
        truth("regulated", "every way from the supply to it passes a pressure regulator"),
    ),
)

CONTROLLER = Relation(
    "controller",
    "the irrigation controller",
    (
        count("stations", "how many stations it has"),
        count("zones", "how many zones it runs"),
        count("spare_stations", "stations left over"),
        truth("place_given", "where it hangs is stated"),
        truth("rain_or_soil_sensor", "a rain or soil-moisture sensor is wired to it"),
        truth("rain_sensor", "a rain sensor is wired to it"),
        truth("soil_sensor", "a soil-moisture sensor is wired to it"),
        truth("freeze_sensor", "a freeze sensor is wired to it"),
        truth("flow_sensor", "a flow sensor is wired to it or stands in the main"),
        truth("frost_expected", "the ground freezes at this site"),
        truth("wire_described", "the valve wire is described"),
        small_length("wire_cover", "earth over the valve wire", "finished grade", DIG_DEPTH_M),
        truth(
            "fits_window", "the zones' run time on a watering day of the peak month fits the hours allowed"
        ),
        truth("schedule_inputs_given", "reference ET, watering days and hours are all stated"),
    ),
)

SENSOR = Relation(
    "sensor",
    "a sensor wired to the controller",
    (
        word("kind", "what it senses", *SENSOR_KINDS),
        truth("place_given", "where it hangs is stated"),
    ),
)

COVERAGE = Relation(
    "coverage",
    "a planting area and how it is watered",
    (
        truth("watered", "at least one zone says it waters it"),
        truth("sprinkled", "at least one zone of heads says it waters it; a bed with dripline alone is not"),
        ratio("distribution_uniformity", "mean of the driest quarter over the mean"),
        ratio("dry_share", "share of the area that gets less than a tenth of the mean"),
        quantity("application_rate", Dimension.RATE, "mean rate over the area"),
        truth("soil_given", "its soil is stated"),
        truth("plant_given", "its plants are stated"),
        small_length("least_width", "twice the radius of the largest circle that fits in it"),
        count("paved_sides", "how many of its sides have paving within 1 ft (0.3 m) along half their length"),
        ratio("slope", "slope of its ground as stated"),
    ),
)

ZONE_RELATIONS = (VALVE, ZONE, HEAD, DRIP, CONTROLLER, SENSOR, COVERAGE)
