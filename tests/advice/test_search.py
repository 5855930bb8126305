"""The adviser's search: against exhaustive search on small cases, and the bounds it rests on."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.advice.advise import Advice, advise, prepare_search
from plangen.advice.choice import Change, Choice, Sized
from plangen.advice.costs import CostTable, read_costs
from plangen.advice.search import Search
from plangen.advice.variant import Variants
from plangen.advice.ways import least_cost, saved_m, way_to
from plangen.checking.finding import Finding
from plangen.hydraulics.analyse import Prepared, prepare, solve_cases
from plangen.model.pipe_table import pipe_size
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile
from tests.advice.standing_designs import SMALL, changed, residential, source_of, standing
from tests.rules.rules_run import example_text

INCH = 25_400
SIZES = ("3/4 in", "1 in", "1-1/4 in")
_MICROMETRES = {"1/2 in": 12_700, "3/4 in": 19_050, "1 in": 25_400, "1-1/4 in": 31_750, "1-1/2 in": 38_100}


LATER = ("lateral L3     pvc-sch40 3/4 in", "lateral L3     pvc-sch40 1 in")
WIDE = ("lateral L2     pvc-sch40 3/4 in", "lateral L2     pvc-sch40 1-1/4 in")
OLD = ("pipe P1        pvc-sch40 1 in, route T1 -> BF1, cover 18 in",
       "pipe P1        pvc-sch40 1 in, route T1 -> BF1, cover 18 in, existing")  # fmt: skip


def table(
    seed: int, sizes: tuple[str, ...], valve: float | None = None, part: float | None = None
) -> CostTable:
    """Return a cost table in which larger pipe costs more, by chance how much more."""
    chance = random.Random(seed)
    costs, price = {("money", "coins", 0): 1.0}, 1.0
    for size in sizes:
        costs["pipe", "pvc", _MICROMETRES[size]] = price = price + chance.uniform(0.2, 4.0)
    if valve is not None:
        costs |= {("valve", "", INCH): valve, ("wire", "", 0): 0.1, ("station", "", 0): 2.0}
    if part is not None:
        costs |= {("assembly", "pvb", INCH): 1.0, ("assembly", "pvb", _MICROMETRES["1-1/2 in"]): 1.0 + part}
    return CostTable("costs", "coins", "invented", costs)


def recheck(sources: tuple[SourceFile, ...]) -> tuple[Finding, ...]:
    """Check an edited text whole, but for the sheets."""
    return standing(sources[0].text).findings


def advised(text: str, costs: CostTable, looks: int = 2000) -> Advice:
    return advise(standing(text), (source_of(text),), costs, recheck, looks)


def search_of(text: str, costs: CostTable) -> Search:
    """Return a search that leaves aside what only a person can mend; a throw follows the pressure."""
    search, root = prepare_search(standing(text), (source_of(text),), costs)
    assert root is not None
    kinds = {c.fault.name: c for c in search.found_conflicts(root)}
    task = {n for n, c in kinds.items() if c.kind in ("speed", "pressure") and not c.throw}
    search.beyond = frozenset(kinds) - task
    return search


def every_choice(search: Search, sizes: tuple[str, ...]) -> list[Choice]:
    """Return every choice on offer: each pipe in each size, each cut or none, each assembly."""
    axes: list[list[tuple[Change, ...]]] = []
    for name, pipe in search.space.pipes.items():
        larger = [
            Sized(name, pipe.size.family, s) for s in sizes if _MICROMETRES[s] > pipe.nominal.si * 1e6 + 1
        ]
        axes.append([(), *((s,) for s in larger)])
    axes += [[(), *((c,) for c in cuts)] for cuts in search.space.cuts.values()]
    axes += [[(), *((f,) for f in fitted)] for fitted in search.space.fitted.values()]
    found = []
    for picked in itertools.product(*axes):
        choice = Choice()
        for change in itertools.chain(*picked):
            choice = choice.having(change)
        found.append(choice)
    return found


def cheapest(search: Search, mending: Sequence[Choice]) -> float:
    return min(search.space.cost(c, search.variants) for c in mending)


@cache
def mending_of(text: str, sizes: tuple[str, ...]) -> tuple[Choice, ...]:
    """Return every choice that mends, with cuts and larger assemblies among them."""
    search = search_of(text, table(0, sizes, 1.0, 1.0))
    return tuple(c for c in every_choice(search, sizes) if mends(search, c))


def mends(search: Search, choice: Choice) -> bool:
    tried = search.look(choice)
    return tried is not None and not tried.faults


@pytest.mark.parametrize(
    ("psi", "fixed"), [(35, (WIDE, LATER)), pytest.param(50, (WIDE,), marks=pytest.mark.long)]
)
def test_pipe_sizes_are_the_cheapest_of_all(psi: int, fixed: tuple[tuple[str, str], ...]) -> None:
    """Every combination of four pipes in up to three sizes is worked out; two cost tables by chance."""
    text = changed(SMALL, ("static 50 psi", f"static {psi} psi"), OLD, *fixed)
    search = search_of(text, table(0, SIZES))
    mending = [c for c in every_choice(search, SIZES) if mends(search, c)]
    assert mending and Choice() not in mending
    costs = set()
    for seed in range(2):
        prices = table(seed, SIZES)
        priced = search_of(text, prices)
        advice = advised(text, prices)
        assert advice.proven and advice.diff
        assert advice.cost == pytest.approx(cheapest(priced, mending), abs=1e-9)
        costs.add(round(advice.cost, 6))
    assert len(costs) > 1


@pytest.mark.parametrize(
    ("valve", "part"),
    [
        (3.0, 60.0),
        pytest.param(60.0, 1.0, marks=pytest.mark.long),
        pytest.param(90.0, 90.0, marks=pytest.mark.long),
    ],
)
def test_splits_and_assemblies_are_weighed_against_pipes(valve: float, part: float) -> None:
    """Two sizes of three pipes, every cut, two assemblies: what is dear is left, what is cheap is taken."""
    sizes = SIZES[:2]
    text = changed(SMALL, OLD, ("static 50 psi", "static 35 psi"), WIDE, LATER)
    prices = table(3, sizes, valve, part)
    search = search_of(text, prices)
    mending = mending_of(text, sizes)
    assert mending
    advice = advised(text, prices)
    assert advice.proven
    assert advice.cost == pytest.approx(cheapest(search, mending), abs=1e-9)


def test_a_cut_off_search_claims_nothing() -> None:
    """Three looks are too few: what a descent finds then mends, and is not called the cheapest."""
    text = changed(SMALL, ("static 50 psi", "static 35 psi"))
    short = advised(text, table(1, SIZES), 3)
    whole = advised(text, table(1, SIZES))
    assert not short.proven and not short.exhausted and short.diff
    assert short.cost >= whole.cost - 1e-9
    assert short.at_least <= whole.cost + 1e-9
    assert whole.proven


def test_what_nothing_mends_is_told_with_what_was_tried() -> None:
    """At 20 psi no pipe gives a rotor its 30 psi: the whole space is shown not to mend."""
    advice = advised(changed(SMALL, ("static 50 psi", "static 20 psi")), table(0, SIZES))
    assert not advice.diff and not advice.proven and advice.exhausted
    assert any(o.name.startswith("head-least-pressure") for o in advice.left)


def test_what_is_not_known_is_asked_and_not_guessed() -> None:
    """The small design answers no hazard question: the adviser asks them and leaves them."""
    advice = advised(changed(SMALL, ("static 50 psi", "static 35 psi")), table(0, SIZES))
    assert advice.diff and "assembly-for-chemicals BF1" in {o.name for o in advice.questions}
    assert "head-spacing H3" in {
        o.name for o in advice.beyond
    }  # 20 ft of lawn without a head: no pipe mends it


@given(
    st.floats(0.1, 9.0),
    st.lists(
        st.lists(st.tuples(st.floats(0.0, 4.0), st.floats(0.0, 9.0)), max_size=3), min_size=1, max_size=4
    ),
)
def test_the_bound_never_promises_more_than_the_best_whole_choice(
    lacking: float, pipes: list[list[tuple[float, float]]]
) -> None:
    """Oracle: every combination of one size for each pipe or none."""
    offers = {str(i): tuple(sizes) for i, sizes in enumerate(pipes)}
    picked = itertools.product(*([(0.0, 0.0), *sizes] for sizes in pipes))
    whole = [sum(c for _, c in p) for p in picked if sum(g for g, _ in p) >= lacking]
    assert least_cost(lacking, offers) <= min(whole, default=float("inf")) + 1e-6


def test_larger_pipe_wins_no_more_than_the_bound_and_takes_off_beside() -> None:
    """What the search rests on, pipe by pipe, in the solved networks of the residential example."""
    at = standing(residential())
    variants = Variants(at.design, (source_of(residential()),), {}, {})
    before = {c.case: c for c in at.hydraulics.cases}
    won = lost = 0
    for pipe in (p for p in at.design.pipes if p.zone in ("Z1", "Z3") or p.name in ("P2", "P4", "P8")):
        sized = Sized(pipe.name, pipe.size.family, "2 in")
        row, design = pipe_size(sized.family, sized.nominal), variants.design(Choice(sized=(sized,)))
        assert row is not None and design is not None
        ready = prepare(design, at.surface)
        assert isinstance(ready, Prepared)
        for case in solve_cases(ready).cases:
            old = before[case.case]
            for was, now in zip(old.outlets, case.outlets, strict=True):
                way = way_to(old.solution, was.node)
                most = saved_m(way.links, pipe.name, row) if pipe.name in way.pipes else 0.0
                gain = now.pressure_m - was.pressure_m
                assert way.sure and gain <= most + 1e-6, (pipe.name, case.case, was.name)
                won, lost = won + (gain > 1e-6), lost + (gain < -1e-6)
    assert won > 30 and lost > 5


@pytest.mark.long
def test_the_broken_example_is_mended_as_far_as_sizes_go() -> None:
    """Its faults name what was broken: a pipe, a lateral, a sleeve, a height; the kind stays short."""
    text = example_text("broken")
    costs = read_costs(shipped_text("library", "costs.csv"), "costs.csv")
    assert isinstance(costs, CostTable)
    advice = advised(text, costs, 100)
    assert {i.object for i in advice.items} == {"P5", "L33", "SL1", "BF1"}
    assert [o.name for o in advice.left] == ["assembly-for-chemicals BF1"]
    faults = {
        " ".join(w.rstrip(":") for w in line.split()[2:4]) for line in text.splitlines() if "# FAULT" in line
    }
    assert set(advice.mended) <= faults and "plastic-velocity P5" in advice.mended
