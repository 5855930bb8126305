"""The trench and staking plan: what a crew paints and stakes before it digs, with a table of tapes.

Same view and scale as the irrigation plan, but for large lots. Trenches carry their lengths, stakes their
numbers; buried lines have their hand-dig zones to scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from plangen.geometry.point import path_length
from plangen.layout.results import Layout, Trench
from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.sheets.callouts import Detail
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.connection import tie_text
from plangen.sheets.labels import Field
from plangen.sheets.marks import Group
from plangen.sheets.page import next_id
from plangen.sheets.panel import Panel
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import Lettering, lettering, pen
from plangen.sheets.plan_band import band_height, band_panels, letter_match_lines, match_lines
from plangen.sheets.plan_base import draw_base
from plangen.sheets.plan_labels import put, put_along
from plangen.sheets.plan_sleeves import draw_sleeve
from plangen.sheets.plan_view import PlanView, Work, plan_views
from plangen.sheets.plan_wants_site import site_tasks
from plangen.sheets.plan_water import draw_pipes, pipe_pen
from plangen.sheets.procedure_fill import natural
from plangen.sheets.schedule_words import corner_words
from plangen.sheets.stakes import Stake, dug, stakes
from plangen.sheets.staking_marks import (
    HAND_DIG_M,
    SPOIL_BACK_M,
    SpoilLine,
    draw_hand_dig,
    draw_spoil,
    spoil_lines,
)
from plangen.sheets.symbols import symbol
from plangen.sheets.table_flow import flow
from plangen.sheets.tables import Column, Row, Table
from plangen.sheets.trench_kinds import trench_of
from plangen.sheets.untangle import Task, letter_all, task
from plangen.sheets.viewport import scale_name

STAKE_SIZE = 1.3
MOST_SHEETS = 4  # of a staking plan cut like the irrigation plan; more are drawn at the scale of fewest
STAKING_SHEET = "LI121"  # the first of them


def staking_panels(
    design: Design, layout: Layout, system: str, family: str, room: tuple[float, float]
) -> tuple[Panel, ...]:
    """Return the staking plan, its cautions and tables; none larger than `room` (mm)."""
    plans = staking_plans(design, layout, system, family, room)
    return (*plans, *staking_tables(design, layout, system, lettering(family).note, room)) if plans else ()


def staking_tables(
    design: Design,
    layout: Layout,
    system: str,
    note: float,
    room: tuple[float, float],
    sections: Sequence[Detail] = (),
    most_pages: float = math.inf,
) -> tuple[Panel, ...]:
    """Return the cautions of digging and the tables of trenches and stakes, lettered `note` mm high.

    `sections` are the details of trenches that the table calls; none at all is returned where the tables
    need more than `most_pages`.
    """
    items = (
        notes_panel("Before and while digging", _cautions(design, system), room[0] * 0.26, note),
        _trench_table(design, layout, system, sections),
        _stake_table(stakes(design, layout), system),
    )
    return flow(items, note, room, most_pages)


def staking_plans(
    design: Design,
    layout: Layout,
    system: str,
    family: str,
    room: tuple[float, float],
    sections: Sequence[Detail] = (),
    denominator: int = 0,
) -> tuple[Panel, ...]:
    """Return the staking plan in as many panels of `room` (mm) as it needs; none where nothing is dug.

    It is cut like the irrigation plan, drawn at 1:`denominator`, unless that takes many sheets: numbers need
    less room than names.
    """
    if not any(dug(pipe) for pipe in design.pipes):
        return ()
    letters = lettering(family)
    found = stakes(design, layout)
    window = (0.0, 0.0, room[0], room[1] - band_height(letters))
    first, *larger = plan_views(design, window)
    alike = (c for c in larger if c.views[0].denominator == denominator and len(c.views) <= MOST_SHEETS)
    cut = next(alike, first)
    ids = tuple(next_id(STAKING_SHEET, n) for n in range(len(cut.views)))
    plans, work, spoil = [], Work.of(design), spoil_lines(design)
    for index, view in enumerate(cut.views):
        canvas, matches = _draw(work, found, spoil, letters, cut, index, ids)
        notes = _plan_notes(canvas, system, sections)
        band = band_panels(design, letters, room, cut, index, notes, ids)
        title = "Trench and staking plan" + (f", part {index + 1} of {len(cut.views)}" if cut.split else "")
        group = Group("staking-plan", (*canvas.marks(), *matches, *(p.group for p in band)), title=title)
        drawn = (*canvas.noted, *(d for p in band for d in p.drawn))
        scale = scale_name(view.denominator, system)
        plans.append(Panel(group, drawn, *room, title, scale, (), tuple(canvas.anchors)))
    return tuple(plans)


def _draw(
    work: Work,
    found: tuple[Stake, ...],
    spoil: tuple[SpoilLine, ...],
    letters: Lettering,
    cut: PlanView,
    index: int,
    ids: tuple[str, ...],
) -> tuple[Canvas, tuple[Group, ...]]:
    """Draw and letter one view; return it and its match lines."""
    design = work.seen(cut.views[index], HAND_DIG_M)
    canvas = Canvas(cut.views[index], letters, design.project.units, Field(cut.views[index].window))
    lines = match_lines(canvas, cut, index, ids)
    draw_base(canvas, design)
    draw_hand_dig(canvas, design)
    draw_spoil(canvas, spoil)
    pipes = {pipe.name: pipe for pipe in design.pipes}
    draw_pipes(canvas, design.pipes)
    for sleeve in design.sleeves:
        if sleeve.pipe in pipes:
            draw_sleeve(canvas, design, sleeve, pipes[sleeve.pipe])
    for stake in found:
        x, y = canvas.view.paper(stake.point)
        if canvas.sees((x, y)):
            kind = "expose" if stake.expose else "stake"
            canvas.add("symbols", symbol(kind, x, y, STAKE_SIZE, object=stake.objects[0]))
            canvas.note("symbol", kind, stake.objects[0], (x, y))
            up = STAKE_SIZE * (1.0 if stake.expose else 1.5)
            canvas.space.take((x - 0.5, y - up, x + STAKE_SIZE, y + 0.5))
    matches = letter_match_lines(canvas, cut, index, ids, canvas.letters)
    letter_all(canvas, _tasks(canvas, design, found))
    return canvas, (*lines, *matches)


def _tasks(canvas: Canvas, design: Design, found: tuple[Stake, ...]) -> Iterator[Task]:
    """What letters each stake, trench and object of the site."""
    for stake in found:
        at_xy = canvas.view.paper(stake.point)
        if canvas.sees(at_xy):
            name, note = f"stake {stake.number}", canvas.letters.note
            want = Want(name, "stake", (str(stake.number),), at_xy, 1.0, note, 0.9)
            yield task(put, want)
    for pipe in sorted(design.pipes, key=lambda p: natural(p.name)):
        if dug(pipe):
            yield task(_length_label, pipe)
    yield from site_tasks(canvas, design)


def _length_label(canvas: Canvas, pipe: Pipe) -> None:
    """The trench's length along it; a run too short for its label is in the table only."""
    pieces = canvas.path(tuple(stop.point for stop in pipe.route))
    if not pieces:
        return
    length = path_length(tuple(stop.point for stop in pipe.route))
    if length * canvas.view.per_m < 14.0:
        return
    words = f"{pipe.name} {told(length, Dimension.LENGTH, canvas.units)}"
    want = Want(pipe.name, "trench", (words,), pieces[0][0], 0.5, canvas.letters.note, 1.6, dot=True)
    put_along(canvas, want, pieces, pen(pipe_pen(pipe)).width_mm / 2 + 0.45)


