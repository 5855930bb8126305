"""Random designs made from the language tables: every block, statement, slot and form of value can come up.

The trees are good ones: the binder takes each statement without a message. Names need not be of anything.
"""

from __future__ import annotations

import string
from collections.abc import Callable

from hypothesis import strategies as st

from plangen.model.read_place import BEARINGS, CORNERS
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import BlockSpec, Slot, StatementSpec, Want
from plangen.quantity.dimension import UNITS, Dimension
from plangen.syntax.tree import Block, Clause, DesignTree, Include, Statement, Term, TermKind, Version
from plangen.text.source import Span

K = TermKind
Terms = tuple[Term, ...]
Strategy = st.SearchStrategy[Terms]
NOWHERE = Span("d.plan", 0, 0)
ARROW = Term(K.ARROW, "->", NOWHERE)


def term(kind: TermKind, text: str, *items: Term) -> Term:
    """Return a term that stands nowhere."""
    return Term(kind, text, NOWHERE, items)


def words(text: str) -> Terms:
    """Return words as terms."""
    return tuple(term(K.WORD, w) for w in text.split())


def of(kind: TermKind, texts: st.SearchStrategy[str]) -> Strategy:
    """Return a strategy of single terms of a kind."""
    return texts.map(lambda text: (term(kind, text),))


def joined(*parts: Strategy) -> Strategy:
    """Return a strategy of the terms of all parts in a row."""
    return st.tuples(*parts).map(lambda found: tuple(t for part in found for t in part))


def maybe(part: Strategy) -> Strategy:
    """Return a strategy of the part or nothing."""
    return st.one_of(st.just(()), part)


# Words that begin no clause and are no choice of any statement.
WORD = of(K.WORD, st.from_regex(r"q[a-z0-9]{0,6}(-[a-z0-9]{1,4}){0,2}", fullmatch=True))
NAME = of(K.NAME, st.from_regex(r"[A-Z][A-Za-z0-9]{0,5}(-[A-Za-z0-9]{1,3})?", fullmatch=True))
TEXT = of(K.TEXT, st.text(string.ascii_letters + string.digits + " #{},()->.'äß½", max_size=30))
DATE = of(K.DATE, st.dates().map(lambda day: day.isoformat()).filter(lambda text: len(text) == 10))
DIGITS = st.one_of(
    st.integers(0, 9999).map(str),
    st.decimals(0, 999, places=2).map(str),
    st.sampled_from(["3/4", "1-1/4", "1 1/2", ".5", "007", "12.50"]),
)
BACKING = st.one_of(
    st.sampled_from([words("assumed"), words("typical"), words("declared"), words("measured")]),
    DATE.map(lambda day: words("measured") + day),
    TEXT.map(lambda text: words("from data sheet") + text),
    TEXT.map(lambda text: words("from standard") + text),
    st.just(words("from memory")),
    maybe(TEXT).map(lambda text: words("from typical values") + text),
)


def quantities(dimension: Dimension, negative: bool = False) -> Strategy:
    """Return quantities of a dimension in every unit and form, or bare numbers where they are allowed."""
    units = [symbol for symbol, unit in UNITS.items() if unit.dimension is dimension]
    sign = st.sampled_from(["", "-"] if negative else [""])
    blank = st.sampled_from([" ", ""])
    forms: list[Strategy] = []
    if units:
        plain = st.tuples(sign, DIGITS, blank, st.sampled_from(units)).map("".join)
        forms.append(of(K.QUANTITY, plain))
    if dimension is Dimension.LENGTH:
        feet = st.tuples(sign, st.integers(0, 99).map(str), st.just(" ft "), DIGITS, st.just(" in"))
        forms.append(of(K.QUANTITY, feet.map("".join)))
    if dimension in (Dimension.COUNT, Dimension.RATIO):
        forms.append(of(K.NUMBER, st.tuples(sign, DIGITS).map("".join)))
    return st.one_of(forms)


def pairs(first: st.SearchStrategy[Term], second: st.SearchStrategy[Term]) -> Strategy:
    """Return pairs of two terms."""
    return st.tuples(first, second).map(lambda p: (term(K.PAIR, f"({p[0].text}, {p[1].text})", *p),))


