"""What a label took of the room can be lifted without a trace; labels in trouble are mended, they alone."""

from __future__ import annotations

import math
import random

import pytest

from plangen.geometry.point import Point
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.labels import Field
from plangen.sheets.marks import Group
from plangen.sheets.pens import lettering
from plangen.sheets.plan_labels import put
from plangen.sheets.untangle import Search, letter_all, task
from plangen.sheets.viewport import Viewport
from tests.sheets import browser_sheets

WINDOW = (0.0, 0.0, 120.0, 60.0)
PROBES = [(x / 2, y / 2, x / 2 + 3.0, y / 2 + 2.0) for x in range(0, 230, 7) for y in range(0, 114, 5)]


def crowd(count: int, seed: int) -> list[Want]:
    """Return labels wanted about points in the middle of a view."""
    rng = random.Random(seed)
    spots = [(rng.uniform(45.0, 75.0), rng.uniform(20.0, 40.0)) for _ in range(count)]
    return [Want(f"D{i}", "device", (f"D{i} LABEL",), at, 0.6, 2.0) for i, at in enumerate(spots)]


def canvas() -> Canvas:
    return Canvas(Viewport(100, Point(0.0, 0.0), WINDOW), lettering("a3"), "metric", Field(WINDOW))


def free(space: Field) -> list[bool]:
    return [space.free(box) for box in PROBES]


def test_lifting_a_label_leaves_the_room_as_it_was() -> None:
    space = canvas().space
    space.take((10.0, 10.0, 20.0, 15.0))
    space.line(((0.0, 30.0), (120.0, 31.0)), True)
    space.settle()
    rng, before = random.Random(3), [free(space)]
    for number in range(12):
        left, top = rng.uniform(0.0, 100.0), rng.uniform(0.0, 50.0)
        space.take_led((left, top, left + 12.0, top + 3.0), ((left - 8.0, top + 9.0), (left, top + 1.5)))
        space.hold(number)
        before.append(free(space))
    for number in reversed(range(12)):
        held = space.lift(number)
        assert free(space) == before[number]
        space.put_back(number, held)
        assert free(space) == before[number + 1]
        space.lift(number)


def test_mending_leaves_no_more_trouble_than_there_was_and_says_where_some_is_left() -> None:
    for seed in range(2):
        wants = crowd(26, seed)
        view = canvas()
        search = Search(view, [task(put, want) for want in wants])
        first = search.lost
        search.mend()
        search.finish()
        assert len(view.lost) <= first
        assert {*view.label_boxes, *view.unplaced} == {want.object for want in wants}


def test_the_same_labels_get_the_same_places() -> None:
    wants = crowd(20, 1)
    views = [canvas(), canvas()]
    for view in views:
        letter_all(view, [task(put, want) for want in wants])
    assert views[0].label_boxes == views[1].label_boxes and views[0].marks() == views[1].marks()


def _spokes(count: int, step_deg: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return leaders from one place, each that many degrees from the last."""
    bearings = [math.radians(step_deg * i) for i in range(count)]
    return [((50.0, 30.0), (50.0 + 15.0 * math.cos(b), 30.0 + 15.0 * math.sin(b))) for b in bearings]


@pytest.mark.parametrize(("count", "step_deg", "fans"), [(4, 29.0, True), (4, 31.0, False), (3, 10.0, False)])
def test_four_leaders_begun_together_less_than_thirty_degrees_apart_fan_out(
    count: int, step_deg: float, fans: bool
) -> None:
    # common practice, no source; the same that `browser_sheets.fans` holds
    space = canvas().space
    space.settle()
    spokes = _spokes(count, step_deg)
    for number, leader in enumerate(spokes[:-1]):
        space.take_led((100.0, 5.0 * number, 110.0, 5.0 * number + 3.0), leader)
        space.hold(number)
    assert space.fans(spokes[-1]) is fans
    space.take_led((100.0, 50.0, 110.0, 53.0), spokes[-1])
    space.hold(count)
    assert [space.tangled(number) for number in (*range(count - 1), count)] == [fans] * count
    space.lift(count)
    assert not any(space.tangled(number) for number in range(count - 1))


def test_leaders_are_tangled_only_as_long_as_both_stand() -> None:
    space = canvas().space
    space.settle()
    for number, leader in enumerate((((10.0, 10.0), (30.0, 30.0)), ((10.0, 30.0), (30.0, 10.0)))):
        space.take_led((60.0, 10.0 * number, 80.0, 10.0 * number + 3.0), leader)
        space.hold(number)
    assert space.tangled(0) and space.tangled(1)
    held = space.lift(0)
    assert not space.tangled(1)
    # where it would stand again, the other is in the way
    assert space.would_tangle(held) and space.met(held) == {1}
    # two that share a quarter millimetre and do not touch otherwise are not: both begin there
    space.take_led((60.0, 30.0, 80.0, 33.0), ((10.0, 30.2), (10.0, 50.0)))
    space.hold(2)
    assert not space.tangled(1) and not space.tangled(2)


def _led(view: Canvas) -> list[dict[str, object]]:
    leaders = (m for m in view.layers["leaders"] if isinstance(m, Group))
    return [{"object": g.object, "points": g.marks[0].points} for g in leaders]  # type: ignore[union-attr]


@pytest.mark.parametrize("seed", [8, 13, 16, 28])
def test_labels_of_one_crowd_are_all_placed_and_neither_fan_out_nor_cross(seed: int) -> None:
    rng = random.Random(seed)
    spots = [(60.0 + rng.uniform(-1.5, 1.5), 30.0 + rng.uniform(-1.5, 1.5)) for _ in range(11)]
    wants = [Want(f"D{i}", "device", (f"D{i} LABEL OF LENGTH",), at, 0.6, 2.0) for i, at in enumerate(spots)]
    view = canvas()
    letter_all(view, [task(put, want) for want in wants])
    assert set(view.label_boxes) == {want.object for want in wants}
    seen = {"id": "view", "leaders": _led(view)}
    assert not browser_sheets.fans(seen) and not browser_sheets.crossing_leaders(seen)
