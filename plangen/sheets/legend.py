"""The legend: exactly the symbols, lines and abbreviations that the set uses, found in the drawn sheets."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Arc, Area, Circle, Group, Line, Segments, Text
from plangen.sheets.panel import AnyMark, Noted, Panel, moved
from plangen.sheets.paragraphs import LINE, wrapped
from plangen.sheets.pens import Lettering
from plangen.sheets.plan_base import UTILITY_LETTERS
from plangen.sheets.plan_ground import FIELD_LETTERS, ticks, turn
from plangen.sheets.shapes import hatch, rectangle
from plangen.sheets.states import crosses, in_state
from plangen.sheets.symbols import SYMBOLS, symbol

# line kinds: (letter code, words, pen)
LINES: dict[str, tuple[str, str, str]] = {
    "service-existing": ("W", "House service, existing, drinking water", "service-existing"),
    "service": ("W", "House service, drinking water", "service"),
    "mainline": ("IRR", "Irrigation mainline, under pressure", "mainline"),
    "nipple": ("NIP", "Nipple or riser between fittings", "nipple"),
    "lateral": ("L", "Lateral, under pressure only while its zone runs", "lateral"),
    "mainline-existing": ("EX", "Irrigation mainline, existing, half-tone", "mainline-existing"),
    "lateral-existing": ("EX", "Lateral, existing, half-tone", "lateral-existing"),
    "removed": ("REM", "Pipe to be removed or abandoned, crossed out", "removed"),
    "state-existing": ("EX", "Existing object: its symbol in half-tone", ""),
    "state-relocated": ("REL", "Object moved to this place: its symbol dashed", ""),
    "state-removed": ("REM", "Object to be removed: its symbol crossed out", ""),
    "wire": ("CW", "Control wire where it lies in no pipe's trench", "wire"),
    "sleeve": ("SL", "Sleeve on both sides of its pipe", "sleeve"),
    "dripline": ("DL", "Dripline, rows at true spacing", "dripline"),
    "hand-dig": ("HD", "Hand-dig zone on both sides of a buried line", "hand-dig"),
    "spoil": ("SPL", "Spoil of the trench stays beyond this line", "spoil"),
    "throw": ("", "Edge of a head's throw", "throw"),
    "property": ("PL", "Property line", "property"),
    "building": ("", "Building", "building"),
    "paving": ("", "Paving", "paving"),
    "planting": ("", "Edge of turf or planting bed", "planting"),
    "wall": ("", "Free-standing wall", "building"),
    "water": ("", "Pool or pond", "base"),
    "septic-field": (FIELD_LETTERS, "Edge of a septic drain field, letters in its breaks", "utility"),
    "bank": ("", "Raised bank or steep slope, strokes along its edge", "base"),
    **{
        f"utility-{kind}": (letter, f"Existing {kind} line, letter in its breaks", "utility")
        for kind, letter in UTILITY_LETTERS.items()
    },
}
ABBREVIATIONS: dict[str, str] = {
    "NE": "northeast corner",
    "NW": "northwest corner",
    "SE": "southeast corner",
    "SW": "southwest corner",
    "ANSI": "American National Standards Institute (sheet size)",
    "ARCH": "architectural sheet size",
    "AWG": "American wire gauge",
    "BFA": "backflow prevention assembly",
    "DU": "distribution uniformity of the lowest quarter",
    "EL": "elevation",
    "ET": "evapotranspiration",
    "EX": "existing",
    "HZ": "hydrozone",
    "ID": "inside diameter",
    "NTS": "not to scale",
    "OD": "outside diameter",
    "REL": "to be relocated",
    "REM": "to be removed",
    "SDR": "standard dimension ratio",
    "PVC": "poly(vinyl chloride)",
    "PE": "polyethylene",
    "bar": "100 kilopascals of pressure",
    "deg": "degrees",
    "ft": "feet",
    "ft/s": "feet per second",
    "gal": "US gallons",
    "gpm": "US gallons per minute",
    "gph": "US gallons per hour",
    "in": "inches",
    "in/h": "inches of water depth per hour",
    "min": "minutes",
    "psi": "pounds per square inch",
    "sqft": "square feet",
    "mm": "millimetres",
    "L/min": "litres per minute",
    "mm/h": "millimetres of water depth per hour",
    "m/s": "metres per second",
}


def used_kinds(panels: Iterable[Panel]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the symbol kinds and the line kinds that stand on the given panels, in legend order."""
    shown = tuple(panels)
    roles = frozenset(role for panel in shown for role in _roles(panel.group))
    drawn = {d.kind for panel in shown for d in panel.drawn if d.what == "line"}
    symbols = tuple(kind for kind in SYMBOLS if f"symbol-{kind}" in roles)
    lines = tuple(kind for kind in LINES if kind in drawn)
    return symbols, lines


