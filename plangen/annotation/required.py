"""What the rules ask for, lettered beside what is provided, in the room that the details keep for it.

The numbers come from the findings, which have them from the packs' limits; no sheet holds its own.
"""

from __future__ import annotations

from collections.abc import Sequence

from plangen.checking.finding import Finding, Measure, Status
from plangen.sheets.details_labels import limit_room
from plangen.sheets.marks import Group, Sheet, Text
from plangen.sheets.paragraphs import LINE, wrapped
from plangen.sheets.pens import lettering


def required_group(sheet: Sheet, findings: Sequence[Finding], family: str) -> Group | None:
    """Return the required values of one sheet's details, or None if it keeps no room for any."""
    letters = lettering(family)
    asked: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.fact and finding.status is not Status.NOT_APPLICABLE:
            asked.setdefault(limit_room(finding.fact, finding.subject), []).append(finding)
    marks: list[Group] = []
    for room, left, y, width, _ in sheet.rooms:
        name, _, side = room.partition(", ")
        words = _words(asked.get(name, ()))
        if words:
            # on the left of a view the labels are set against the view
            x, anchor = (left + width, "end") if side == "left" else (left, "start")
            texts = tuple(
                Text(x, y + letters.note * (1.31 + i * LINE), line, letters.note, anchor, bold=True)
                for i, line in enumerate(wrapped(words, width, letters.note, True))
            )
            marks.append(Group("required", texts, asked[name][0].subject, words))
    return Group("required-values", tuple(marks), title="Required values") if marks else None


def _words(findings: Sequence[Finding]) -> str:
    """The strictest least and greatest value that several rules ask for, and whether one falls short."""
    least = [f.at_least for f in findings if f.at_least]
    most = [f.at_most for f in findings if f.at_most]
    parts = []
    if least:
        parts.append(f"AT LEAST {max(least, key=_si).words}")
    if most:
        parts.append(f"AT MOST {min(most, key=_si).words}")
    if not parts:
        return ""
    graver = next(
        (s for s in (Status.FALLS_SHORT, Status.NOT_KNOWN) if any(f.status is s for f in findings)), None
    )
    return f"REQUIRED {', '.join(parts)}" + (f": {graver.words.upper()}" if graver else "")


def _si(measure: Measure) -> float:
    return measure.si if measure.si is not None else 0.0
