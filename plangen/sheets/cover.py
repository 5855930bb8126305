"""The cover: project data, sheet index, codes, scope, hazard answers, assumptions, vicinity and cautions."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.geometry.point import polygon_area
from plangen.hydraulics.results import Hydraulics
from plangen.model.design import Design
from plangen.model.schema.ground import QUESTIONS
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.quantity.quantity import Quantity
from plangen.sheets.assumptions import assumptions
from plangen.sheets.cover_sketch import sketch_panel
from plangen.sheets.frame import CAUTION, NOT_APPROVED
from plangen.sheets.marks import CallOut, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, joined
from plangen.sheets.paragraphs import notes_panel, paragraph, paragraph_height
from plangen.sheets.pens import Lettering
from plangen.sheets.schedule_words import UNKNOWN, head_pressure, say, say_si
from plangen.sheets.tables import Column, Row, Table, table_pages, table_panel

GAP = 5.0
SHEET_INDEX = "Sheet index"


def cover_panels(
    design: Design,
    hydraulics: Hydraulics,
    letters: Lettering,
    room: tuple[float, float],
    index: Sequence[tuple[str, str]],
    editions: Sequence[str],
) -> tuple[Panel, ...]:
    """Return the panels of the cover: the first fills a sheet, further ones hold what did not fit.

    `index` lists (sheet id, title) of the whole set.
    """
    width, height = room
    head = _heading(design, letters, width)
    column = (width - 2 * GAP) / 3
    left = [
        _facts(design, hydraulics, letters, column),
        notes_panel("Scope", [design.project.scope or "Not given."], column, letters.note, numbered=False),
        _hazards(design, letters, column),
    ]
    middle = [
        _index(index, letters, column),
        _codes(editions, letters, column),
    ]
    right_notes = [CAUTION, NOT_APPROVED, *_STATEMENTS]
    right = [notes_panel("Cautions and standing of this set", right_notes, column, letters.note)]
    admitted = _assumption_table(design, hydraulics)
    top = head.height_mm + GAP
    used = top + right[0].height_mm + GAP
    pages = table_pages(admitted, letters.note, max(height - used, 40.0), column)
    right.append(pages[0])
    columns = (left, middle, right)
    parts = [(head, 0.0, 0.0)]
    for i, panels in enumerate(columns):
        y = top
        for panel in panels:
            parts.append((panel, i * (column + GAP), y))
            y += panel.height_mm + GAP
    feet = [top + sum(p.height_mm + GAP for p in panels) for panels in columns]
    sketch, x, y = _sketch(design, letters, column, height, feet)
    if y + sketch.height_mm <= height:
        parts.append((sketch, x, y))
    else:
        pages = (*pages, sketch)
    return (joined(parts, "cover"), *pages[1:])


def _sketch(
    design: Design, letters: Lettering, column: float, height: float, feet: Sequence[float]
) -> tuple[Panel, float, float]:
    """Return the sketch of the lot with its place: across two columns where it fits there, else in one.

    `feet` are where the columns end, in mm from the top; the sketch may not fit under any of them.
    """
    tried = []
    for first in range(2):
        y = max(feet[first : first + 2]) + GAP
        wide = sketch_panel(design, letters, 2 * column + GAP)
        tried.append((wide, first * (column + GAP), y))
    shortest = min(range(3), key=lambda i: feet[i])
    one = (sketch_panel(design, letters, column), shortest * (column + GAP), feet[shortest])
    return next((found for found in tried if found[2] + found[0].height_mm <= height), one)


_STATEMENTS = (
    "What the design does not say is not known, and is never counted as met. Findings that need a person"
    " are listed in"
    " the code check with what to look at.",
    "Numbers marked typical, assumed or from memory cannot decide a required rule. They are listed here.",
    "No seal and no signature is printed by the tool. The blank areas are for the people they name.",
    "The design digest in the title block is that of the files this set was made from. Paper with"
    " another digest"
    " belongs to another issue.",
)


def _heading(design: Design, letters: Lettering, width: float) -> Panel:
    big = letters.title * 1.7
    title = paragraph(design.project.title.upper(), 0.0, 0.0, width, big, bold=True)
    y = paragraph_height(design.project.title.upper(), width, big, bold=True)
    line = ", ".join(
        w
        for w in (design.project.address, f"parcel {design.project.parcel}" if design.project.parcel else "")
        if w
    )
    marks: list[AnyMark] = [*title, Text(0.0, y + letters.heading, line, letters.heading)]
    y += letters.heading * 1.9
    marks.append(Line(((0.0, y), (width, y)), "heavy"))
    return Panel(
        Group("cover-heading", tuple(marks)), (Noted("cover", "heading", "", 0.0, 0.0),), width, y + 1.0
    )


def _facts(design: Design, hydraulics: Hydraulics, letters: Lettering, width: float) -> Panel:
    project, units = design.project, design.project.units
    preparer = project.preparer
    source = design.source
    assemblies = list(design.standing("assembly"))
    meters = design.devices_of("meter")
    kinds = sorted({h.part.kind for h in design.heads})
    outlets = [f"{sum(h.part.kind == k for h in design.heads)} {k}" for k in kinds]
    drips = len(design.drips)
    outlets += [f"{drips} drip {'area' if drips == 1 else 'areas'}"] if drips else []
    flows = [c.total_flow_m3s for c in hydraulics.cases]
    rows = [
        ("Owner", project.owner or "not given"),
        ("Water purveyor", project.purveyor or "not given"),
        (
            "Prepared by",
            ", ".join(w for w in (preparer.name, preparer.firm) if w) if preparer else "not given",
        ),
        ("Rules checked", ", ".join(project.jurisdictions) or "none named"),
        ("Issued", project.issued.isoformat() if project.issued else "not given"),
        ("Static pressure", _with_basis(source.static if source else None, units)),
        ("Lowest seasonal", _with_basis(source.lowest if source else None, units)),
        ("Design pressure", head_pressure(hydraulics.design_pressure_m, units)),
        (
            "Meter",
            ", ".join(f"{m.name} {say(m.size, units) if not m.size else m.size.written}" for m in meters)
            or UNKNOWN,
        ),
        (
            "Backflow assembly",
            "; ".join(
                _assembly_words(d.name, d.assembly_kind, d.size.written if d.size else "") for d in assemblies
            )
            or "none drawn",
        ),
        ("Zones", str(len(design.zones))),
        ("Outlets", ", ".join(outlets) or "none"),
        ("Greatest flow, one case", say_si(max(flows) if flows else None, Dimension.FLOW, units)),
        ("Irrigated area", _irrigated(design)),
    ]
    table = Table(
        "Project data",
        "project-data",
        (Column("Item"), Column("Value", widest=40.0)),
        tuple(Row(r) for r in rows),
    )
    return table_panel(table, letters.note, width)


def _assembly_words(name: str, kind: str, size: str) -> str:
    return " ".join(w for w in (name, kind.upper() or "kind not given", size) if w)


def _with_basis(value: Quantity | None, units: str) -> str:
    return UNKNOWN if value is None else f"{say(value, units)}, {value.provenance.told()}"


def _irrigated(design: Design) -> str:
    names = sorted({name for zone in design.zones for name in zone.areas})
    areas = [a for a in (design.area(name) for name in names) if a is not None]
    trees = len({name for zone in design.zones for name in zone.trees})
    counted = f"{trees} {'tree' if trees == 1 else 'trees'}"
    if not areas:
        return counted if trees else UNKNOWN
    ground = told(sum(abs(polygon_area(a.outline)) for a in areas), Dimension.AREA, design.project.units)
    return f"{ground} and {counted}" if trees else ground


def _hazards(design: Design, letters: Lettering, width: float) -> Panel:
    answers = {a.question: a for a in design.answers}
    rows = []
    for question in QUESTIONS:
        answer = answers.get(question)
        said = "NOT ANSWERED: not known" if answer is None else "none" if answer.none else answer.text
        rows.append(Row((question.capitalize(), said)))
    columns = (Column("Hazard question"), Column("Applicant's answer", widest=40.0))
    return table_panel(Table("Hazards", "hazards", columns, tuple(rows)), letters.note, width)


def _index(index: Sequence[tuple[str, str]], letters: Lettering, width: float) -> Panel:
    table = Table(
        SHEET_INDEX,
        "sheet-index",
        (Column("Sheet"), Column("Title", widest=60.0)),
        tuple(Row(r) for r in index),
    )
    panel = table_panel(table, letters.note, width)
    step = letters.note * 1.62 + letters.note * 0.55
    top = panel.height_mm - step * len(index)
    calls = tuple(
        CallOut(0.0, top + i * step, width, step, sheet_id) for i, (sheet_id, _) in enumerate(index)
    )
    return Panel(panel.group, panel.drawn, panel.width_mm, panel.height_mm, callouts=calls)


def _codes(editions: Sequence[str], letters: Lettering, width: float) -> Panel:
    rows = tuple(Row((edition,)) for edition in editions)
    table = Table(
        "Codes this set was checked against",
        "codes",
        (Column("Rule pack, edition", widest=80.0),),
        rows,
        "Ask the authority which codes and amendments are in force: packs may be out of date.",
        "None: no rules were named.",
    )
    return table_panel(table, letters.note, width)


def _assumption_table(design: Design, hydraulics: Hydraulics) -> Table:
    rows = [Row(r) for r in assumptions(design)]
    for failure in hydraulics.failures:
        case = f"case {failure.case}" if failure.case else "water"
        rows.append(Row((case, failure.message, "not solved")))
    return Table(
        "Assumed, typical and unverified values",
        "assumptions",
        (Column("What", widest=34.0), Column("Value", widest=26.0), Column("Basis", widest=34.0)),
        tuple(rows),
        "Values measured, declared by the designer, or from a named data sheet or standard are not listed.",
        "None.",
    )
