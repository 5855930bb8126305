"""One plan view while it is drawn: marks by layer, inventory, and the room that is left for labels."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from plangen.geometry.point import Point
from plangen.sheets.labels import Field
from plangen.sheets.marks import XY, Area, CallOut, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted
from plangen.sheets.paper import Rect
from plangen.sheets.pens import Lettering, pen
from plangen.sheets.shapes import clip_path, clip_polygon, within
from plangen.sheets.viewport import Viewport

LAYERS = (
    "planting",
    "paving",
    "building",
    "site",
    "throw",
    "lateral",
    "main",
    "sleeve",
    "symbols",
    "leaders",
    "labels",
)

FAR_MM = 32.0  # a longer leader is hard to follow


@dataclass(frozen=True, slots=True)
class Want:
    """A label that wants a place: lines of text, or cells of a ruled flag, about a point.

    `half` is half the size of the object's symbol; `mark` a symbol kind drawn inside the label because it
    had no room at its place; `dot` puts a dot where the leader meets a line; `starts` are further points
    the leader may come from; `quiet` leaves the leader out, for names of what lies all around.
    """

    object: str
    kind: str
    lines: tuple[str, ...]
    at: XY
    half: float
    height: float
    clear: float = 1.0
    bold: bool = False
    flag: bool = False
    mark: str = ""
    dot: bool = False
    starts: tuple[XY, ...] = ()
    quiet: bool = False
    led: bool = False  # stands off with a leader, never at the place itself
    state: str = "new"  # of the object, for the symbol inside the label


@dataclass(slots=True)
class Canvas:
    """A view being drawn. Everything is clipped to the viewport's window."""

    view: Viewport
    letters: Lettering
    units: str
    space: Field
    layers: dict[str, list[AnyMark]] = field(default_factory=lambda: {name: [] for name in LAYERS})
    noted: list[Noted] = field(default_factory=list)
    anchors: list[tuple[str, float, float]] = field(default_factory=list)
    label_boxes: dict[str, Rect] = field(default_factory=dict)
    ink_boxes: dict[str, Rect] = field(default_factory=dict)  # of the letters of each first label
    unplaced: list[str] = field(default_factory=list)
    lost: list[Want] = field(default_factory=list)  # the labels that found no room
    led: list[tuple[str, float]] = field(default_factory=list)  # object and length of each leader, mm
    keys: list[tuple[str, str]] = field(default_factory=list)  # key on the plan, label told under it
    enlarged: list[tuple[str, tuple[str, ...]]] = field(default_factory=list)  # view, what it letters alone
    links: list[CallOut] = field(default_factory=list)  # to the sheets of enlarged views
    uncalled: list[str] = field(default_factory=list)  # details that found no room for their bubble

    @property
    def device_mm(self) -> float:
        """Return half the size of a device's symbol: the letter in it stands at the floor of the family."""
        return self.letters.floor * 0.8

    @property
    def far(self) -> list[str]:
        """Return the objects whose label stands so far off that its leader is hard to follow."""
        return [name for name, length in self.led if length > FAR_MM]

    def slip(self, space: Field) -> Canvas:
        """Return an empty canvas of the same view, for one label."""
        return Canvas(self.view, self.letters, self.units, space)

    def take_over(self, slip: Canvas) -> None:
        """Put on this canvas what was lettered on a slip."""
        for name, marks in slip.layers.items():
            self.layers[name].extend(marks)
        self.noted += slip.noted
        self.anchors += slip.anchors
        self.unplaced += slip.unplaced
        self.lost += slip.lost
        self.led += slip.led
        self.links += slip.links
        for name, box in slip.label_boxes.items():
            self.label_boxes.setdefault(name, box)
        for name, box in slip.ink_boxes.items():
            self.ink_boxes.setdefault(name, box)

    def add(self, layer: str, mark: AnyMark) -> None:
        """Put a mark on a layer."""
        self.layers[layer].append(mark)

    def note(self, what: str, kind: str, object: str, at: XY) -> None:
        """Enter something drawn in the inventory."""
        self.noted.append(Noted(what, kind, object, at[0], at[1]))

    def sees(self, at: XY) -> bool:
        """Return whether a paper point lies in the window."""
        return within(at, self.view.window)

    def path(self, points: Sequence[Point]) -> tuple[tuple[XY, ...], ...]:
        """Return the pieces of a ground polyline that lie in the window, on paper."""
        return clip_path(self.view.path(points), self.view.window)

    def outline(self, points: Sequence[Point]) -> tuple[XY, ...]:
        """Return a ground polygon on paper, cut to the window; empty when outside."""
        return clip_polygon(self.view.path(points), self.view.window)

    def pieces(
        self, layer: str, role: str, pieces: Sequence[tuple[XY, ...]], pen_role: str, object: str, title: str
    ) -> None:
        """Draw polyline pieces of one object on a layer and enter them as lines to keep off or avoid."""
        if not pieces:
            return
        self.add(layer, Group(role, tuple(Line(p, pen_role) for p in pieces), object, title))
        for piece in pieces:
            self.space.line(piece, pen(pen_role).heavy)

    def marks(self) -> tuple[Group, ...]:
        """Return all layers as groups in drawing order."""
        return tuple(
            Group(f"layer-{name}", tuple(self.layers[name]), title=name)
            for name in LAYERS
            if self.layers[name]
        )