def _plan_notes(canvas: Canvas, system: str, sections: Sequence[Detail]) -> tuple[str, ...]:
    def small(metres: float) -> str:
        return told(metres, Dimension.LENGTH, system, small=True)

    called = ", ".join(d.words for d in sections)
    # short trenches only: no line is drawn that the note could explain
    lined = any(n.kind == "spoil" for n in canvas.noted)
    dotted = "Dotted: spoil stays beyond this line," if lined else "Spoil stays"
    notes = [
        "Numbers are those of the table of stakes. Lengths are trench lengths in plan."
        + (f" Sections of trenches and sleeves: {called}." if called else ""),
        f"Hatched: dig by hand within {small(HAND_DIG_M)} of each buried line's mark (one-call page,"
        " restated; some states 18 in). The state's own width governs.",
        f"{dotted} at least {small(SPOIL_BACK_M)} back (29 CFR 1926.651(j)(2)).",
        "Buried lines are from records, not from a locate: have them marked (US: call 811) and wait for every"
        " answer.",
    ]
    lost = sorted({n for n in canvas.unplaced if n.startswith("stake ")}, key=natural)
    if lost:
        notes.append("Numbered in the table only, for want of room: " + ", ".join(lost) + ".")
    return tuple(notes)


def _cautions(design: Design, system: str) -> tuple[str, ...]:
    """The cautions of digging, each with its source."""
    deepest = max((p.cover.si for p in design.pipes if p.cover and dug(p)), default=None)
    return (
        "Have buried lines marked before digging (US: call 811), as many working days ahead as the law asks,"
        " and wait until every utility has answered (one-call laws, e.g. Code of Ala. 37-15). Private lines"
        " are not located.",
        "In the hatched zones dig by hand only. Expose each crossing marked with a crossed ring before a"
        " machine comes near.",
        "Gas smelled or power struck: leave, keep others away, call the emergency number (US: 911;"
        " common practice).",
        "Protect against cave-in at 5 ft (1.5 m) or deeper, or sooner where the competent person sees"
        " danger: 29 CFR 1926.652(a)(1). A way out within 25 ft (7.6 m) at 4 ft (1.2 m) deep:"
        " 1926.651(c)(2).",
        "Spoil at least 2 ft (0.6 m) back from the edge: 1926.651(j)(2). A competent person looks at the"
        " trench each day and after rain: 1926.651(k).",
        "Deepest cover of a new pipe on this plan:"
        f" {told(deepest, Dimension.LENGTH, system, small=True) if deepest else 'NOT STATED'}; the"
        " connection to the service is as deep as the service.",
        "Sleeves go in before paving is cut or crossed; cap and mark their ends. Leave every joint open to"
        " view until it was inspected under pressure.",
        "Local code, the water purveyor and licensed practice decide. Check each tape on the ground: if"
        " two tapes do not meet, stop and redraw.",
    )


