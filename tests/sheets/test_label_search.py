"""What a label took of the room can be lifted without a trace; labels in trouble are mended, they alone."""

from __future__ import annotations

import random

from plangen.geometry.point import Point
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.labels import Field
from plangen.sheets.pens import lettering
from plangen.sheets.plan_labels import put
from plangen.sheets.untangle import Search, letter_all, task
from plangen.sheets.viewport import Viewport

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
