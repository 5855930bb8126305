"""What holds where an author says nothing, in words for the listing of the language."""

from __future__ import annotations

from plangen.model.schema.ground import LANDMARKS, UTILITIES
from plangen.model.schema.shape import Slot, StatementSpec, Want

# Statements whose object stands there already unless the author says otherwise.
_STANDS = frozenset(
    {
        *("source", "house", "lot", "building", "paving", "wall", "pond", "turf", "bed", "tree"),
        *("septic-field", "bank", *UTILITIES, *LANDMARKS),
    }
)
# By first word of the statement and field.
_WORDS = {
    ("sheet", "size"): "`ansi-b`",
    ("units", "system"): "`us`",
    ("assembly", "assembly_kind"): "that of its part",
    ("source", "lowest"): "the static pressure less `allowance`; without that too, not known, and nothing is"
    " solved",
    ("source", "allowance"): "not known, and nothing is solved unless `lowest` is said; `0 psi` is an answer",
    ("source", "temperature"): "ratings of plastic pipe are taken at 73 F, as an assumption",
    ("house", "demand"): "not known, and nothing is solved; `0 gpm` is an answer",
    ("head", "riser"): "flush with grade",
    ("trench", "value"): "6 in in the takeoff: common practice, no source; not stated on the sheets",
    ("purge", "value"): "50 psi (3.4 bar) is the limit told: common practice, weak sources",
    ("head", "arc"): "all around for a full-circle part, a bubbler or a quick coupler, else not known",
}


def unsaid(spec: StatementSpec, slot: Slot) -> str:
    """Return what holds if a slot is not said, as Markdown; an empty text if its statement must say it."""
    if (spec.lead[0], slot.field) in _WORDS:
        return _WORDS[spec.lead[0], slot.field]
    if slot.required:
        return ""
    has_part = any(s.want is Want.PART for s in spec.args)
    if slot.field == "state":
        return "`existing`" if (spec.kind or spec.words) in _STANDS else "`new`"
    if slot.field == "label":
        has_outline = any(s.field == "outline" for s in spec.clauses)
        return "its name" if has_outline else "that of its part" if has_part else "none"
    if slot.field in ("size", "listing") and has_part:
        return "that of its part"
    return "no" if slot.want is Want.FLAG else "not known"
