"""The sheet set: which sheets there are, their ids, and what stands on each, before any finding.

Ids follow the order of construction drawings (G general, LI landscape irrigation; 0 general, 1 plans,
3 sections, 5 details, 6 schedules and diagrams, 7 procedure) and do not change between issues.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.sheets.callouts import details_of, trench_details, with_references
from plangen.sheets.connection import CONNECTION_SHEET, called_from_connection, connection_panels
from plangen.sheets.cover import cover_panels
from plangen.sheets.details import details_panels
from plangen.sheets.enlarged import enlarged_views
from plangen.sheets.frame import CHECK_SHEET, Identity
from plangen.sheets.hydraulics_sheet import hydraulics_panels
from plangen.sheets.legend import (
    abbreviation_panels,
    legend_panels,
    used_kinds,
    without_foreign_symbols,
    words_of,
)
from plangen.sheets.marks import SheetSet
from plangen.sheets.notes import general_notes
from plangen.sheets.page import Draft, Placed, draft_of, drafts, room_of, sheet_of
from plangen.sheets.panel import Panel
from plangen.sheets.paper import Paper, paper
from plangen.sheets.paragraphs import notes_pages
from plangen.sheets.pens import Lettering, descending, lettering, roomy
from plangen.sheets.plan import PlanSheet, plan_sheets
from plangen.sheets.procedure import procedure_panels
from plangen.sheets.profile import section_panels
from plangen.sheets.schedules import schedule_panels
from plangen.sheets.singleline import singleline_panels
from plangen.sheets.staking import STAKING_SHEET, staking_plans, staking_tables
from plangen.terrain.surface import Surface

COLUMN_GAP = 6.0
# The panels of a group, lettered at a height in mm; perhaps none where they need more pages than so many.
Make = Callable[[float, float], tuple[Panel, ...]]


def compose(
    design: Design,
    surface: Surface,
    hydraulics: Hydraulics,
    layout: Layout,
    editions: tuple[str, ...],
    digest: str,
) -> SheetSet:
    """Return the whole set. `editions` are the packs' names and editions, `digest` that of the inputs."""
    sheet_paper = paper(design.project.sheet)
    detailed = _details(design, surface, layout, sheet_paper)
    connection = _connection(design, surface, layout, sheet_paper, detailed)
    room, called, enlarged = room_of(sheet_paper), details_of(detailed), enlarged_views(connection)
    found = plan_sheets(design, hydraulics, sheet_paper.family, room, plan_ids, called, enlarged)
    scale = round(1000.0 / found[0].per_m)
    after = (
        *connection,
        *_after(design, surface, hydraulics, layout, sheet_paper, detailed, scale),
    )
    plans, after = _plans(found, sheet_paper), _calling(design, found, sheet_paper, after)
    notes = _notes(design, [p.panel for draft in (*plans, *after) for p in draft.placed], sheet_paper)
    # the room for the code check is kept from the start: findings fill it and move nothing
    body = (*notes, *plans, *after, Draft(CHECK_SHEET, "Code check summary", (), "none"))
    ordered = (*_covers(design, hydraulics, sheet_paper, body, editions), *body)
    sheets = tuple(
        sheet_of(
            draft,
            sheet_paper,
            design.project,
            Identity(draft.id, draft.title, draft.scale, number, len(ordered), digest, editions),
        )
        for number, draft in enumerate(ordered, 1)
    )
    return SheetSet(sheets, sheet_paper.family)


def plan_ids(count: int) -> tuple[str, ...]:
    """Return the ids of the plan's sheets: LI101 to LI110, then LI161 on.

    LI111 is the connection plan, LI121 the staking plan.
    """
    return tuple(f"LI{100 + n if n <= 10 else 150 + n}" for n in range(1, count + 1))


def _plans(found: Sequence[PlanSheet], sheet_paper: Paper) -> tuple[Draft, ...]:
    """The plan sheets as drafts."""
    return tuple(
        replace(
            draft_of((Placed(sheet.panel, 0.0, 0.0),), sheet_paper, sheet.id, sheet.panel.title),
            paper_per_ground=sheet.per_m,
        )
        for sheet in found
    )


def _calling(
    design: Design, found: Sequence[PlanSheet], sheet_paper: Paper, after: Sequence[Draft]
) -> tuple[Draft, ...]:
    """The later sheets, their details and enlarged views with the plans that call them."""
    details = (*details_of(after), *(view.called for view in enlarged_views(after)))
    calls = {detail: [sheet.id for sheet in found if detail in sheet.called] for detail in details}
    for detail in called_from_connection(design, details):
        calls[detail].append(CONNECTION_SHEET)
    if any(draft.id == STAKING_SHEET for draft in after):
        calls |= {detail: [STAKING_SHEET] for detail in trench_details(after)}
    return tuple(with_references(draft, calls, lettering(sheet_paper.family)) for draft in after)


def _details(design: Design, surface: Surface, layout: Layout, sheet_paper: Paper) -> tuple[Draft, ...]:
    """The sheets of details: they come first, for the plans call them."""

    def details(note: float, most: float) -> tuple[Panel, ...]:
        return details_panels(design, surface, layout, design.project.units, sheet_paper.family, note)

    return _roomiest(details, sheet_paper, "LI501", "Details")


