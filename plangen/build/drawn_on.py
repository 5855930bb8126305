"""Where each object is drawn: sheet and border zone, from the inventories of the base sheets. Pure."""

from __future__ import annotations

from plangen.sheets.marks import SheetSet

# Kinds of entries that show the thing itself; rows of tables only speak of it.
_SHOWS = ("symbol", "line", "detail", "trench", "label", "pipe-size")


def places_of(sheets: SheetSet) -> dict[str, tuple[tuple[str, str], ...]]:
    """Return the (sheet, zone) pairs of each drawn object, in set order, one zone a sheet."""
    places: dict[str, dict[str, tuple[int, str]]] = {}
    for sheet in sheets.sheets:
        for entry in sheet.inventory:
            if entry.object and entry.what in _SHOWS:
                rank = _SHOWS.index(entry.what)
                held = places.setdefault(entry.object, {})
                if sheet.id not in held or rank < held[sheet.id][0]:
                    held[sheet.id] = (rank, entry.zone)
    return {name: tuple((s, zone) for s, (_, zone) in held.items()) for name, held in places.items()}
