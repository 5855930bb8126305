"""The cost table: what pipe, valves, wire, assemblies and height cost, for comparing changes."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass

from plangen.facts.pipe_rows import material
from plangen.model.numbers import quantity_value
from plangen.model.waterworks import Device
from plangen.quantity.dimension import UNITS, Dimension

COLUMNS = ("item", "name", "size", "cost", "per", "basis", "note")
ITEMS = ("money", "pipe", "class", "valve", "wire", "station", "assembly", "raise", "strainer", "regulator")
_PLAIN = ("each", "factor")

Key = tuple[str, str, int]  # item, name, size in micrometres (0: none)


@dataclass(frozen=True, slots=True)
class CostTable:
    """Costs by item, name and size: of each, or of a metre where the row is per length."""

    file: str
    money: str
    basis: str
    costs: Mapping[Key, float]

    def of(self, item: str, name: str = "", size_m: float | None = None) -> float | None:
        """Return a cost, or None where the table is silent."""
        return self.costs.get((item, name, 0 if size_m is None else round(size_m * 1e6)))

    def pipe_m(self, family: str, nominal: str) -> float | None:
        """Return what a metre of pipe of a family and size costs, or None where the table does not say."""
        plain = self.of("pipe", material(family), quantity_value(nominal)[0])
        return None if plain is None else plain * (self.of("class", family) or 1.0)

    def of_device(self, device: Device) -> float | None:
        """Return what another strainer or regulator like one costs, or None where the table is silent."""
        return self.of(device.kind, "", device.size.si) if device.size is not None else None

    def told(self, cost: float) -> str:
        """Return a cost in the money of the table."""
        return f"{cost:.2f} {self.money}"


def read_costs(text: str, file: str) -> CostTable | str:
    """Return the table of a CSV text, or what is wrong with it, with its line."""
    reader = csv.DictReader(io.StringIO(text.replace("\r\n", "\n")))
    if tuple(reader.fieldnames or ()) != COLUMNS:
        return f"{file}, line 1: the columns must be {', '.join(COLUMNS)}"
    costs: dict[Key, float] = {}
    money, basis = "", []
    for row in reader:
        entry = _row(row)
        if isinstance(entry, str):
            return f"{file}, line {reader.line_num}: {entry}"
        key, cost = entry
        if key in costs:
            return f"{file}, line {reader.line_num}: this row stands twice in the table"
        costs[key] = cost
        money = row["name"] if row["item"] == "money" else money
        basis.append(row["basis"] or "not said")
    if not money:
        return f"{file}: a row `money` must name the money of the costs"
    return CostTable(file, money, ", ".join(dict.fromkeys(basis)), costs)


def _row(row: Mapping[str, str]) -> tuple[Key, float] | str:
    item, per = row["item"], row["per"]
    if None in row.values() or item not in ITEMS:
        return f"`{item}` is none of {', '.join(ITEMS)}, or a column is missing"
    try:
        cost = float(row["cost"])
        size = _micrometres(row["size"]) if row["size"] else 0
    except (ValueError, KeyError, ZeroDivisionError):
        return f"`{row['cost']}` must be a number, and the size a length such as `3/4 in` or `25 mm`"
    if not 0.0 <= cost < 1e9:
        return f"`{row['cost']}` is no cost: it must be nought or more"
    if per not in _PLAIN and (per not in UNITS or UNITS[per].dimension is not Dimension.LENGTH):
        return f"`{per}` is neither each, nor factor, nor a unit of length"
    return (item, row["name"], size), cost if per in _PLAIN else cost / UNITS[per].factor


def _micrometres(size: str) -> int:
    value, dimension = quantity_value(size)
    if dimension is not Dimension.LENGTH:
        raise ValueError(size)
    return round(value * 1e6)
