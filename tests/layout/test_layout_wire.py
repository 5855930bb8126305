"""The way of the valve wire by hand: round a house, off paving, along trenches; told where none is found.

The job, in feet: a house from (0, 0) to (40, 30) with the controller at (40, 15) on its east wall; a main
along x = -10 from y = -10 to the valve at y = 40. Taut round the north corners it is 15 + 40 + 10 ft to the
main at y = 30 and 10 ft along it; round the south corners 65 ft to y = 0 and 40 ft along it (plane geometry).
"""

from __future__ import annotations

import pytest

from plangen.geometry.clip import pieces_inside
from plangen.geometry.point import path_length
from plangen.layout.crossings import measure_crossings
from plangen.layout.takeoff_pipe import wire_items
from plangen.layout.wire import Wiring, measure_wire
from plangen.model.design import Control, Design
from plangen.quantity.dimension import FOOT_M
from tests.layout.layout_hand import SPAN, area, box, design, device, ft, pipe

HOUSE = box(0, 0, 40, 30)
# off the wall all the way: at most a foot more at each of two corners, on both sides of it, and at the start
SLACK_FT = 5.0


def job(**change: object) -> Design:
    things: dict[str, object] = {
        "buildings": [area("building", "House", HOUSE)],
        "devices": [device("valve", "V1", ft(-10, 40), in_box=True)],
        "pipes": [pipe("P1", "1", [(ft(-10, -10), ""), (ft(-10, 40), "V1")], 12, "mainline")],
        "control": Control("C1", SPAN, point=ft(40, 15), wire="18 AWG, one common"),
    }
    return design(**{**things, **change})  # type: ignore[arg-type]


def wired(made: Design) -> Wiring:
    found = measure_wire(made)
    assert found is not None
    return found


def test_the_wire_goes_round_the_house_and_on_along_the_main() -> None:
    found = wired(job())
    (run,) = found.runs
    assert run.found and found.entries == ("P1",)
    assert 65 <= run.off_m / FOOT_M <= 65 + SLACK_FT
    assert run.along_m / FOOT_M == pytest.approx(10, abs=SLACK_FT / 2)
    for lead in found.leads:
        assert not pieces_inside(lead, HOUSE)
    assert sum(path_length(lead) for lead in found.leads) == pytest.approx(run.off_m)


def test_the_wire_keeps_off_paving_where_another_way_is_not_much_longer() -> None:
    # a drive all across the north side: the way round the south is 30 ft longer and under none of it
    found = wired(job(paving=[area("paving", "Drive", box(10, 30, 30, 60))]))
    assert found.runs[0].along_m / FOOT_M == pytest.approx(40, abs=SLACK_FT / 2)
    assert found.paved == ()
    # paving on both sides: then it passes under one, and says how much
    both = [area("paving", "Drive", box(10, 30, 30, 60)), area("paving", "Walk", box(10, -60, 30, 0))]
    ((name, length),) = wired(job(paving=both)).paved
    assert name == "Drive" and length / FOOT_M == pytest.approx(20)


def test_two_valves_share_one_trench_of_their_own() -> None:
    # V2 stands at the main's south end: by itself it would take the way round the south
    devices = [device("valve", "V1", ft(-10, 40)), device("valve", "V2", ft(-10, -10))]
    pipes = [pipe("P1", "1", [(ft(-10, -10), "V2"), (ft(-10, 40), "V1")], 12, "mainline")]
    found = wired(job(devices=devices, pipes=pipes))
    assert len(found.leads) == 1
    first, second = found.runs
    assert first.off_m == pytest.approx(second.off_m)
    assert first.along_m + second.along_m == pytest.approx(50 * FOOT_M)
    assert found.common_m == pytest.approx(first.off_m + 50 * FOOT_M)


def test_a_valve_that_no_trench_reaches_is_told_as_a_straight_line() -> None:
    made = job(pipes=[])
    (run,) = wired(made).runs
    assert not run.found
    assert run.length_m / FOOT_M == pytest.approx(((40 + 10) ** 2 + (40 - 15) ** 2) ** 0.5)
    assert all("measure the real way" in item.note for item in wire_items(made, wired(made)))
    assert not measure_crossings(made)


def test_pipes_that_are_there_already_open_no_trench() -> None:
    old = [pipe("P1", "1", [(ft(-10, -10), ""), (ft(-10, 40), "V1")], 12, "mainline", state="existing")]
    assert not wired(job(pipes=old)).runs[0].found