def _trench_table(design: Design, layout: Layout, system: str, sections: Sequence[Detail]) -> Table:
    rows = []
    shown = {
        name: detail.words
        for detail in sections
        if (kind := trench_of(design, detail.object)) is not None and kind.sleeve is None
        for name in kind.all_names
    }
    for trench in sorted(layout.trenches, key=lambda t: natural(t.pipe)):
        pipe = design.pipe(trench.pipe)
        role = pipe.role if pipe else ""
        called = (shown.get(trench.pipe, "-"),) if sections else ()
        rows.append(Row((trench.pipe, role, *_trench_cells(trench, system), *called), trench.pipe))
    columns = (
        Column("Pipe"),
        Column("Role"),
        Column("Length", "end"),
        Column("Under paving", "end"),
        Column("Cover", "end"),
        Column("To floor", "end"),
        *((Column("Section"),) if sections else ()),
    )
    total = sum(t.length_m - t.under_paving_m for t in layout.trenches)
    stated = dict(design.procedure_facts)
    width, bedding = stated.get("trench width"), stated.get("bedding")
    note = (
        f"Open trench together: {told(total, Dimension.LENGTH, system)}, each pipe on its own. Trench"
        f" {f'width {width.written}' if width else 'widths are not stated'}. To floor: cover and outside"
        f" diameter, {f'and bedding of {bedding.written}' if bedding else 'without bedding'}."
    )
    return Table("Trenches", "trenches", columns, tuple(rows), note)


def _trench_cells(trench: Trench, system: str) -> tuple[str, ...]:
    def small(metres: float | None) -> str:
        return "NOT STATED" if metres is None else told(metres, Dimension.LENGTH, system, small=True)

    paved = told(trench.under_paving_m, Dimension.LENGTH, system) if trench.under_paving_m > 1e-6 else "-"
    length = told(trench.length_m, Dimension.LENGTH, system)
    return length, paved, small(trench.cover_m), small(trench.depth_m)


def _stake_table(found: tuple[Stake, ...], system: str) -> Table:
    rows = []
    for stake in found:
        cells = [str(stake.number), ", ".join(stake.objects), stake.what]
        for i in range(2):
            corner, length = stake.tapes[i] if i < len(stake.tapes) else ("", None)
            cells += [corner_words(corner) or "NOT STATED", tie_text(length, system)]
        rows.append(Row(tuple(cells), stake.objects[0]))
    columns = (
        Column("No.", "end"),
        Column("Object", widest=22.0),
        Column("What", widest=30.0),
        Column("From corner"),
        Column("Tape", "end"),
        Column("From corner"),
        Column("Tape", "end"),
    )
    note = "Level distances from two corners in sight of the stake. NOT STATED: there are no two."
    return Table("Stakes", "stakes", columns, tuple(rows), note)
