"""Language tables of the water path: supply, connection, mainline, zones, control."""

from __future__ import annotations

from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import (
    BOX,
    BOX_SIZE,
    COVER,
    HEIGHT,
    LABEL,
    PIPE_KINDS,
    SIZE,
    STATE,
    flag,
    part,
    place,
    quantity,
    ref,
    route,
    said,
    text,
)
from plangen.quantity.dimension import Dimension as D


def _device(lead: str, help: str, part_kinds: tuple[str, ...], *clauses: Slot) -> StatementSpec:
    args = (part(part_kinds, "its part"), LABEL) if part_kinds else (LABEL,)
    return StatementSpec(
        tuple(lead.split()),
        help,
        args,
        (place("where it is"), *clauses, SIZE, HEIGHT, BOX, BOX_SIZE, STATE),
        named="required",
        kind=lead.replace(" ", "-"),
    )


def _pipe(lead: str, help: str) -> StatementSpec:
    return StatementSpec(
        (lead,),
        help,
        (
            Slot("family", Want.FAMILY, "material and class", required=True),
            Slot("size", Want.SIZE, "nominal size", dimensions=(D.LENGTH,), required=True),
        ),
        (
            route("route", "its course, from a named object to a named object in the direction of flow"),
            COVER,
            text("joints", "joints", "how it is joined"),
            text("insulation", "insulation", "protection from frost or sun"),
            flag("above_grade", "above grade", "it stands in the air"),
            STATE,
        ),
        named="required",
    )


SLEEVE = StatementSpec(
    ("sleeve",),
    "a sleeve around a pipe under paving",
    (
        Slot("family", Want.FAMILY, "material and class", required=True),
        Slot("size", Want.SIZE, "nominal size", dimensions=(D.LENGTH,), required=True),
    ),
    (
        ref("pipe", "on", PIPE_KINDS, "the pipe it holds", required=True),
        ref("under", "under", ("paving", "wall", "building"), "what it passes under", required=True),
        quantity("extends", "extends", D.LENGTH, "how far it goes past each edge"),
        COVER,
        STATE,
    ),
    named="required",
)
_SETTING = quantity("setting", "set", D.PRESSURE, "pressure it holds behind it")
METER = _device("meter", "a water meter", ("meter",))
TAP = _device(
    "tap",
    "where the irrigation leaves the house service",
    (),
    text("joint", "joint", "how it is joined to the service"),
)
ISOLATION = _device(
    "isolation",
    "a valve that shuts off what is behind it",
    ("isolation",),
    flag("closed", "closed", "it stands closed"),
)
STRAINER = _device("strainer", "a strainer", ("strainer",))
REGULATOR = _device("regulator", "a pressure regulator", ("regulator",), _SETTING)
MASTER = _device("master valve", "a master valve", ("master-valve", "valve"))
FLOW_SENSOR = _device(
    "flow sensor",
    "a flow sensor",
    ("flow-sensor",),
    quantity("trip", "trips at", D.FLOW, "flow at which the controller shuts the water off"),
)
INJECTOR = _device("injector", "a fertiliser or chemical injector", ("injector",))
PUMP = _device("pump", "a pump", ("pump",))
TEE = _device("tee", "a fitting where pipes meet", ())
DRAIN = _device("drain", "a drain at a low point", ())
COUPLER = _device("quick coupler", "a place for a hose, under pressure at all times", ("quick-coupler",))
BLOW_OUT = _device("blow-out", "a fitting for compressed air", ())
ASSEMBLY = _device(
    "assembly",
    "the backflow prevention assembly",
    ("assembly",),
    Slot("assembly_kind", Want.CHOICE, "kind of assembly", choices=said(ASSEMBLY_KINDS)),
    quantity(
        "critical",
        "critical level",
        D.LENGTH,
        "height of its critical level above grade",
        positive=False,
        above=True,
    ),
    quantity(
        "relief", "relief port", D.LENGTH, "height of its relief port above grade", positive=False, above=True
    ),
    ref("wall", "wall", ("building", "wall"), "the wall it stands at"),
    quantity("clearance", "clearance", D.LENGTH, "distance from that wall"),
    text("insulation", "insulation", "protection from frost"),
    text("enclosure", "enclosure", "box or cage around it"),
    text("drain", "drain", "where its discharge goes"),
    quantity("drain_size", "drain size", D.LENGTH, "bore of the pipe that takes its discharge away"),
    quantity("drain_slope", "drain slope", D.RATIO, "fall of that pipe"),
    text("supports", "supports", "what holds it up"),
    text("serial", "serial", "serial number"),
    text("listing", "listing", "standard it is listed to"),
    text("detail", "detail", "anything more for the sheets"),
)
VALVE = _device("valve", "the zone's control valve", ("valve",))
PIPE = _pipe("pipe", "a pipe")
NIPPLE = _pipe("nipple", "a short piece between two devices")
SERVICE = _pipe("service", "a service pipe")
LATERAL = _pipe("lateral", "a pipe behind the zone valve")
INLINE = (ISOLATION, STRAINER, REGULATOR, MASTER, FLOW_SENSOR, INJECTOR, PUMP, TEE, DRAIN, BLOW_OUT)

SUPPLY = BlockSpec(
    "supply",
    "from the street main to the tap: source, meter, service, house",
    (
        StatementSpec(
            ("source",),
            "where the pressure is known",
            (LABEL,),
            (
                place("where it is"),
                quantity("static", "static", D.PRESSURE, "pressure with no flow"),
                quantity("lowest", "lowest", D.PRESSURE, "lowest pressure of the year"),
                quantity(
                    "allowance",
                    "allowance",
                    D.PRESSURE,
                    "what to take off the static pressure",
                    positive=True,
                ),
                Slot("residual", Want.AT_FLOW, "pressure at a flow", ("residual",), (D.PRESSURE, D.FLOW)),
                quantity("depth", "depth", D.LENGTH, "depth of the main below grade"),
                quantity(
                    "temperature",
                    "temperature",
                    D.TEMPERATURE,
                    "highest temperature of the water and of the ground around the pipes",
                    positive=False,
                ),
                STATE,
            ),
            named="required",
            single=True,
        ),
        METER,
        SERVICE,
        NIPPLE,
        TAP,
        ISOLATION,
        STRAINER,
        REGULATOR,
        TEE,
        PUMP,
        StatementSpec(
            ("house",),
            "the house as a draw on the service",
            (LABEL,),
            (
                place("where the service enters"),
                quantity("demand", "demand", D.FLOW, "flow to keep for the house"),
                STATE,
            ),
            named="required",
            single=True,
        ),
    ),
    required=True,
)
CONNECTION = BlockSpec(
    "connection",
    "from the tap through the backflow assembly",
    (TAP, ASSEMBLY, PIPE, NIPPLE, SLEEVE, *INLINE),
)
MAINLINE = BlockSpec(
    "mainline", "from the assembly to the zone valves", (PIPE, NIPPLE, SLEEVE, *INLINE, COUPLER)
)
