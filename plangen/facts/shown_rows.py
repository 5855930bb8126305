"""What tables and lettering of the sheets say: sizes, ties, rates, run times. Read off what was drawn."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from plangen.facts.survey import Survey
from plangen.facts.values import Value
from plangen.facts.worth import known
from plangen.sheets.marks import Drawn, Group, Sheet, Text

NAMED = 12  # how many missing objects are named before the rest is counted
_FITTINGS = (
    "strainer", "regulator", "master-valve", "flow-sensor", "drain", "blow-out", "quick-coupler", "injector",
    "pump",
)  # fmt: skip
_SIZED = ("meter", "assembly", "isolation", "master-valve", "valve")
_TIED = ("assembly", "isolation", "master-valve", "valve")


def lettered_on(sheet: Sheet) -> Iterator[str]:
    """Yield every line of text that stands on a sheet."""
    todo: list[object] = list(sheet.marks)
    while todo:
        mark = todo.pop()
        if isinstance(mark, Text):
            yield mark.text
        elif isinstance(mark, Group):
            todo.extend(mark.marks)


def has(items: Iterable[Drawn], what: str, kind: str) -> Value:
    """Return whether something of a kind was drawn."""
    return known(any(d.what == what and kind in d.kind for d in items))


def all_in(names: Sequence[str], found: Collection[str]) -> Value:
    """Return whether every name was found; none to find is none missing."""
    missing = [n for n in names if n not in found]
    words = ", ".join(missing[:NAMED]) + (f" and {len(missing) - NAMED} more" if len(missing) > NAMED else "")
    return known(not missing, words)


def schedule_values(survey: Survey, items: Sequence[Drawn]) -> dict[str, Value]:
    """Return what the tables and labels of all sheets show."""
    zones = [z.name for z in survey.design.zones]
    listed = _rows(items, "zones")
    rates = {line.zone for line in survey.layout.schedule if line.rate_ms is not None}
    minutes = {line.zone for line in survey.layout.schedule if line.minutes_per_week is not None}
    tied = {t.object for t in survey.layout.ties if t.distance1_m is not None}
    return {
        "sizes_lettered": told_missing(all_in(_devices(survey, *_SIZED), _sized(survey, listed))),
        "ties_shown": told_missing(all_in(_devices(survey, *_TIED), _rows(items, "ties") & tied)),
        "rates_shown": told_missing(all_in(zones, listed & rates)),
        "station_pressures_shown": told_missing(all_in(zones, listed & set(survey.zone_cases))),
        "schedule_shown": told_missing(all_in(zones, _rows(items, "watering") & minutes)),
    }


def fittings_drawn(survey: Survey, symbols: Collection[str]) -> Value:
    """Return whether every fitting in the line is drawn as a symbol."""
    return all_in(_devices(survey, *_FITTINGS), symbols)


def told_missing(value: Value) -> Value:
    """Return a value that says what its `no` lacks."""
    return known(False, f"missing: {value.how}") if value.value is False else value


def _rows(items: Iterable[Drawn], table: str) -> set[str]:
    return {d.object for d in items if d.what == "table-row" and d.kind == table}


def _devices(survey: Survey, *kinds: str) -> list[str]:
    return [d.name for d in survey.path.devices.values() if d.kind in kinds]


def _sized(survey: Survey, listed: Collection[str]) -> set[str]:
    """Return the devices whose size stands beside their name; the zone table gives that of zone valves."""
    lines = [line for s in survey.sheets.sheets for line in lettered_on(s)]
    found = {z.valve for z in survey.design.zones if z.name in listed}
    by_name: dict[str, list[str]] = {}
    for line in lines:
        by_name.setdefault(line.split(" ", 1)[0], []).append(line)
    for device in survey.path.devices.values():
        size = device.size.written if device.size else None
        if size and any(size in t for t in by_name.get(device.name, ())):
            found.add(device.name)
    unsized = {d.name for d in survey.path.devices.values() if d.size is None}
    return found - unsized
