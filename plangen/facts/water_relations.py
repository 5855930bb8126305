"""Relations about the water path: supply, meter, assembly, isolation valves, pipes, sleeves, neighbours."""

from __future__ import annotations

from plangen.facts.fields import (
    DIG_DEPTH_M,
    SET_HEIGHT_M,
    length,
    quantity,
    ratio,
    small_length,
    text,
    truth,
    word,
)
from plangen.facts.project_relations import STATE, STATES
from plangen.facts.values import Relation
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.quantity.dimension import FOOT_M, Dimension

MATERIALS = ("pvc", "cpvc", "copper", "polyethylene", "pex", "steel", "iron", "other")
ROLES = ("service", "mainline", "lateral", "nipple")
UTILITY_KINDS = ("sewer", "gas", "power", "telecom", "storm", "water", "septic", "reclaimed", "other")

SUPPLY = Relation(
    "supply",
    "the place where the pressure is known; one row",
    (
        quantity("static_pressure", Dimension.PRESSURE, "pressure with no flow", "the supply point"),
        quantity("lowest_pressure", Dimension.PRESSURE, "the seasonal low", "the supply point"),
        quantity(
            "design_pressure", Dimension.PRESSURE, "the pressure the zones are solved at", "the supply point"
        ),
        quantity(
            "highest_static_pressure",
            Dimension.PRESSURE,
            "the greatest pressure with no flow anywhere in the piping",
            "the lowest pipe",
        ),
        truth("pressure_measured", "the static pressure was measured, not looked up or guessed"),
        quantity("house_demand", Dimension.FLOW, "what the house may draw while a zone runs"),
        quantity("greatest_flow", Dimension.FLOW, "the greatest flow of any load case, the house included"),
        quantity(
            "least_spare_pressure", Dimension.PRESSURE, "what the worst outlet has over its least pressure"
        ),
        truth("regulated", "a pressure regulator stands on every way from the supply to a zone valve"),
        truth("solved", "every load case could be solved"),
    ),
    single=True,
)

METER = Relation(
    "meter",
    "a water meter",
    (
        small_length("size", "nominal size"),
        quantity("flow", Dimension.FLOW, "the greatest flow through it in any load case, the house included"),
        quantity("capacity", Dimension.FLOW, "the greatest flow of its data sheet"),
        ratio("share", "the greatest flow as a share of the data sheet's greatest flow"),
        STATE,
    ),
)

ASSEMBLY = Relation(
    "assembly",
    "a backflow prevention assembly or device",
    (
        word("kind", "the type of assembly", *ASSEMBLY_KINDS),
        STATE,
        small_length("size", "nominal size"),
        small_length("line_size", "nominal size of the pipe that feeds it"),
        small_length(
            "height_above_grade",
            "height of the critical level or relief port",
            "finished grade at the assembly",
            SET_HEIGHT_M,
        ),
        small_length(
            "height_above_highest_outlet",
            "height of the critical level or relief port",
            "highest outlet downstream, at rest",
            SET_HEIGHT_M,
        ),
        small_length(
            "height_above_downstream_piping",
            "height of the critical level or relief port",
            "top of the highest piping downstream",
            SET_HEIGHT_M,
        ),
        small_length("wall_clearance", "free room between assembly and wall", "the wall", SET_HEIGHT_M),
        truth("beside_wall", "a wall is named that it stands at"),
        truth("insulated", "the protection against freezing is described"),
        truth("enclosed", "an enclosure is described"),
        truth("has_drain", "where discharged water goes is described"),
        truth("supported", "what holds it up is described"),
        truth("listed", "the standard it is listed to is stated, on the part or here"),
        text("listing", "the standard it is listed to"),
        truth("in_box", "it stands in a box or below grade"),
        truth("frost_expected", "the ground freezes at this site"),
        truth("isolation_upstream", "every way from the meter (or supply) to it passes an isolation valve"),
        truth("valve_downstream", "a shutoff or control valve stands downstream of it"),
        truth("continuous_pressure", "it stays under pressure while no zone runs"),
        truth("master_valve_upstream", "a master valve stands upstream of it"),
        truth("winter_drain", "a drain or blow-out fitting stands downstream of it"),
        truth("backflow_from_outlets", "an outlet downstream lies higher than its critical level"),
        truth("pump_downstream", "a pump stands or may stand downstream of it"),
        truth("chemicals_downstream", "a chemical is or may be added downstream of it"),
        truth("septic_on_lot", "a septic tank or its field is on the lot it serves"),
        truth("second_source_on_lot", "a second water source is on the lot it serves"),
        truth("reclaimed_on_lot", "reclaimed or other non-potable water is on the lot it serves"),
        truth("test_recorded", "a field test of it is recorded"),
        truth("test_passed", "its latest recorded field test passed"),
        truth("tested_since_changes", "no change of it is recorded for a day after its latest recorded test"),
        truth("flow_in_range", "every load case's flow through it lies in its data sheet's range"),
        quantity("flow", Dimension.FLOW, "the greatest flow through it in any load case"),
    ),
)

