"""What an input moves cites it: a sample of the residential example; the benchmark takes all inputs.

Oracle: the program itself run twice. An input that is moved a little must move no finding that does not name
it, and a number that names it must move with it, by a little or, behind a regulator, by much.
"""

from __future__ import annotations

import pytest

from tests.jobs.inputs_marked import Stated, stated, that_cite, that_move

SAMPLE = (
    "source W1: lowest",
    "house HS: demand",
    "pipe P7: cover",
    "lateral L14: cover",
    "assembly BF1: level",
)


def find(what: str) -> Stated:
    """Return the one quantity of that name."""
    (found,) = (s for s in stated() if s.what == what)
    return found


def test_every_kind_of_quantity_is_among_them() -> None:
    assert len(stated()) > 60
    assert {s.what.split()[0] for s in stated()} >= {"source", "pipe", "lateral", "assembly", "grade", "turf"}


@pytest.mark.parametrize("what", SAMPLE)
def test_what_an_input_moves_cites_it(what: str) -> None:
    each = find(what)
    cite, move = that_cite(each), that_move(each, 1.03, 0.97)
    assert move, "the sample holds only inputs that matter"
    assert move <= cite
