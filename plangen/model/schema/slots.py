"""Short makers of slots, so that the language tables read as tables."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.model.schema.shape import Slot, StatementSpec, Want
from plangen.model.site import STATES
from plangen.quantity.dimension import Dimension as D

NODE_KINDS = (
    "source",
    "meter",
    "tap",
    "house",
    "isolation",
    "assembly",
    "strainer",
    "regulator",
    "master-valve",
    "flow-sensor",
    "quick-coupler",
    "blow-out",
    "drain",
    "injector",
    "pump",
    "tee",
    "valve",
)
PIPE_KINDS = ("service", "pipe", "lateral", "nipple")


def said(kinds: Iterable[str]) -> tuple[str, ...]:
    """Return kinds as people write them: `master valve` for `master-valve`."""
    return tuple(kind.replace("-", " ") for kind in kinds)


def flag(field: str, lead: str, help: str) -> Slot:
    """Return a clause that says something by being there."""
    return Slot(field, Want.FLAG, help, tuple(lead.split()))


def text(field: str, lead: str, help: str, *, required: bool = False) -> Slot:
    """Return a slot for text in quotes."""
    return Slot(field, Want.TEXT, help, tuple(lead.split()), required=required)


def quantity(
    field: str,
    lead: str,
    dimension: D,
    help: str,
    *,
    required: bool = False,
    positive: bool = True,
    above: bool = False,
) -> Slot:
    """Return a slot for a quantity; `above` lets `above grade` follow."""
    trailing = ("above", "below", "grade") if above else ()
    return Slot(
        field,
        Want.QUANTITY,
        help,
        tuple(lead.split()),
        (dimension,),
        required=required,
        positive=positive,
        trailing=trailing,
    )


def word(field: str, lead: str, choices: tuple[str, ...], help: str, *, required: bool = False) -> Slot:
    """Return a slot for one word of a closed list, or of an open one if `choices` is empty."""
    want = Want.CHOICE if choices else Want.WORD
    return Slot(field, want, help, tuple(lead.split()), choices=choices, required=required)


def ref(
    field: str, lead: str, refs: tuple[str, ...], help: str, *, required: bool = False, many: bool = False
) -> Slot:
    """Return a slot for the name of an object of the given kinds."""
    return Slot(field, Want.REF, help, tuple(lead.split()), refs=refs, required=required, many=many)


def part(kinds: tuple[str, ...], help: str, *, required: bool = False) -> Slot:
    """Return an argument for the name of a part."""
    return Slot("part", Want.PART, help, part_kinds=kinds, required=required)


def place(help: str, *, required: bool = True, lead: str = "at") -> Slot:
    """Return the clause that says where something is."""
    return Slot("at", Want.PLACE, help, tuple(lead.split()), required=required)


def route(field: str, help: str) -> Slot:
    """Return the clause for a chain of places."""
    return Slot(field, Want.ROUTE, help, (field,), required=True)


def one(lead: str, help: str, *slots: Slot, required: bool = False) -> StatementSpec:
    """Return a statement of one value (or none), at most once in its block; further slots are clauses."""
    return StatementSpec(tuple(lead.split()), help, slots[:1], slots[1:], single=True, required=required)


STATE = Slot(
    "state", Want.CHOICE, "whether it is there already, is new, is moved or is taken out", choices=STATES
)
SIZE = quantity("size", "size", D.LENGTH, "nominal size of its ends")
HEIGHT = quantity(
    "height",
    "height",
    D.LENGTH,
    "height of its centre above finished grade, negative when buried",
    positive=False,
    above=True,
)
BOX = flag("in_box", "in box", "it stands in a box with a lid")
BOX_SIZE = text("box_size", "box size", "size of that box as it is sold; says also that it stands in one")
LABEL = text("label", "", "what it is called on the sheets")
COVER = quantity("cover", "cover", D.LENGTH, "earth over the top of the pipe")
