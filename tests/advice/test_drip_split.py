"""A drip zone divided: its second part gets a valve, strainer, regulator and, under a walk, a sleeve."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from plangen.advice.advise import prepare_search
from plangen.advice.choice import NOTHING, Choice, Cut, Sized
from plangen.advice.costs import CostTable
from plangen.advice.search import Search
from plangen.model.same import meaning
from plangen.quantity.dimension import FOOT_M
from tests.advice.standing_designs import source_of, standing
from tests.advice.test_search import INCH, advised, mends
from tests.advice.test_texts import both

ROWS = (Path(__file__).parent / "drip_rows.plan").read_text(encoding="utf-8")
SIZES = ("3/4 in", "1 in", "1-1/2 in")
FAR = Cut("Z1", "L3", 0)


def table(pipe: float, device: float) -> CostTable:
    """Return costs per foot of 3/4, 1 and 1-1/2 in pipe, and of each strainer and regulator."""
    costs = {("money", "coins", 0): 1.0, ("valve", "", INCH): 20.0, ("wire", "", 0): 0.1}
    costs |= {("station", "", 0): 2.0, ("strainer", "", INCH): device, ("regulator", "", INCH): device}
    for size, price in ((19_050, 1.0), (INCH, 1.0 + pipe), (38_100, 2.0 + pipe)):
        costs["pipe", "pvc", size] = price / FOOT_M
    return CostTable("costs", "coins", "invented", costs)


def search_of(costs: CostTable) -> Search:
    """Return a search that is about the speeds alone."""
    search, root = prepare_search(standing(ROWS), (source_of(ROWS),), costs)
    assert root is not None
    search.beyond = frozenset(f.name for f in root.faults if not f.name.startswith("plastic-velocity"))
    return search


def every_choice(search: Search) -> list[Choice]:
    """Return every cut or none with every pipe as it is or 1 in."""
    names = [n for n, p in search.space.pipes.items() if p.nominal.written == "3/4 in"]
    found = []
    for cut in (None, *search.space.cuts["Z1"]):
        for picked in itertools.product((False, True), repeat=len(names)):
            choice = NOTHING if cut is None else NOTHING.having(cut)
            for name, larger in zip(names, picked, strict=True):
                choice = choice.having(Sized(name, "pvc-sch40", "1 in")) if larger else choice
            found.append(choice)
    return found


@pytest.mark.long
@pytest.mark.parametrize(("pipe", "device", "split"), [(60.0, 1.0, True), (0.1, 30.0, False)])
def test_a_drip_zone_is_split_where_that_is_cheapest(pipe: float, device: float, split: bool) -> None:
    """Oracle: every combination of cuts and sizes worked out."""
    costs = table(pipe, device)
    search = search_of(costs)
    mending = [c for c in every_choice(search) if mends(search, c)]
    assert mending and NOTHING not in mending and any(c.cuts for c in mending)
    advice = advised(ROWS, costs)
    assert advice.proven, advice.refused
    best = min(search.space.cost(c, search.variants) for c in mending)
    assert advice.cost == pytest.approx(best, abs=1e-9)
    assert bool(advice.choice.cuts) is split


def test_the_second_part_has_all_that_the_first_has() -> None:
    """Strainer and regulator in line behind the new valve, the same setting, its bed and its sleeve."""
    judged, said, after = both(ROWS, Choice(cuts=(FAR,)))
    assert {z.name: [d.name for d in said.drips if d.zone == z.name] for z in said.zones} == {
        "Z1": ["D1"], "Z2": ["D2"],
    }  # fmt: skip
    line = {d.name: d for d in said.devices if d.zone == "Z2"}
    assert {d.kind for d in line.values()} == {"valve", "strainer", "regulator"}
    held = [d.setting.written for d in line.values() if d.setting is not None]
    assert held == ["30 psi"]
    for kind in ("strainer", "regulator"):
        old, new = (next(d for d in said.devices if d.kind == kind and d.zone == z) for z in ("Z1", "Z2"))
        assert (old.part, old.size and old.size.si) == (new.part, new.size and new.size.si)
    assert "# the near bed" in after.text and meaning(judged.sleeves) == meaning(said.sleeves)


def test_each_device_and_sleeve_of_the_second_part_is_priced() -> None:
    """Valve 20, wire, strainer and regulator 7 each, station 2; the pipes in line 2 x 1 ft of 1 in."""
    search = search_of(table(1.0, 7.0))
    items = search.space.items(Choice(cuts=(FAR,)), search.variants)
    words = {i.words: i.cost for i in items}
    assert words["a strainer like ST1"] == words["a regulator like RG1"] == 7.0
    assert [words["pipe like P11"], words["pipe like P12"]] == pytest.approx([2.0, 2.0])
    assert sum(i.cost for i in items) >= search.space.least_of(FAR, NOTHING, search.variants) - 1e-9


def test_a_lateral_cut_before_the_walk_takes_the_sleeve_with_it() -> None:
    """Behind its first stretch L3 passes under the walk: the new lateral has that stretch, and its sleeve."""
    text = ROWS.replace("N11 -> (8, 40) -> (12, 40), cover", "N11 -> (8, 24) -> (8, 40) -> (12, 40), cover")
    cut = Cut("Z1", "L3", 1)
    _, said, _ = both(text, Choice(cuts=(cut,)))
    (sleeve,) = said.sleeves
    pipe = said.pipe(sleeve.pipe)
    assert pipe is not None and pipe.zone == "Z2"


def test_a_new_lateral_beside_an_old_one_under_the_walk_gets_a_sleeve_and_its_price() -> None:
    """D2 is fed beyond the walk, D3 further on: cut between them, both laterals pass under it."""
    text = ROWS.replace(
        "  drip D2        dripline-own, over Far, rows 12 in, from L3, at (12, 40)",
        "  drip D2        dripline-own, over Far, rows 24 in, from L3, at (8, 40)\n"
        "  drip D3        dripline-own, over Far, rows 24 in, from L3, at (12, 40)",
    )
    cut = Cut("Z1", "L3", 1)
    _, said, _ = both(text, Choice(cuts=(cut,)))
    assert {s.under for s in said.sleeves} == {"Path"} and len(said.sleeves) == 2
    pipes = {s.name: said.pipe(s.pipe) for s in said.sleeves}
    assert {p.zone for p in pipes.values() if p is not None} == {"Z1", "Z2"}
    search, _ = prepare_search(standing(text), (source_of(text),), table(1.0, 7.0))
    items = search.space.items(Choice(cuts=(cut,)), search.variants)
    # 4 ft under the walk and 14 in at each end, at 3 coins a foot of 1-1/2 in
    assert next(i.cost for i in items if i.words == "a sleeve like SL1 beside it") == pytest.approx(
        3 * (4 + 28 / 12)
    )