def without_foreign_symbols(panel: Panel) -> Panel:
    """Return the panel with parts that a detail draws in full no longer noted as plan symbols.

    The legend explains the plan symbols only; a valve drawn as it looks is lettered where it stands.
    """
    roles = frozenset(_roles(panel.group))
    drawn = tuple(
        replace(d, what="detail-part") if d.what == "symbol" and f"symbol-{d.kind}" not in roles else d
        for d in panel.drawn
    )
    return replace(panel, drawn=drawn)


def words_of(panels: Iterable[Panel]) -> frozenset[str]:
    """Return every word lettered on the given panels."""
    words: set[str] = set()
    for panel in panels:
        for text in _texts(panel.group):
            words.update(re.split(r"[\s,;:()]+", text))
    return frozenset(words)


def legend_panels(
    symbols: Sequence[str], lines: Sequence[str], letters: Lettering, width: float, room: float
) -> tuple[Panel, ...]:
    """Return the legend in columns of that width, none higher than the room."""
    entries = [_symbol_entry(kind, letters) for kind in symbols] + [
        _line_entry(kind, letters) for kind in lines
    ]
    return _columns("Legend", "legend", entries, letters, width, room)


def abbreviation_panels(
    words: frozenset[str], letters: Lettering, width: float, room: float
) -> tuple[Panel, ...]:
    """Return the abbreviations that occur among the words, in columns."""
    entries: list[_Entry] = [
        ((), short, meaning, ("abbreviation", short))
        for short, meaning in sorted(ABBREVIATIONS.items(), key=lambda entry: entry[0].lower())
        if short in words
    ]
    return _columns("Abbreviations", "abbreviations", entries, letters, width, room)


_Entry = tuple[tuple[AnyMark, ...], str, str, tuple[str, str]]  # marks about (0, 0), code, words, inventory


def _symbol_entry(kind: str, letters: Lettering) -> _Entry:
    found = SYMBOLS[kind]
    size = letters.floor * 0.85
    marks: tuple[AnyMark, ...] = (symbol(kind, 0.0, 0.0, size),)
    if kind in ("spray", "rotor"):
        marks = (*marks, Arc((0.0, 0.0), size * 0.72, 0.0, 180.0, "", "black", closed=True))
    return marks, found.code, found.words, ("legend-entry", kind)


