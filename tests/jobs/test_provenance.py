"""What moves a finding is cited by it, and what it cites moves it: a sample; `--long` takes every input.

Oracle: the program itself run twice, on the value as stated and on the value a ten-thousandth off. A finding
that moves must name the value; one of a number that names it must move, with it or when it is moved far.
"""

from __future__ import annotations

import pytest

from tests.jobs.inputs_marked import Stated, compared, stated, that_cite

EXAMPLES = ("residential", "commercial", "replacement")
# Kinds apart: the supply, a curve, a size that comes in steps, a nozzle's table.
SAMPLE = (
    "source.lowest",
    pytest.param("devices.BF1.part.loss_curve.3.value", marks=pytest.mark.long),
    pytest.param("pipes.P2.nominal", marks=pytest.mark.long),
    "heads.H31.part.flow_table.1.value",
)


def find(name: str, what: str) -> Stated:
    """Return the one value of an example of that name."""
    (found,) = (s for s in stated(name) if s.what == what)
    return found


def test_every_kind_of_value_is_among_them() -> None:
    kinds = {s.what.split(".")[0] for s in stated("residential")}
    assert kinds >= {"site", "source", "house", "devices", "pipes", "sleeves", "zones", "heads", "control"}
    assert len(stated("residential")) > 250


@pytest.mark.parametrize("what", SAMPLE)
def test_what_moves_a_finding_is_what_it_cites(what: str) -> None:
    each = find("residential", what)
    silent, idle = compared("residential", each.key)
    assert (sorted(silent), sorted(idle)) == ([], [])


def test_a_regulator_at_work_keeps_the_supply_from_what_is_behind_it() -> None:
    """The drip zone hangs on the regulator's setting, the spray zone on the supply."""
    low = that_cite("residential", find("residential", "source.lowest").key)
    held = that_cite("residential", find("residential", "devices.RG4.setting").key)
    assert "drip-least-pressure/D41" in held - low
    assert "head-least-pressure/H11" in low - held


@pytest.mark.long
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_input_moves_what_cites_it(name: str) -> None:
    found = {s.what: compared(name, s.key) for s in stated(name)}
    apart = {what: (sorted(a), sorted(b)) for what, (a, b) in found.items() if a or b}
    assert apart == {}
