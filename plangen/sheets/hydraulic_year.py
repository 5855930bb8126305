"""Water through the year and valve wire, as tables of the hydraulics sheet. Copies figures only."""

from __future__ import annotations

from plangen.layout.results import Layout, MonthTotal, WateringYear
from plangen.layout.year import month_name
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import fixed
from plangen.sheets.hydraulic_rows import NOT_KNOWN, figure, unit_of
from plangen.sheets.tables import Column, Row, Table

_MONTHS = range(1, 13)


def year_tables(design: Design, layout: Layout, system: str) -> tuple[Table, ...]:
    """Return the tables: minutes a week by month with the water of the year, and the drop of valve wire."""
    found = [_year_table(layout.year, system)] if layout.year is not None else []
    if layout.wire_drops:
        found.append(_wire_table(design, layout, system))
    return tuple(found)


def year_notes(layout: Layout) -> tuple[str, ...]:
    """Return what is said of the year where it cannot be worked out whole."""
    if layout.year is None:
        why = "no month's evapotranspiration is stated (`monthly et`)"
        return (f"Water through the year: {NOT_KNOWN}; {why}.",)
    missing = layout.year.missing
    return (f"Water through the year: not stated are {', '.join(missing)}.",) if missing else ()


def _year_table(year: WateringYear, system: str) -> Table:
    gallons = unit_of(Dimension.VOLUME, system)
    names = tuple(dict.fromkeys(z.zone for z in year.zones))
    rows = []
    for name in names:
        mine = [z for z in year.zones if z.zone == name]
        volumes = [z.volume_m3 for z in mine if z.volume_m3 is not None]
        whole = sum(volumes) if len(volumes) == len(mine) else None
        cells = [_minutes(z.minutes_per_week) for z in mine]
        rows.append(Row((name, *cells, figure(whole, Dimension.VOLUME, system, 0)), name))
    rows.append(Row(("minutes a day", *(_minutes(m.minutes_per_day) for m in year.months), "-"), "", True))
    rows.append(Row(("fits the window", *map(_fits, year.months), "-"), "", True))
    water = [figure(m.volume_m3, Dimension.VOLUME, system, 0) for m in year.months]
    whole_year = figure(year.volume_m3, Dimension.VOLUME, system, 0)
    rows.append(Row((f"water {gallons}", *water, whole_year), "", True))
    columns = (
        Column("Zone"),
        *(Column(month_name(m), "end") for m in _MONTHS),
        Column(f"Year {gallons}", "end"),
    )
    note = "Minutes a week; days and window as in the watering schedule. " + " ".join(year.notes)
    title = "Water through the year"
    if all(z.minutes_per_week is None for z in year.zones):
        # said once, not a hundred times
        why = ", ".join(year.missing) or "the flow of every zone (see NOT SOLVED)"
        return Table(title, "watering-year", (columns[0],), (), "", f"NOT KNOWN FOR ANY MONTH: {why}.")
    return Table(title, "watering-year", columns, tuple(rows), note.strip())


def _minutes(value: float | None) -> str:
    return NOT_KNOWN if value is None else fixed(value, 0)


def _fits(month: MonthTotal) -> str:
    return NOT_KNOWN if month.fits is None else "yes" if month.fits else "NO"


def _wire_table(design: Design, layout: Layout, system: str) -> Table:
    length = unit_of(Dimension.LENGTH, system)
    rows = []
    for w in layout.wire_drops:
        volts = [NOT_KNOWN if v is None else fixed(v, 2) for v in (w.drop_v, w.inrush_v)]
        size = NOT_KNOWN if w.area_m2 is None else fixed(w.area_m2 * 1e6, 2)
        cells = (w.device, figure(w.length_m, Dimension.LENGTH, system), size, *volts)
        rows.append(Row((*cells, "; ".join(w.missing) or "-"), w.device))
    columns = (
        Column("Valve"), Column(f"One way {length}", "end"), Column("Copper mm2", "end"),
        Column("Drop held V", "end"), Column("Drop opening V", "end"), Column("Not stated", "start", 40.0),
    )  # fmt: skip
    wire = design.control.wire if design.control is not None and design.control.wire else NOT_KNOWN
    note = (
        f"Wire: {wire}. There and back, one valve at a time, copper at 20 degrees Celsius (International"
        " Annealed Copper Standard). What is left must suit the valve's data sheet."
    )
    return Table("Voltage drop of valve wire", "wire-drop", columns, tuple(rows), note)
