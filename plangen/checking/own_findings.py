"""The findings that no pack writes: what each is called and tells. For `explain` and the handbook."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OwnFinding:
    """A finding of the checker itself."""

    name: str
    severity: str  # required, advisory
    meaning: str
    remedy: str


OWN_FINDINGS: tuple[OwnFinding, ...] = (
    OwnFinding(
        "water-unsolved",
        "required",
        "The water of a zone could not be worked out, and no rule pack in force asks for it. Without pressure"
        " and flow nothing shows that the zone can run, so it is not known, whatever the packs say.",
        "Give the value that the message names, or change the zone so that every part works within its"
        " stated range.",
    ),
    OwnFinding(
        "build-tolerance",
        "advisory",
        "A rule is met by less than a crew can build to.",
        "Draw and build it to the value that the message names.",
    ),
    OwnFinding(
        "waiver-unused",
        "advisory",
        "A waiver names a rule that is not in force, an object the rule was not checked on, or a finding that"
        " does not fall short.",
        "Correct the waiver or take it out of the design.",
    ),
    OwnFinding(
        "waiver-refused",
        "advisory",
        "A waiver is of a rule that cannot be waived, or does not say why and by whom it was granted.",
        "Mend what falls short, or complete the waiver.",
    ),
    OwnFinding(
        "waiver-undated",
        "advisory",
        "A waiver has no end date, or the plan has no issue date to hold the end date against.",
        "State until when the waiver holds, and the plan's issue date.",
    ),
    OwnFinding(
        "waiver-expired",
        "advisory",
        "A waiver ended before the plan's issue date.",
        "Ask the authority for a new one, or mend what falls short.",
    ),
    OwnFinding(
        "confirmation-idle",
        "advisory",
        "A person's confirmation has no effect: nothing asks for it, or it lacks a name or a day.",
        "Correct the confirmation or take it out of the design.",
    ),
)


def own_finding(name: str) -> OwnFinding | None:
    """Return the checker's own finding of that name (or of an id that begins with it), or None."""
    return next((own for own in OWN_FINDINGS if name == own.name or name.startswith(f"{own.name}/")), None)
