"""Moving a limit of a pack's text: by a tenth of it, or, where that is nothing, by a fixed step.

The step is in the limit's own unit, about as much as a crew sees on the ground (common practice, no source).
A zero in a unit that is not listed fails its test: someone has to say what is felt there.
"""

from __future__ import annotations

import re

STEP_FROM_ZERO = {"in": 3.0, "mm": 75.0}


def numbers_in(text: str) -> tuple[str, ...]:
    """Return the limits of a pack's text that are numbers, in order."""
    return tuple(re.findall(r"^limit ([a-z0-9_]+) [\d.]", text, flags=re.M))


def moved(text: str, limit: str, factor: float) -> str:
    """Return a pack's text with one limit times a factor; from zero a step up, whatever the factor."""

    def number(found: re.Match[str]) -> str:
        was = float(found[2])
        return f"{found[1]} {was * factor if was else STEP_FROM_ZERO[found[3]]:.6g} {found[3]}"

    changed, count = re.subn(rf"^(limit {limit}) ([\d.]+) ?([^\s\"]*)", number, text, flags=re.M)
    assert count == 1, limit
    return changed
