"""What permit offices ask for, gathered from published checklists and codes (restated; read as excerpts).

TX 30 TAC 344 and Fort Worth; SS Shady Shores TX; CR Carrollton TX; GT Georgetown TX; HB Horseshoe Bay TX;
LR Laredo TX; FR Frisco TX; DB Delray Beach FL; LC Lake Clarke Shores FL; AU Aurora CO 138-192; CK Castle Rock
CO; MO Modesto CA; CV Chula Vista CA 20.12.110; MW California model water-efficient landscape ordinance, local
copies; NC 21 NCAC 23; WD Woodridge IL; BSS Los Angeles public-way notes; M from memory.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Item:
    """One thing asked for, and what shows it.

    `marks` must all be drawn, of `any_marks` one (as `what` or `what/start of kind` of an inventory);
    `sections` of the page show it if they hold anything. `kinds` are the objects without which there is
    nothing to show.
    """

    words: str
    asked: str
    marks: tuple[str, ...] = ()
    any_marks: tuple[str, ...] = ()
    sections: tuple[tuple[str, str], ...] = ()
    kinds: tuple[str, ...] = ()
    note: str = ""


DRAWING: tuple[Item, ...] = (
    Item(
        "Scale stated, north arrow; title block with address, owner, contractor, licence, date",
        "TX SS M",
        ("scale-bar", "north-arrow/plan", "title-block/address", "title-block/owner", "title-block/licence"),
    ),
    Item(
        "Room for seal, signature and date where the state licenses designers",
        "TX SS CR MW CV",
        ("seal-box",),
        note="Blank: no seal or signature is ever drawn",
    ),
    Item("Legend with symbol, type and size", "TX SS DB MO", ("legend", "legend-entry")),
    Item(
        "Property lines, easements, buildings, walks, drives, walls, watered and planted areas",
        "TX SS LC AU NC",
        ("line/property",),
        ("line/building", "line/paving", "line/planting"),
        note="Easements only where the design names them",
    ),
    Item("Water source and its kind, meter place and size", "TX SS CR CV MW DB", ("symbol/meter",)),
    Item(
        "Point of connection: place, size, greatest demand; tap and service size",
        "MO CV TX M",
        ("symbol/tap", "pipe-size/service"),
        (),
        (("pressure", "pressure"),),
    ),
    Item(
        "Isolation valve between meter and backflow assembly",
        "SS",
        ("symbol/isolation",),
        kinds=("isolation",),
    ),
    Item(
        "Backflow assembly: place, kind, size; detail: height and datum, clearance, drain, frost protection",
        "TX MW CV MO AU CK M",
        ("symbol/assembly", "detail/detail-assembly"),
        (),
        (("application", "application data"),),
    ),
    Item(
        "Master valve downstream of the assembly, if there is one",
        "SS",
        ("symbol/master",),
        kinds=("master-valve",),
    ),
    Item(
        "Pressure regulator where the static pressure is over the limit, and where it stands",
        "SS",
        ("symbol/regulator",),
        kinds=("regulator",),
    ),
    Item(
        "Main and lateral routes with size, material and class",
        "TX SS MO DB AU",
        ("line/mainline", "line/lateral", "pipe-size", "table/pipes"),
    ),
    Item(
        "Wire to each valve; sleeves, boxes and depths",
        "SS BSS NC",
        ("line/wire",),
        ("line/sleeve", "trench"),
    ),
    Item(
        "Zone valves with size, zone number and flow",
        "SS DB AU",
        ("symbol/valve", "table/zones"),
        kinds=("valve",),
    ),
    Item(
        "Heads and emitters with kind, nozzle, arc, radius, flow, pressure; arcs of coverage",
        "SS DB MO",
        ("line/throw", "table/heads"),
        kinds=("spray", "rotor", "bubbler"),
    ),
    Item(
        "Controller: place and kind; rain, freeze, moisture and flow sensors and their places",
        "SS TX DB LC",
        ("symbol/controller",),
        ("symbol/sensor",),
    ),
    Item(
        "Quick couplers, hose outlets, filters, regulators, pumps",
        "MO NC LC",
        (),
        ("symbol/quick", "symbol/strainer", "symbol/regulator", "symbol/pump"),
        kinds=("quick-coupler", "strainer", "regulator", "pump"),
    ),
    Item(
        "Station table: flow, rate, design pressure",
        "AU MW CV",
        ("table/zones",),
        (),
        (("schedules", "schedules"),),
    ),
    Item(
        "Static pressure at the connection, working and design pressure, and how measured",
        "SS MO AU MW CV",
        (),
        ("table/project-data", "table/budget"),
        (("static", "application data"),),
    ),
    Item(
        "Worst zone's pressure-loss calculation",
        "CK LR FR",
        ("table/budget",),
        (),
        (("pressure", "pressure"),),
    ),
    Item(
        "Turf and beds, high and low water on separate zones",
        "DB FL MW",
        ("table/zones",),
        (),
        (("code-check", "code check"),),
    ),
    Item(
        "Details: backflow assembly, valve box, head, sleeve or trench",
        "MO AU CK",
        ("detail/detail-assembly", "detail/detail-zone-valve", "detail/detail-head", "detail/detail-trench"),
    ),
    Item("Detail of the controller", "MO AU CK", ("detail/detail-controller",)),
    Item("Least cover stated", "SS", ("trench",), (), (("inspections", "inspection cards"),)),
    Item(
        "Statement of compliance",
        "SS MW",
        (),
        (),
        (("compliance", "statement of compliance"),),
        note="The wording is the authority's; a place for it stands under Forms",
    ),
    Item("Call before you dig", "M", ("note/General notes",), (), (("locate", "locate request"),)),
    Item(
        "No spray on paving, walls and neighbours' ground",
        "M",
        ("note/General notes",),
        (),
        (("code-check", "code check"),),
    ),
    Item(
        "Shortfalls of coverage told",
        "TX",
        sections=(("shortfalls", "watering schedule: coverage"),),
        note="The share of each area that gets too little; the plan shows the throws",
    ),
    Item(
        "Statement on chemicals, septic system, second source and reclaimed water that sets the hazard",
        "TX",
        ("table/hazards",),
        (),
        (("hazard", "hazard reasoning"),),
    ),
    Item(
        "As built: valves dimensioned to fixed points",
        "NC",
        ("table/ties",),
        note="Distances as designed; measured ones are written on the site copy",
    ),
    Item("As built: splices and grounding", "NC", ("symbol/splice", "symbol/ground")),
)

PACKET: tuple[Item, ...] = (
    Item("Application data", "SS CR HB GT", sections=(("application", "application data"),)),
    Item("Fee", "SS CR HB GT", sections=(("fee", "application data"),), note="Paid at the authority"),
    Item("Contractor's registration or licence", "SS CR HB GT", sections=(("licence", "application data"),)),
    Item("Insurance or bond where asked", "M", note="The insurer's own paper"),
    Item("Site plan", "CR LC DB MO", ("line/property", "line/building")),
    Item("Survey copies", "CR LC DB MO", note="The surveyor's own paper"),
    Item("Copy of contract", "LC", note="The parties' own paper"),
    Item("Homeowner's agreement or affidavit", "WD", note="The authority's own form"),
    Item(
        "Backflow assembly shown to be on the approved list",
        "WA",
        sections=(("listing", "application data: listing"),),
        note="A listing as stated by the design; the authority's list decides",
    ),
    Item("Hydraulic worksheet", "CK", ("table/budget",), (), (("pressure", "pressure"),)),
    Item("Irrigation chart and details", "CK", ("table/zones", "detail/detail-assembly")),
    Item(
        "Water budget of the year", "MW CV", (), ("table/watering-year",), (("season", "watering schedule"),)
    ),
    Item("Soil report", "MW CV", note="A laboratory's own paper"),
    Item("Grading plan", "MW CV", note="Spot grades are on the plan; a grading plan is another permit"),
    Item(
        "Seasonal watering schedule",
        "TX CV",
        (),
        (),
        (("watering", "watering schedule"), ("seasonal", "seasonal schedule")),
    ),
    Item(
        "Separate permits: well, pump electric, right-of-way, tap and meter", "LC NC GT", note="Other offices"
    ),
    Item("Inspections before backfill and final", "LR", sections=(("inspections", "inspection cards"),)),
    Item(
        "Inspection request checklist, to be signed by the installer",
        "HB",
        sections=(("inspections", "inspection cards"),),
    ),
    Item(
        "First test report of the backflow assembly",
        "GT LR WD",
        sections=(("test-report", "assembly test report"),),
        note="The form; readings are the tester's",
    ),
    Item("As-built plan", "TX NC", note="Drawn after the work, on the site copy"),
    Item("Maintenance checklist", "TX NC", sections=(("maintenance", "maintenance checklist"),)),
    Item("Walk-through with the owner", "TX", sections=(("walk-through", "walk-through"),)),
    Item("Sticker at the controller, warranty", "TX", note="The installer's own"),
)
