"""The stated values a layout fact rests on, as inputs. Makes them; never decides whether they suffice."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from plangen.geometry.point import Point
from plangen.hydraulics.results import Input
from plangen.quantity.quantity import Quantity


class Ground(Protocol):
    """The ground surface as layout needs it."""

    def elevation_m(self, point: Point) -> float | None:
        """Return the finished grade at a point in metres, or None where it is not known."""
        ...

    def inputs(self, point: Point) -> tuple[Input, ...]:
        """Return the spot grades the elevation at a point rests on."""
        ...


def stated(name: str, quantity: Quantity | None) -> tuple[Input, ...]:
    """Return one stated quantity as an input, or nothing if it was not stated."""
    if quantity is None:
        return ()
    return (Input(name, quantity.written, quantity.provenance, quantity.span),)


def merged(*groups: Iterable[Input]) -> tuple[Input, ...]:
    """Return the inputs of all groups, each once, in the order of first use."""
    return tuple(dict.fromkeys(i for group in groups for i in group))