_LENGTH = quantities(Dimension.LENGTH, negative=True)
_COORDINATE = st.one_of(
    of(K.NUMBER, st.decimals(-500, 500, places=1).map(str)).map(lambda t: t[0]), _LENGTH.map(lambda t: t[0])
)
_CORNER = st.tuples(NAME, st.sampled_from(CORNERS)).map(lambda p: (term(K.CORNER, f"{p[0][0].text}.{p[1]}"),))
_COMPASS = st.sampled_from(sorted(BEARINGS)).map(words)
_MOVE = joined(quantities(Dimension.LENGTH), _COMPASS)
_BASE = st.one_of(pairs(_COORDINATE, _COORDINATE), _CORNER, NAME)
PLACE = st.one_of(
    _BASE,
    joined(_MOVE, st.just(words("of")), _BASE),
    joined(_MOVE, st.just(words("and")), _MOVE, st.just(words("of")), _BASE),
    joined(quantities(Dimension.LENGTH), st.just(words("along")), NAME),
    joined(quantities(Dimension.LENGTH), st.just(words("along")), NAME, st.just(words("from")), NAME),
)
_TWO = joined(PLACE, st.just(words("and")), PLACE)
PLACE = st.one_of(
    PLACE,
    joined(st.just(words("midway between")), _TWO),
    joined(st.just(words("opposite")), PLACE, st.just(words("on")), NAME),
    joined(quantities(Dimension.LENGTH), st.just(words("from")), PLACE, st.just(words("toward")), PLACE),
)
_STOP = st.one_of(_BASE, PLACE)
ROUTE = st.lists(_STOP, min_size=1, max_size=5).map(
    lambda stops: tuple(t for i, stop in enumerate(stops) for t in ((ARROW, *stop) if i else stop))
)
_BEARING = st.one_of(_COMPASS, of(K.QUANTITY, st.integers(0, 720).map(lambda n: f"{n} deg")))
ARC = joined(st.sampled_from([(), words("from")]), _BEARING, st.just(words("to")), _BEARING)


def rising(slot: Slot) -> Strategy:
    """Return points whose first value rises."""
    unit, other = (next(s for s, u in UNITS.items() if u.dimension is d) for d in slot.dimensions[:2])
    numbers = st.lists(st.integers(0, 500), min_size=1, max_size=6, unique=True).map(sorted)
    points = numbers.map(
        lambda found: tuple(
            term(K.PAIR, "", term(K.QUANTITY, f"{n} {unit}"), term(K.QUANTITY, f"{n / 4} {other}"))
            for n in found
        )
    )
    return joined(points, maybe(BACKING))


def ranges(slot: Slot) -> Strategy:
    """Return a lower and a higher quantity."""
    unit = next(s for s, u in UNITS.items() if u.dimension is slot.dimensions[0])
    numbers = st.tuples(st.integers(0, 99), st.integers(0, 99)).map(sorted)
    return joined(
        numbers.map(
            lambda n: (term(K.QUANTITY, f"{n[0]} {unit}"), *words("to"), term(K.QUANTITY, f"{n[1]} {unit}"))
        ),
        maybe(BACKING),
    )


def at_another(first: Dimension, second: Dimension) -> Strategy:
    """Return a quantity at another."""
    return joined(quantities(first), st.just(words("at")), quantities(second), maybe(BACKING))


VALUES: dict[Want, Callable[[Slot], Strategy]] = {
    Want.FLAG: lambda slot: st.just(()),
    Want.TEXT: lambda slot: TEXT,
    Want.WORD: lambda slot: st.sampled_from(slot.choices).map(words) if slot.choices else WORD,
    Want.CHOICE: lambda slot: st.sampled_from(slot.choices).map(words),
    Want.QUANTITY: lambda slot: joined(quantities(slot.dimensions[0], not slot.positive), maybe(BACKING)),
    Want.SIZE: lambda slot: quantities(slot.dimensions[0]),
    Want.COUNT: lambda slot: of(K.NUMBER, st.integers(0, 99).map(str)),
    Want.DATE: lambda slot: DATE,
    Want.PLACE: lambda slot: PLACE,
    Want.ROUTE: lambda slot: ROUTE,
    Want.REF: lambda slot: NAME,
    Want.PART: lambda slot: WORD,
    Want.FAMILY: lambda slot: WORD,
    Want.ARC: lambda slot: ARC,
    Want.RANGE: ranges,
    Want.LAW: lambda slot: st.one_of(at_another(slot.dimensions[1], slot.dimensions[0]), rising(slot)),
    Want.STEPS: lambda slot: joined(
        quantities(Dimension.LENGTH), st.just(words("every")), quantities(Dimension.LENGTH)
    ),
    Want.ROW: lambda slot: _TWO,
    Want.AT_FLOW: lambda slot: at_another(slot.dimensions[0], slot.dimensions[1]),
    Want.CURVE: rising,
    Want.ANSWER: lambda slot: st.one_of(st.just(words("none")), TEXT),
    Want.PROVENANCE: lambda slot: BACKING.filter(lambda t: t[0].text == "from").map(lambda t: t[1:]),
    Want.LABEL: lambda slot: st.one_of(NAME, WORD, TEXT, of(K.NUMBER, st.integers(1, 9).map(str))),
}


