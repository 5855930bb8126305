"""The safety property: leaving a value out, or only assuming it, never turns a required finding into a pass.

No outside source: the property is the requirement itself. Rules are made at random from the whole language;
those that the pack reader refuses as unsafe are left out.
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from plangen.checking.check import check
from plangen.checking.finding import Status
from plangen.facts.values import FactBase, Row, Value
from plangen.hydraulics.results import Input
from plangen.quantity.quantity import Basis, Provenance
from tests.checking.small_packs import HEAD, LIMITS, facts, inches, read, row, rule

LENGTHS = st.sampled_from(["2 in", "4 in", "6 in", "limit least_cover", "site.frost_depth", "twice 3 in"])
LENGTH_FACTS = st.sampled_from(
    ["cover", "size", "cover plus size", "larger of (cover, size)", "cover minus size"]
)
ORDER = st.sampled_from(["at least", "at most", "more than", "less than"])


def simple_tests() -> st.SearchStrategy[str]:
    compare = st.builds("{} {} {}".format, LENGTH_FACTS, ORDER, LENGTHS)
    words = st.sampled_from(
        ["role is main", "role is not main", "role is one of main, lateral", "under includes drive",
         "sleeved",
         "under includes none of drive, walk", "cover is known", "role is known", "cover is not known",
         "role is one of site.accepted", "cover at least table cover_by_size for size"]
    )  # fmt: skip
    return st.one_of(compare, words)


def conditions(depth: int = 2) -> st.SearchStrategy[str]:
    plain = simple_tests()
    if not depth:
        return plain
    inner = conditions(depth - 1)
    return st.one_of(
        plain,
        st.builds("({} and {})".format, inner, inner),
        st.builds("({} or {})".format, inner, inner),
        st.builds("not ({})".format, inner),
        st.builds("there is pipe where ({})".format, inner),
        st.builds("no pipe where ({})".format, inner),
        st.builds("every pipe where ({}) has ({})".format, inner, inner),
        st.builds("count of pipe where ({}) {} 1".format, inner, ORDER),
        st.builds("largest cover of pipe where ({}) {} 4 in".format, inner, ORDER),
        st.builds("smallest size of pipe where ({}) {} 4 in".format, inner, ORDER),
        st.builds("sum of size over pipe where ({}) {} 6 in".format, inner, ORDER),
    )


def value(held: object, basis: Basis) -> Value:
    if held is None:
        return Value(None, missing=("left out",))
    return Value(held, (Input("given", str(held), Provenance(basis)),))  # type: ignore[arg-type]


BASES = st.sampled_from([Basis.MEASURED, Basis.MEASURED, Basis.ASSUMED])
SIZES = st.sampled_from([1.0, 2.0, 4.0, 6.0, 12.0])


@st.composite
def fact_bases(draw: st.DrawFn) -> FactBase:
    def length() -> Value:
        return replace(inches(draw(SIZES), draw(BASES)))

    rows = [
        row(
            "pipe",
            f"P{i}",
            cover=length(),
            size=length(),
            role=value(draw(st.sampled_from(["main", "lateral", "service"])), draw(BASES)),
            under=value(draw(st.sampled_from([(), ("drive",), ("walk", "lawn")])), draw(BASES)),
            sleeved=value(draw(st.booleans()), draw(BASES)),
        )
        for i in range(draw(st.integers(1, 3)))
    ]
    accepted = value(draw(st.sampled_from([("main",), ("lateral", "main")])), draw(BASES))
    site = row("site", "site", frost_depth=length(), accepted=accepted)
    return facts(*rows, site)


def passes(text: str, base: FactBase, status: Status = Status.MEETS) -> set[str]:
    loaded = read({"small": HEAD + LIMITS + text})
    assume(loaded.value is not None)
    assert loaded.value is not None
    outcome = check(loaded.value, base)
    return {f.id for f in outcome.value or () if f.status is status}


def weakened(base: FactBase, place: int, drop: bool) -> FactBase:
    """Return the facts with one value left out, or only assumed."""
    spots = [(r, f) for r in range(len(base.rows)) for f in range(len(base.rows[r].values))]
    at, field = spots[place % len(spots)]
    old: Row = base.rows[at]
    name, held = old.values[field]
    new = Value(None, missing=("left out",)) if drop else value(held.value, Basis.ASSUMED)
    values = (*old.values[:field], (name, new), *old.values[field + 1 :])
    return replace(base, rows=(*base.rows[:at], replace(old, values=values), *base.rows[at + 1 :]))


@settings(max_examples=100, deadline=None)
@given(conditions(), conditions(1), fact_bases(), st.integers(0, 99), st.booleans(), st.booleans())
def test_knowing_less_never_gains_a_pass(
    requirement: str, condition: str, base: FactBase, place: int, drop: bool, by_where: bool
) -> None:
    about = f"for each pipe where {condition}" if by_where else "for each pipe"
    extra = "" if by_where else f"  when {condition}\n"
    text = rule(requirement, about, extra=extra)
    assert passes(text, weakened(base, place, drop)) <= passes(text, base)


@settings(max_examples=60, deadline=None)
@given(conditions(), fact_bases(), st.integers(0, 99))
def test_a_list_not_known_to_be_whole_never_gains_a_pass(
    requirement: str, base: FactBase, place: int
) -> None:
    text = rule(requirement)
    assert passes(text, replace(base, complete=("site",))) <= passes(text, base)


@settings(max_examples=60, deadline=None)
@given(conditions(), conditions(1), fact_bases(), st.booleans())
def test_what_is_settled_is_settled_on_settled_values_alone(
    requirement: str, condition: str, base: FactBase, by_where: bool
) -> None:
    """Passing and not applying stay what they are with everything assumed left out: nothing leaned on it."""
    bare = replace(base, rows=tuple(replace(r, values=tuple(map(_settled, r.values))) for r in base.rows))
    about = f"for each pipe where {condition}" if by_where else "for each pipe"
    text = rule(requirement, about, extra="" if by_where else f"  when {condition}\n")
    text += rule("cover is known", name="always")  # so that a run never checks nothing
    for status in (Status.MEETS, Status.NOT_APPLICABLE):
        ids = {i for i in passes(text, base, status) if i.startswith("r/")}
        assert ids <= passes(text, bare, status)


def _settled(pair: tuple[str, Value]) -> tuple[str, Value]:
    name, held = pair
    settled = all(i.provenance.basis.decides for i in held.inputs)
    return name, held if settled else Value(None, missing=("left out",))
