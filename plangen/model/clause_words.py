"""What the words of a clause may be meant as: names in a row, the nearest clause, a value out of place."""

from __future__ import annotations

from collections.abc import Collection

from plangen.model.bound import Ref
from plangen.model.cursor import leading_words
from plangen.model.read_value import FORMS
from plangen.model.schema.shape import StatementSpec, Want
from plangen.syntax.tree import Clause, Statement, Term, TermKind
from plangen.text.source import Span
from plangen.text.suggest import Meant, listed, suggestion


def several_names(statement: Statement, lead: int) -> tuple[Statement, tuple[Ref, ...]]:
    """Return the names in a row after the lead words, and the statement with the last of them alone."""
    names: list[Ref] = []
    first, rest, taken = statement.clauses[0].terms, statement.clauses[1:], 0
    begin, terms = first[:lead], first[lead:]
    while True:
        if terms and terms[0].kind is TermKind.NAME:
            names.append(Ref(terms[0].text, terms[0].span))
        last = len(terms) != 1 or not names or taken == len(rest)
        if last or rest[taken].terms[0].kind is not TermKind.NAME:
            break
        terms = rest[taken].terms
        taken += 1
    return Statement((Clause((*begin, *terms)), *rest[taken:])), tuple(names)


def legal(words: list[str]) -> str:
    """Return the legal words as a list, or that there are none."""
    return listed(f"`{w}`" for w in words) if words else "nothing more"


def nearest_clause(terms: tuple[Term, ...], words: list[str]) -> tuple[Meant | None, Span]:
    """Return the clause that the words which begin here were most likely meant as, and where they stand."""
    found = suggestion(leading_words(terms), words)
    return found, terms[0].span.join(terms[found.count - 1].span) if found else terms[0].span


def out_of_place(term: Term, spec: StatementSpec, said: Collection[str]) -> str:
    """Return where a value belongs that a comma has made a clause of its own, or an empty text."""
    for slot in spec.args:
        # A bare word may be anything; one with a hyphen or a digit is no clause but the name of a part.
        likely = term.kind is TermKind.TEXT or (slot.want is Want.PART and not term.text.isalpha())
        if slot.field not in said and not slot.lead and term.kind in FORMS[slot.want] and likely:
            texts = [s.field for s in spec.args if s.want is Want.TEXT and s.field in said]
            before = ", before the text" if texts else ""
            return f"{slot.want.value} stands in front of the first comma{before}"
    for slot in spec.clauses:
        if term.kind is TermKind.NAME and slot.want is Want.REF and slot.required and slot.field not in said:
            return f"write `{slot.words} {term.text}` if it is {slot.help}"
    return ""
