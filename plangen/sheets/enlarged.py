"""What an enlarged view letters, the plan only frames, and says where it stands larger.

Where pipes and fittings lie too close to be lettered legibly at the plan's scale, a frame about them refers
to an enlarged plan, and what is lettered there is not repeated here (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from plangen.geometry.point import path_length
from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.sheets.callouts import Detail
from plangen.sheets.canvas import Canvas
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import XY, CallOut, Group, Line, Text
from plangen.sheets.page import ENLARGED, Draft
from plangen.sheets.paper import Rect
from plangen.sheets.shapes import rectangle
from plangen.sheets.viewport import denominator_of

SHORT_MM = 20.0  # a pipe shorter than this on paper has few places for its label
_TIMES = 2.0  # an enlarged view is at least so many times as large
_LEAST = 4  # fewer things than this are lettered as well where they are
_FULL = 33.0  # a label takes 11 squares of its height: a frame is full with labels over a third of it
_PAD_MM = 3.0  # from what is framed to its frame: clear of the symbols on it


@dataclass(frozen=True, slots=True)
class Enlarged:
    """A view that shows part of the plan larger: how it is called, its scale, what it letters."""

    called: Detail
    denominator: int
    lettered: frozenset[str]


@dataclass(frozen=True, slots=True)
class Frame:
    """A frame on the plan: the view it refers to, its box on paper, and the names lettered there alone."""

    view: Enlarged
    box: Rect
    names: tuple[str, ...]


def enlarged_views(drafts: Iterable[Draft]) -> tuple[Enlarged, ...]:
    """Return the views of the connection on some sheets."""
    out: list[Enlarged] = []
    for draft in drafts:
        titled = [p.panel for p in draft.placed if p.panel.title]
        for number, panel in enumerate(titled, 1):
            inner = panel.group.marks[0]
            if isinstance(inner, Group) and inner.role == ENLARGED:
                lettered = frozenset(d.object for d in panel.drawn if d.what == "label")
                called = Detail("", number, draft.id, by_bubble=False)
                out.append(Enlarged(called, denominator_of(panel.scale), lettered))
    return tuple(out)


def is_short(canvas: Canvas, pipe: Pipe) -> bool:
    """Return whether a pipe is short on paper."""
    return path_length(tuple(stop.point for stop in pipe.route)) * canvas.view.per_m < SHORT_MM


def frames(canvas: Canvas, design: Design, views: Sequence[Enlarged]) -> tuple[Frame, ...]:
    """Return the frames of one view of the plan, with the tees and short pipes that they leave out.

    Each thing is left to one view alone, and only where that is much larger and the frame crowded.
    """
    out: list[Frame] = []
    taken: set[str] = set()
    for view in views:
        if view.denominator * _TIMES > canvas.view.denominator:
            continue
        places: dict[str, list[XY]] = {}
        for device in design.devices:
            at = canvas.view.paper(device.point)
            if device.kind == "tee" and device.name in view.lettered - taken and canvas.sees(at):
                places[device.name] = [at]
        for pipe in design.pipes:
            pieces = canvas.path(tuple(stop.point for stop in pipe.route))
            if pieces and pipe.name in view.lettered - taken and is_short(canvas, pipe):
                places[pipe.name] = [p for piece in pieces for p in piece]
        if len(places) < _LEAST:
            continue
        left, top, right, bottom = box = _about(places.values(), canvas.view.window)
        if (right - left) * (bottom - top) < _FULL * len(places) * canvas.letters.note**2:
            taken |= places.keys()
            out.append(Frame(view, box, tuple(sorted(places))))
    return tuple(out)


def draw_frame(canvas: Canvas, frame: Frame) -> None:
    """Draw a frame, which labels avoid where they can."""
    left, top, right, bottom = frame.box
    words = frame.view.called.words
    outline = (*rectangle(left, top, right, bottom), (left, top))
    canvas.add("site", Group("enlarged", (Line(outline, "enlarged"),), title=f"Enlarged on {words}"))
    canvas.space.line(outline, False)
    canvas.enlarged.append((words, frame.names))


def letter_frame(canvas: Canvas, frame: Frame) -> None:
    """Letter by a frame where it stands larger. The note under the plan says so too."""
    left, top, right, bottom = frame.box
    height, words = canvas.letters.note, f"SEE {frame.view.called.words}"
    wide, tall = text_width_mm(words, height, True) + 1.0, height * 1.35 + 0.5
    x, y = (left + right) / 2, (top + bottom) / 2
    corners = ((right, bottom), (left, bottom), (right, top), (left, top))
    starts = (*corners, (right, y), (x, bottom), (left, y), (x, top))
    spot = canvas.space.place(wide, tall, starts, 0.4, 0.0)
    if spot is None:
        return
    x, y = spot.box[0], spot.box[1]
    mark = Text(x + 0.5, y + 0.25 + height * 1.05, words, height, bold=True, halo=True)
    canvas.add("labels", Group("enlarged", (mark,), title=words))
    if spot.leader:
        canvas.add("leaders", Group("leader", (Line(spot.leader, "leader"),)))
    canvas.note("enlarged", frame.view.called.words, "", (x, y))
    canvas.links.append(CallOut(x, y, wide, tall, frame.view.called.sheet))


def frame_notes(canvas: Canvas) -> tuple[str, ...]:
    """Return what is said under the plan of its frames."""
    return tuple(
        f"Framed, and lettered on the enlarged plan {words} alone: {', '.join(names)}."
        for words, names in canvas.enlarged
    )


def _about(places: Iterable[Sequence[XY]], window: Rect) -> Rect:
    points = [p for some in places for p in some]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (
        max(min(xs) - _PAD_MM, window[0]),
        max(min(ys) - _PAD_MM, window[1]),
        min(max(xs) + _PAD_MM, window[2]),
        min(max(ys) + _PAD_MM, window[3]),
    )