def slot_terms(slot: Slot) -> Strategy:
    """Return a slot with its lead words, its value and what may follow it."""
    after = (
        st.sampled_from([(), words("above grade"), words("below grade")]) if slot.trailing else st.just(())
    )
    return joined(st.just(words(slot.words)), VALUES[slot.want](slot), after)


@st.composite
def lists(draw: st.DrawFn, spec: StatementSpec, item: StatementSpec) -> Statement:
    """Draw a statement that ends in a list after a colon; each clause stands before it or in an item."""
    first = words(spec.words)
    for slot in spec.args:
        first += draw(slot_terms(slot))
    shared = {slot.field for slot in spec.clauses} & {slot.field for slot in item.clauses}
    common = [s for s in item.clauses if s.field in shared and (s.field == "pipe" or draw(st.booleans()))]
    front = [Clause(first), *(Clause(draw(slot_terms(slot))) for slot in draw(st.permutations(common)))]
    clauses: list[Clause] = []
    for name in draw(st.lists(NAME, min_size=1, max_size=4)):
        chosen = [s for s in item.clauses if s.required or draw(st.integers(0, 2)) == 0]
        own = [draw(slot_terms(slot)) for slot in draw(st.permutations(chosen))]
        if draw(st.booleans()):
            name += own.pop(0)
        clauses += [Clause(name), *(Clause(terms) for terms in own)]
    return Statement((*front, *clauses), NOWHERE, len(front))


@st.composite
def statements(draw: st.DrawFn, spec: StatementSpec) -> Statement:
    """Draw a statement of one kind, with any of its optional slots and its clauses in any order."""
    if spec.items is not None and draw(st.booleans()):
        return draw(lists(spec, spec.items))
    first = words(spec.words)
    if spec.named == "required" or (spec.named == "optional" and draw(st.booleans())):
        first += draw(NAME)
    names: list[Terms] = []
    if spec.named == "several":
        # All but the first and the last name are clauses of their own.
        several = draw(st.lists(NAME, min_size=2, max_size=4))
        names = [first + several[0], *several[1:]]
        first = names.pop()
    for slot in spec.args:
        if slot.required or draw(st.booleans()):
            first += draw(slot_terms(slot))
    chosen = [slot for slot in spec.clauses if slot.required or draw(st.integers(0, 3)) == 0]
    if spec.named == "several":
        # They stand at distances or in a row, one of the two.
        where = draw(st.sampled_from(("steps", "row")))
        chosen = [slot for slot in spec.clauses if slot.field == where] + [
            slot for slot in chosen if slot.field not in ("steps", "row")
        ]
    clauses = [draw(slot_terms(slot)) for slot in draw(st.permutations(chosen))]
    many = next((slot for slot in spec.args if slot.many), None)
    if many is None and clauses and draw(st.booleans()):
        first += clauses.pop(0)
    more = draw(st.lists(VALUES[many.want](many), max_size=3)) if many else []
    return Statement(tuple(Clause(terms) for terms in (*names, first, *more, *clauses)))


@st.composite
def blocks(draw: st.DrawFn, spec: BlockSpec) -> Block:
    """Draw a block of one kind: what it requires, and some of the rest."""
    header = words(spec.lead)
    if spec.named:
        header += draw(NAME if spec.named == "name" else WORD)
    if spec.label and draw(st.booleans()):
        header += draw(TEXT)
    kinds = [kind for kind in spec.statements if kind.required]
    kinds += draw(st.lists(st.sampled_from(spec.statements), max_size=5))
    kinds = [kind for i, kind in enumerate(kinds) if not (kind.single and kind in kinds[:i])]
    found = tuple(draw(statements(kind)) for kind in draw(st.permutations(kinds)))
    return Block(header, found, NOWHERE)


_PATH = st.from_regex(r"([a-z]{1,8}/)?[a-z]{1,8}( [a-z])?\.plan", fullmatch=True)
INCLUDE = st.one_of(
    _PATH.map(lambda path: Include(path, False, NOWHERE)), st.just(Include("parts", True, NOWHERE))
)


@st.composite
def trees(draw: st.DrawFn) -> DesignTree:
    """Draw a tree with any blocks."""
    leads = draw(st.lists(st.sampled_from(sorted(BLOCKS)), min_size=1, max_size=5))
    leads = [lead for i, lead in enumerate(leads) if not (BLOCKS[lead].single and lead in leads[:i])]
    version = (Version(term(K.WORD, "plangen"), term(K.NUMBER, "1")),) if draw(st.booleans()) else ()
    found = tuple(draw(blocks(BLOCKS[lead])) for lead in leads)
    return DesignTree("d.plan", version, found, includes=tuple(draw(st.lists(INCLUDE, max_size=3))))
