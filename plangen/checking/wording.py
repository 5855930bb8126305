"""Checked expressions and values in people's words, in the units a project asks for."""

from __future__ import annotations

from functools import lru_cache

from plangen.checking import terms as c
from plangen.checking.finding import Measure
from plangen.checking.rows import FactRow
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import DISPLAY, SMALL_LENGTH, number
from plangen.quantity.quantity import si_to
from plangen.text.suggest import listed

# Two different values must never be printed alike: decimals are added up to this many.
MOST_DECIMALS = 4


def plain(name: str) -> str:
    """Return a name of the facts as words: `nominal_size` as `nominal size`."""
    return name.replace("_", " ")


@lru_cache(maxsize=4096)
def measure(
    si: float, dimension: Dimension | None, system: str, small: bool = False, extra_decimals: int = 0
) -> Measure:
    """Return an SI value with its words in a unit system (`us` or `metric`)."""
    if dimension is None or dimension is Dimension.COUNT:
        return Measure(number(si, 2 + extra_decimals), si, dimension or Dimension.COUNT)
    unit, decimals = DISPLAY[system][dimension]
    if small and dimension is Dimension.LENGTH:
        unit, decimals = SMALL_LENGTH[system]
    text = number(si_to(si, dimension, unit), decimals + extra_decimals)
    return Measure(f"{text}{unit}" if unit == "%" else f"{text} {unit}", si, dimension, small)


def told_apart(
    left: float, right: float, dimension: Dimension | None, system: str, small: bool
) -> tuple[Measure, Measure]:
    """Return two values in words, with as many decimals as it takes to tell them apart."""
    for extra in range(MOST_DECIMALS + 1):
        a, b = (measure(x, dimension, system, small, extra) for x in (left, right))
        if a.words != b.words:
            break
    else:
        return measure(left, dimension, system, small), measure(right, dimension, system, small)
    return a, b


def is_small(term: c.Term) -> bool:
    """Return whether a quantity is told in the small length unit: one of its facts is."""
    if isinstance(term, c.Field):
        return term.field.small
    if isinstance(term, c.Gather):
        return term.item is not None and is_small(term.item)
    return any(is_small(p) for p in c.parts_of(term))


class Wording:
    """Words of one unit system. Given rows, a field says whose it is where that is not the rule's own row."""

    __slots__ = ("own", "rows", "system")

    def __init__(self, system: str, rows: tuple[FactRow, ...] = (), own: int = 1) -> None:
        """Bind the unit system and the rows in view, of which the first `own` are the rule's subject."""
        self.own = own
        self.system = system
        self.rows = rows

    def constant(self, si: float, dimension: Dimension | None, small: bool) -> str:
        """Return a fixed amount in words."""
        return measure(si, dimension, self.system, small).words

    def value(self, term: c.Term, small: bool = False) -> str:
        """Return a value: `cover`, `limit 12 in (least cover)`, `frost depth of the site plus 6 in`."""
        match term:
            case c.Field():
                return self._field(term)
            case c.Const():
                return self.constant(term.si, term.dimension, small)
            case c.Words():
                return listed(plain(w) for w in term.words)
            case c.LimitTerm(limit=limit):
                return self._limit(limit, small)
            case c.LookupTerm(table=table):
                return f"the {table.about} for its {self.value(term.key)}"
            case c.Arithmetic():
                return self._arithmetic(term, small)
            case c.Pick(larger=larger, items=items):
                chosen = listed((self.value(x, small) for x in items), "and")
                return f"the {'larger' if larger else 'smaller'} of {chosen}"
            case c.Gather():
                return self._gather(term)
        return self.condition(term)

    def _field(self, term: c.Field) -> str:
        words = plain(term.field.name)
        if words == "name" and term.scope is not None:
            seen = term.scope < len(self.rows)
            return self.rows[term.scope].row.name if seen else f"the name of the {plain(term.relation)}"
        if term.scope is None:
            return f"{words} of the {plain(term.relation)}"
        if self.own <= term.scope < len(self.rows):
            return f"{words} of {self.rows[term.scope].row.name}"
        return words

    def _limit(self, limit: c.Limit, small: bool) -> str:
        if limit.words:
            return listed(plain(w) for w in limit.words)
        assert limit.si is not None
        return self.constant(limit.si, limit.dimension, small)

    def _arithmetic(self, term: c.Arithmetic, small: bool) -> str:
        right = self.value(term.right, small)
        if (
            term.operator == "times"
            and isinstance(term.left, c.Const)
            and term.left.written in ("twice", "half")
        ):
            return f"{term.left.written} the {right}"
        if term.operator == "times" and c.type_of(term.left).dimension is Dimension.RATIO:
            return f"{self.value(term.left)} of {right}"
        verb = "divided by" if term.operator == "divided" else term.operator
        return f"{self.value(term.left, small)} {verb} {right}"

    def _gather(self, term: c.Gather) -> str:
        relation, where = plain(term.relation), ""
        if term.where is not None:
            where = f" where {self.condition(term.where)}"
        if term.which == "count":
            return f"the number of {relation} entries{where}"
        assert term.item is not None
        item = self.value(term.item)
        return (
            f"the {term.which} {item} of any {relation}{where}"
            if term.which != "sum"
            else (f"the sum of {item} over each {relation}{where}")
        )

    def condition(self, term: c.Term) -> str:
        """Return a condition in words: `cover at least 12 in`, `kind is pvb or svb`."""
        match term:
            case c.Compare():
                verb = "is" if term.operator == "is" else f"is {term.operator}"
                return f"{self.value(term.left)} {verb} {self.limit_side(term)}"
            case c.Member():
                verb = "is not" if term.negated else "is"
                return f"{self.value(term.value)} {verb} {self.value(term.options)}"
            case c.Includes():
                many = isinstance(term.options, c.Words) and len(term.options.words) == 1
                mode = "" if many and term.mode == "all" else f" {term.mode} of"
                return f"{self.value(term.value)} includes{mode} {self.value(term.options)}"
            case c.Known():
                return f"{self.value(term.value)} is {'not ' if term.negated else ''}known"
            case c.Negation(inner=inner):
                if isinstance(inner, c.Field):
                    return f"not {self.value(inner)}"
                return f"not ({self.condition(inner)})"
            case c.Junction(every=every, parts=parts):
                return f" {'and' if every else 'or'} ".join(self._part(p) for p in parts)
            case c.Presence():
                found = f"{'no' if term.negated else 'a'} {plain(term.relation)}"
                where = "" if term.where is None else f" where {self.condition(term.where)}"
                return f"there is {found}{where}"
            case c.ForAll():
                where = "" if term.where is None else f" where {self.condition(term.where)}"
                return f"every {plain(term.relation)}{where} has {self.condition(term.has)}"
        return self.value(term)

    def _part(self, term: c.Term) -> str:
        words = self.condition(term)
        return f"({words})" if isinstance(term, c.Junction) else words

    def limit_side(self, term: c.Compare) -> str:
        """Return the right side of a comparison, in the length unit its left side is told in."""
        return self.value(term.right, is_small(term.left) or is_small(term.right))
