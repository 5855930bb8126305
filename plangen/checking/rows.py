"""The fact base arranged for many look-ups: rows by relation, values by field."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.facts.values import FactBase, Row, Value


@dataclass(slots=True)
class FactRow:
    """One row with its values by field name."""

    row: Row
    values: dict[str, Value]

    def get(self, name: str) -> Value:
        """Return a value; a field nobody set is not known, and `name` is the row's own name."""
        found = self.values.get(name)
        if found is not None:
            return found
        return Value(self.row.name) if name == "name" else self.row.get(name)


class FactRows:
    """All rows of a run."""

    __slots__ = ("_by_relation", "_complete")

    def __init__(self, facts: FactBase) -> None:
        """Arrange a fact base."""
        self._by_relation: dict[str, list[FactRow]] = {}
        for row in facts.rows:
            self._by_relation.setdefault(row.relation, []).append(FactRow(row, dict(row.values)))
        self._complete = frozenset(facts.complete)

    def of(self, relation: str) -> list[FactRow]:
        """Return the rows of a relation in the order given."""
        return self._by_relation.get(relation, [])

    def complete(self, relation: str) -> bool:
        """Return whether the list of a relation is known to be whole."""
        return relation in self._complete
