"""Heads named in a row: `heads H1, H2, H3 …` becomes one head for each name, at its own place."""

from __future__ import annotations

from dataclasses import replace

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.bound import Along, Between, Bound, PlaceExpr, Ref
from plangen.model.schema.shape import StatementSpec
from plangen.quantity.dimension import Dimension
from plangen.quantity.quantity import Quantity, to_si

# No lateral feeds so many; a longer list is a slip of a script, and would cost minutes before it is told.
MOST_IN_ROW = 500


def in_row(bound: Bound, single: StatementSpec, problems: Problems) -> tuple[Bound, ...]:
    """Return a statement for each name of a statement that has several, bound to the one of a single head."""
    names: tuple[Ref, ...] = bound.values.get("names", ())
    if len(names) > MOST_IN_ROW:
        problems.error(
            "PG2025",
            f"`heads` names {len(names)} heads in one row",
            names[0].span,
            expected=f"{MOST_IN_ROW} at most",
        )
        names, bound = names[:1], replace(bound, broken=True)
    places = _places(bound, names, problems)
    found = []
    for i, name in enumerate(names):
        values = {k: v for k, v in bound.values.items() if k not in ("names", "steps", "row")}
        if places is not None:
            values["at"] = places[i]
        broken = bound.broken or places is None
        head = bound.head if i == 0 else name.span
        one = replace(bound, spec=single, name=name.name, name_span=name.span, head=head)
        found.append(replace(one, values=values, broken=broken))
    return tuple(found)


def _places(bound: Bound, names: tuple[Ref, ...], problems: Problems) -> tuple[PlaceExpr, ...] | None:
    if bound.broken:
        return None
    steps, row, pipe = bound.get("steps"), bound.get("row"), bound.get("pipe")
    if (steps is None) == (row is None):
        both = steps is not None
        problems.error(
            "PG2011" if both else "PG2010",
            "`heads` has a spacing and a row between two places"
            if both
            else f"`heads {names[0].name}` does not say where they stand",
            bound.at("row") if both else bound.head,
            labels=(Label(bound.at("steps"), "the spacing"),) if both else (),
            expected="`from 0 ft every 15 ft` or `between PLACE and PLACE`, one of the two",
        )
        return None
    if steps is not None:
        if pipe is None:
            return None  # a message tells that they are on none
        first, spacing = steps
        far = [first.si + i * spacing.si for i in range(len(names))]
        return tuple(Along(_length(d, first, spacing), pipe, None, spacing.span or bound.head) for d in far)
    if len(names) < 2:
        problems.error(
            "PG2008",
            "a row between two places lacks a second head",
            names[0].span,
            expected="two names or more: the first and the last stand at the two places",
        )
        return None
    start, end = row
    last = len(names) - 1
    return tuple(Between(start, end, i / last, start.span.join(end.span)) for i in range(len(names)))


def _length(metres: float, first: Quantity, spacing: Quantity) -> Quantity:
    """Return a distance along the pipe in feet or metres, whichever the spacing is of."""
    if metres == first.si:
        return first
    unit = "m" if spacing.written.endswith("m") else "ft"
    written = f"{metres / to_si(1.0, unit):.2f}".rstrip("0").rstrip(".")
    return Quantity(metres, Dimension.LENGTH, f"{written} {unit}", spacing.provenance, spacing.span)
