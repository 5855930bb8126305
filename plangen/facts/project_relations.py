"""Relations about the papers: the project, the site, the questions every author must answer."""

from __future__ import annotations

from plangen.facts.fields import quantity, small_length, text, truth, word, words
from plangen.facts.values import Relation
from plangen.model.design import TRADES, WORK_STEPS
from plangen.quantity.dimension import Dimension

# The questions a design must answer, and what is asked. Silence is no answer.
QUESTIONS: tuple[tuple[str, str], ...] = (
    ("chemicals", "whether fertiliser or any other chemical is or may be added to the irrigation water"),
    ("septic", "whether a septic tank or its field is on the lot"),
    ("second source", "whether a well, pond, rain tank or other second water source is on the lot"),
    ("pump", "whether a pump is or may be connected to the irrigation piping"),
    ("reclaimed water", "whether reclaimed or other non-potable piped water is on the lot"),
    ("heater expansion", "how the water of a storage water heater can expand"),
)
STATES = ("new", "existing", "relocated", "removed")
# One field for every relation of things that a job can leave, lay, move or take out.
STATE = word("state", "existing, new, relocated or removed", *STATES)

PROJECT = Relation(
    "project",
    "the job as the title block states it; one row",
    (
        truth("address_given", "the address of the job is stated"),
        truth("parcel_given", "the parcel number is stated"),
        truth("owner_given", "the owner is named"),
        truth("purveyor_given", "the water purveyor is named"),
        truth("scope_given", "the scope of work is described"),
        truth("preparer_named", "the preparer of the plan is named"),
        truth("licence_given", "the preparer's licence number is stated"),
        truth("licence_expiry_given", "the day the preparer's licence ends is stated"),
        truth("licence_current", "the preparer's licence runs on the issue date"),
        truth("issue_date_given", "the issue date is stated"),
        truth("revision_given", "at least one issue of the plan is listed with its date"),
        truth("records_given", "the design records a test, a flushing or a change as built"),
        word("units", "the units of the sheets", "us", "metric"),
    ),
    single=True,
)

SITE = Relation(
    "site",
    "the ground and what the author says of its hazards; one row",
    (
        small_length("frost_depth", "how deep the ground freezes", "finished grade"),
        truth("frost_expected", "the ground freezes: the frost depth is more than nothing"),
        truth("lot_given", "the outline of the lot is stated"),
        truth("grades_given", "at least three spot grades are stated, so that heights can be compared"),
        truth("chemicals", "a chemical is or may be added to the irrigation water"),
        truth("septic", "a septic tank or its field is on the lot"),
        truth("second_source", "a second water source is on the lot"),
        truth("pump", "a pump is or may be connected to the irrigation piping"),
        truth("reclaimed_water", "reclaimed or other non-potable piped water is on the lot"),
        truth("expansion_control", "the author says how a storage water heater's water can expand"),
        truth("house_supply_closed", "a check, regulator or assembly stands between the main and the house"),
        truth("sewer_located", "at least one sewer line is on the plan"),
        quantity("planted_area", Dimension.AREA, "the ground of all planting areas together"),
    ),
    single=True,
)

QUESTION = Relation(
    "question",
    "one question about hazards that the author must answer; one row for each of the list",
    (
        truth("answered", "the design answers it, be it with none"),
        truth("none", "the answer is none"),
        text("answer", "the answer as written"),
        text("asks", "what is asked"),
    ),
)

WORK = Relation(
    "work",
    "a step of the work that this design holds and that somebody must answer for; a row for each",
    (
        word("step", "which step of the work it is", *WORK_STEPS),
        truth("named", "the project names who does it; the preparer is named for the design"),
        words("trades", "the trades of those who do it", *TRADES),
        truth("licence_given", "each of those who do it has a licence number stated"),
        truth("licence_current", "the licence of each of those who do it runs on the issue date"),
    ),
)

PROJECT_RELATIONS = (PROJECT, SITE, QUESTION, WORK)