def _connection(
    design: Design, surface: Surface, layout: Layout, sheet_paper: Paper, detailed: Sequence[Draft]
) -> tuple[Draft, ...]:
    """The connection plan: it comes before the irrigation plan, which leaves to it what it letters larger."""
    system, family, room = design.project.units, sheet_paper.family, room_of(sheet_paper)
    called = called_from_connection(design, details_of(detailed))
    panels = connection_panels(design, surface, layout, system, family, room, called)
    return _roomiest(panels, sheet_paper, CONNECTION_SHEET, "Connection plan")


def _after(
    design: Design,
    surface: Surface,
    hydraulics: Hydraulics,
    layout: Layout,
    sheet_paper: Paper,
    detailed: tuple[Draft, ...],
    scale: int,
) -> tuple[Draft, ...]:
    """All sheets after the connection plan, in set order. A group that has nothing to show is left out.

    `detailed` are the sheets of details, `scale` the denominator of the irrigation plan.
    """
    system, family, room = design.project.units, sheet_paper.family, room_of(sheet_paper)
    whole = room_of(sheet_paper, False)
    dug = trench_details(detailed)
    stakings = staking_plans(design, layout, system, family, room, dug, scale)

    def staking(note: float, most: float) -> tuple[Panel, ...]:
        left = most - len(stakings)
        tables = staking_tables(design, layout, system, note, whole, dug, left) if stakings else ()
        return (*stakings, *tables) if tables else ()

    def sections(note: float, most: float) -> tuple[Panel, ...]:
        return section_panels(design, surface, hydraulics, layout, system, family, room, note)

    def single(note: float, most: float) -> tuple[Panel, ...]:
        return singleline_panels(design, surface, hydraulics, system, family, room, note)

    def schedules(note: float, most: float) -> tuple[Panel, ...]:
        return schedule_panels(design, hydraulics, layout, family, whole, note, most)

    def water(note: float, most: float) -> tuple[Panel, ...]:
        return hydraulics_panels(design, hydraulics, system, family, whole, layout, note, most)

    def procedure(note: float, most: float) -> tuple[Panel, ...]:
        return procedure_panels(design, hydraulics, layout, system, family, whole, note, most)

    def of(first: str, title: str, found: tuple[Panel, ...] | Make) -> tuple[Draft, ...]:
        return _roomiest(found, sheet_paper, first, title)

    return (
        *of(STAKING_SHEET, "Trench and staking plan", staking),
        *of("LI301", "Sections", sections),
        *detailed,
        *of("LI601", "Schedules", schedules),
        *of("LI621", "Hydraulics", water),
        *of("LI641", "Single-line diagram", single),
        *of("LI701", "Installation, filling and testing", procedure),
    )


def _roomiest(
    found: tuple[Panel, ...] | Make, sheet_paper: Paper, first: str, title: str
) -> tuple[Draft, ...]:
    """The sheets of one group; where its lettering may be chosen, as large as costs no further sheet."""

    def of(panels: tuple[Panel, ...]) -> tuple[Draft, ...]:
        known = tuple(map(without_foreign_symbols, panels))
        return drafts(known, sheet_paper, first, title, first == "LI501") if panels else ()

    if isinstance(found, tuple):
        return of(found)
    letters = lettering(sheet_paper.family)
    least = of(found(letters.note, math.inf))
    larger = (of(found(note, len(least))) for note in roomy(letters))
    return next((sheets for sheets in larger if len(sheets) == len(least)), least)


def _notes(design: Design, panels: Sequence[Panel], sheet_paper: Paper) -> tuple[Draft, ...]:
    """General notes, legend and abbreviations in columns. The legend follows the given panels of the set."""
    room = room_of(sheet_paper, titled=False)
    column = (room[0] - 2 * COLUMN_GAP) / 3
    symbols, lines = used_kinds(panels)
    words = words_of(panels)
    letters = lettering(sheet_paper.family)

    def columns(lettered: Lettering) -> tuple[Panel, ...]:
        return (
            *notes_pages("General notes", general_notes(design), column, lettered.note, room[1]),
            *legend_panels(symbols, lines, lettered, column, room[1]),
            *abbreviation_panels(words, lettered, column, room[1]),
        )

    # as large as still fits one sheet, up to the height of headings
    for height in descending(letters):
        found = columns(replace(letters, note=height, floor=height))
        if len(found) <= 3 and all(p.height_mm <= room[1] for p in found):
            break
    else:
        found = columns(letters)
    return drafts(found, sheet_paper, "LI001", "Notes and legend")


def _covers(
    design: Design, hydraulics: Hydraulics, sheet_paper: Paper, body: Sequence[Draft], editions: Sequence[str]
) -> tuple[Draft, ...]:
    """The cover, and more general sheets when its tables run on."""
    index = (("G-001", "Cover"), *((d.id, d.title) for d in body))
    letters, room = lettering(sheet_paper.family), room_of(sheet_paper, titled=False)
    for height in descending(letters):
        panels = cover_panels(design, hydraulics, replace(letters, note=height), room, index, editions)
        if len(panels) == 1 and panels[0].height_mm <= room[1]:
            break
    first = draft_of((Placed(panels[0], 0.0, 0.0),), sheet_paper, "G-001", "Cover")
    return (first, *drafts(panels[1:], sheet_paper, "G-002", "Cover, continued"))
