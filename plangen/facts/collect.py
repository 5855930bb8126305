"""Collect every fact of one run into the fact base that the rules read. Judges nothing."""

from __future__ import annotations

from plangen.facts.assembly_rows import assembly_rows, isolation_rows, master_valve_rows
from plangen.facts.control_rows import controller_rows, sensor_rows
from plangen.facts.head_rows import drip_rows, head_rows
from plangen.facts.pipe_rows import pipe_rows, sleeve_rows
from plangen.facts.project_rows import project_row, question_rows, site_row
from plangen.facts.record_rows import record_rows
from plangen.facts.separation_rows import separation_rows
from plangen.facts.setback_rows import GROUND_FEATURES, hydrozone_rows, setback_rows
from plangen.facts.sheet_rows import sheet_rows, sheet_set_row
from plangen.facts.supply_rows import meter_rows, supply_rows
from plangen.facts.survey import Survey
from plangen.facts.values import FactBase
from plangen.facts.vocabulary import VERSION
from plangen.facts.work_rows import work_rows
from plangen.facts.zone_rows import coverage_rows, valve_rows, zone_rows
from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.sheets.marks import SheetSet
from plangen.terrain.surface import Surface

# The design is the whole of what is built: a pipe or head that is not in it is not there. Sensors, supply,
# controller and neighbours in the ground may exist without being mentioned.
_WHOLE = (
    "project",
    "site",
    "question",
    "work",
    "meter",
    "assembly",
    "isolation",
    "master_valve",
    "pipe",
    "sleeve",
    "valve",
    "zone",
    "head",
    "drip",
    "coverage",
    "hydrozone",
    "assembly_test",
    "pressure_test",
    "flushing",
    "change",
    "sheet_set",
)


def collect(
    design: Design, surface: Surface, hydraulics: Hydraulics, layout: Layout, sheets: SheetSet
) -> FactBase:
    """Return the facts of a design. An empty sheet set leaves what is drawn not known."""
    survey = Survey.of(design, surface, hydraulics, layout, sheets)
    rows = (
        project_row(survey),
        site_row(survey),
        *question_rows(survey),
        *work_rows(survey),
        *supply_rows(survey),
        *meter_rows(survey),
        *assembly_rows(survey),
        *isolation_rows(survey),
        *master_valve_rows(survey),
        *pipe_rows(survey),
        *sleeve_rows(survey),
        *separation_rows(survey),
        *setback_rows(survey),
        *valve_rows(survey),
        *zone_rows(survey),
        *head_rows(survey),
        *drip_rows(survey),
        *controller_rows(survey),
        *sensor_rows(survey),
        *coverage_rows(survey),
        *hydrozone_rows(survey),
        *record_rows(survey),
        sheet_set_row(survey),
        *sheet_rows(survey),
    )
    ordered = tuple(sorted(rows, key=lambda r: (r.relation, r.name)))
    return FactBase(VERSION, ordered, _whole(survey))


def _whole(survey: Survey) -> tuple[str, ...]:
    """Return the relations whose lists are whole for this design."""
    more = []
    if survey.design.site.utilities:
        more.append("separation")
    if survey.design.site.landmarks or any(a.kind in GROUND_FEATURES for a in survey.design.site.other):
        more.append("setback")
    if survey.sheets.sheets:
        more.append("sheet")
    if survey.design.control is not None or not survey.design.zones:
        more.append("controller")
    return (*_WHOLE, *more)
