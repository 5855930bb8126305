"""Relations about how far the irrigation keeps from septic systems, wells and banks, and about hydrozones."""

from __future__ import annotations

from plangen.facts.fields import count, length, quantity, ratio, truth, word, words
from plangen.facts.project_relations import STATES
from plangen.facts.values import Relation
from plangen.facts.zone_relations import HEAD_KINDS
from plangen.quantity.dimension import FOOT_M, Dimension

FEATURES = ("septic-tank", "septic-field", "well", "cistern", "pond", "bank")
OBJECTS = ("pipe", "assembly", "outlets")
# Only things so near are listed: the largest distance that codes ask for between irrigation and a well or a
# septic field, from memory. A pack that asks for more is refused, so that nothing farther falls away unseen.
SETBACK_REACH_M = 100 * FOOT_M

SETBACK = Relation(
    "setback",
    "a pipe, an assembly or the outlets of a zone within 100 ft (30 m) of a septic tank or field, a well, a "
    "cistern, a pond or a bank; that no code asks for more is from memory, and a pack that does is refused",
    (
        word("feature", "what it is near to", *FEATURES),
        word("feature_state", "existing, new, relocated or removed", *STATES),
        word("object", "what is near it: for outlets, the nearest of a zone", *OBJECTS),
        word("object_state", "existing, new, relocated or removed", *STATES),
        truth("buried", "the object lies in the ground; not known for outlets without a height"),
        truth("downstream_of_assembly", "every way from the supply to the object passes an assembly"),
        length(
            "distance",
            "nearest distance in plan, from the edge of an area or the middle of a point",
            reach_m=SETBACK_REACH_M,
        ),
        truth("inside", "the object lies in the area or passes through it"),
    ),
)

HYDROZONE = Relation(
    "hydrozone",
    "plants of one water need that zones name; a row for each",
    (
        count("zones", "how many zones name it"),
        truth("defined", "the site names it, so that its water need can be stated once"),
        quantity("planted_area", Dimension.AREA, "the ground that its zones water"),
        ratio("plant_factor", "the greatest plant factor of its areas"),
        ratio("plant_factor_spread", "greatest less least plant factor of its areas"),
        count("kinds_of_plant", "how many kinds of plant its areas state"),
        count("kinds_of_exposure", "how many exposures its areas state"),
        words("outlet_kinds", "the kinds of outlet in its zones", *HEAD_KINDS, "drip"),
    ),
)

SETBACK_RELATIONS = (SETBACK, HYDROZONE)