ISOLATION = Relation(
    "isolation",
    "an isolation valve",
    (
        small_length("size", "nominal size"),
        small_length("line_size", "nominal size of the pipe that feeds it"),
        truth("reachable", "it stands in a box or above grade"),
        truth("upstream_of_assembly", "an assembly stands downstream of it"),
        STATE,
    ),
)

MASTER_VALVE = Relation(
    "master_valve",
    "a master valve",
    (
        truth("downstream_of_assembly", "every way from the supply to it passes an assembly"),
        STATE,
    ),
)

PIPE = Relation(
    "pipe",
    "a pipe, from its first named place to its last",
    (
        word("role", "what the pipe is for", *ROLES),
        STATE,
        word("material", "the kind of material", *MATERIALS),
        text("family", "material and class as written"),
        small_length("size", "nominal size"),
        small_length("cover", "earth over the top of the pipe", "finished grade", DIG_DEPTH_M),
        small_length(
            "cover_below_frost",
            "depth of the top of the pipe under the frost depth",
            "frost depth",
            DIG_DEPTH_M,
        ),
        truth("buried", "the pipe lies in the ground"),
        truth("frost_expected", "the ground freezes at this site"),
        truth(
            "pressurised_all_year", "no valve or assembly can shut it off for winter: it stays under pressure"
        ),
        truth("under_constant_pressure", "it is under pressure while no zone runs"),
        truth("downstream_of_assembly", "every way from the supply to it passes an assembly"),
        quantity("flow", Dimension.FLOW, "greatest flow of any load case"),
        quantity("velocity", Dimension.VELOCITY, "greatest velocity of any load case, in the real bore"),
        quantity("static_pressure", Dimension.PRESSURE, "greatest pressure with no flow", "its lowest point"),
        quantity("surge", Dimension.PRESSURE, "pressure rise when its flow is stopped at once (Joukowsky)"),
        quantity(
            "static_and_surge",
            Dimension.PRESSURE,
            "greatest pressure with no flow plus the surge",
            "its lowest point",
        ),
        quantity("pressure_rating", Dimension.PRESSURE, "what the pipe is rated for"),
        ratio("static_share_of_rating", "greatest pressure with no flow as a share of the rating"),
        ratio("surge_share_of_rating", "pressure with no flow plus surge as a share of the rating"),
        truth("crosses_paving", "it passes under paving"),
        truth("unsleeved_paving", "it passes under paving where no sleeve is stated"),
    ),
)

SLEEVE = Relation(
    "sleeve",
    "a sleeve around a pipe under paving",
    (
        small_length("size", "nominal size of the sleeve"),
        small_length("pipe_size", "nominal size of the pipe in it"),
        ratio("size_over_pipe", "nominal size of the sleeve over that of the pipe"),
        ratio("bore_over_pipe", "inside diameter of the sleeve over the outside diameter of the pipe"),
        small_length("extends", "how far it stands out on each side", "edge of the paving", DIG_DEPTH_M),
        small_length(
            "cover",
            "earth over the top of the sleeve; the pipe's own cover if none is stated",
            "finished grade",
        ),
        text("under", "the paving it lies under"),
    ),
)

# Only pairs so near are listed: twice the largest separation that was read, 5 ft (International Plumbing Code
# 603.2). A pack that asks for more is refused, so that nothing farther falls away unseen.
SEPARATION_REACH_M = 10 * FOOT_M

SEPARATION = Relation(
    "separation",
    "a pipe that runs within 10 ft (3 m) of an existing buried line or crosses it",
    (
        word("utility", "what the buried line is", *UTILITY_KINDS),
        word("pipe_role", "what the pipe is for", *ROLES),
        word("pipe_state", "existing, new, relocated or removed", *STATES),
        truth("downstream_of_assembly", "every way from the supply to the pipe passes an assembly"),
        truth("crosses", "the pipe crosses the buried line in plan"),
        length(
            "horizontal_distance",
            "nearest distance in plan, centre to centre; nothing at a crossing",
            reach_m=SEPARATION_REACH_M,
        ),
        small_length(
            "height_above",
            "bottom of the pipe over the buried line, whose stated depth is taken to its top",
            "top of the buried line",
            DIG_DEPTH_M,
        ),
    ),
)

WATER_RELATIONS = (SUPPLY, METER, ASSEMBLY, ISOLATION, MASTER_VALVE, PIPE, SLEEVE, SEPARATION)
