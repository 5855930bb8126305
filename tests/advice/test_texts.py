"""What the adviser suggests as text: it says what was judged, keeps every comment, touches nothing else."""

from __future__ import annotations

import dataclasses
import difflib
from functools import cache

import pytest

from plangen.advice.advise import prepare_search
from plangen.advice.choice import Choice, Cut, Fitted, Raised, Sized
from plangen.advice.costs import CostTable, read_costs
from plangen.advice.script import difference
from plangen.model.design import Design
from plangen.model.formatted import format_text
from plangen.model.read import read_design
from plangen.model.same import meaning
from plangen.shipped.folders import shipped_text
from plangen.syntax.comments import marks_of
from plangen.text.source import SourceFile
from tests.advice.standing_designs import SMALL, residential, source_of, standing

COSTS = shipped_text("library", "costs.csv")


def shipped() -> CostTable:
    found = read_costs(COSTS, "costs.csv")
    assert isinstance(found, CostTable), found
    return found


@cache
def both(text: str, choice: Choice) -> tuple[Design, Design, SourceFile]:
    """Return the design that was judged, the one that its text says, and the text."""
    search, _ = prepare_search(standing(text), (source_of(text),), shipped())
    judged = search.variants.design(choice)
    sources = search.variants.sources(choice)
    read = read_design(sources[0], sources[1:])
    assert judged is not None and read.value is not None and not read.failed, read.problems
    return judged, read.value, sources[0]


CHOICES = {
    "sizes": Choice(
        sized=(
            Sized("P5", "pvc-sch40", "1-1/4 in"),
            Sized("P6", "pvc-sch80", "1 in"),
            Sized("SL2", "pvc-sch40", "3 in"),
        ),
        raised=(Raised("BF1", 7),),
    ),
    "kind": Choice(fitted=(Fitted("BF1", "rp-1"),)),
    "larger": Choice(fitted=(Fitted("BF1", "pvb-1-1-2"),), raised=(Raised("BF1", 2),)),
    "split": Choice(cuts=(Cut("Z1", "L11", 1),), sized=(Sized("L11", "pvc-sch40", "1-1/4 in"),)),
}


@pytest.mark.parametrize("name", CHOICES)
def test_the_text_says_what_was_judged(name: str) -> None:
    """The judged design and the one read back are equal but for places in the text."""
    judged, said, _ = both(residential(), CHOICES[name])
    for field in dataclasses.fields(Design):
        mine, theirs = (meaning(getattr(d, field.name)) for d in (judged, said))
        assert mine == theirs, field.name


def test_a_split_zone_keeps_its_heads_and_its_comments_and_nothing_else_moves() -> None:
    """Each head waters as before, from one of two zones; every comment and other line is still there."""
    _, said, after = both(SMALL, Choice(cuts=(Cut("Z1", "L3", 0),)))
    before = standing(SMALL).design
    places = {h.name: (h.point, h.arc_start_deg, h.arc_end_deg) for h in before.heads}
    assert {h.name: (h.point, h.arc_start_deg, h.arc_end_deg) for h in said.heads} == places
    assert {z.name: [h.name for h in said.heads_of(z.name)] for z in said.zones} == {
        "Z1": ["H1", "H2"], "Z2": ["H3"],
    }  # fmt: skip
    assert said.control is not None and said.control.stations == 2
    comments = [sorted(c.text for c in marks_of(t).comments) for t in (SMALL, after.text)]
    assert comments[0] == comments[1] and len(comments[0]) >= 5
    gone = [line[2:] for line in difflib.ndiff(SMALL.splitlines(), after.text.splitlines()) if line[0] == "-"]
    assert all(any(w in line for w in ("L3", "H3", "stations")) for line in gone), gone


def test_a_text_in_the_canonical_layout_stays_in_it() -> None:
    """A longer size must not leave a line that `format` would change."""
    text = residential()
    assert format_text(SourceFile.of("design.plan", text)).value == text
    _, _, after = both(text, CHOICES["split"])
    assert format_text(after).value == after.text


def test_the_difference_makes_the_new_text_of_the_old() -> None:
    """Applied line by line by the rule of unified differences, it gives the edited text."""
    _, _, after = both(SMALL, CHOICES_SMALL)
    lines = difference((source_of(SMALL),), (after,)).splitlines()
    old, out, at = SMALL.splitlines(), [], 0
    for line in lines[2:]:
        if line.startswith("@@"):
            start = int(line.split()[1].split(",")[0].lstrip("-")) - 1
            out += old[at:start]
            at = start
        elif line.startswith("+"):
            out.append(line[1:])
        else:
            assert old[at] == line[1:]
            out += [old[at]] if line.startswith(" ") else []
            at += 1
    assert "\n".join((*out, *old[at:])) + "\n" == after.text


CHOICES_SMALL = Choice(sized=(Sized("P2", "pvc-sch40", "1 in"), Sized("L3", "pvc-sch40", "1-1/4 in")))


def test_shipped_costs_rise_with_size_and_say_that_they_are_invented() -> None:
    """A larger pipe, valve or assembly of one kind never costs less."""
    costs = shipped()
    by_name: dict[tuple[str, str], list[tuple[int, float]]] = {}
    for (item, name, size), cost in costs.costs.items():
        if size:
            by_name.setdefault((item, name), []).append((size, cost))
    assert len(by_name) > 8
    for rows in by_name.values():
        assert [c for _, c in sorted(rows)] == sorted(c for _, c in rows)
    assert costs.basis == "invented"


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("pipe,pvc,3/4 in,-1,ft,mine,", "line 3: `-1` is no cost"),
        ("pipe,pvc,3/4 in,nan,ft,mine,", "line 3: `nan` is no cost"),
        ("pipe,pvc,3/4,1,ft,mine,", "line 3: `1` must be a number, and the size a length"),
        ("pipe,pvc,3/4 in,1,psi,mine,", "line 3: `psi` is neither each"),
        ("pump,,1 in,1,each,mine,", "line 3: `pump` is none of"),
        ("money,EUR,,1,each,mine,", "line 3: this row stands twice"),
        ("pipe,pvc,3/4 in", "line 3:"),
    ],
)
def test_a_cost_table_that_is_none_is_told_with_its_line(row: str, told: str) -> None:
    """A slip in a table of one's own must not become a cost of nought."""
    head = "item,name,size,cost,per,basis,note\nmoney,EUR,,1,each,mine,\n"
    found = read_costs(f"{head}{row}\n", "my.csv")
    assert isinstance(found, str) and found.startswith("my.csv") and told in found


def test_a_cost_per_foot_is_one_per_metre_inside() -> None:
    """1 ft is 0.3048 m (NIST SP 811, appendix B.8); a metric row of the same pipe needs no factor."""
    head = "item,name,size,cost,per,basis,note\nmoney,EUR,,1,each,mine,\n"
    found = read_costs(f"{head}pipe,pvc,1 in,3.048,ft,mine,\npipe,pvc,2 in,10,m,mine,\n", "my.csv")
    assert isinstance(found, CostTable)
    assert found.pipe_m("pvc-sch40", "1 in") == pytest.approx(10.0)
    assert found.pipe_m("pvc-sch40", "2 in") == 10.0
    assert found.pipe_m("pvc-sch40", "3 in") is None
