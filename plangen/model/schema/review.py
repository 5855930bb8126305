"""Language table of the block review: waivers, confirmations, pressures read on site."""

from __future__ import annotations

from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import quantity, ref, text, word
from plangen.quantity.dimension import Dimension as D

_GAUGED = (
    "source", "meter", "isolation", "assembly", "strainer", "regulator", "master-valve", "flow-sensor",
    "valve", "head", "drip", "house",
)  # fmt: skip

REVIEW = BlockSpec(
    "review",
    "waivers granted, matters confirmed by a person, pressures read on site",
    (
        StatementSpec(
            ("waive",),
            "a rule waived for one object",
            (Slot("rule", Want.WORD, "name of the rule", required=True),),
            (
                Slot("subject", Want.LABEL, "the object", ("for",), required=True),
                text("because", "because", "the reason", required=True),
                text("by", "by", "who granted it", required=True),
                text("reference", "reference", "letter or record"),
                Slot("until", Want.DATE, "last day", ("until",)),
            ),
        ),
        StatementSpec(
            ("reading",),
            "a pressure read on site while a zone ran",
            (
                ref("place", "", _GAUGED, "what the gauge was fitted at", required=True),
                quantity("pressure", "", D.PRESSURE, "pressure read", required=True),
            ),
            (
                ref("zone", "zone", ("zone",), "the zone that ran", required=True),
                quantity(
                    "static",
                    "static",
                    D.PRESSURE,
                    "pressure at the source before, with no flow",
                    required=True,
                ),
                word("side", "side", ("inlet", "outlet"), "which side of the device: its inlet if not said"),
                Slot("on", Want.DATE, "the day", ("on",)),
            ),
        ),
        StatementSpec(
            ("confirm",),
            "a person's word on what no file can show",
            (Slot("rule", Want.WORD, "name of the rule", required=True),),
            (
                Slot("subject", Want.LABEL, "the object", ("for",)),
                text("by", "by", "who confirms it", required=True),
                Slot("on", Want.DATE, "the day", ("on",)),
                text("reference", "reference", "letter or record"),
            ),
        ),
    ),
)
