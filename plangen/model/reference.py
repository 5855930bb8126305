"""The listing of the whole language as Markdown, from the tables that the reader itself uses."""

from __future__ import annotations

from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.model.schema.slots import said
from plangen.model.schema.unsaid import unsaid
from plangen.quantity.dimension import UNITS, Dimension, Unit
from plangen.text.suggest import listed
from plangen.text.trade_words import trade_words

_HEAD = """# Language reference

Every block, statement and clause of the design language, with what each takes and what holds where nothing is
said. This page is generated from the tables that plangen reads designs with. How a design is written in
general is told in [the language](language.md); the units are listed in [units](units.md).

In the lines below, words in small letters are written as they stand; words in capitals stand for a value;
brackets hold what may be left out. Clauses follow the first part of a statement in any order, with a comma
before each.
"""
_TRADE_HEAD = """## Other words of the trade {: id="other-words" }

The language has one word for each thing. Who writes another one is told ours, in the places where ours may
stand. Nothing is read as something else.
"""
# How a value is told in a line, where that does not depend on the slot.
_FORMS = {
    Want.FLAG: "",
    Want.TEXT: '"TEXT"',
    Want.WORD: "WORD",
    Want.COUNT: "NUMBER",
    Want.DATE: "DATE",
    Want.PLACE: "PLACE",
    Want.ROUTE: "PLACE -> PLACE",
    Want.ROW: "PLACE and PLACE",
    Want.REF: "NAME",
    Want.PART: "PART",
    Want.FAMILY: "MATERIAL",
    Want.ARC: "BEARING to BEARING",
    Want.ANSWER: 'none or "TEXT"',
    Want.PROVENANCE: 'data sheet "TEXT"',
    Want.LABEL: "LABEL",
}


def language_reference() -> str:
    """Return the page."""
    parts = [_HEAD, "## Blocks\n", *(_line(spec) for spec in BLOCKS.values()), ""]
    for spec in BLOCKS.values():
        parts.append(_block(spec))
    parts.append(_trade_words())
    return "\n".join(parts).rstrip("\n") + "\n"


def _trade_words() -> str:
    lines = [_TRADE_HEAD, "| here | also called |", "|---|---|"]
    rows = sorted(trade_words()["words"].items())
    return "\n".join([*lines, *(f"| `{ours}` | {', '.join(theirs)} |" for ours, theirs in rows), ""])


def _line(spec: BlockSpec) -> str:
    return f"- [`{spec.lead}`](#{spec.lead}): {spec.help}"


def _block(spec: BlockSpec) -> str:
    header = spec.lead + {"name": " NAME", "part": " WORD"}.get(spec.named, "")
    header += ' ["TEXT"]' if spec.label else ""
    how = "Every design has it" if spec.required else "It may be left out"
    often = "once" if spec.single else "as often as needed"
    told = f"{spec.help[0].upper()}{spec.help[1:]}. {how}; it stands {often}."
    parts = [f"## {spec.lead}\n", f"    {header} {{ … }}\n", told + "\n"]
    return "\n".join([*parts, *(_statement(spec, s) for s in spec.statements)])


def _statement(block: BlockSpec, spec: StatementSpec) -> str:
    anchor = f"{block.lead}-{'-'.join(spec.lead)}"
    often = "once" if spec.single else "as often as needed"
    must = "must stand in the block, " if spec.required else ""
    lines = [
        f'### {spec.words} {{: id="{anchor}" }}\n',
        f"    {syntax(spec)}\n",
        f"{spec.help[0].upper()}{spec.help[1:]} ({must}{often}).\n",
    ]
    if spec.slots():
        lines += ["| part | takes | what it is | when not said |", "|---|---|---|---|"]
        lines += [
            f"| {_shown(slot)} | {takes(slot)} | {slot.help} | {unsaid(spec, slot) or 'must be said'} |"
            for slot in spec.slots()
        ]
        lines.append("")
    if spec.items is not None:
        lines.append(_list_told(spec, spec.items))
    return "\n".join(lines)


def _list_told(spec: StatementSpec, item: StatementSpec) -> str:
    """Return how the list looks that a colon may open, and what it means."""
    args = "".join(f" {_optional(slot)}" for slot in spec.args)
    clauses = ", ".join(slot.words or "state" for slot in item.clauses)
    return (
        f"    {spec.words}{args}, CLAUSES: {syntax(item).removeprefix(item.words + ' ')}, NAME …\n\n"
        f"With a colon, each name begins {item.help} ({clauses}). What stands before the colon holds for all "
        "of them; what one says itself stands in place of it.\n"
    )


def syntax(spec: StatementSpec) -> str:
    """Return a statement as one line: `meter NAME [PART] ["TEXT"], at PLACE, [size LENGTH]`."""
    name = {"required": " NAME", "optional": " [NAME]", "several": " NAME, NAME …"}.get(spec.named, "")
    args = "".join(f" {_optional(slot)}" for slot in spec.args)
    clauses = "".join(f", {_optional(slot)}" for slot in spec.clauses)
    return f"{spec.words}{name}{args}{clauses}"