def _anywhere(at: XY) -> bool:
    return True


def lettered(
    points: Sequence[XY], every: float, gap: float, clear: Callable[[XY], bool] = _anywhere
) -> tuple[tuple[tuple[XY, ...], ...], tuple[XY, ...]]:
    """Break a polyline for letters: its pieces with gaps, and the middles of the gaps.

    A line shorter than `every` gets one gap in its middle; one too short for a letter stays whole. A
    letter moves along the line to where `clear` lets it stand, and is left out where it may nowhere.
    """
    total = sum(math.hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))
    if total < gap * 4:
        return (tuple(points),), ()
    count = max(1, round(total / every))
    moves = [d * gap / 2 * way for d in range(int(total / count / gap) - 1) for way in (1, -1)] or [0.0]
    found = (
        next((m + d for d in moves if clear(along(points, m + d))), None)
        for m in (total * (i + 0.5) / count for i in range(count))
    )
    middles = [m for m in found if m is not None]
    cuts = [0.0, *(m + d for m in middles for d in (-gap / 2, gap / 2)), total]
    pieces = tuple(stretch(points, a, b) for a, b in zip(cuts[::2], cuts[1::2], strict=True))
    return pieces, tuple(along(points, m) for m in middles)


def along(points: Sequence[XY], length: float) -> XY:
    """Return the paper point that far along a polyline (its end beyond that)."""
    for a, b in pairwise(points):
        part = math.hypot(b[0] - a[0], b[1] - a[1])
        if length <= part and part > 0:
            return a[0] + (b[0] - a[0]) * length / part, a[1] + (b[1] - a[1]) * length / part
        length -= part
    return points[-1]


def stretch(points: Sequence[XY], start: float, end: float) -> tuple[XY, ...]:
    """Return the part of a polyline between two lengths along it."""
    out = [along(points, start)]
    run = 0.0
    for a, b in pairwise(points):
        run += math.hypot(b[0] - a[0], b[1] - a[1])
        if start < run < end:
            out.append(b)
    out.append(along(points, end))
    return tuple(out)


def letter_mark(letter: str, at: XY, height: float) -> Text:
    """Return a letter centred in the gap of a lettered line."""
    return Text(at[0], at[1] + height / 2, letter, height, "middle", True)


def blank(box: Rect) -> Area:
    """Return a white area that keeps lettering clear of what lies under it."""
    left, top, right, bottom = box
    return Area(((left, top), (right, top), (right, bottom), (left, bottom)), "", "white")
