"""What each kind of backflow assembly has to turn, and in which order it is opened.

Facts of the kinds, not of any product: shut-offs, numbered test cocks, relief port or air inlet. The order
is common practice; the assembly's own instructions govern, and every user of these words says so.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AssemblyKind:
    """The working parts of one kind. `level` is what its height is measured to."""

    kind: str
    code: str
    shutoffs: tuple[str, ...]
    cocks: int
    level: str
    opening: tuple[str, ...]


_COCKS_FIRST = "Stand so that no face is over a cock. Crack No. 1 (inlet) a few degrees and wait."
_TWO = ("No. 1 (inlet)", "No. 2 (outlet)")

ASSEMBLY_WORKINGS: dict[str, AssemblyKind] = {
    a.kind: a
    for a in (
        AssemblyKind(
            "pvb",
            "PVB",
            _TWO,
            2,
            "CRITICAL LEVEL",
            (
                _COCKS_FIRST,
                "Water spits at the air inlet until its float seats; go on smoothly, since a slow trickle"
                " lets it spit on.",
                "Close cock 1, then cock 2, each as it runs without air. Open No. 1 fully.",
                "Crack No. 2 (outlet) and hold the filling flow; open it fully only when the vent of the main"
                " runs without air, taking at least 5 minutes.",
            ),
        ),
        AssemblyKind(
            "svb",
            "SVB",
            _TWO,
            1,
            "CRITICAL LEVEL",
            (
                _COCKS_FIRST,
                "The diaphragm seals the air inlet as pressure comes; a steady leak there is a fault: stop.",
                "Open the bleed screw until it runs without air and close it; close cock 1. Open No. 1"
                " fully.",
                "Crack No. 2 (outlet) and hold the filling flow; open it fully only when the vent of the main"
                " runs without air, taking at least 5 minutes.",
            ),
        ),
        AssemblyKind(
            "rp",
            "RP",
            _TWO,
            4,
            "RELIEF PORT",
            (
                _COCKS_FIRST,
                "A short discharge at the relief port is normal as the body fills; one that goes on is a"
                " fault:"
                " close No. 1 and stop.",
                "Close cocks 1, 2, 3 and 4 in that order, each as it runs without air. Open No. 1 fully.",
                "Crack No. 2 (outlet) and hold the filling flow; open it fully only when the vent of the main"
                " runs without air, taking at least 5 minutes.",
            ),
        ),
        AssemblyKind(
            "dc",
            "DC",
            _TWO,
            4,
            "BOTTOM OF BODY",
            (
                _COCKS_FIRST,
                "Close cocks 1, 2, 3 and 4 in that order, each as it runs without air. Open No. 1 fully.",
                "Crack No. 2 (outlet) and hold the filling flow; open it fully only when the vent of the main"
                " runs without air, taking at least 5 minutes.",
                "Plug each test cock of an assembly in a box after the tester has done.",
            ),
        ),
        AssemblyKind(
            "avb",
            "AVB",
            (),
            0,
            "CRITICAL LEVEL",
            (
                "It has no shut-off and no test cock of its own, and no valve may stand after it.",
                "Open the control valve before it slowly; the float lifts and seals the air inlet.",
                "It must not stay under pressure for more than 12 hours in any 24.",
            ),
        ),
        AssemblyKind(
            "air-gap",
            "AG",
            (),
            0,
            "SUPPLY OUTLET",
            (
                "Open the supply to the tank slowly and watch that the gap stays free above the rim.",
                "Prove that the overflow carries the whole inflow before the tank is left alone.",
                "Fill the irrigation main from the tank only when the tank is full.",
            ),
        ),
    )
}


def workings(kind: str) -> AssemblyKind | None:
    """Return the working parts of a kind (`pvb`, `svb`, `rp`, `dc`, `avb`, `air-gap`), or None if unknown."""
    return ASSEMBLY_WORKINGS.get(kind)
