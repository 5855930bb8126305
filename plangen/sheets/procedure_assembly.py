"""What each kind of backflow assembly has to turn, and in which order it is filled and opened.

Facts of the kinds, not of any product: shut-offs, numbered test cocks, relief port or air inlet. The order
is common practice; the assembly's own instructions govern, and every user of these words says so.

One order for every kind with shut-offs: No. 1 (inlet) and the cocks stand open and No. 2 (outlet) shut before
the first water, so that the air of the connection leaves at the cocks; then No. 1 and the cocks are shut, the
joints looked at, No. 1 opened again, and last No. 2, so slowly that the air of the main leaves at its vent.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AssemblyKind:
    """The working parts of one kind. `level` is what its height is measured to.

    `vents` are openings besides the cocks that let air out; `filling` is what is done at the assembly while
    the connection fills, `opening` what is done after it, each in this order. `throttle` is what the flow
    into the main is held at, `{}` being the assembly's name; `pumped` is how the main is put under test, and
    `proved` who looks that the assembly protects. `setting` is how it is set, if not as a body in line.
    """

    kind: str
    code: str
    shutoffs: tuple[str, ...]
    cocks: int
    level: str
    filling: tuple[str, ...]
    opening: tuple[str, ...]
    vents: tuple[str, ...] = ()
    throttle: str = "{} shut-off No. 2 (outlet)"
    pumped: str = "Over line pressure only by a hand pump on the main, No. 2 shut: never from the house side."
    proved: tuple[str, ...] = ("{} is tested by a tester certified for it, before the system is put to use.",)
    setting: tuple[str, ...] = ()


_BEFORE = "the valve before the assembly"
_VENTED = "Behind a vented assembly nothing holds a test pressure: test the pipe up to the valve before it."
_LOOKED_AT = (
    "{} has no cocks to be tested by: the inspector looks at its height, its vent and that no valve stands"
    " after it, before the system is put to use.",
    "What cannot be tested can stick unseen: a testable assembly is the surer choice.",
)
_TWO = ("No. 1 (inlet)", "No. 2 (outlet)")
_CLEAR = "Stand so that no face is over a cock or vent: the air of the connection leaves there."
_CLOSE_FOUR = "Close cocks 1, 2, 3 and 4 in that order, each as it runs without air, then No. 1."
_REOPEN = "Open No. 1 again, slowly, then fully."
_OUTLET = "Crack No. 2 (outlet) only so far that the main fills at the flow of the next step."

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
                _CLEAR,
                "Water spits at the air inlet until its float seats; go on smoothly, since a slow trickle"
                " lets it spit on.",
                "Close cock 1, then cock 2, each as it runs without air, then No. 1.",
            ),
            (_REOPEN, _OUTLET),
        ),
        AssemblyKind(
            "svb",
            "SVB",
            _TWO,
            1,
            "CRITICAL LEVEL",
            (
                _CLEAR,
                "The diaphragm seals the air inlet as pressure comes; a steady leak there is a fault: stop.",
                "Close the bleed screw, then cock 1, each as it runs without air, then No. 1.",
            ),
            (_REOPEN, _OUTLET),
            ("bleed screw",),
        ),
        AssemblyKind(
            "rp",
            "RP",
            _TWO,
            4,
            "RELIEF PORT",
            (
                _CLEAR,
                "A short discharge at the relief port is normal as the body fills; one that goes on is a"
                " fault: close the isolation valve and stop.",
                _CLOSE_FOUR,
            ),
            (_REOPEN, _OUTLET),
        ),
        AssemblyKind(
            "dc",
            "DC",
            _TWO,
            4,
            "BOTTOM OF BODY",
            (_CLEAR, _CLOSE_FOUR),
            (_REOPEN, _OUTLET),
            proved=(
                "{} is tested by a tester certified for it, before the system is put to use.",
                "In a box: plug each test cock after the tester has done.",
            ),
        ),
        AssemblyKind(
            "avb",
            "AVB",
            (),
            0,
            "CRITICAL LEVEL",
            (
                "It has no shut-off and no cock of its own: the control valve before it stays shut, and the"
                " air leaves at that valve's bleed until it runs without air; close the bleed.",
            ),
            (
                "No valve may stand after it: open the control valve before it slowly; the float lifts and"
                " seals the air inlet.",
                "It must not stay under pressure for more than 12 hours in any 24.",
            ),
            throttle=_BEFORE,
            pumped=_VENTED,
            proved=_LOOKED_AT,
        ),
        AssemblyKind(
            "db",
            "DB",
            (),
            0,
            "VENT",
            (
                "It has no shut-off and no cock of its own: the control valve before it stays shut, and the"
                " air leaves through its vent; nothing stands closed behind it.",
            ),
            ("No valve may stand after it: open the control valve before it slowly; its vent closes.",),
            throttle=_BEFORE,
            pumped=_VENTED,
            proved=_LOOKED_AT,
        ),
        AssemblyKind(
            "air-gap",
            "AG",
            (),
            0,
            "SUPPLY OUTLET",
            ("The outlet over the tank is open: the air leaves there ahead of the water.",),
            (
                "Open the supply to the tank slowly and watch that the gap stays free above the rim.",
                "Prove that the overflow carries the whole inflow before the tank is left alone.",
                "Fill the irrigation main from the tank only when the tank is full.",
            ),
            throttle="the valve after the tank",
            setting=(
                "Fix the supply outlet of {} over the tank: from its lip to the flood rim at least twice its"
                " bore free, and never under 1 in (25 mm); no hose or pipe reaches into it.",
                "The overflow carries the whole inflow, its end screened and in sight.",
                "Insulate exposed pipe the same day; the gap stays free on every side.",
            ),
            pumped="Over line pressure only by a hand pump on the main, the valve after the tank shut.",
            proved=(
                "{} has nothing to be tested by: the inspector measures the gap over the rim and sees the"
                " overflow run, before the system is put to use.",
            ),
        ),
    )
}


def workings(kind: str) -> AssemblyKind | None:
    """Return the working parts of a kind of assembly (`pvb`, `rp`, …), or None if unknown."""
    return ASSEMBLY_WORKINGS.get(kind)
