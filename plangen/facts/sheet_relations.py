"""Relations about what is really drawn: read off the sheets' inventories, never off a promise."""

from __future__ import annotations

from plangen.facts.fields import count, text, truth
from plangen.facts.values import Relation

SHEET_SET = Relation(
    "sheet_set",
    "the set of sheets as composed; one row",
    (
        count("sheets", "how many sheets there are"),
        truth("composed", "sheets were composed"),
        truth("north_arrow_on_plans", "every plan to scale bears a north arrow"),
        truth("scale_on_plans", "every plan to scale states its scale and bears a scale bar"),
        truth("legend", "a legend is drawn"),
        truth("legend_complete", "every symbol that is drawn stands in the legend"),
        truth("title_block_on_sheets", "every sheet bears a title block"),
        truth("cautions_on_sheets", "every sheet bears its cautions"),
        truth("revision_block", "a revision block is drawn"),
        truth("heads_drawn", "every head is drawn as a symbol"),
        truth("heads_labelled", "every head is labelled"),
        truth("pipes_drawn", "every buried pipe is drawn"),
        truth("pipes_sized", "every buried pipe is lettered with its size"),
        truth("valves_drawn", "every zone valve is drawn as a symbol"),
        truth("valves_labelled", "every zone valve is labelled"),
        truth("assemblies_drawn", "every backflow assembly is drawn as a symbol and labelled"),
        truth("assembly_detailed", "a detail of the backflow assembly is drawn"),
        truth("isolation_drawn", "every isolation valve is drawn as a symbol and labelled"),
        truth("meter_drawn", "every meter is drawn as a symbol and labelled"),
        truth("source_drawn", "the supply point is drawn"),
        truth("controller_drawn", "the controller is drawn"),
        truth("sensors_drawn", "every sensor is drawn or tabled"),
        truth("sleeves_drawn", "every sleeve is drawn"),
        truth("site_drawn", "lot, buildings, paving and planting are all drawn"),
        truth("utilities_drawn", "every existing buried line is drawn"),
        truth("zone_flows_shown", "a table gives the flow of each zone"),
        truth("pressures_shown", "a table or note gives the static and the design pressure"),
        text("not_drawn", "the objects that are missing from the plans"),
        truth("fittings_drawn", "every strainer, regulator, drain and other fitting in the line is drawn"),
        truth("sizes_lettered", "the size of every meter, assembly and valve is lettered beside its name"),
        truth("ties_shown", "a table gives each valve and assembly its distances from two fixed points"),
        truth("rates_shown", "a table gives the application rate of each zone"),
        truth("station_pressures_shown", "a table gives the pressure of each zone at its worst outlet"),
        truth("schedule_shown", "a table gives the run times of each zone"),
    ),
    single=True,
)

SHEET = Relation(
    "sheet",
    "one sheet of the set",
    (
        truth("to_scale", "its main view is drawn to scale"),
        truth("north_arrow", "it bears a north arrow"),
        truth("scale_bar", "it bears a scale bar"),
        truth("title_block", "it bears a title block"),
        truth("caution", "it bears its cautions"),
    ),
)

SHEET_RELATIONS = (SHEET_SET, SHEET)
