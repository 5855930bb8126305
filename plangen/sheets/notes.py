"""General notes: what holds on every job, in our own words, and the notes that follow from the design.

No limit of any code is quoted here: those are the packs' own, shown with their source in the code check.
"""

from __future__ import annotations

from plangen.model.design import Design
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.sheets.joining import cemented, joinings

SAFETY_NOTES = (
    "These sheets were worked out from one design file. They are not an approval, a certification or a"
    " survey. Local"
    " code, the water purveyor and the licensed person responsible decide; where they differ from these"
    " sheets, they"
    " hold.",
    "Cross-connection: nothing downstream of the backflow assembly is drinking water. Do not connect,"
    " move or bypass"
    " the assembly, and do not use the system before the assembly has been tested by a licensed tester.",
    "Have buried lines marked before any digging (US: call 811; elsewhere the one-call service or each"
    " utility) and wait for all marks. Private lines are not marked"
    " by it. Hand-dig near every mark. Lines shown here are from records and may lie elsewhere.",
    "Trenches can cave in. A competent person looks at every trench before anyone enters; deep or loose"
    " ones are"
    " shored or sloped.",
    "Shut off and drain before cutting into the service. Tell the household when water will be off. Keep"
    " cuttings and"
    " soil out of the pipe, and flush before the house is connected again.",
    "Fill slowly with the far ends open. Trapped air under pressure can burst pipe. Never test plastic"
    " pipe with"
    " compressed air.",
    "Disconnect the controller from mains power before work on its wiring. Mains wiring is for a"
    " licensed electrician.",
)

_CEMENT_NOTE = (
    "Solvents, primers and cement are flammable and harmful to breathe: ventilate, keep flames away, wear"
    " gloves and eye protection."
)
_CURE_NOTE = (
    "Joints must cure as the maker of the cement says, by pipe size and temperature, before water is let in."
)
_FUSION_NOTE = (
    "PE pipe is never cemented: fused joints cool clamped for their maker's time, mechanical joints are made"
    " as their maker writes; each is looked at before water is let in."
)


def general_notes(design: Design) -> tuple[str, ...]:
    """Return the numbered general notes of a design."""
    site, control = design.site, design.control
    glued = cemented(design)
    own = [
        "Scaled distances are true on these sheets at full size; check the calibration mark before"
        " measuring on a print.",
        f"Elevations are in the site's own datum: {site.datum}."
        if site.datum
        else "No vertical datum is given.",
        f"Frost depth {told(site.frost_depth.si, Dimension.LENGTH, design.project.units, small=True)}"
        f" ({site.frost_depth.provenance.told()})."
        if site.frost_depth
        else "Frost depth is not given: have it confirmed before burying pipe.",
        "Stake heads, valves and pipe before digging and have changes approved; mark them on the record"
        " copy in red.",
        "Bring every stub, valve box and sleeve end onto the record copy with two tape distances.",
        "Bed pipe on even ground free of stones; backfill in layers only after the pressure test has"
        " been seen.",
        *((_CURE_NOTE,) if glued else ()),
        *((_FUSION_NOTE,) if any(way.way in ("fusion", "insert") for way in joinings(design)) else ()),
        "Lay pipe under paving in its sleeve; cap the sleeve's ends and mark them at grade.",
        "No water on paving, walls, the street or a neighbour's ground: arcs and radius are set at start-up.",
    ]
    if control and control.wire:
        own.append(
            f"Control wire: {control.wire}. Splices waterproof and in a box, each shown on the record copy."
        )
    assemblies = list(design.standing("assembly"))
    for device in assemblies:
        guard = (
            f" Frost protection: {device.insulation}."
            if device.insulation
            else " Frost protection is not given."
        )
        own.append(f"{device.name}: keep test cocks and vents clear and reachable.{guard}")
    return (*SAFETY_NOTES, *((_CEMENT_NOTE,) if glued else ()), *own)
