"""The fact vocabulary: every relation a rule may be about. Packs live on it for years: names only grow."""

from __future__ import annotations

from plangen.facts.project_relations import PROJECT_RELATIONS
from plangen.facts.record_relations import RECORD_RELATIONS
from plangen.facts.setback_relations import SETBACK_RELATIONS
from plangen.facts.sheet_relations import SHEET_RELATIONS
from plangen.facts.values import Relation
from plangen.facts.water_relations import WATER_RELATIONS
from plangen.facts.zone_relations import ZONE_RELATIONS

# Packs state the version they were written against; it changes only when a meaning changes.
VERSION = "1"
VOCABULARY: tuple[Relation, ...] = (
    *PROJECT_RELATIONS,
    *WATER_RELATIONS,
    *SETBACK_RELATIONS,
    *ZONE_RELATIONS,
    *RECORD_RELATIONS,
    *SHEET_RELATIONS,
)
# What is not known of a relation while its list of rows may not be whole.
_UNLISTED = {
    "separation": "which buried lines run on the lot",
    "setback": "what septic system, well, pond or bank is on the lot",
    "controller": "whether there is a controller",
    "sensor": "which sensors there are",
    "supply": "where the water comes from",
    "sheet": "which sheets there are",
}


def unlisted(name: str) -> str:
    """Return what is not known of a relation whose list of rows may not be whole."""
    return _UNLISTED.get(name, f"whether every {name.replace('_', ' ')} is listed")


def relation(name: str) -> Relation | None:
    """Return the relation of that name, or None."""
    return next((r for r in VOCABULARY if r.name == name), None)