def _optional(slot: Slot) -> str:
    text = f"{slot.words} {form(slot)}".strip()
    text += f" [and {form(slot)} …]" if slot.many else ""
    return text if slot.required else f"[{text}]"


def form(slot: Slot) -> str:
    """Return how the value of a slot looks: `LENGTH`, `PRESSURE to PRESSURE`, `us or metric`."""
    if slot.want in _FORMS:
        return _FORMS[slot.want]
    if slot.want is Want.CHOICE:
        return listed(slot.choices) if len(slot.choices) <= 4 else "WORD"
    names = [d.name for d in slot.dimensions]
    if slot.want in (Want.QUANTITY, Want.SIZE):
        return names[0]
    if slot.want is Want.RANGE:
        return f"{names[0]} to {names[0]}"
    if slot.want is Want.STEPS:
        return f"{names[0]} every {names[1]}"
    if slot.want is Want.AT_FLOW:
        return f"{names[0]} at {names[1]}"
    if slot.want is Want.LAW:
        return f"{names[1]} at {names[0]}"
    return f"({names[0]}, {names[1]}) ({names[0]}, {names[1]}) …"


def _shown(slot: Slot) -> str:
    if slot.lead:
        return f"`{slot.words}`"
    return "the value" if slot.field == "value" else slot.field.replace("_", " ")


def takes(slot: Slot) -> str:
    """Return what a slot takes, in words with its units, choices or kinds."""
    if slot.choices:
        return listed(f"`{c}`" for c in slot.choices) + (", one or more" if slot.many else "")
    if slot.refs:
        kinds = listed(f"`{r}`" for r in slot.refs)
        return f"names of {kinds}" if slot.many else f"the name of one {kinds}"
    if slot.part_kinds:
        return f"a [part](#part) of kind {listed(f'`{k}`' for k in said(slot.part_kinds))}"
    if slot.want is Want.LAW:
        return f"{_measure(slot.dimensions[1])} at {_measure(slot.dimensions[0])}, or points of both"
    if slot.dimensions and slot.want is not Want.ARC:
        told = listed((_measure(d) for d in dict.fromkeys(slot.dimensions)), "and")
        sign = ", may be negative" if slot.want is Want.QUANTITY and not slot.positive else ""
        return f"{told}{sign}"
    words = slot.want.value.replace("|", "\\|")
    return f"{words}, one or more" if slot.many else words


def _measure(dimension: Dimension) -> str:
    units = [symbol for symbol, unit in UNITS.items() if unit.dimension is dimension]
    bare = dimension in (Dimension.COUNT, Dimension.RATIO)
    told = listed(f"`{u}`" for u in units)
    return f"{dimension.value} in {told}" + (" or bare" if bare else "") if units else "a bare number"


_UNITS_HEAD = """# Units

Every quantity carries its unit, with or without a blank before it; coordinates alone are bare, in the unit
that the site declares. US and metric units may be mixed in one design; what is shown is in the system that
the project asks for. This page is generated from the table that plangen reads quantities with.

Numbers are written as a crew writes them: `12`, `0.5`, `3/4 in`, `1-1/4 in`, `12 ft 6 in`. A ratio may be
bare (`0.8`) or in per cent (`2 %`). A count is bare. Nothing is reckoned: write the result. A unit has one
spelling; who writes it otherwise is told ours.
"""
_SI = {
    Dimension.LENGTH: "m",
    Dimension.AREA: "m²",
    Dimension.VOLUME: "m³",
    Dimension.PRESSURE: "Pa",
    Dimension.FLOW: "m³/s",
    Dimension.VELOCITY: "m/s",
    Dimension.RATE: "m/s of water depth",
    Dimension.ANGLE: "degrees",
    Dimension.TIME: "s",
    Dimension.TEMPERATURE: "°C",
    Dimension.VOLTAGE: "V",
}


def units_reference() -> str:
    """Return the page of units by dimension."""
    lines, other = [_UNITS_HEAD], trade_words()["units"]
    for dimension in Dimension:
        units = [unit for unit in UNITS.values() if unit.dimension is dimension]
        if units:
            lines += [f"## {dimension.value}\n", "| unit | in SI | also called |", "|---|---|---|"]
            lines += [f"| `{u.symbol}` | {_si(u)} | {', '.join(other.get(u.symbol, ()))} |" for u in units]
            lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


def _si(unit: Unit) -> str:
    """Return a unit in SI; US units are exact by their inch, pound and gallon, shown to ten digits."""
    told = f"{unit.factor:.10g} {_SI.get(unit.dimension, '')}".rstrip()
    return told + (f", plus {unit.offset:.8g}" if unit.offset else "")
