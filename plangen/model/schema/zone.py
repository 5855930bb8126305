"""Language tables of the blocks `zone` and `control`: valves, heads, dripline, controller, sensors."""

from __future__ import annotations

from dataclasses import replace

from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import COVER, LABEL, STATE, flag, one, part, place, quantity, ref, text, word
from plangen.model.schema.water import INLINE, LATERAL, NIPPLE, PIPE, SLEEVE, VALVE
from plangen.quantity.dimension import Dimension as D

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
WATERED = ("turf", "bed", "tree")
_HEADS = ("spray", "rotor", "bubbler", "quick-coupler")
_ON = ref("pipe", "on", ("lateral", "pipe"), "the lateral that feeds it", required=True)
_HOW = (
    Slot(
        "arc",
        Want.ARC,
        "what it waters, clockwise from one bearing to the other",
        ("arc",),
        dimensions=(D.ANGLE,),
    ),
    flag("full", "full circle", "it waters all around"),
    quantity(
        "riser",
        "riser",
        D.LENGTH,
        "height of its outlet above grade at rest",
        positive=False,
        above=True,
    ),
    STATE,
)
HEAD = StatementSpec(
    ("head",),
    "a sprinkler, bubbler or quick coupler",
    (part(_HEADS, "its part", required=True),),
    (place("where it stands"), _ON, *_HOW),
    named="required",
)
_ITEM_ON = replace(_ON, required=False)
# One head of a list after a colon: what it says itself stands in place of what its list says for all.
ITEM = StatementSpec(
    ("head",),
    "one head of the list",
    (),
    (place("where it stands"), _ITEM_ON, *_HOW),
    named="required",
)
# A list without names before its colon.
LIST = StatementSpec(
    ("heads",),
    "heads of one part, listed after a colon",
    (part(_HEADS, "their part", required=True),),
    (_ITEM_ON, *_HOW),
)
HEADS = StatementSpec(
    ("heads",),
    "heads of one part: a row of names, the first and the last at the ends of the row; or, after a colon, "
    "a list of names each with a place of its own, and what differs for it",
    (part(_HEADS, "their part", required=True),),
    (
        _ON,
        Slot("steps", Want.STEPS, "distances along the lateral", ("from",), dimensions=(D.LENGTH, D.LENGTH)),
        Slot("row", Want.ROW, "the places of the first and the last", ("between",)),
        *_HOW,
    ),
    named="several",
    items=ITEM,
)
ZONE = BlockSpec(
    "zone",
    "one valve and what it waters",
    (
        one(
            "kind",
            "how it waters",
            word("kind", "", ("spray", "rotor", "bubbler", "drip", "mixed"), "kind", required=True),
            required=True,
        ),
        one(
            "waters",
            "the areas it waters, and the trees that have outlets of their own",
            ref("areas", "", WATERED, "names of areas and trees", required=True, many=True),
        ),
        StatementSpec(
            ("hydrozone",),
            "the plants of one water need that it waters: the name of a `hydrozone` of the site, or text",
            (
                ref("name", "", ("hydrozone",), "name of the hydrozone"),
                text("text", "", "what it is called, where the site names none"),
            ),
            single=True,
        ),
        one(
            "swing joint",
            "how its heads join the lateral",
            quantity("reach", "reach", D.LENGTH, "how far a head may stand from its lateral", required=True),
        ),
        VALVE,
        LATERAL,
        PIPE,
        NIPPLE,
        SLEEVE,
        *INLINE,
        HEAD,
        HEADS,
        StatementSpec(
            ("drip",),
            "dripline over a bed",
            (part(("dripline",), "its part", required=True),),
            (
                ref("over", "over", ("bed", "turf"), "the area it covers", required=True),
                quantity("rows", "rows", D.LENGTH, "distance between rows", required=True),
                ref("pipe", "from", ("lateral", "pipe"), "the lateral that feeds it", required=True),
                place("where on the lateral it begins"),
                STATE,
            ),
            named="required",
        ),
    ),
    named="name",
    label=True,
    single=False,
)


def _sensor(lead: str, help: str) -> StatementSpec:
    return StatementSpec(
        tuple(lead.split()),
        help,
        (flag("none", "none", "there is none"),),
        (text("place", "place", "where it hangs"), STATE),
        named="optional",
    )


def _monthly(lead: str, help: str) -> StatementSpec:
    clauses = tuple(quantity(m, m, D.RATE, f"depth of {m}", positive=False) for m in MONTHS)
    return StatementSpec(tuple(lead.split()), help, (), clauses, single=True)


CONTROL = BlockSpec(
    "control",
    "controller, wire, sensors and the inputs of the watering schedule",
    (
        StatementSpec(
            ("controller",),
            "the controller",
            (LABEL,),
            (
                place("where it hangs", required=False),
                text("place", "place", "where it hangs, in words"),
                Slot("stations", Want.COUNT, "number of stations", ("stations",)),
                STATE,
            ),
            named="required",
            single=True,
        ),
        one("wire", "the control wire", text("text", "", "kind of wire", required=True), COVER),
        _sensor("rain sensor", "a rain sensor"),
        _sensor("freeze sensor", "a freeze sensor"),
        _sensor("soil sensor", "a soil moisture sensor"),
        _sensor("flow sensor", "a flow sensor wired to the controller"),
        one(
            "reference et",
            "reference evapotranspiration of the month of highest need",
            quantity("rate", "", D.RATE, "rate", required=True),
        ),
        _monthly("monthly et", "reference evapotranspiration month by month"),
        _monthly("monthly rain", "rain of an ordinary year month by month"),
        one(
            "rain credit",
            "share of the rain that the plants get to use; without it no rain is counted",
            quantity("share", "", D.RATIO, "share", required=True),
        ),
        one("days", "watering days a week", quantity("count", "", D.COUNT, "number of days", required=True)),
        one(
            "window",
            "hours a day in which watering is allowed",
            quantity("time", "", D.TIME, "time", required=True),
        ),
        StatementSpec(
            ("together",),
            "zones that may run at the same time",
            (ref("zones", "", ("zone",), "names of zones", required=True, many=True),),
        ),
    ),
)
