"""Which statement supplies what is not known, found by the words for what is missing. Words only; pure.

The collectors say what is missing ("the cover of P4 is not stated"); this says what an author writes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

ANYHOW = "state it where its object stands, with the day it was measured or its source"

# The words for what is missing, and what to do about it. The first that matches counts.
_TABLE: tuple[tuple[str, str], ...] = (
    (r"the design does not say ", "answer it in the hazards block, with `none` or with what there is"),
    (
        r"which buried lines run",
        "draw the buried lines in the site block: `sewer`, `gas`, `power` and others",
    ),
    (
        r"what septic system",
        "draw it in the site block: `septic tank`, `well`, `pond` or `bank`",
    ),
    (r"whether there is a controller", "name the controller in the control block"),
    (r"no controller is stated", "name the controller in the control block"),
    (
        r"no (?P<object>head|pipe|zone valve)(?: or dripline)? is stated",
        "state the {object}s of each zone in its block",
    ),
    (r"where the water comes from|no source is stated", "name the `source` in the supply block"),
    (r"which sensors|whether an? .*sensor is wired", "state each sensor in the control block, or `none`"),
    (r"the frost depth is not", "state `frost depth` in the site block, with the standard it is from"),
    (r"the issue date is not", "state `issued` in the project block"),
    (r"the day the preparer's licence", "state `expires` beside the preparer's licence"),
    (r"who does the step (?P<object>\w+)", "name a `contractor` in the project block who `does {object}`"),
    (r"the trade of (?P<object>.+) is not", "state `trade` at contractor {object} in the project block"),
    (
        r"the licence of",
        "state `expires` at that contractor",
    ),
    (
        r"where the house takes its water|what the house may draw|leads from the supply to the house",
        "draw the `house` in the supply block with a `service` to it, and state its `demand`",
    ),
    (
        r"the height of (?P<object>\w+) above grade is not given",
        "state `height` at {object} (at an assembly `critical level` or `relief port`)",
    ),
    (r"the flow to keep for the house (?P<object>\w+)", "state `demand` at {object}; `0 gpm` is an answer"),
    (
        r"the lowest pressure of the year at (?P<object>\w+)",
        "state `lowest` at {object} in the supply block, from the purveyor's record of the year, or an"
        " `allowance` to take off its static pressure",
    ),
    (
        r"neither a static nor a lowest|the static pressure at|the lowest pressure at|names no source",
        "state `static` and `lowest` at the `source` in the supply block, each with the day it was measured",
    ),
    (
        r"the ground at|the ground level|the static pressure or a ground|the level of",
        "give spot heights round it: `grade` in the site block, at least three",
    ),
    (r"the cover of the valve wire", "state `cover` at the `wire` in the control block"),
    (r"the cover of (?P<object>\w+)(?: and of \w+)? is not", "state `cover` at {object}"),
    (r"the depth of (?P<object>[\w ]+) is not", "state `depth` at {object} in the site block"),
    (
        r"runs at .+ the data sheet's",
        "change the zone so that it runs within the data sheet, or give the data sheet's values there",
    ),
    (
        r"no loss is given|the flow range|the pressure range|the (?:best|least|greatest) pressure of"
        r"|the flow of .+ at a pressure|the stated flow|states no radius|its radius",
        "copy it from the data sheet into the `part`, or name the part that it stands in",
    ),
    (r"the clearance of (?P<object>.+) from its wall", "state `clearance` at {object}"),
    (r"the procedure states no (?P<what>test \w+)", "state `{what}` in the procedure block"),
    (r"no other head of its zone|no heads with a throw", "give the zone heads that reach each other"),
    (r"is not in the pipe table", "choose a pipe of a class whose values the pipe table holds"),
    (r"how many stations", "state `stations` at the controller"),
    (
        r"the watering days|watering (?:days|window)",
        "state `days` and `window` in the control block",
    ),
    (r"^minutes of|^reference ET", "state `reference et` in the control block"),
    (r"no field test of (?P<object>.+) is rec", "record it in the records block: `assembly test {object}`"),
    (
        r"the test |the gauge|which readings|how long|how much the pressure|the pressure of the test"
        r"|does not say passed|the object was not built",
        "complete the entry in the records block",
    ),
    (r"no sheet has been composed|which sheets there are", "draw the sheets: `plangen build`"),
    (
        r"no (?:path|pipe) (?:leads|feeds|begins)|no water reaches|is known downstream of",
        "join the pipes: a `route` that leads there from the supply",
    ),
    (
        r"the (?P<what>slope|plant|exposure|soil|plant factor) of (?P<object>.+) is not",
        "state `{what}` at {object} in the site block",
    ),
    (
        r"^(?P<what>slope|soil|plant factor|canopy) of (?P<object>.+)",
        "state `{what}` at {object} in the site block",
    ),
    (r"no planting is named|names what it waters|names planting that it", "say what the zone `waters`"),
    (
        r"neither a box nor a height|the height of|has no height|height above grade|critical level",
        "state `height`, `critical level` or `relief port` at it, or `in box`",
    ),
    (r"the size of|the type of assembly|no listing", "state it there, or name a part that has it"),
    (r"how far .+ extends", "state `extends` at the sleeve"),
    (r"no paving or building|the arc of", "draw lot, buildings and paving in the site block"),
    (
        r"the limit `|the rule is stated from memory",
        "look it up in the text of the law, then `confirm` the rule with the name of who looked",
    ),
    (
        r"is not solved|not worked out|flow of|throw of|is not known|was not measured|in load case",
        "mend first what stops the water of the zone",
    ),
)
_PATTERNS = tuple((re.compile(pattern), words) for pattern, words in _TABLE)


def supply(missing: str) -> str:
    """Return what an author writes so that one thing is known, without a capital or a full stop."""
    for pattern, words in _PATTERNS:
        found = pattern.search(missing)
        if found is not None:
            return words.format(**found.groupdict())
    return ANYHOW


def supplies(missing: Iterable[str]) -> str:
    """Return what to write for several things that are missing, each once, without a full stop."""
    told = "; ".join(dict.fromkeys(map(supply, missing)))
    return told[:1].upper() + told[1:]
