"""Markers: a lettered number in a small box beside each object that a finding speaks of.

They go into room that the base sheets kept; nothing that was drawn moves. The letter tells the status
without colour: F falls short, N not known, P needs a person, W waived.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from plangen.checking.finding import Finding, Status
from plangen.sheets.font import text_width_mm
from plangen.sheets.leader_ways import lead_between
from plangen.sheets.marks import Area, Group, Line, Sheet, Text
from plangen.sheets.panel import AnyMark
from plangen.sheets.paper import Rect, paper
from plangen.sheets.pens import lettering
from plangen.sheets.shapes import rectangle
from plangen.sheets.text_rect import text_rect

LETTERS: dict[Status, str] = {
    Status.FALLS_SHORT: "F",
    Status.NOT_KNOWN: "N",
    Status.NEEDS_PERSON: "P",
    Status.WAIVED: "W",
}
_GRAVEST = tuple(LETTERS)


def shown(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that get a marker, the gravest first."""
    return tuple(
        sorted(
            (f for f in findings if f.status in LETTERS),
            key=lambda f: (_GRAVEST.index(f.status), f.severity != "required", f.number),
        )
    )


def mark_of(finding: Finding) -> str:
    """Return how a finding is called on the sheets: `F12`."""
    return f"{LETTERS.get(finding.status, 'M')}{finding.number}"


def marker_group(sheet: Sheet, findings: Sequence[Finding], family: str) -> Group | None:
    """Return the markers of one sheet, or None if it has no room kept for any of these subjects."""
    about: dict[str, list[Finding]] = {}
    for finding in shown(findings):
        about.setdefault(finding.subject, []).append(finding)
    # only plans have labels beside their objects; on a detail a marker stands by the title
    labels = [_label_boxes((layer,)) for layer in _layers(sheet.marks)]
    letters = lettering(paper(family).family)
    marks = tuple(
        _marker(name, about[name], room, _own(room, name, labels), letters.floor)
        for name, x, y, w, h in sheet.rooms
        if name in about
        for room in ((x, y, x + w, y + h),)
    )
    return Group("findings", marks, title="Findings of the code check") if marks else None


def _marker(name: str, findings: Sequence[Finding], room: Rect, label: Rect | None, height: float) -> Group:
    """One marker: the gravest finding's number and how many more there are."""
    left, top, right, bottom = room
    more = f"+{len(findings) - 1}" if len(findings) > 1 else ""
    words = mark_of(findings[0]) + more
    if text_width_mm(words, height, True) > right - left - 1.0 and more:
        words = f"{mark_of(findings[0])}+"
    if text_width_mm(words, height, True) > right - left - 1.0:
        words = mark_of(findings[0])
    gravest = findings[0].status
    pen = {Status.FALLS_SHORT: "finding", Status.NOT_KNOWN: "thin-dash"}.get(gravest, "thin")
    marks: list[AnyMark] = [
        Area(rectangle(left + 0.3, top + 0.2, right - 0.3, bottom - 0.2), pen, "white"),
        Text((left + right) / 2, (top + bottom) / 2 + height / 2, words, height, "middle", bold=True),
    ]
    lead = lead_between(room, label) if label is not None else None
    if lead:
        marks.append(Line(lead, "leader"))
    titles = "; ".join(f"{mark_of(f)} {f.status.words}: {f.title}" for f in findings)
    return Group("finding", tuple(marks), name, titles)


def _own(room: Rect, name: str, views: Sequence[dict[str, Rect]]) -> Rect | None:
    """The label of a marker's object in its own view: of all views on the sheet, the nearest to its room."""
    boxes = [view[name] for view in views if name in view]

    def off(box: Rect) -> float:
        lead = lead_between(room, box)
        return math.dist(*lead) if lead else 0.0

    return min(boxes, key=off, default=None)


def _layers(groups: Iterable[Group]) -> Iterator[Group]:
    """The label layers of the plans on a sheet."""
    for group in groups:
        if group.role == "layer-labels":
            yield group
        else:
            yield from _layers(m for m in group.marks if isinstance(m, Group))


def _label_boxes(groups: Iterable[Group]) -> dict[str, Rect]:
    """The box of each object's first label."""
    out: dict[str, Rect] = {}
    for group in groups:
        if group.role == "label" and group.object:
            boxes = [text_rect(m) for m in group.marks if isinstance(m, Text)]
            if boxes:
                left, top = min(b[0] for b in boxes), min(b[1] for b in boxes)
                out.setdefault(group.object, (left, top, max(b[2] for b in boxes), max(b[3] for b in boxes)))
        for name, box in _label_boxes(m for m in group.marks if isinstance(m, Group)).items():
            out.setdefault(name, box)
    return out
