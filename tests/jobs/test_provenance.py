"""What moves a finding is cited by it, and what it cites moves it: a sample; `--long` takes every input.

The oracle and the rule are told in `findings_moved.py`. By default a few values are marked in turn and moved;
`--long` moves every value of every example, and reads who cites it from one run with a mark for each.
"""

from __future__ import annotations

import pytest

from plangen.checking.finding import Status
from tests.jobs.findings_moved import (
    before,
    compared,
    example,
    figures,
    findings_of,
    marks_of,
    numbers_of,
    stated,
    that_cite,
    that_cite_each,
)
from tests.jobs.inputs_marked import Stated, marked_each, moved

EXAMPLES = ("residential", "commercial", "replacement", "broken")
# Kinds apart: the supply, a curve, a size that comes in steps, a nozzle's table, a height at a pipe's depth.
SAMPLE = (
    "source.lowest",
    pytest.param("devices.BF1.part.loss_curve.3.value", marks=pytest.mark.long),
    pytest.param("pipes.P2.nominal", marks=pytest.mark.long),
    "heads.H31.part.flow_table.1.value",
    "devices.IV1.height",
)


def find(name: str, what: str) -> Stated:
    """Return the one value of an example of that name."""
    (found,) = (s for s in stated(name) if s.what == what)
    return found


def test_every_kind_of_value_is_among_them() -> None:
    kinds = {s.what.split(".")[0] for s in stated("residential")}
    assert kinds >= {"site", "source", "house", "devices", "pipes", "sleeves", "zones", "heads", "control"}
    assert len(stated("residential")) > 250


@pytest.mark.parametrize(
    "name", ["residential", *(pytest.param(n, marks=pytest.mark.long) for n in EXAMPLES[1:])]
)
def test_what_is_left_out_to_save_time_decides_no_finding(name: str) -> None:
    """The findings of the whole pipeline, with its drawing and studies, are those that are compared here."""
    built = {f.id: (f.status.value, numbers_of(f)) for f in example(name).findings}
    first = {i: (f.status, f.numbers) for i, f in before(name).items()}
    again = {i: (f.status, f.numbers) for i, f in figures(name, example(name).design, words=False).items()}
    assert built == first == again


@pytest.mark.parametrize("what", SAMPLE)
def test_what_moves_a_finding_is_what_it_cites(what: str) -> None:
    each = find("residential", what)
    found = compared("residential", each.key)
    assert (sorted(found.silent), sorted(found.idle)) == ([], [])
    assert that_cite("residential", each.key) == that_cite_each("residential")[each.key]


def test_a_regulator_at_work_keeps_the_supply_from_what_is_behind_it() -> None:
    """The drip zone hangs on the regulator's setting, the spray zone on the supply."""
    cited = that_cite_each("residential")
    low, held = (cited[find("residential", w).key] for w in ("source.lowest", "devices.RG4.setting"))
    assert "drip-least-pressure/D41" in held - low
    assert "head-least-pressure/H11" in low - held


@pytest.mark.parametrize(
    "name", ["residential", *(pytest.param(n, marks=pytest.mark.long) for n in EXAMPLES[1:])]
)
def test_a_required_rule_meets_on_nothing_weak(name: str) -> None:
    """As written, and with every value only assumed: what still meets cites none that cannot decide."""
    design = example(name).design
    marks = marks_of(name)
    assumed = findings_of(name, marked_each(design, marks))
    for finding in (*example(name).findings, *assumed):
        if finding.status is Status.MEETS and finding.severity == "required" and not finding.confirmed_by:
            weak = [e.name for e in finding.evidence if not e.provenance.basis.decides]
            assert (finding.id, weak) == (finding.id, [])
    met = {i for i, f in before(name).items() if f.status == Status.MEETS.value}
    assert {f.id for f in assumed if f.status is Status.MEETS} <= met


@pytest.mark.long
@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("what", ["source.lowest", "source.static", "house.demand"])
def test_what_does_not_cite_a_value_stands_when_it_is_a_quarter_less(name: str, what: str) -> None:
    """That a regulator works, or that a sheet's range is kept, is not cited: it must not hide a shortfall.

    Only a little more: the water of a nozzle beyond its table is not worked out, which its zone says.
    """
    each = find(name, what)
    cited, design = that_cite_each(name)[each.key], example(name).design
    drawn = {f.id for f in example(name).findings if f.subject_kind in ("sheet", "sheet_set")}
    met = {i for i, f in before(name).items() if f.status == Status.MEETS.value} - cited - drawn
    for share in (-0.25, 0.1):
        after = figures(name, moved(design, each.key, share), words=False)
        assert {i for i in met if i in after and after[i].status == Status.FALLS_SHORT.value} == set()


@pytest.mark.long
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_input_moves_what_cites_it(name: str) -> None:
    cited = that_cite_each(name)
    found = {s.what: compared(name, s.key, cited[s.key]) for s in stated(name)}
    assert {what: (sorted(f.silent), sorted(f.idle)) for what, f in found.items() if not f.exact} == {}
