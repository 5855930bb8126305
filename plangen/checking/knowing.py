"""Finds `is known` tests that would turn a missing value into a pass.

Truth must only ever be gained by knowing more. `X is known` gains it, so it may stand where it is asserted;
under a `not`, in the `where` of `every` or `no`, or inside a count it would lose it, and a value left out of
a design would make a rule pass. `X is not known` is the same turned about.
"""

from __future__ import annotations

from collections.abc import Iterator

from plangen.checking import terms as c


def unsafe_tests(term: c.Term, asserted: bool | None = True) -> Iterator[c.Known]:
    """Yield the tests that stand where a missing value could help.

    `asserted` is True where the condition helps by being true, False where by being false, None where either
    might help (inside counts, sums and extremes).
    """
    match term:
        case c.Known():
            if asserted is None or term.negated == asserted:
                yield term
            return
        case c.Negation(inner=inner):
            yield from unsafe_tests(inner, None if asserted is None else not asserted)
            return
        case c.Presence(where=where, negated=negated):
            if where is not None:
                yield from unsafe_tests(where, None if asserted is None else asserted != negated)
            return
        case c.ForAll(where=where, has=has):
            if where is not None:
                yield from unsafe_tests(where, None if asserted is None else not asserted)
            yield from unsafe_tests(has, asserted)
            return
        case c.Junction(parts=parts):
            for part in parts:
                yield from unsafe_tests(part, asserted)
            return
    for part in c.parts_of(term):
        yield from unsafe_tests(part, None)
