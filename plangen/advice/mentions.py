"""Which facts move with the water, with the sizes of things, and which rules speak of them. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from plangen.checking.packs import CheckedPack, Rule
from plangen.checking.terms import Field, ForAll, Gather, Presence, Term, parts_of

# What another pressure at the source can change, by relation. What is said of still water is that of the
# highest static pressure stated, whatever a gauge shows on the day. A test holds the list to be whole.
WATER_FACTS: Mapping[str, frozenset[str]] = {
    "supply": frozenset({"design_pressure", "greatest_flow", "least_spare_pressure", "solved"}),
    "meter": frozenset({"flow", "share"}),
    "assembly": frozenset({"flow", "flow_in_range"}),
    "pipe": frozenset({"flow", "velocity", "surge", "static_and_surge", "surge_share_of_rating"}),
    "valve": frozenset({"flow", "flow_in_range"}),
    "zone": frozenset(
        {
            "solved",
            "flow",
            "least_pressure",
            "least_spare_pressure",
            "pressure_spread",
            "flow_spread",
            "rate_spread",
            "application_rate",
        }
    ),
    "head": frozenset(
        {
            "pressure",
            "highest_pressure",
            "nozzle_pressure",
            "radius",
            "spacing_over_radius",
            "overspray",
            "overspray_onto",
        }
    ),
    "drip": frozenset({"pressure", "highest_pressure"}),
    "controller": frozenset({"fits_window"}),
    "coverage": frozenset({"distribution_uniformity", "dry_share", "application_rate"}),
}
# What the adviser's own changes move besides: pipes and sleeves by size and class, assemblies by kind, size
# and height, zones by number.
SIZE_FACTS: Mapping[str, frozenset[str]] = {
    "pipe": frozenset({"size", "family", "pressure_rating", "static_pressure", "static_share_of_rating"}),
    "sleeve": frozenset({"size", "pipe_size", "size_over_pipe", "bore_over_pipe"}),
    "assembly": frozenset(
        {
            "kind",
            "size",
            "line_size",
            "height_above_grade",
            "height_above_highest_outlet",
            "height_above_downstream_piping",
            "backflow_from_outlets",
            "in_box",
            "listed",
            "listing",
        }
    ),
    "controller": frozenset({"stations", "zones", "spare_stations"}),
    "isolation": frozenset({"line_size"}),
}


def mentioned(term: Term) -> Iterator[tuple[str, str]]:
    """Yield each fact an expression reads, as (relation, field); the field is empty for a list of rows."""
    match term:
        case Field(relation=relation, field=field):
            yield relation, field.name
        case Gather(relation=relation) | Presence(relation=relation) | ForAll(relation=relation):
            yield relation, ""
    for part in parts_of(term):
        yield from mentioned(part)


def facts_of(rule: Rule) -> frozenset[tuple[str, str]]:
    """Return every fact that a rule's selection, conditions and requirement read."""
    terms = (rule.where, *rule.when, rule.require)
    return frozenset(fact for term in terms if term is not None for fact in mentioned(term))


def required_on(
    packs: Sequence[CheckedPack], *facts: Mapping[str, frozenset[str]]
) -> tuple[CheckedPack, ...]:
    """Return the packs with only those required rules that read one of the facts, each rule once."""
    seen: set[Rule] = set()
    kept = []
    for pack in packs:
        rules = []
        for rule in pack.rules:
            reads = facts_of(rule)
            if rule.severity != "required" or rule.require is None or rule in seen:
                continue
            if any(name in group.get(relation, ()) for relation, name in reads for group in facts):
                seen.add(rule)
                rules.append(rule)
        kept.append(replace(pack, rules=tuple(rules), switched_off=()))
    return tuple(kept)
