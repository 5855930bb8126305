"""Language table of the `part` block: what a data sheet says about a thing."""

from __future__ import annotations

from plangen.model.parts import ASSEMBLY_KINDS, PART_KINDS
from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import one, quantity, said, text, word
from plangen.quantity.dimension import Dimension as D

REPLACES = "replaces"  # the last word of a part's header where it stands in place of another


def _length(lead: str, help: str) -> StatementSpec:
    return one(lead, help, quantity("value", "", D.LENGTH, help, required=True))


PART = BlockSpec(
    "part",
    "a part, as its data sheet describes it",
    (
        one(
            "kind",
            "what it is",
            word("value", "", said(PART_KINDS), "kind of part", required=True),
            required=True,
        ),
        one(
            "label",
            "what it is called in schedules",
            text("value", "", "label", required=True),
            required=True,
        ),
        _length("size", "nominal size of its ends"),
        one(
            "flow",
            "flow of one outlet, at one pressure or at several",
            Slot("value", Want.LAW, "flow at a pressure", dimensions=(D.PRESSURE, D.FLOW), required=True),
        ),
        one(
            "radius",
            "how far it throws",
            Slot(
                "value",
                Want.AT_FLOW,
                "radius at a pressure",
                dimensions=(D.LENGTH, D.PRESSURE),
                required=True,
            ),
        ),
        one("arc", "what it waters", quantity("value", "", D.ANGLE, "angle", required=True)),
        one(
            "pressure",
            "pressures it works at",
            Slot("value", Want.RANGE, "lowest and highest", dimensions=(D.PRESSURE,), required=True),
            quantity("best", "best", D.PRESSURE, "the pressure it is made for"),
        ),
        one(
            "regulated",
            "pressure its own regulator holds",
            quantity("value", "", D.PRESSURE, "pressure", required=True),
        ),
        one("check valve", "it holds water back when the zone is off"),
        one("compensating", "its flow is the same at every pressure of its range"),
        _length("emitter spacing", "distance between emitters"),
        one(
            "loss",
            "loss of pressure against flow",
            Slot("value", Want.CURVE, "points", dimensions=(D.FLOW, D.PRESSURE), required=True),
        ),
        one(
            "gain",
            "pressure a pump adds, against flow",
            Slot("value", Want.CURVE, "points", dimensions=(D.FLOW, D.PRESSURE), required=True),
        ),
        one(
            "minor k",
            "loss coefficient on its own bore",
            quantity("value", "", D.RATIO, "coefficient", required=True),
        ),
        one(
            "flow range",
            "flows it is made for",
            Slot("value", Want.RANGE, "lowest and highest", dimensions=(D.FLOW,), required=True),
        ),
        one(
            "relief flow",
            "greatest flow from the relief port of a reduced-pressure assembly",
            Slot(
                "value",
                Want.AT_FLOW,
                "flow at a pressure",
                dimensions=(D.FLOW, D.PRESSURE),
                required=True,
            ),
        ),
        one(
            "closing time",
            "time in which a valve shuts",
            quantity("value", "", D.TIME, "time", required=True),
        ),
        one(
            "current",
            "current that a valve draws while it is held open",
            quantity("value", "", D.CURRENT, "current", required=True),
            quantity("inrush", "inrush", D.CURRENT, "current that opens it"),
        ),
        one(
            "rating", "highest working pressure", quantity("value", "", D.PRESSURE, "pressure", required=True)
        ),
        one(
            "assembly",
            "kind of backflow assembly",
            word("value", "", said(ASSEMBLY_KINDS), "kind of assembly", required=True),
        ),
        one("listing", "standard it is listed to", text("value", "", "standard", required=True)),
        _length("height", "height of the body"),
        _length("length", "length of the body"),
        _length("pop-up", "how far it rises"),
        one("from", "where its figures come from", Slot("value", Want.PROVENANCE, "source", required=True)),
    ),
    named="part",
    single=False,
)
