"""Language tables of the blocks project, site and hazards: who, where, on what conditions."""

from __future__ import annotations

from plangen.model.design import TRADES, WORK_STEPS
from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import STATE, one, place, quantity, route, said, text, word
from plangen.quantity.dimension import Dimension as D

SHEETS = ("ansi-b", "arch-d", "a3", "a1")
UTILITIES = ("sewer", "gas", "power", "telecom", "storm", "water", "septic", "reclaimed")
# Other water and waste on the lot, each at one place: kind, and what it is.
LANDMARKS: dict[str, str] = {
    "septic-tank": "a septic tank",
    "well": "a well, whether it feeds the system or not",
    "cistern": "a tank or cistern of rain or other water",
}
QUESTIONS: dict[str, str] = {
    "chemicals": "chemicals or fertiliser fed into the system",
    "septic": "a septic tank or drain field on the lot",
    "second source": "a second source of water, such as a well or a cistern",
    "pump": "a pump on the premises that can raise the pressure",
    "reclaimed water": "reclaimed water on the premises",
    "heater expansion": "how the storage water heater's expansion is taken up behind a closed service",
}


def _line(lead: str, help: str, field: str = "") -> StatementSpec:
    return one(lead, help, text(field or lead.replace(" ", "_"), "", help, required=True))


PROJECT = BlockSpec(
    "project",
    "what the title block says, and the settings of the whole design",
    (
        _line("address", "street address of the job"),
        _line("parcel", "parcel number"),
        _line("owner", "owner of the property"),
        _line("purveyor", "who supplies the water"),
        StatementSpec(
            ("preparer",),
            "who drew the plan",
            (text("name", "", "name of the preparer", required=True),),
            (
                text("firm", "firm", "firm"),
                text("licence", "licence", "licence number"),
                Slot("expires", Want.DATE, "last day of the licence", ("expires",)),
                text("phone", "phone", "telephone"),
            ),
            single=True,
        ),
        StatementSpec(
            ("contractor",),
            "who does some steps of the work, with the licence of a trade",
            (text("name", "", "name of the licensed person", required=True),),
            (
                word("trade", "trade", said(TRADES), "trade of the licence", required=True),
                Slot(
                    "steps",
                    Want.WORD,
                    f"steps of the work, of {', '.join(WORK_STEPS)}",
                    ("does",),
                    choices=WORK_STEPS,
                    required=True,
                    many=True,
                ),
                text("firm", "firm", "firm"),
                text("licence", "licence", "licence number"),
                Slot("expires", Want.DATE, "last day of the licence", ("expires",)),
            ),
        ),
        one(
            "jurisdiction",
            "the packs of rules that apply",
            Slot("packs", Want.WORD, "names of packs", required=True, many=True),
        ),
        _line("permit", "permit number"),
        _line("scope", "what the job is, in a sentence"),
        one("issued", "date of issue", Slot("date", Want.DATE, "date of issue", required=True)),
        StatementSpec(
            ("revision",),
            "one issue of the plan",
            (
                Slot("label", Want.LABEL, "letter or number of the revision", required=True),
                Slot("date", Want.DATE, "its date", required=True),
                text("text", "", "what changed", required=True),
            ),
            (Slot("answers", Want.LABEL, "the review comment it answers", ("answers", "comment")),),
        ),
        one("sheet", "sheet size", word("size", "", SHEETS, "sheet size", required=True)),
        one(
            "units",
            "the units of everything shown",
            word("system", "", ("us", "metric"), "us or metric", required=True),
        ),
    ),
    label=True,
    required=True,
)


def _area(lead: str, help: str, *clauses: Slot) -> StatementSpec:
    return StatementSpec(
        tuple(lead.split()),
        help,
        (text("label", "", "what it is called on the sheets"),),
        (*clauses, Slot("outline", Want.ROUTE, "its corners in order", ("outline",), required=True), STATE),
        named="required",
        kind=lead.replace(" ", "-"),
    )


_MATERIAL = Slot("material", Want.WORD, "what it is made of", ("material",))
_PLANTING = (
    text("plant", "plant", "what grows there"),
    text("soil", "soil", "kind of soil"),
    text("exposure", "exposure", "sun and wind"),
    quantity("slope", "slope", D.RATIO, "slope of the ground"),
    quantity(
        "plant_factor", "plant factor", D.RATIO, "water need as a share of reference evapotranspiration"
    ),
)

SITE = BlockSpec(
    "site",
    "the ground: lot, buildings, paving, planting, grades, utilities",
    (
        one(
            "coordinates",
            "unit of bare coordinates",
            word("unit", "", ("ft", "m"), "ft or m", required=True),
            required=True,
        ),
        one(
            "north",
            "bearing of true north from plan north",
            quantity("bearing", "", D.ANGLE, "bearing", required=True, positive=False),
        ),
        StatementSpec(
            ("street",),
            "name of the street in front; a corner lot names each of its streets in a line of its own",
            (text("name", "", "name of the street", required=True),),
        ),
        _line("datum", "what elevations are measured from", "text"),
        one(
            "frost depth",
            "depth of frost in the ground",
            quantity("depth", "", D.LENGTH, "depth", required=True),
        ),
        _area("lot", "the lot line"),
        _area("building", "a building", _MATERIAL),
        _area("paving", "paving that water must not fall on and pipes pass under", _MATERIAL),
        _area("wall", "a free-standing wall", _MATERIAL),
        _area("pond", "a pool or pond"),
        _area("septic field", "the drain field of a septic system"),
        _area(
            "bank", "a raised bank or steep slope", quantity("slope", "slope", D.RATIO, "slope of the ground")
        ),
        _area("turf", "lawn", *_PLANTING),
        _area("bed", "a planting bed", *_PLANTING),
        StatementSpec(
            ("hydrozone",),
            "plants of one water need, for zones to name; what it says holds for areas that do not say it",
            (text("label", "", "what it is called on the sheets"),),
            (_PLANTING[0], _PLANTING[2], _PLANTING[4]),
            named="required",
        ),
        StatementSpec(
            ("grade",),
            "finished grade at one place",
            (
                Slot("at", Want.PLACE, "where", required=True),
                quantity(
                    "elevation", "", D.LENGTH, "elevation above the datum", required=True, positive=False
                ),
            ),
        ),
        *(
            StatementSpec(
                (kind,),
                f"an existing buried line: {kind}",
                (),
                (
                    route("route", "its course"),
                    quantity("depth", "depth", D.LENGTH, "depth of its top below grade"),
                    STATE,
                ),
                named="required",
            )
            for kind in UTILITIES
        ),
        *(
            StatementSpec(
                tuple(kind.split("-")),
                help,
                (text("label", "", "what it is called on the sheets"),),
                (place("where it is"), STATE),
                named="required",
                kind=kind,
            )
            for kind, help in LANDMARKS.items()
        ),
        StatementSpec(
            ("tree",),
            "a tree",
            (text("label", "", "kind of tree"),),
            (
                place("place of the trunk"),
                quantity("canopy", "canopy", D.LENGTH, "diameter of the canopy"),
                _PLANTING[4],
                STATE,
            ),
            named="required",
        ),
    ),
    required=True,
)

HAZARDS = BlockSpec(
    "hazards",
    "the questions on which the degree of hazard rests; silence is no answer",
    tuple(
        one(question, help, Slot("answer", Want.ANSWER, help, required=True))
        for question, help in QUESTIONS.items()
    ),
)
