"""What of a system is there already and stays, and the steps that follow from it.

A job that only replaces an assembly cuts no tap and fits no heads: it shuts the irrigation off at the valve
that is there, takes the old part out and leaves the rest alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from plangen.sheets.procedure_figures import Figures
from plangen.sheets.procedure_types import COMMON_PRACTICE, NOT_STATED, Step


class _Drawn(Protocol):
    @property
    def state(self) -> str: ...


def _worked_on(things: Iterable[_Drawn]) -> bool:
    return any(t.state in ("new", "relocated") for t in things)


def _stands(f: Figures, *kinds: str) -> bool:
    """Return whether there are devices of these kinds and every one of them is there already."""
    found = list(f.design.standing(*kinds))
    return bool(found) and not _worked_on(found)


def tap_stands(f: Figures) -> bool:
    """Return whether the service is left alone: its tap is there already."""
    return _stands(f, "tap") and not _worked_on(p for p in f.design.pipes if p.role == "service")


def shut_off_stands(f: Figures) -> bool:
    """Return whether the irrigation can be shut off without the house: tap and isolation valve are there."""
    return tap_stands(f) and _stands(f, "isolation")


def valves_stand(f: Figures) -> bool:
    """Return whether all zone valves are there already, so that the main has no open ends."""
    return _stands(f, "valve")


def new_trench(f: Figures) -> bool:
    """Return whether pipe is laid in the ground, which is also taken where no pipe at all is drawn."""
    pipes = [p for p in f.design.pipes if p.state != "removed"]
    return not pipes or _worked_on(p for p in pipes if not p.above_grade)


def new_laterals(f: Figures) -> bool:
    """Return whether a lateral is laid, so that it must be flushed before its heads are fitted."""
    laterals = [p for p in f.design.pipes if p.role == "lateral" and p.state != "removed"]
    return not laterals or _worked_on(laterals)


def new_heads(f: Figures) -> bool:
    """Return whether a head is fitted, which is also taken where none is drawn."""
    heads = [h for h in f.design.heads if h.state != "removed"]
    return not heads or _worked_on(heads)


def told_count(number: int, what: str) -> str:
    """Return a count in words: `no head`, `1 pipe`, `9 heads`."""
    return f"no {what}" if number == 0 else f"{number} {what}" + "s" * (number > 1)


def old_main(f: Figures) -> tuple[str, ...]:
    """Return what is asked of a test that old pipe stands under too."""
    old = [p for p in f.design.pipes if p.role in ("mainline", "nipple") and p.state == "existing"]
    if not old:
        return ()
    return ("Old pipe stands under the same test: settle its pressure with the authority first.",)


def tell_occupants(f: Figures) -> Step:
    """Return the notice where the house keeps its water while the valve that is there holds."""
    project, iso = f.design.project, f.names("isolation")
    return Step(
        0,
        "notice",
        "Tell the occupants",
        (
            f"The house keeps its water while {iso} holds. Tell every occupant that it may have to be shut"
            f" off if {iso} does not.",
            "Ask the purveyor whether it wants to be told of work on a backflow assembly; tell it in time.",
        ),
        f"Purveyor: {project.purveyor or NOT_STATED}; address: {project.address or NOT_STATED}",
        "Medical equipment, fire sprinklers and boilers on this service are asked about before, not after.",
        COMMON_PRACTICE,
        "Occupants told",
    )


def shut_irrigation(f: Figures) -> Step:
    """Return the step that shuts the irrigation off at the valve that is there and proves it dead."""
    iso = f.names("isolation")
    return Step(
        0,
        "prove-zero",
        "Shut the irrigation off and prove zero pressure",
        (
            f"Controller off. Close {iso}, tag it so that nobody opens it.",
            f"Let the pressure off at {f.names('drain') or 'a zone valve opened by hand'}; put a gauge on a"
            " test cock or drain and wait: it reads zero and stays there.",
            f"Does it rise again, {iso} leaks: stop, and shut the house's stop only after notice.",
        ),
        f"From {f.pressure(f.hydraulics.static_pressure_m)} static to zero; the house stays in service",
        "Never cut a pipe that is only believed to be dead. Mind a bonding conductor on metal pipe: keep the"
        " earth path whole with a jumper before the cut.",
        COMMON_PRACTICE,
        "Zero pressure seen",
    )


def take_out(f: Figures) -> tuple[Step, ...]:
    """Return the step that takes out what is drawn as removed; none where nothing is."""
    gone = sorted(d.name for d in f.design.devices if d.state == "removed")
    gone += sorted(p.name for p in f.design.pipes if p.state == "removed")
    if not gone:
        return ()
    return (
        Step(
            0,
            "take-out",
            "Take the old parts out",
            (
                f"Cut out {', '.join(gone)}; let the water that stands in them run into a bucket, not into"
                " the hole.",
                "Plug both open ends at once. No pipe past the place of an assembly is put back in service"
                " before an assembly stands there and has been proved.",
                "What is taken out goes with its number to the record; an old assembly is not used again.",
            ),
            f"Taken out: {', '.join(gone)}",
            "A bare pipe in the place of an assembly, even for an hour, is a cross-connection.",
            COMMON_PRACTICE,
            "Ends plugged",
        ),
    )
