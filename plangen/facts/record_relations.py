"""Relations about what was found on site: tests of assemblies and pipes, flushing, changes as built."""

from __future__ import annotations

from plangen.facts.fields import quantity, text, truth, word
from plangen.facts.values import Relation
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.quantity.dimension import Dimension

CHANGES = ("moved", "changed", "added", "omitted")

ASSEMBLY_TEST = Relation(
    "assembly_test",
    "a field test of a backflow assembly that the design records; a row for each",
    (
        text("assembly", "the assembly that was tested"),
        word("kind", "its type", *ASSEMBLY_KINDS),
        truth("latest", "no later test of this assembly is recorded"),
        truth("passed", "the tester says that it passed"),
        truth("licence_given", "the tester's licence number is stated"),
        truth("gauge_given", "the serial number of the gauge is stated"),
        truth("calibration_given", "the day of the gauge's last calibration is stated"),
        quantity(
            "calibration_age", Dimension.TIME, "time from the gauge's last calibration to the day of the test"
        ),
        truth("readings_complete", "every reading that a test of this type of assembly takes is recorded"),
        quantity("air_inlet", Dimension.PRESSURE, "pressure at which the air inlet opened"),
        quantity("check_valve", Dimension.PRESSURE, "pressure that the check valve held"),
        quantity("first_check", Dimension.PRESSURE, "pressure that the first check held"),
        quantity("second_check", Dimension.PRESSURE, "pressure that the second check held"),
        quantity("relief_valve", Dimension.PRESSURE, "pressure at which the relief valve opened"),
        quantity(
            "relief_margin", Dimension.PRESSURE, "what the first check held over the relief valve's opening"
        ),
        truth("first_shutoff_tight", "the first shut-off was tight"),
        truth("second_shutoff_tight", "the second shut-off was tight"),
    ),
)

PRESSURE_TEST = Relation(
    "pressure_test",
    "a test of pipes under pressure that the design records; a row for each",
    (
        text("pipes", "which pipes were tested, as written"),
        quantity("pressure", Dimension.PRESSURE, "pressure at the start"),
        quantity("time", Dimension.TIME, "how long it was watched"),
        quantity("loss", Dimension.PRESSURE, "how much the pressure fell"),
        quantity("stated_pressure", Dimension.PRESSURE, "the test pressure that the procedure states"),
        quantity("stated_time", Dimension.TIME, "the time that the procedure states"),
        truth("witnessed", "somebody who watched is named"),
        truth("passed", "whoever tested says that it passed"),
    ),
)

FLUSHING = Relation(
    "flushing",
    "a run of water through pipes until it came clear that the design records; a row for each",
    (
        text("pipes", "which pipes were flushed, as written"),
        quantity("time", Dimension.TIME, "how long the water ran"),
        truth("before_assembly_tests", "no assembly test is recorded for an earlier day"),
    ),
)

CHANGE = Relation(
    "change",
    "a difference of the work as built from the plan as issued that the design records; a row for each",
    (
        word("change", "what was done", *CHANGES),
        text("object", "the object it is about"),
        word("of", "what kind of object it is", "assembly", "other"),
        truth("decided_by_given", "who did or decided it is named"),
        truth("issued_since", "the plan was issued on the day of the change or after it"),
    ),
)

RECORD_RELATIONS = (ASSEMBLY_TEST, PRESSURE_TEST, FLUSHING, CHANGE)
