"""Refuses a comparison with more than the facts list: what lies farther would fall away unseen. Pure."""

from __future__ import annotations

from plangen.checking import terms as c
from plangen.checking.messages import Code
from plangen.checking.satisfiable import constant
from plangen.checking.wording import measure
from plangen.diagnostics.diagnostic import Label, Problems
from plangen.text.source import Span


def check_reach(term: c.Term, rule: Span, problems: Problems) -> None:
    """Report each fact in a condition that is compared with more than what is listed of it."""
    if isinstance(term, c.Compare) and isinstance(term.left, c.Field):
        field, bound = term.left.field, constant(term.right)
        if bound is not None and bound > field.reach_si:
            reach = measure(field.reach_si, field.type.dimension, "us").words
            problems.error(
                Code.PASSES_WHEN_MISSING,
                f"`{field.name}` is listed up to {reach} only, so what lies farther would fall away unseen",
                term.span,
                help=f"ask for at most {reach}, or `ask` a person to measure it",
                labels=(Label(rule, "in this rule"),),
            )
    for part in c.parts_of(term):
        check_reach(part, rule, problems)
