"""Language tables of the blocks procedure, records and changes: how the work is done, and what came of it."""

from __future__ import annotations

from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import one, quantity, ref, text, word
from plangen.quantity.dimension import Dimension as D

# What a gauge reads, and what a tester sees, by their words in the language.
PRESSURES = {
    "air inlet": "pressure at which the air inlet opened",
    "check valve": "pressure that the check valve held",
    "first check": "pressure that the first check held",
    "second check": "pressure that the second check held",
    "relief valve": "pressure at which the relief valve opened",
}
SHUTOFFS = {
    "first shut-off": "whether the first shut-off was tight",
    "second shut-off": "whether the second shut-off was tight",
}
CHANGES = {
    "moved": "an object stands elsewhere than the plan as issued had it",
    "changed": "an object is of another kind or size",
    "added": "an object that the plan as issued did not have",
}
_ON = Slot("on", Want.DATE, "the day", ("on",), required=True)
_BY = text("by", "by", "who did it", required=True)
_RESULT = Slot("result", Want.CHOICE, "whether it passed", choices=("passed", "failed"))


def _fact(lead: str, help: str, dimension: D) -> StatementSpec:
    return one(lead, help, quantity("value", "", dimension, help, required=True))


PROCEDURE = BlockSpec(
    "procedure",
    "figures of the work that no drawing shows: trenches, joints, the pressure test and winter",
    (
        _fact("test pressure", "pressure at which the new pipes are tested", D.PRESSURE),
        _fact("test time", "how long they hold it", D.TIME),
        _fact("cure time", "how long a joint is left before water enters it", D.TIME),
        one(
            "temperature",
            "temperature that the cure time is for",
            quantity("value", "", D.TEMPERATURE, "temperature", required=True, positive=False),
        ),
        _fact("trench width", "width of the trenches", D.LENGTH),
        one(
            "bedding",
            "what the pipes lie on in the trench",
            quantity("value", "", D.LENGTH, "depth under the pipe", required=True),
            text("text", "of", "what it is of"),
        ),
        one(
            "warning tape",
            "tape over the pipes under pressure, so that the next one to dig sees it first",
            text("text", "", "kind of tape", required=True),
            quantity("value", "above pipe", D.LENGTH, "how far over the pipe it lies"),
        ),
        one(
            "tracer wire",
            "wire beside the pipes under pressure, by which they are found from above",
            text("text", "", "kind of wire", required=True),
        ),
        _fact("purge pressure", "highest pressure of the air that blows the pipes out", D.PRESSURE),
    ),
)
RECORDS = BlockSpec(
    "records",
    "tests and flushing, as they were found on site",
    (
        StatementSpec(
            ("assembly", "test"),
            "a field test of a backflow assembly",
            (ref("assembly", "", ("assembly",), "the assembly tested", required=True),),
            (
                _ON,
                _BY,
                text("licence", "licence", "licence of the tester"),
                text("firm", "firm", "firm of the tester"),
                text("gauge", "gauge", "serial number of the gauge"),
                Slot("calibrated", Want.DATE, "when the gauge was last calibrated", ("calibrated",)),
                text("reason", "reason", "why it was tested"),
                *(
                    quantity(lead.replace(" ", "_"), lead, D.PRESSURE, help)
                    for lead, help in PRESSURES.items()
                ),
                *(
                    word(lead.replace(" ", "_"), lead, ("tight", "leaked"), help)
                    for lead, help in SHUTOFFS.items()
                ),
                _RESULT,
            ),
        ),
        StatementSpec(
            ("pressure", "test"),
            "a test of pipes under pressure",
            (text("what", "", "which pipes", required=True),),
            (
                _ON,
                _BY,
                quantity("pressure", "pressure", D.PRESSURE, "pressure at the start", required=True),
                quantity("time", "held", D.TIME, "how long it was watched", required=True),
                quantity("loss", "loss", D.PRESSURE, "how much it fell"),
                text("witness", "witness", "who watched"),
                _RESULT,
            ),
        ),
        StatementSpec(
            ("flushing",),
            "water run through pipes until it came clear",
            (text("what", "", "which pipes", required=True),),
            (_ON, _BY, quantity("time", "for", D.TIME, "how long")),
        ),
    ),
)
CHANGES_BLOCK = BlockSpec(
    "changes",
    "how the work as built differs from the plan as issued",
    (
        *(
            StatementSpec(
                (lead,),
                help,
                (
                    ref("name", "", (), "the object", required=True),
                    text("text", "", "what is different", required=True),
                ),
                (_ON, text("by", "by", "who did it")),
            )
            for lead, help in CHANGES.items()
        ),
        StatementSpec(
            ("omitted",),
            "what the plan as issued had and was not built",
            (text("text", "", "what was not built", required=True),),
            (_ON, text("by", "by", "who decided it")),
        ),
    ),
)
