"""The notes of the connection plan: how its ties are read, and what holds on the drinking-water side.

No limit of any code is quoted: those are the packs' own, shown in the code check.
"""

from __future__ import annotations

from collections.abc import Sequence

from plangen.model.design import Design
from plangen.sheets.callouts import Detail


def connection_notes(design: Design, called: Sequence[Detail]) -> tuple[str, ...]:
    """Return the numbered notes; `called` are the details of the objects shown."""
    assemblies = [d.name for d in design.standing("assembly")]
    guard = " and ".join(assemblies)
    taps = [d for d in design.devices_of("tap") if d.state == "new"]
    gone = [d.name for d in design.devices if d.state == "removed"]
    out = [
        "An arrow that ends in the open points to the corner its tape is held at; the distance stands with"
        " the object. Measure level.",
    ]
    if taps:
        out.append(
            "Before the service is cut: locates answered, material seen with the hole open, water shut off"
            " and proved off at a tap of the house."
        )
    if guard:
        out += [
            f"POTABLE SIDE is drinking water up to {guard}: pipe, fittings, solder and sealant listed for"
            " drinking water, ends kept capped, flushed before use.",
            f"Nothing is connected between the service and {guard} but what is shown. Nothing on the"
            " IRRIGATION SIDE is led back to the house.",
            f"{guard}: no change of kind, place or height without the authority's consent; room for the"
            " tester stays clear.",
        ]
    if gone:
        out.append(f"Remove {', '.join(gone)}; no dead end of the old pipe stays on the service.")
    if called:
        out.append("Details: " + ", ".join(f"{d.object} {d.words}" for d in called) + ".")
    return tuple(out)
