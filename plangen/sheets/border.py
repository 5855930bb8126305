"""The border of a sheet: its frame and the zones lettered on all four sides."""

from __future__ import annotations

from plangen.sheets.marks import Area, Group, Line, Text
from plangen.sheets.panel import AnyMark
from plangen.sheets.paper import Paper
from plangen.sheets.pens import Lettering
from plangen.sheets.shapes import rectangle


def border(paper: Paper, letters: Lettering) -> Group:
    """Return the frame with a band of zones around it: `C4` is row C, column 4."""
    left, top, right, bottom = paper.frame
    band = letters.floor + 1.6
    marks: list[AnyMark] = [
        Area(rectangle(left, top, right, bottom), "frame"),
        Area(rectangle(left - band, top - band, right + band, bottom + band), "frame-thin"),
    ]
    for i in range(paper.columns):
        x = left + (right - left) * (i + 0.5) / paper.columns
        edge = left + (right - left) * i / paper.columns
        for y, line in ((top - 0.8, (top - band, top)), (bottom + band - 0.8, (bottom, bottom + band))):
            marks.append(Text(x, y, paper.column_name(i), letters.floor, "middle"))
            if i:
                marks.append(Line(((edge, line[0]), (edge, line[1])), "frame-thin"))
    for i in range(paper.rows):
        y = top + (bottom - top) * (i + 0.5) / paper.rows + letters.floor / 2
        edge = top + (bottom - top) * i / paper.rows
        for x, line in ((left - band / 2, (left - band, left)), (right + band / 2, (right, right + band))):
            marks.append(Text(x, y, paper.row_name(i), letters.floor, "middle"))
            if i:
                marks.append(Line(((line[0], edge), (line[1], edge)), "frame-thin"))
    return Group("border", tuple(marks), title="Border zones")
