"""Statements after they are matched with the language table: values by field, names not yet resolved."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, TypeAlias

from plangen.model.schema.shape import BlockSpec, StatementSpec
from plangen.quantity.quantity import Quantity
from plangen.text.source import Span


class Broken:
    """The value of a field that was said but could not be read: known to be there, and silent after that."""

    def __repr__(self) -> str:
        return "BROKEN"


BROKEN = Broken()


@dataclass(frozen=True, slots=True)
class Ref:
    """A name used, to be resolved."""

    name: str
    span: Span


@dataclass(frozen=True, slots=True)
class Coordinates:
    """A place by two coordinates: bare numbers in the site's unit, or lengths (then `metres`)."""

    x: float
    y: float
    metres: tuple[bool, bool]
    span: Span


@dataclass(frozen=True, slots=True)
class CornerOf:
    """A named corner of an area: `House.southwest`."""

    area: str
    corner: str
    span: Span


@dataclass(frozen=True, slots=True)
class AtObject:
    """The place of a named object."""

    name: str
    span: Span


@dataclass(frozen=True, slots=True)
class Offset:
    """So far in compass directions of another place; `moves` are (metres, bearing in degrees)."""

    moves: tuple[tuple[float, float], ...]
    base: PlaceExpr
    span: Span


@dataclass(frozen=True, slots=True)
class Along:
    """So far along a pipe, from its beginning or from a named object on it."""

    distance: Quantity
    pipe: Ref
    start: Ref | None
    span: Span


@dataclass(frozen=True, slots=True)
class Between:
    """A share of the way from one place to another: a half, or that of one head in a row."""

    start: PlaceExpr
    end: PlaceExpr
    share: float
    span: Span


@dataclass(frozen=True, slots=True)
class Toward:
    """So far from one place in the direction of another."""

    distance: Quantity
    start: PlaceExpr
    end: PlaceExpr
    span: Span


@dataclass(frozen=True, slots=True)
class Opposite:
    """The place on a line (a pipe, a buried line, an outline) at right angles to another place."""

    base: PlaceExpr
    line: Ref
    span: Span


PlaceExpr: TypeAlias = Coordinates | CornerOf | AtObject | Offset | Along | Between | Toward | Opposite


@dataclass(frozen=True, slots=True)
class Law:
    """A flow at a pressure, or points of (pressure, flow)."""

    flow: Quantity | None
    at: Quantity | None
    table: tuple[tuple[Quantity, Quantity], ...]


@dataclass(frozen=True, slots=True)
class Bound:
    """One statement with its values by field name, and where each is said. `broken`: not all was read."""

    spec: StatementSpec
    span: Span
    head: Span
    name: str = ""
    name_span: Span | None = None
    values: dict[str, Any] = field(default_factory=dict)
    broken: bool = False
    spans: dict[str, Span] = field(default_factory=dict)

    def get(self, name: str) -> Any:
        """Return the value of a field, or None if it was not said or could not be read."""
        value = self.values.get(name)
        return None if value is BROKEN else value

    def at(self, name: str) -> Span:
        """Return where a field is said: the statement's head where that is not known."""
        return self.spans.get(name, self.head)

    @property
    def kind(self) -> str:
        """Return what the statement is about: its lead words, or the kind of object that they name."""
        return self.spec.kind or self.spec.words


@dataclass(frozen=True, slots=True)
class BoundBlock:
    """One block with its statements."""

    spec: BlockSpec
    span: Span
    head: Span
    statements: tuple[Bound, ...]
    name: str = ""
    label: str = ""
    broken: bool = False

    def all(self, lead: str) -> tuple[Bound, ...]:
        """Return the statements of one kind."""
        return tuple(s for s in self.statements if s.kind == lead)

    def one(self, lead: str) -> Bound | None:
        """Return the statement of one kind, or None."""
        return next((s for s in self.statements if s.kind == lead), None)

    def value(self, lead: str, field_name: str) -> Any:
        """Return a field of the one statement of a kind, or None."""
        found = self.one(lead)
        return found.get(field_name) if found else None
