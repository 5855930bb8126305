"""Base sheets and findings to annotated sheets: markers, status words, the filled code-check summary.

Nothing of the base sheets moves. Only the texts of the sheet total change when the summary needs more
sheets than the one that the set keeps for it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from plangen.annotation.clouds import Revised, cloud_group
from plangen.annotation.markers import marker_group
from plangen.annotation.required import required_group
from plangen.annotation.summary import summary_pages
from plangen.checking.finding import Finding, Status
from plangen.sheets.cover import SHEET_INDEX
from plangen.sheets.frame import CHECK_SHEET
from plangen.sheets.marks import Area, Group, Sheet, SheetSet, Text
from plangen.sheets.page import next_id
from plangen.sheets.panel import AnyMark, Panel, moved_panel
from plangen.sheets.paper import paper
from plangen.sheets.pens import lettering
from plangen.sheets.shapes import rectangle

NOT_FOR_CONSTRUCTION = "NOT FOR CONSTRUCTION"


def annotate(sheets: SheetSet, findings: Sequence[Finding], revised: Revised | None = None) -> SheetSet:
    """Return the set with the findings shown, and clouds about what a revision changes if that is known.

    A set without a summary sheet gets markers and status only.
    """
    bodies = _summaries(sheets, findings)
    total = len(sheets.sheets) + max(len(bodies) - 1, 0)
    stop = any(
        f.severity == "required" and f.status in (Status.FALLS_SHORT, Status.NOT_KNOWN) for f in findings
    )
    check_title = next((s.title for s in sheets.sheets if s.id == CHECK_SHEET), "")
    out: list[Sheet] = []
    for sheet in sheets.sheets:
        if sheet.id == CHECK_SHEET:
            for n, body in enumerate(bodies):
                out.append(_filled(sheet, body, n, len(bodies)))
        else:
            added = (
                marker_group(sheet, findings, sheets.family),
                required_group(sheet, findings, sheets.family),
                cloud_group(sheet, revised, sheets.family) if revised else None,
            )
            shown = replace(sheet, marks=(*sheet.marks, *(group for group in added if group)))
            out.append(_indexed(shown, check_title, len(bodies)))
    return replace(
        sheets,
        sheets=tuple(_numbered(_stamped(s, sheets.family, stop), n, total) for n, s in enumerate(out, 1)),
    )


def _summaries(sheets: SheetSet, findings: Sequence[Finding]) -> tuple[tuple[Panel, ...], ...]:
    if not any(sheet.id == CHECK_SHEET for sheet in sheets.sheets):
        return ()
    left, top, right, bottom = paper(sheets.family).drawing
    pages = summary_pages(findings, lettering(sheets.family), right - left, bottom - top)
    return tuple(tuple(moved_panel(panel, left + x, top + y) for panel, x, y in page) for page in pages)


def _filled(sheet: Sheet, body: Sequence[Panel], index: int, count: int) -> Sheet:
    """The summary sheet kept in the set, or a further one like it, with its tables in."""
    sheet_id = next_id(sheet.id, index)
    marks = tuple(_renamed(group, sheet.id, sheet_id) for group in sheet.marks)
    summary = Group("findings", tuple(p.group for p in body), title="Code check")
    if count == 1:
        return replace(sheet, id=sheet_id, marks=(*marks, summary))
    title = f"{sheet.title}, {index + 1} of {count}"
    marks = tuple(_titled(group, f"{index + 1} OF {count}") for group in marks)
    return replace(sheet, id=sheet_id, title=title, marks=(*marks, summary))


def _titled(group: Group, part: str) -> Group:
    """The title strip with the part told in the second of the two lines kept for the sheet's title."""
    if group.role != "sheet-title":
        inner = (_titled(m, part) if isinstance(m, Group) else m for m in group.marks)
        return replace(group, marks=tuple(inner))
    last = max((m for m in group.marks if isinstance(m, Text)), key=lambda t: t.y, default=None)
    if last is None:
        return group
    if len(group.marks) == 1:
        return replace(group, marks=(last, replace(last, y=last.y + last.height * 1.35, text=part)))
    longer = replace(last, text=f"{last.text}, {part}")
    return replace(group, marks=tuple(longer if m is last else m for m in group.marks))


def _indexed(sheet: Sheet, title: str, count: int) -> Sheet:
    """The cover with the further sheets of the summary named in the row of the first."""
    if count < 2:
        return sheet
    words = f"{title}: {CHECK_SHEET} to {next_id(CHECK_SHEET, count - 1)}"

    def told(group: Group) -> Group:
        index = group.role == "table" and group.title == SHEET_INDEX
        return replace(
            group,
            marks=tuple(
                told(m)
                if isinstance(m, Group)
                else replace(m, text=words)
                if index and isinstance(m, Text) and m.text == title
                else m
                for m in group.marks
            ),
        )

    return replace(sheet, marks=tuple(told(group) for group in sheet.marks))


def _renamed(group: Group, old: str, new: str) -> Group:
    return _each_text(group, "sheet-id", lambda t: replace(t, text=t.text.replace(old, new)))


def _numbered(sheet: Sheet, number: int, total: int) -> Sheet:
    words = f"SHEET {number} OF {total}"
    return replace(
        sheet,
        marks=tuple(_each_text(g, "sheet-total", lambda t: replace(t, text=words)) for g in sheet.marks),
    )


def _each_text(group: Group, role: str, change: Callable[[Text], Text]) -> Group:
    """The same group with the texts of one role's groups changed."""
    marks: list[AnyMark] = []
    for mark in group.marks:
        if isinstance(mark, Group):
            marks.append(_each_text(mark, role, change))
        elif isinstance(mark, Text) and group.role == role:
            marks.append(change(mark))
        else:
            marks.append(mark)
    return replace(group, marks=tuple(marks))


def _stamped(sheet: Sheet, family: str, stop: bool) -> Sheet:
    """Letter the status words in the room that the title strip keeps for them."""
    room = next(((x, y, w, h) for name, x, y, w, h in sheet.rooms if name == "status"), None)
    if not stop or room is None:
        return sheet
    x, y, w, h = room
    height = lettering(family).heading
    marks = (
        Area(rectangle(x + 1.0, y + 0.6, x + w - 1.0, y + h - 0.6), "finding", "none"),
        Text(x + w / 2, y + h / 2 + height / 2, NOT_FOR_CONSTRUCTION, height, "middle", bold=True),
    )
    return replace(sheet, marks=(*sheet.marks, Group("status", marks, title=NOT_FOR_CONSTRUCTION)))
