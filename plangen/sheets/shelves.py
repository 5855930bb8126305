"""Drawings that need not be read in order, set on pages in rows: titles level, spare room shared out.

Takes sizes in mm, returns places; knows nothing of what is drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from plangen.sheets.panel import Panel

GAP = 6.0
_WIDEST_GAP, _TALLEST_GAP = 40.0, 30.0  # beyond it a page looks torn apart: the rest stays free at its end
Spot = tuple[Panel, float, float]  # a panel with its left and top


@dataclass(slots=True)
class _Row:
    height: float
    panels: list[Panel] = field(default_factory=list)

    def wide(self) -> float:
        return sum(p.width_mm + GAP for p in self.panels)


def shelved(panels: Sequence[Panel], width: float, height: float) -> tuple[tuple[Spot, ...], ...]:
    """Return pages of rows, the tallest drawings first; within a row the given order holds.

    First fit by falling height: a drawing goes into the first row with room for it, else onto the first
    page with room for a new row. Of all heights that ask no further page the least is taken, so that the
    pages are evenly full.
    """
    pages = _rows(panels, width, height)
    low, high = 0.0, height
    for _ in range(10):
        middle = (low + high) / 2
        tried = _rows(panels, width, middle)
        if len(tried) == len(pages) and all(_tall(page) - GAP <= height + 1e-6 for page in tried):
            pages, high = tried, middle
        else:
            low = middle
    return tuple(_set(page, width, height) for page in pages)


def _rows(panels: Sequence[Panel], width: float, height: float) -> list[list[_Row]]:
    """Return pages of rows no taller than `height`, save where one drawing alone is."""
    order = {id(p): n for n, p in enumerate(panels)}
    pages: list[list[_Row]] = []
    for panel in sorted(panels, key=lambda p: (-round(p.height_mm, 3), order[id(p)])):
        rows = [row for page in pages for row in page]
        row = next((r for r in rows if r.wide() + panel.width_mm <= width + 1e-6), None)
        if row is None:
            row = _Row(panel.height_mm)
            page = next((p for p in pages if _tall(p) + panel.height_mm <= height + 1e-6), None)
            if page is None:
                page = []
                pages.append(page)
            page.append(row)
        row.panels.append(panel)
    for page in pages:
        for row in page:
            row.panels.sort(key=lambda p: order[id(p)])
        page.sort(key=lambda r: min(order[id(p)] for p in r.panels))
    pages.sort(key=lambda page: min(order[id(p)] for row in page for p in row.panels))
    return pages


def _tall(page: Sequence[_Row]) -> float:
    return sum(row.height + GAP for row in page)


def _set(page: Sequence[_Row], width: float, height: float) -> tuple[Spot, ...]:
    """Return where the panels of a page stand: rows under one another, each panel on the foot of its row."""
    spare = (height - _tall(page) + GAP) / max(1, len(page) - 1)
    down = min(GAP + spare, _TALLEST_GAP)
    out: list[Spot] = []
    top = 0.0
    for row in page:
        free = (width - row.wide() + GAP) / max(1, len(row.panels) - 1)
        across = min(GAP + free, _WIDEST_GAP)
        left = 0.0
        for panel in row.panels:
            out.append((panel, left, top + row.height - panel.height_mm))
            left += panel.width_mm + across
        top += row.height + down
    return tuple(out)
