"""Facts of the sheets, read off the inventories of what was really drawn. An empty set means: not known."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from plangen.facts.shown_rows import (
    all_in,
    fittings_drawn,
    has,
    lettered_on,
    schedule_values,
    told_missing,
)
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import known, row, unknown
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import told
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import Basis, Provenance
from plangen.sheets.marks import Drawn, Sheet

_NOT_COMPOSED = "no sheet has been composed"
_SILENT = Provenance(Basis.ASSUMED)


def sheet_set_row(survey: Survey) -> Row:
    """Return the one row of the sheet set."""
    span = survey.design.project.span
    sheets = survey.sheets.sheets
    if not sheets:
        values = {"composed": known(False), "sheets": known(0.0)}
        values.update(dict.fromkeys(_FIELDS, unknown(_NOT_COMPOSED)))
        return row("sheet_set", "sheets", span, values)
    plans = [s for s in sheets if is_plan(s)]
    items = [d for s in sheets for d in s.inventory]
    values = {
        "composed": known(True),
        "sheets": known(float(len(sheets))),
        **_frame_values(sheets, plans, items),
        **_object_values(survey, plans),
        "pressures_shown": _pressures_shown(survey),
        **schedule_values(survey, items),
        **_nothing_to_draw(survey),
        **_none_stated(survey),
    }
    return row("sheet_set", "sheets", span, values)


def sheet_rows(survey: Survey) -> list[Row]:
    """Return one row for each sheet."""
    rows = []
    for sheet in survey.sheets.sheets:
        values = {
            "to_scale": known(is_plan(sheet)),
            "north_arrow": known(_bears(sheet, "north-arrow")),
            "scale_bar": known(_bears(sheet, "scale-bar")),
            "title_block": known(_bears(sheet, "title-block")),
            "caution": known(_bears(sheet, "caution")),
        }
        rows.append(row("sheet", sheet.id, survey.design.project.span, values))
    return rows


def is_plan(sheet: Sheet) -> bool:
    """Return whether the sheet shows a plan to scale: it says so, or it draws pipes and outlines as lines."""
    return sheet.paper_per_ground > 0 or _bears(sheet, "line")


_FIELDS = (
    "north_arrow_on_plans",
    "scale_on_plans",
    "legend",
    "legend_complete",
    "title_block_on_sheets",
    "cautions_on_sheets",
    "revision_block",
    "heads_drawn",
    "heads_labelled",
    "pipes_drawn",
    "pipes_sized",
    "valves_drawn",
    "valves_labelled",
    "assemblies_drawn",
    "assembly_detailed",
    "isolation_drawn",
    "meter_drawn",
    "source_drawn",
    "controller_drawn",
    "sensors_drawn",
    "sleeves_drawn",
    "site_drawn",
    "utilities_drawn",
    "zone_flows_shown",
    "pressures_shown",
    "not_drawn",
    "fittings_drawn",
    "sizes_lettered",
    "ties_shown",
    "rates_shown",
    "station_pressures_shown",
    "schedule_shown",
)


def _bears(sheet: Sheet, what: str) -> bool:
    return any(d.what == what for d in sheet.inventory)


def _every(sheets: Iterable[Sheet], *whats: str) -> Value:
    """Return whether every sheet bears one of each; False names those that lack it."""
    lacking = [s.id for s in sheets if not all(_bears(s, w) for w in whats)]
    return known(not lacking, f"lacking on {', '.join(lacking)}" if lacking else "")


def _frame_values(sheets: tuple[Sheet, ...], plans: list[Sheet], items: list[Drawn]) -> dict[str, Value]:
    # A detail draws a thing as it looks; only the symbols of plans and diagrams need a legend.
    symbolic = [s for s in sheets if not _bears(s, "detail")]
    symbols = {d.kind for s in symbolic for d in s.inventory if d.what == "symbol"}
    entries = {d.kind.removeprefix("symbol:") for d in items if d.what == "legend-entry"}
    absent = sorted(symbols - entries)
    no_plan = known(False, "no sheet is a plan to scale")
    unscaled = [s.id for s in plans if not s.scale]
    scaled = _every(plans, "scale-bar")
    return {
        "north_arrow_on_plans": _every(plans, "north-arrow") if plans else no_plan,
        "scale_on_plans": (known(False, f"no scale on {', '.join(unscaled)}") if unscaled else scaled)
        if plans
        else no_plan,
        "legend": known(any(d.what == "legend" for d in items)),
        "legend_complete": known(not absent, f"not in the legend: {', '.join(absent)}" if absent else ""),
        "title_block_on_sheets": _every(sheets, "title-block"),
        "cautions_on_sheets": _every(sheets, "caution"),
        "revision_block": known(any(d.what == "revision-block" for d in items)),
        "assembly_detailed": has(items, "detail", "assembly"),
        # a table of hydrozones is not one of zones with their flow
        "zone_flows_shown": known(any(d.what == "table" and d.kind == "zones" for d in items)),
    }


def _object_values(survey: Survey, plans: list[Sheet]) -> dict[str, Value]:
    design, path = survey.design, survey.path
    # Only what stands on a plan to scale counts as drawn: a schedule is not a plan.
    on_plans = [d for s in plans for d in s.inventory]
    drawn = _by_object(on_plans, lambda d: d.what == "line")
    symbols = _by_object(on_plans, lambda d: d.what == "symbol")
    lettered = _by_object(on_plans, lambda d: d.what in ("label", "pipe-size"))
    sized = _by_object(on_plans, lambda d: d.what == "pipe-size" or d.kind.startswith("pipe-"))
    words = {w for s in plans for line in lettered_on(s) for w in line.replace(",", " ").split()}
    heads = [h.name for h in design.heads if h.state != "removed"]
    pipes = [p.name for p in path.pipes.values() if not p.above_grade]
    both = symbols & lettered
    control = design.control
    site = design.site
    grounds = (site.lot, *site.buildings, *site.paving, *site.planting, *site.other)
    areas = [a.name for a in grounds if a is not None] + [m.name for m in site.landmarks]
    values = {
        "heads_drawn": all_in(heads, symbols),
        "heads_labelled": all_in(heads, lettered),
        "pipes_drawn": all_in(pipes, drawn),
        "pipes_sized": all_in(pipes, sized),
        "valves_drawn": all_in(_devices(survey, "valve"), symbols),
        "valves_labelled": all_in(_devices(survey, "valve"), lettered),
        "assemblies_drawn": all_in(_devices(survey, "assembly"), both),
        "isolation_drawn": all_in(_devices(survey, "isolation"), both),
        "meter_drawn": all_in(_devices(survey, "meter"), both),
        "source_drawn": all_in([design.source.name] if design.source else [], symbols),
        "controller_drawn": all_in([control.name] if control else [], symbols),
        "sensors_drawn": all_in(
            [s.name or s.kind for s in control.sensors] if control else [], drawn | words
        ),
        "sleeves_drawn": all_in([s.name for s in design.sleeves], drawn),
        "site_drawn": all_in(areas, drawn),
        "utilities_drawn": all_in([u.name for u in site.utilities], drawn),
        "fittings_drawn": fittings_drawn(survey, symbols),
    }
    lacking = sorted({w for v in values.values() if v.value is False for w in v.how.split(", ")})
    told_values = {name: told_missing(value) for name, value in values.items()}
    return {**told_values, "not_drawn": known(", ".join(lacking) or "nothing")}


def _nothing_to_draw(survey: Survey) -> dict[str, Value]:
    """Return as not known whether things are drawn that every system has and this design lacks yet."""
    design = survey.design
    lacking = (
        (
            not design.heads and not design.drips,
            "no head or dripline is stated",
            ("heads_drawn", "heads_labelled"),
        ),
        (not survey.path.pipes, "no pipe is stated", ("pipes_drawn", "pipes_sized")),
        (not _devices(survey, "valve"), "no zone valve is stated", ("valves_drawn", "valves_labelled")),
        (
            not design.zones,
            "no zone is stated",
            ("zone_flows_shown", "rates_shown", "station_pressures_shown", "schedule_shown"),
        ),
        (design.source is None, "no source is stated", ("source_drawn",)),
        (design.control is None, "no controller is stated", ("controller_drawn", "sensors_drawn")),
    )
    return {name: unknown(words) for is_lacking, words, names in lacking if is_lacking for name in names}


def _none_stated(survey: Survey) -> dict[str, Value]:
    """Return as resting on an assumption what a system may lack, but silence does not say that it does."""
    design = survey.design
    lacking = (
        (not _devices(survey, "meter"), "water meter", "meter_drawn", design.project),
        (not design.site.utilities, "existing buried lines", "utilities_drawn", design.site),
    )
    return {
        name: known(
            True, f"{what}: none stated", Input(what, "none stated, taken as none", _SILENT, block.span)
        )
        for is_lacking, what, name, block in lacking
        if is_lacking
    }


def _pressures_shown(survey: Survey) -> Value:
    """Return whether one sheet letters the static pressure as stated, and one the design pressure."""
    source = survey.design.source
    design_m = survey.hydraulics.design_pressure_m
    if source is None or source.static is None or design_m is None:
        return known(False, "the static or the design pressure is not known, so it cannot be shown")
    system = survey.design.project.units
    design_words = told(head_to_pressure_pa(design_m), Dimension.PRESSURE, system)
    static_words = {source.static.written, told(source.static.si, Dimension.PRESSURE, system)}
    lacking = []
    if not _any_sheet(survey, "static", static_words):
        lacking.append("static pressure")
    if not _any_sheet(survey, "design pressure", {design_words}):
        lacking.append("design pressure")
    return known(not lacking, ", ".join(lacking))


def _any_sheet(survey: Survey, word: str, values: set[str]) -> bool:
    """Return whether one sheet letters a word and one of some values."""
    for sheet in survey.sheets.sheets:
        lines = list(lettered_on(sheet))
        if any(word in t.lower() for t in lines) and any(v in t for t in lines for v in values):
            return True
    return False


def _devices(survey: Survey, kind: str) -> list[str]:
    return [d.name for d in survey.path.devices.values() if d.kind == kind]


def _by_object(items: list[Drawn], keep: Callable[[Drawn], bool]) -> set[str]:
    return {d.object for d in items if d.object and keep(d)}
