"""Names a rule may use: relations and fields of the vocabulary, limits and tables of the pack."""

from __future__ import annotations

from dataclasses import dataclass, field

from plangen.checking import terms as c
from plangen.checking import tree as t
from plangen.checking.messages import Code
from plangen.diagnostics.diagnostic import Problems
from plangen.facts.values import FactField, FactType, Relation
from plangen.text.suggest import closest, suggestion_help

# The relation of each row in view, the rule's own first; empty for a rule that is checked once.
Scope = tuple[Relation, ...]
NAME_FIELD = FactField("name", FactType("text"), "its name in the design")


@dataclass(frozen=True, slots=True)
class Names:
    """Everything that can be named. `broken` holds names whose own definition failed: they stay silent."""

    relations: dict[str, Relation]
    limits: dict[str, c.Limit]
    tables: dict[str, c.Table]
    broken: frozenset[str] = field(default_factory=frozenset)


def find_relation(path: t.Path, names: Names, problems: Problems) -> Relation | None:
    """Return the relation of that name, or None after a message."""
    relation = names.relations.get(path.text)
    if relation is None:
        near = suggestion_help(path.text, names.relations, "name")
        problems.error(
            Code.UNKNOWN_RELATION,
            f"the facts know no `{path.text}`",
            path.span,
            help=near or "the handbook lists the relations",
        )
    return relation


def field_named(relation: Relation, name: str) -> FactField | None:
    """Return a field of a relation; each has a `name`."""
    return relation.field(name) or (NAME_FIELD if name == "name" else None)


def find_field(path: t.Path, scope: Scope, names: Names, problems: Problems) -> c.Term | None:
    """Return the field a path names, or None after a message."""
    first, dot, last = path.text.partition(".")
    if not dot:
        return _own_field(path, scope, names, problems)
    if first == "this" or (scope and first == scope[0].name and not scope[0].single):
        if not scope:
            problems.error(
                Code.UNKNOWN_FIELD,
                "`this` is the row a rule is about, and this rule is about none",
                path.span,
            )
            return None
        return _field_of(scope[0], last, 0, path, problems)
    relation = find_relation(t.Path(first, path.span), names, problems)
    if relation is None:
        return None
    if not relation.single:
        problems.error(
            Code.NOT_SINGLE,
            f"there may be several of `{first}`, so `{path.text}` could be any of them",
            path.span,
            help=f"say which: `largest {last} of {first}` or `every {first} has (...)`",
        )
        return None
    return _field_of(relation, last, None, path, problems)


def _own_field(path: t.Path, scope: Scope, names: Names, problems: Problems) -> c.Term | None:
    if not scope:
        near = closest(
            path.text, [f"{r.name}.{f.name}" for r in names.relations.values() for f in r.fields if r.single]
        )
        problems.error(
            Code.UNKNOWN_FIELD,
            f"`{path.text}` belongs to no row: this rule is checked once",
            path.span,
            help=f"name the relation too, as in `{near or 'site.frost_depth'}`",
        )
        return None
    return _field_of(
        scope[-1], path.text, len(scope) - 1, path, problems, outer=scope[0] if len(scope) > 1 else None
    )


def _field_of(
    relation: Relation,
    name: str,
    scope: int | None,
    path: t.Path,
    problems: Problems,
    outer: Relation | None = None,
) -> c.Term | None:
    found = field_named(relation, name)
    if found is not None:
        return c.Field(scope, relation.name, found, path.span)
    near = closest(name, [f.name for f in relation.fields])
    if near:
        help = f"a similar name exists: `{near}`"
    elif outer is not None and field_named(outer, name) is not None:
        help = f"write `this.{name}` for the {outer.name.replace('_', ' ')} the rule is about"
    else:
        help = f"its fields are {', '.join(f.name for f in relation.fields)}"
    problems.error(Code.UNKNOWN_FIELD, f"`{relation.name}` has no field `{name}`", path.span, help=help)
    return None
