"""The lettering of one view: every label gets a place, then those in trouble are mended, they alone.

A label is in trouble that found no room, whose leader is tangled with others, or that stands far off. It gets
its place anew as if only those worse off stood there; the labels then in its way move. The more often a label
was in trouble, the earlier it chooses; the best state counts.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from plangen.sheets.canvas import Canvas
from plangen.sheets.room import Held

_STEPS = 60
_FAR_STEPS = 6  # for the sake of labels that stand far off
_ALL = 2  # the greatest effort: leaders may cross where they must
_LONG_MM = 12.0  # a leader longer than this is worth a second try
_TANGLED = 3  # what tangled leaders weigh, where a label lost weighs 9 and one far off 1
Score = tuple[int, float]  # faults, mm of leaders


@dataclass(frozen=True, slots=True)
class Task:
    """What letters an object on the canvas that it is given, with further arguments."""

    letter: Callable[..., None]
    arguments: tuple[object, ...]

    def on(self, canvas: Canvas) -> None:
        """Letter on a canvas."""
        self.letter(canvas, *self.arguments)


def task(letter: Callable[..., None], *arguments: object) -> Task:
    """Return the task of calling a function with a canvas and further arguments."""
    return Task(letter, arguments)


def letter_all(canvas: Canvas, tasks: Iterable[Task]) -> None:
    """Letter a view as cleanly as a few rounds of mending bring it."""
    search = Search(canvas, tasks)
    search.mend()
    search.finish()


@dataclass(frozen=True, slots=True)
class _Placed:
    """One task done: what it lettered, and the room that this took."""

    slip: Canvas
    held: Held
    score: Score

    @staticmethod
    def of(slip: Canvas, held: Held) -> _Placed:
        """Return it with its score, but for tangles: a label lost is worst, one far off is least."""
        faults = 9 * len(slip.lost) + len(slip.far)
        return _Placed(slip, held, (faults, sum(length for _, length in slip.led)))


class Search:
    """The labels of one view while they get their places; `finish` puts them on its canvas."""

    __slots__ = ("_canvas", "_placed", "_space", "_tasks", "lost")

    def __init__(self, canvas: Canvas, tasks: Iterable[Task], most_lost: float = math.inf) -> None:
        self._canvas, self._space = canvas, canvas.space
        self._tasks = tuple(tasks)
        self._placed: dict[int, _Placed] = {}
        self._space.settle()
        self.lost = 0  # how many labels have no room at first: counted up to the first beyond `most_lost`
        for number in range(len(self._tasks)):
            self._letter(number)
            self.lost += len(self._placed[number].slip.lost)
            if self.lost > most_lost:
                break

    def finish(self) -> None:
        """Put all labels on the canvas, in the order in which they were asked for."""
        for number in range(len(self._tasks)):
            self._canvas.take_over(self._placed[number].slip)

    def mend(self) -> None:
        """Find better places for the labels in trouble, then for those whose leaders are long."""
        for effort in (0, 1):  # with more effort only where less was not enough
            self._mend(effort)
            if not any(map(self._bad, self._placed)):
                return
        if any(placed.slip.lost for placed in self._placed.values()):
            self._mend(_ALL)  # tangled leaders are better than a label lost

    def _bad(self, number: int) -> bool:
        """Whether a task's labels are lost or their leaders tangled."""
        return bool(self._placed[number].slip.lost) or self._space.tangled(number)

    def _mend(self, effort: int) -> None:
        """One pass: labels that are driven out look for another place with so much effort."""
        first = best = dict(self._placed)
        at_first = least = self._score()
        self._space.effort = effort
        for _ in self._steps(min(effort + 1, _ALL)):
            score = self._score()
            if score < least:
                best, least = dict(self._placed), score
        self._restore(best)
        self._shorten()
        self._space.effort = _ALL
        for number, placed in self._placed.items():
            if placed.slip.lost:
                self._space.lift(number)
                self._letter(number)
        if self._score() > at_first:
            self._restore(first)

    def _steps(self, effort: int) -> Iterator[None]:
        """Put one label in trouble after another in its place, with so much effort; stop after each."""
        tries: Counter[int] = Counter()
        by: dict[int, int] = {}  # who drove out whom
        hopeless: set[int] = set()
        far = 0
        for _ in range(_STEPS):
            trouble = [i for i in self._trouble() if i not in hopeless]
            if not trouble or far > _FAR_STEPS:
                return
            number = min(trouble, key=lambda i: (tries[i], i))
            far += not self._bad(number)
            tries[number] += 1
            rank = tries[number], -number
            above = {i for i in tries if (tries[i], -i) > rank}
            above.update(by[i] for i in (number,) if i in by)
            if self._put_first(number, above, by, effort):
                yield
            elif not above:
                hopeless.add(number)

    def _trouble(self) -> list[int]:
        """Tasks in trouble. Labels that stand far off only count once nothing worse is left."""
        bad = [number for number in self._placed if self._bad(number)]
        return bad or [number for number, placed in self._placed.items() if placed.slip.far]

    def _score(self) -> Score:
        scores = [self._score_of(number) for number in self._placed]
        return sum(faults for faults, _ in scores), math.fsum(length for _, length in scores)

    def _score_of(self, number: int) -> Score:
        faults, length = self._placed[number].score
        return faults + _TANGLED * self._space.tangled(number), length

    def _shorten(self) -> None:
        """Give each label with a long leader a second try; keep what makes the leaders shorter together."""
        long = {number: placed.score[1] for number, placed in self._placed.items()}
        for number in sorted(long, key=lambda i: (-long[i], i)):
            if long[number] < _LONG_MM:
                break
            before, score = dict(self._placed), self._score()
            if self._put_first(number, (), {}, 1) and self._score() >= score:
                self._restore(before)

    def _put_first(self, number: int, above: Iterable[int], by: dict[int, int], effort: int) -> bool:
        """Letter a task anew as if only those above it stood there; then what is in its way.

        A task no better off so keeps its place. Return whether it moved; enter in `by` whom it drove out.
        """
        found, score = self._found(number, above, effort)
        if score >= self._score_of(number):
            return False
        self._space.lift(number)
        out = sorted(self._space.met(found.held))
        for other in out:
            self._space.lift(other)
            by[other] = number
        self._space.put_back(number, found.held)
        self._placed[number] = found
        for other in out:
            self._letter(other)
        return True

    def _found(self, number: int, above: Iterable[int], effort: int) -> tuple[_Placed, Score]:
        """What a task would letter if only some others stood there, and how well."""
        sight = self._space.seeing(above)
        sight.effort = effort
        slip = self._canvas.slip(sight)
        self._tasks[number].on(slip)
        found = _Placed.of(slip, sight.taken())
        return found, (found.score[0] + _TANGLED * sight.would_tangle(found.held), found.score[1])

    def _letter(self, number: int) -> None:
        slip = self._canvas.slip(self._space)
        self._tasks[number].on(slip)
        self._placed[number] = _Placed.of(slip, self._space.hold(number))

    def _restore(self, state: Mapping[int, _Placed]) -> None:
        changed = [i for i, placed in state.items() if placed is not self._placed[i]]
        for number in changed:
            self._space.lift(number)
        for number in changed:
            self._space.put_back(number, state[number].held)
            self._placed[number] = state[number]