def _line_entry(kind: str, letters: Lettering) -> _Entry:
    code, words, pen_role = LINES[kind]
    half, tall = letters.floor * 3.6, letters.floor * 0.8
    box = rectangle(-half, -tall, half, tall)
    if kind.startswith("state-"):
        size = letters.floor * 0.85
        shown = in_state(symbol("valve", 0.0, 0.0, size), kind.removeprefix("state-"), (0.0, 0.0), size)
        marks: tuple[AnyMark, ...] = (shown,)
    elif kind == "removed":
        line = ((-half, 0.0), (half, 0.0))
        marks = (Line(line, pen_role), *crosses(line))
    elif kind == "building":
        marks = (Segments(hatch(box, 2.5, 45.0), "hatch"), Area(box, "building"))
    elif kind == "paving":
        marks = (Area(box, pen_role, "pale"),)
    elif kind == "planting":
        marks = (Area(box, pen_role),)
    elif kind == "wall":
        marks = (Area(rectangle(-half, -tall / 2, half, tall / 2), pen_role, "grey"),)
    elif kind == "water":
        marks = (Area(box, pen_role, "white"), Segments(hatch(box, 1.2, 0.0), "hatch"))
    elif kind == "bank":
        marks = (Line((*box, box[0]), pen_role), Segments(ticks((*box, box[0]), 1.2, turn(box)), pen_role))
    elif kind == "sleeve":
        marks = (
            Line(((-half, 0.0), (half, 0.0)), "mainline"),
            *(Line(((-half * 0.7, y), (half * 0.7, y)), "sleeve") for y in (-0.95, 0.95)),
        )
    elif kind == "hand-dig":
        edges = (Line(((-half, y), (half, y)), pen_role) for y in (-tall, tall))
        marks = (Segments(hatch(box, 2.0, 135.0), "hatch"), *edges)
    elif kind == "dripline":
        marks = tuple(Line(((-half, y), (half, y)), pen_role) for y in (-tall, 0.0, tall))
    elif kind == "throw":
        marks = (Arc((0.0, half), half * 1.3, 320.0, 40.0, pen_role),)
    elif code and kind.startswith(("utility-", "service", "septic-field")):
        gap = text_width_mm(code, letters.floor, True) / 2 + 0.6
        marks = (
            Line(((-half, 0.0), (-gap, 0.0)), pen_role),
            Line(((gap, 0.0), (half, 0.0)), pen_role),
            Text(0.0, letters.floor / 2, code, letters.floor, "middle", True),
        )
    else:
        marks = (Line(((-half, 0.0), (half, 0.0)), pen_role),)
    return marks, code, words, ("legend-entry", kind)


def _columns(
    title: str, role: str, entries: Sequence[_Entry], letters: Lettering, width: float, room: float
) -> tuple[Panel, ...]:
    height = letters.note
    sample = letters.floor * 9.0 if any(e[0] for e in entries) else 0.0
    code_width = max((text_width_mm(e[1], height, True) for e in entries), default=0.0) + height * 1.2
    text_at = sample + code_width
    pages: list[tuple[list[AnyMark], list[Noted], float]] = []
    top = height * 1.25 * LINE + height * 0.6
    for marks, code, words, (what, kind) in entries:
        lines = wrapped(words, width - text_at, height)
        step = max(len(lines) * height * LINE + height * 0.35, letters.floor * 2.5 if sample else 0.0)
        ys = list(_heights(marks))
        high, low = min(ys, default=0.0), max(ys, default=0.0)
        step = max(step, low - high + letters.floor * 0.4 if ys else 0.0)
        if not pages or pages[-1][2] + step > room:
            head = title.upper() + (" (continued)" if pages else "")
            pages.append(
                (
                    [Text(0.0, height * 1.25, head, height * 1.25, bold=True)],
                    [Noted(role, title, "", 0.0, 0.0)],
                    top,
                )
            )
        page, drawn, y = pages[-1]
        middle = y + step / 2
        base = middle - (len(lines) - 1) * height * LINE / 2 + height / 2
        if marks:
            page.append(
                Group(
                    "legend-sample",
                    tuple(moved(m, sample / 2, middle - (high + low) / 2) for m in marks),
                    title=words,
                )
            )
        page.append(Text(sample, base, code, height, bold=True))
        page.extend(Text(text_at, base + i * height * LINE, line, height) for i, line in enumerate(lines))
        drawn.append(Noted(what, kind, "", 0.0, y))
        pages[-1] = (page, drawn, y + step)
    return tuple(Panel(Group(role, tuple(m), title=title), tuple(d), width, y) for m, d, y in pages)


def _heights(marks: Iterable[AnyMark]) -> Iterable[float]:
    """The upper and lower edges of a sample's marks about its middle; an open arc has none."""
    for mark in marks:
        match mark:
            case Group():
                yield from _heights(mark.marks)
            case Line() | Area():
                yield from (y for _, y in mark.points)
            case Circle():
                yield from (mark.centre[1] - mark.radius, mark.centre[1] + mark.radius)


def _roles(group: Group) -> Iterable[str]:
    yield group.role
    for mark in group.marks:
        if isinstance(mark, Group):
            yield from _roles(mark)


def _texts(group: Group) -> Iterable[str]:
    for mark in group.marks:
        if isinstance(mark, Text):
            yield mark.text
        elif isinstance(mark, Group):
            yield from _texts(mark)
